"""Speech sets: recorded or synthetic utterances with their words and phones, in two files.

`NAME.pcm` holds the samples (16 kHz, mono, int16, little-endian), utterances end to end; `NAME.jsonl` one row an
utterance. A set is read without its samples: each utterance fetches its own, so that hours of speech cost training's
worker processes no memory.
"""

from __future__ import annotations

import json
from collections.abc import Container, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TextIO

import numpy as np
import numpy.typing as npt

from models.build.language import DEFAULT, language
from models.build.units import SILENCE

RATE_HZ = 16_000

_SAMPLE = np.dtype("<i2")


@dataclass(frozen=True)
class Utterance:
    """One row of a speech set.

    pcm: the file of samples; offset, samples: its place there, in samples. words: in lower case, one blank between.
    phones: of each word, in the model's phones. ends: each phone (SIL too) with its end in seconds from the
    utterance's beginning, where the times are exactly known. tag: of the language.
    """

    pcm: Path
    offset: int
    samples: int
    words: str
    phones: tuple[tuple[str, ...], ...]
    voice: str
    ends: tuple[tuple[str, float], ...] | None = None
    tag: str = DEFAULT

    def audio(self) -> npt.NDArray[np.int16]:
        """The samples, freshly read."""
        return np.fromfile(self.pcm, _SAMPLE, self.samples, offset=self.offset * _SAMPLE.itemsize).astype(np.int16)


def read_set(stem: Path, tag: str = DEFAULT) -> list[Utterance]:
    """The utterances of the set `stem`, a path without its ending, in the language with this tag.

    Errors: `FileNotFoundError` if one of the two files is missing, `ValueError` with the line of a row that is no row,
    reaches past the samples or has phones that the model does not know.
    """
    pcm, rows = _files(stem)
    available = pcm.stat().st_size // _SAMPLE.itemsize
    found = []
    with rows.open(encoding="utf-8") as lines:
        for number, line in enumerate(lines, 1):
            try:
                found.append(_utterance(json.loads(line), pcm, available, tag))
            except (ValueError, KeyError, TypeError) as error:
                raise ValueError(f"{rows.name}, line {number}: {error!r}") from error
    return found


class SetWriter:
    """Writes a speech set; an older one of the same name is replaced.

    Samples are on their way to the disk before the row that names them, so that what an interrupted run leaves behind
    can be read.

    Use as `with SetWriter(Path("lab/digits")) as out: out.add(...)`.
    """

    def __init__(self, stem: Path, tag: str = DEFAULT) -> None:
        self._tag = tag
        self._pcm_path, self._rows_path = _files(stem)
        self._offset = 0

    def __enter__(self) -> Self:
        self._pcm_path.parent.mkdir(parents=True, exist_ok=True)
        self._rows: TextIO = self._rows_path.open("w", encoding="utf-8")
        self._pcm = self._pcm_path.open("wb")
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._pcm.close()
        self._rows.close()

    @property
    def seconds(self) -> float:
        """Of speech, written so far."""
        return self._offset / RATE_HZ

    def add(
        self,
        samples: npt.NDArray[np.int16],
        words: str,
        phones: Sequence[Sequence[str]],
        voice: str,
        ends: Sequence[tuple[str, float]] | None = None,
    ) -> None:
        """Append one utterance; the arguments are the fields of `Utterance`.

        Errors: `ValueError` for what `read_set` would refuse, for samples that are not one row of int16, and for none.
        """
        if samples.dtype != np.int16 or samples.ndim != 1 or not len(samples):
            raise ValueError(f"samples must be one row of int16, not {samples.dtype} {samples.shape}")
        row: dict[str, Any] = {
            "offset": self._offset,
            "samples": len(samples),
            "words": words,
            "phones": [list(word) for word in phones],
            "voice": voice,
        }
        if ends is not None:
            row["ends"] = [[name, round(float(end), 5)] for name, end in ends]
        _utterance(row, self._pcm_path, self._offset + len(samples), self._tag)
        self._pcm.write(samples.astype(_SAMPLE).tobytes())
        self._pcm.flush()
        self._rows.write(json.dumps(row, ensure_ascii=False) + "\n")
        self._rows.flush()
        self._offset += len(samples)


def _files(stem: Path) -> tuple[Path, Path]:
    # Not with_suffix: a stem may have a dot of its own.
    return stem.with_name(f"{stem.name}.pcm"), stem.with_name(f"{stem.name}.jsonl")


def _utterance(row: dict[str, Any], pcm: Path, available: int, tag: str) -> Utterance:
    """A row as an utterance. Errors: `ValueError`, `KeyError` or `TypeError` if it is none."""
    if not isinstance(row, dict):
        raise TypeError("no row")
    ends = row.get("ends")
    found = Utterance(
        pcm=pcm,
        offset=int(row["offset"]),
        samples=int(row["samples"]),
        words=row["words"],
        phones=tuple(tuple(word) for word in row["phones"]),
        voice=row["voice"],
        ends=None if ends is None else tuple((name, float(end)) for name, end in ends),
        tag=tag,
    )
    if found.offset < 0 or found.samples < 1 or found.offset + found.samples > available:
        raise ValueError(f"samples {found.offset} + {found.samples} of {available}")
    if found.words != " ".join(found.words.lower().split()) or not found.words:
        raise ValueError(f"words must be in lower case with one blank between them: {found.words!r}")
    if len(found.phones) != len(found.words.split()) or not all(found.phones):
        raise ValueError(f"{found.words!r} has phones for {len(found.phones)} words, or a word without any")
    ids = language(tag).units.ids
    if unknown := {p for word in found.phones for p in word if p not in ids or p == SILENCE}:
        raise ValueError(f"{found.words!r} has phones that the model does not know: {' '.join(sorted(unknown))}")
    _check_ends(found, ids)
    return found


def _check_ends(found: Utterance, ids: Container[str]) -> None:
    if found.ends is None:
        return
    times = [0.0, *(end for _, end in found.ends)]
    if any(later < earlier for earlier, later in pairwise(times)):
        raise ValueError(f"{found.words!r} has times of phones that go back")
    # They need not be the phones of the words: a synthesizer may say a word in another way than the dictionary.
    if unknown := {name for name, _ in found.ends if name not in ids}:
        raise ValueError(
            f"{found.words!r} has times of phones that the model does not know: {' '.join(sorted(unknown))}"
        )
