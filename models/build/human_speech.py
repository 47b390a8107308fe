"""People's recordings as a speech set.

    python -m models.build.human_speech FOLDER STEM --except-every 4

FOLDER holds one recording a sentence (any rate, any number of channels) and `transcripts.tsv`: a first row that names
the columns `clip` (a file of the folder, with or without its ending) and `sentence`, perhaps `speaker`, and others.
Sentences with words whose pronunciation is not known are left out. With `--except-every N` every Nth speaker (every Nth
clip, where speakers are not told) is kept out of the set, to measure on; `STEM.kept-out.tsv` lists those in the form
of `transcripts.tsv`. Which ones these are depends on the order of the file alone.
"""

from __future__ import annotations

import argparse
import csv
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import numpy.typing as npt

from models.build.language import DEFAULT, add_language, language
from models.build.speech_sets import RATE_HZ, SetWriter

Row = dict[str, str]
Pronounce = Callable[[str], Sequence[Sequence[str]]]

_ENDINGS = ("", ".flac", ".wav", ".ogg", ".mp3")
_APOSTROPHES = str.maketrans("\u2019\u2018\u02bc\u0060", "''''")


def spoken_words(sentence: str) -> str:
    """The words of a sentence in lower case, one blank between them; digits stay, for nobody knows how they were read.

    >>> spoken_words("Well-known, isn't it? 'Yes!'")
    "well known isn't it yes"
    """
    kept = (c if c.isalnum() or c == "'" else " " for c in sentence.translate(_APOSTROPHES).lower())
    # An apostrophe at a word's edge is a quotation mark more often than a letter left out.
    return " ".join(word.strip("'") for word in "".join(kept).split() if word.strip("'"))


def read_transcripts(folder: Path) -> list[Row]:
    """The rows of the folder's `transcripts.tsv`. Errors: `ValueError` where a needed column is missing or empty."""
    with (folder / "transcripts.tsv").open(encoding="utf-8", newline="") as lines:
        # Sentences may hold quotation marks, which are not the file's.
        rows = list(csv.DictReader(lines, delimiter="\t", quoting=csv.QUOTE_NONE))
    for number, row in enumerate(rows, 2):
        if not (row.get("clip") and row.get("sentence")):
            raise ValueError(f"transcripts.tsv, line {number}: 'clip' and 'sentence' are needed")
    return rows


def kept_out(rows: Sequence[Row], every: int) -> set[int]:
    """Numbers of the rows of every `every`-th speaker, in the order in which they first appear; 0 keeps none out."""
    if every < 0 or every == 1:
        raise ValueError("every how many? 2 or more; 0 for none")
    speakers = [row.get("speaker") or row["clip"] for row in rows]
    order = list(dict.fromkeys(speakers))
    chosen = set(order[every - 1 :: every]) if every else set()
    return {number for number, speaker in enumerate(speakers) if speaker in chosen}


def read_recording(folder: Path, clip: str) -> npt.NDArray[np.int16]:
    """A recording as 16 kHz, mono, int16. Errors: `FileNotFoundError`, and soundfile's own for what is no sound."""
    import soundfile
    import soxr

    path = next((found for ending in _ENDINGS if (found := folder / f"{clip}{ending}").is_file()), None)
    if path is None:
        raise FileNotFoundError(f"no recording {clip} in {folder}")
    samples, rate = soundfile.read(path, dtype="float32", always_2d=True)
    mono: npt.NDArray[np.float32] = samples.mean(axis=1)
    if rate != RATE_HZ:
        mono = soxr.resample(mono, rate, RATE_HZ)
    whole: npt.NDArray[np.int16] = np.clip(np.round(mono * 32768), -32768, 32767).astype(np.int16)
    return whole


def make(
    folder: Path, stem: Path, every: int, pronounce: Pronounce, tag: str = DEFAULT
) -> tuple[int, list[Row], list[tuple[str, str]]]:
    """Write the set. Returns: utterances written; rows kept out; sentences left out, with their unknown words."""
    rows = read_transcripts(folder)
    out_of_it = kept_out(rows, every)
    left_out: list[tuple[str, str]] = []
    written = 0
    with SetWriter(stem, tag) as out:
        for number, row in enumerate(rows):
            if number in out_of_it:
                continue
            words = spoken_words(row["sentence"])
            ways = {word: pronounce(word) for word in words.split()}
            unknown = sorted(word for word, known in ways.items() if not known)
            if unknown or not words:
                left_out.append((row["sentence"], " ".join(unknown)))
                continue
            # How a word with several pronunciations was said nobody has noted: the usual one is taken.
            phones = [ways[word][0] for word in words.split()]
            out.add(read_recording(folder, row["clip"]), words, phones, f"human:{row.get('speaker') or row['clip']}")
            written += 1
    held = [rows[number] for number in sorted(out_of_it)]
    if held:
        with stem.with_name(f"{stem.name}.kept-out.tsv").open("w", encoding="utf-8", newline="") as lines:
            columns = [column for column in held[0] if column is not None]
            lines.writelines("\t".join(row) + "\n" for row in [columns, *([r[c] or "" for c in columns] for r in held)])
    return written, held, left_out


def main(arguments: Sequence[str] | None = None) -> None:
    """The stage, from the command line."""
    parser = argparse.ArgumentParser(prog="python -m models.build.human_speech", description=(__doc__ or "")[:36])
    parser.add_argument("folder", type=Path, metavar="FOLDER")
    parser.add_argument("stem", type=Path, metavar="STEM")
    parser.add_argument("--except-every", type=int, default=0, metavar="N", help="keep every Nth speaker out")
    add_language(parser)
    options = parser.parse_args(arguments)
    try:
        written, held, left_out = make(
            options.folder,
            options.stem,
            options.except_every,
            language(options.language).pronunciations,
            options.language,
        )
    except (OSError, ValueError) as error:
        raise SystemExit(str(error)) from error
    for sentence, unknown in left_out:
        print(f"left out, no pronunciation of {unknown or 'anything'}: {sentence}")
    print(f"{options.stem}: {written} recordings, {len(held)} kept out, {len(left_out)} left out")


if __name__ == "__main__":
    main()
