"""What is taken for one another, and by how little: `python -m tests.bench.voice.pairs`.

Names with letters, and numbers of the trade, are spoken by voices that no other measure uses, clean and in saw-like
noise, and heard with a graph of just such sentences. Told for each kind of pair: how many of the wrong hearings had the
right one within so many nats, and how many of the right ones had another within as many. `language/en/alike.py` has
the margins.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from string import ascii_lowercase

from fieldassist.language import numbers
from fieldassist.language.likeness import differing, margin
from fieldassist.language.names import spelled
from fieldassist.places import shipped
from fieldassist.voice.audio import frames, without_silence
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import Heard, VoskRecognizer
from fieldassist.voice.sentences import Sentences
from tests.bench.voice.speech import CLEAN, SAW_10, CannotSpeak, Speech

# The model has learnt from flite's and espeak's: what they show is the least that a stranger shows.
VOICES = ("flite_awb", "flite_rms", "espeak_en-us", "espeak_en-gb", "pico_en-US")
WITHIN = (1, 2, 3, 4, 5, 6, 8)  # nats


@dataclass
class Leads:
    """Of one kind of pair [nats]: by how much the right hearing was behind a wrong one, inf where it was not among the
    alternatives; and by how much a wrong one was behind the right."""

    wrong: list[float] = field(default_factory=list)
    right: list[float] = field(default_factory=list)


def _named() -> tuple[list[str], list[str]]:
    every = [numbers.say(number, None) for number in range(1, 100)]
    spoken = [*ascii_lowercase, *(spelled(letter.upper())[0].said for letter in ascii_lowercase)]
    could = [f"tile {letter} {number} lifted" for letter in spoken for number in every]
    said = [
        f"tile {letter} {every[number]} lifted"
        for place, letter in enumerate(ascii_lowercase)
        for number in (7, 8, 11 + place)
    ]
    return [*could, *(f"tile {number} lifted" for number in every)], [*said, *(f"tile {n} lifted" for n in every[::4])]


def _numbered() -> Iterator[tuple[list[str], list[str]]]:
    for before, unit, every, said in (
        ("coverage", "percent", range(101), (*range(1, 80, 5), *range(80, 101))),
        ("void", "in2", range(1, 100), (*range(1, 21), *range(30, 100, 10))),
        ("wall temperature", "degF", range(1000), range(100, 131, 2)),
        ("spread", "count", range(1, 100), (*range(2, 20), *range(20, 100, 10))),
    ):
        could = [f"{before} {numbers.say(value, named)}" for value in every for named in (unit, None)]
        hundred = [f"{before} a hundred {numbers.say(value, None)} degrees fahrenheit" for value in range(1, 31, 3)]
        own = hundred if unit == "degF" else []
        yield [*could, *own], [*(f"{before} {numbers.say(value, unit)}" for value in said), *own]


def kind(said: str, heard: str) -> str:
    """Which kind of pair two sentences differ by."""
    pairs = list(differing(said.split(), heard.split()))
    if any(len(word) == 1 for pair in pairs for word in pair):
        sort = "letters" if all(all(len(word) == 1 for word in pair) for pair in pairs) else "a letter or none"
    else:
        sort = "numbers"
    return f"{sort}, {'alike' if margin(said.split(), heard.split()) else 'other'}"


def measured(speech: Speech, ears: VoskRecognizer, every: int) -> tuple[dict[str, Leads], Counter[str]]:
    """The leads of each kind, and how often each wrong pair came. every: of how many sentences one is spoken."""
    found: dict[str, Leads] = defaultdict(Leads)
    wrong: Counter[str] = Counter()
    for could, said in (_named(), *_numbered()):
        graph = Sentences.of_phrases(could, ears.knows)
        for place, words in enumerate(said[::every]):
            for turn, voice in enumerate(VOICES):
                for condition in (CLEAN, SAW_10):
                    with suppress(CannotSpeak):
                        clip = speech.recording(voice, words, condition, 10 * place + turn)
                        _count(words, ears.hear(frames(without_silence(clip)), graph), found, wrong)
        print(f"{said[0]} ... heard", file=sys.stderr, flush=True)
    return found, wrong


def _count(said: str, heard: Heard, found: dict[str, Leads], wrong: Counter[str]) -> None:
    if not heard.alternatives:
        return
    best = heard.alternatives[0]
    behind = {one.text: best.score - one.score for one in reversed(heard.alternatives)}
    if best.text != said:
        found[kind(said, best.text)].wrong.append(behind.get(said, math.inf))
        wrong[" ".join(f"{a or '-'}>{b or '-'}" for a, b in differing(said.split(), best.text.split()))] += 1
        return
    nearest: dict[str, float] = {}
    for text, lead in behind.items():
        if text != said:
            nearest[kind(said, text)] = min(lead, nearest.get(kind(said, text), math.inf))
    for sort, lead in nearest.items():
        found[sort].right.append(lead)


def _row(name: str, leads: Sequence[float]) -> str:
    return f"  {name} {len(leads):5}  " + " ".join(f"{sum(lead < most for lead in leads):5}" for most in WITHIN)


def main() -> int:
    """The table goes to standard output."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--cache", type=Path, default=Path("bench-cache"), help="folder for the speech")
    parser.add_argument("--every", type=int, default=1, metavar="N", help="speak one of N sentences")
    options = parser.parse_args()
    ears = VoskRecognizer(choose_model(shipped("models")))
    found, wrong = measured(Speech(options.cache, None), ears, options.every)
    print(f"within nats:     n  {' '.join(f'{most:5}' for most in WITHIN)}")
    for sort, leads in sorted(found.items()):
        print(sort, _row("wrong", leads.wrong), _row("right", leads.right), sep="\n")
    print("\n".join(f"{count:4} {pair}" for pair, count in wrong.most_common(40)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
