"""When something happened, and how it came to the tablet."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

_WALL = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,9})?[+-][0-9]{2}:[0-9]{2}$"
_LONGEST_S = 1e11  # three thousand years


def _real_time(wall: str) -> str:
    datetime.fromisoformat(wall)
    return wall


class Moment(BaseModel):
    """One instant: wall time for people, monotonic seconds of one run of the machine for intervals.

    wall: ISO 8601 with offset, to the second or finer. mono: seconds since the machine started; boot: which start.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    wall: Annotated[str, Field(pattern=_WALL), AfterValidator(_real_time)]
    mono: Annotated[float, Field(ge=-_LONGEST_S, le=_LONGEST_S)]
    boot: Annotated[str, Field(max_length=80)]

    def minutes_to(self, later: Moment) -> float:
        """Minutes from this moment to `later`, never negative.

        Within one run of the machine the monotonic clock decides, so that setting the wall clock back cannot stretch
        an open time. Across a restart only wall time is left.
        """
        seconds = later.mono - self.mono if self.boot == later.boot else self.wall_seconds_to(later)
        return max(0.0, seconds / 60.0)

    def wall_seconds_to(self, later: Moment) -> float:
        """Seconds from this moment to `later` by the wall clock alone; negative where it shows an earlier time."""
        return (datetime.fromisoformat(later.wall) - datetime.fromisoformat(self.wall)).total_seconds()

    @property
    def minutes_past_noon(self) -> float:
        """Minutes since 12:00 of the wall clock, negative before."""
        at = datetime.fromisoformat(self.wall)
        return (at - at.replace(hour=12, minute=0, second=0, microsecond=0)).total_seconds() / 60.0

    def is_after(self, other: Moment) -> bool:
        """Whether the wall clock showed a later time at this moment than at the other."""
        return datetime.fromisoformat(self.wall) > datetime.fromisoformat(other.wall)


How = Literal[
    "spoken",
    "typed",
    "pressed",
    "counted on a grid",
    "sketched",
    "painted on a photo",
    "measured on a photo",
    "clock",
    "transcribed",
]
# What nobody called, pressed or typed; and by whom a transcript is, as what the clock does is by "clock".
OF_ITSELF: frozenset[How] = frozenset({"clock", "transcribed"})
MACHINE = "machine"


class Source(BaseModel):
    """How a command, and each value in it, came to the tablet.

    model: the speech model that heard it; confidence: how much better than the next the words were heard, in nats, to
    a hundredth; words: the words that were heard or typed. Empty where nothing was heard. together: how many phrases
    were called in this breath, 0 for one alone: they share one moment, so nothing between them was timed. doubt:
    another value was heard almost as well.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    how: How
    model: Annotated[str, Field(max_length=120)] = ""
    confidence: float | None = None
    words: Annotated[str, Field(max_length=500)] = ""
    together: Annotated[int, Field(ge=0)] = 0
    doubt: bool = False


# So many minutes in which nothing was called are a break. Ours: common practice, no published source.
BREAK_MIN = 30.0

CLOCK = Source(how="clock")
TYPED = Source(how="typed")
PRESSED = Source(how="pressed")
SPOKEN = Source(how="spoken")
TRANSCRIBED = Source(how="transcribed")
