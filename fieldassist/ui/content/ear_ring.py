"""How far the ear's ring is filled: by a voice that stands out of what is heard all the time, and by nothing else."""

from __future__ import annotations

import math
from dataclasses import dataclass

# Above the floor from here on it is a voice, and so much more fills the ring [dB]. Ours: talk an arm's length away is
# 20 dB and more above a quiet room.
VOICE_DB, FULL_DB = 9.0, 27.0
STEPS = 6
# The floor follows what is heard down at once and up slowly [dB a look]: steady noise is the floor after some looks.
_RISE_DB = 1.5
_SILENCE_DBFS = -80.0


@dataclass(slots=True)
class EarRing:
    """The ring. floor_dbfs: what is heard all the time, None before the first look."""

    floor_dbfs: float | None = None

    def look(self, rms_dbfs: float) -> int:
        """How many of STEPS parts are filled after a look at the level [dBov].

        >>> ring = EarRing()
        >>> [ring.look(level) for level in (-60.0, -60.0, -35.0, -60.0)]
        [0, 0, 5, 0]
        """
        level = rms_dbfs if math.isfinite(rms_dbfs) else _SILENCE_DBFS
        level = max(_SILENCE_DBFS, level)
        floor = level if self.floor_dbfs is None else min(level, self.floor_dbfs + _RISE_DB)
        self.floor_dbfs = floor
        above = level - floor
        if above < VOICE_DB:
            return 0
        return max(1, min(STEPS, round(STEPS * above / FULL_DB)))
