"""When an utterance is over: by what may follow what was heard so far, and by how long nothing has.

Two things tell that nobody speaks any more: the sound, which has become quiet against its own speech and background,
and the engine, which hears pauses in noise too, but some four tenths of a second later. After a whole sentence that
nothing can follow a moment of quiet suffices; where more may follow, people are given the time to say it; and a
sentence that is not whole is waited for longest, so that none is cut in two.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from fieldassist.language.word_graph import WordGraph
from fieldassist.voice.audio import RATE_HZ

_FRAME = RATE_HZ // 50
_KEPT = 250  # frames: 5 s
# Between these lies most of what speech has and little of what a saw, a fan or a room's rumble has.
_LOWEST_HZ, _HIGHEST_HZ = 200, 3000
_OVER_FLOOR_DB = 6.0
_SHARE = 0.35  # of the way from the background to speech, in dB; what is below is quiet
_LEAST_RANGE_DB = 11.0  # with less between background and speech the sound tells nothing
_NOISY_RANGE_DB, _SOFT_END_S = 20.0, 0.12  # with less, words end softer than the background is, for so long

# After how many seconds of quiet an utterance is over, and of a pause that the engine hears, beyond the one that its
# own rule asks for. The engine hears a pause late: where the sound tells that somebody speaks again, a short one does
# not count.
# Measured with `tests.bench.voice.speed`.
_AT_ONCE_QUIET_S = 0.25
_QUIET_S, _PAUSE_S = 0.52, 0.25
_BROKEN_QUIET_S, _BROKEN_PAUSE_S = 1.1, 0.8
_BETWEEN_WORDS_S, _SURE_PAUSE_S = 0.1, 0.5
_NOTHING_PAUSE_S = 0.5
_BETWEEN_S, _BETWEEN_BROKEN_S = 0.6, 1.2


_WINDOW = np.hanning(_FRAME).astype(np.float32)
_BAND = slice(round(_LOWEST_HZ * _FRAME / RATE_HZ), round(_HIGHEST_HZ * _FRAME / RATE_HZ))


class Loudness:
    """How long a stream has been quiet; in s."""

    def __init__(self) -> None:
        self._levels: deque[float] = deque(maxlen=_KEPT)
        self._rest = np.zeros(0, np.float32)

    def take(self, block: bytes) -> None:
        """The next samples, 16 kHz mono int16."""
        samples = np.concatenate([self._rest, np.frombuffer(block, "<i2").astype(np.float32)])
        count = len(samples) // _FRAME
        self._rest = samples[count * _FRAME :]
        spectra = np.fft.rfft(samples[: count * _FRAME].reshape(count, _FRAME) * _WINDOW, axis=1)[:, _BAND]
        self._levels += (10 * np.log10((np.abs(spectra) ** 2).mean(axis=1) + 1.0)).tolist()

    def steady_s(self) -> float:
        """For how long nothing has stood out of the background: neither speech nor anything else."""
        if not self._levels:
            return 0.0
        levels = np.array(self._levels)
        return _since(levels >= float(np.percentile(levels, 10)) + _OVER_FLOOR_DB)

    def quiet_s(self) -> float | None:
        """For how long there has been nothing as loud as speech; None where the sound does not tell."""
        if not self._levels:
            return None
        levels = np.array(self._levels)
        floor, speech = np.percentile(levels, (10, 95))
        if speech - floor < _LEAST_RANGE_DB:
            return None
        quiet = _since(levels >= floor + max(_OVER_FLOOR_DB, _SHARE * (speech - floor)))
        return quiet if speech - floor >= _NOISY_RANGE_DB else max(0.0, quiet - _SOFT_END_S)


def _since(loud: npt.NDArray[np.bool_]) -> float:
    """How long ago the last loud frame was [s]; as long as there are frames where none is."""
    places = np.flatnonzero(loud)
    return float((len(loud) - 1 - (places[-1] if len(places) else -1)) * _FRAME / RATE_HZ)


def is_over(
    graph: WordGraph | None,
    words: Sequence[str],
    quiet_s: float | None,
    pause_s: float | None,
    *,
    apart: frozenset[str] = frozenset(),
    broken: bool = False,
) -> bool:
    """Whether an utterance is over.

    graph: what may be said, None for anything at all; words: heard so far; quiet_s: for how long it has been quiet,
    None where the sound does not tell; pause_s: for how long the engine has heard a pause, None where it hears none;
    apart: words that carry nothing, so that nobody need wait for them; broken: the last word has not been said yet,
    whatever the engine expects.

    >>> from fieldassist.language.word_graph import graph_of
    >>> graph = graph_of([("next", "tile"), ("ninety",), ("ninety", "five")])
    >>> is_over(graph, ("next", "tile"), 0.25, None), is_over(graph, ("ninety",), 0.25, None)
    (True, False)
    >>> is_over(graph, ("ninety",), 0.6, None), is_over(graph, ("next",), 0.6, 0.2)
    (True, False)
    """
    quiet = -1.0 if quiet_s is None else quiet_s
    paused = -1.0 if pause_s is None else pause_s
    if quiet_s is not None and quiet_s < _BETWEEN_WORDS_S and paused < _SURE_PAUSE_S:
        paused = -1.0
    if not words:
        return paused >= _NOTHING_PAUSE_S
    if graph is None or graph.goes_on(words) is None:
        return paused >= _PAUSE_S
    if broken or not graph.accepts(words):
        return quiet >= _BROKEN_QUIET_S or paused >= _BROKEN_PAUSE_S
    if graph.goes_on(words, apart):
        return quiet >= _QUIET_S or paused >= _PAUSE_S
    return quiet >= _AT_ONCE_QUIET_S or paused >= 0.0


def is_between(graph: WordGraph | None, words: Sequence[str], pause_s: float | None) -> bool:
    """Whether a pause within a recording stands between two sentences."""
    if pause_s is None or not words:
        return False
    broken = graph is not None and graph.goes_on(words) is not None and not graph.accepts(words)
    return pause_s >= (_BETWEEN_BROKEN_S if broken else _BETWEEN_S)
