"""The vocabulary: every word that the model shall know, one a line.

    python -m models.build.words OUT [--language en]

Two parts. What the program itself listens for is gathered from the program, so that a new checklist or unit is in the
next model by itself: phrases of the shipped checklists at every step, the number grammar in both spellings, units,
the attention phrase, weather, words of a site. General words are a list that is kept as it is, the language's
`general_words.txt`: in English the vocabulary of the first model, which came from general English text. It is not made
again, so that no word that was ever known is lost.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.offers import WEATHER, Offer
from fieldassist.cli.offers import offers_for
from fieldassist.language import numbers
from fieldassist.language.spoken import HEARD, spoken_language
from fieldassist.places import shipped
from fieldassist.voice.sentences import sentences
from models.build.language import DEFAULT, add_language, language


class NoPronunciation(ValueError):
    """Words of the program that nobody told how to say; the message names them."""


def own_words(tag: str = DEFAULT) -> frozenset[str]:
    """Every word that the program listens for or that a site's notes need, in the language with this tag.

    The checklists' phrases are in the language that the program hears.
    """
    speech = spoken_language(tag)
    same = speech.numbers.forms.same
    texts: tuple[Iterable[str], ...] = (
        (*_said(), *_demo_plan(), *WEATHER) if tag == HEARD else (),
        numbers.vocabulary(language=tag),
        (*same, *same.values()),
        (speech.attention, *speech.fillers, *speech.links),
        (*speech.everyday, *speech.site_words, *speech.site_sentences),
        language(tag).further_words,
    )
    return frozenset(word for part in texts for text in part for word in text.lower().split())


def general_words(tag: str = DEFAULT) -> frozenset[str]:
    """The kept list of general words."""
    return frozenset(language(tag).general_words.read_text(encoding="utf-8").split())


def vocabulary(tag: str = DEFAULT) -> list[str]:
    """Every word of the model, in order.

    Errors: `NoPronunciation` for words without one.
    """
    words = own_words(tag) | general_words(tag)
    if missing := language(tag).without_pronunciation(words):
        raise NoPronunciation(
            f"Nobody told how to say: {', '.join(missing)}. Write them into {tag}/{language(tag).by_hand.name}."
        )
    return sorted(words)


def all_offers() -> Iterator[list[Offer]]:
    """What may be said, between steps and at every step of every shipped checklist.

    Errors: `ValueError` with the reason where a shipped checklist cannot be read.
    """
    checklists, refused = load_folder(shipped("checklists"))
    if refused:
        raise ValueError(str(refused[0]))
    for what in ("idle", "digits", "numbers"):
        yield offers_for(what, checklists)
    for name, checklist in checklists.items():
        for step in dict.fromkeys(step.id for _, step in checklist.all_steps()):
            yield offers_for(f"{name}:{step}", checklists)


def _said() -> Iterator[str]:
    """The words of everything that may be said, to a model that knows every word; a word may come often."""
    for offers in all_offers():
        yield from sentences(offers, _knows).words


def _knows(_word: str) -> bool:
    return True


def _demo_plan() -> Iterator[str]:
    """Names that the plan to copy from gives its crew, areas and methods."""
    plan = load_plan(shipped("assets") / "demo" / "site.yaml")
    yield from (person.name for person in plan.crew)
    yield from (area.name for area in plan.areas)
    yield from plan.methods


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m models.build.words", description="Write the model's vocabulary.")
    parser.add_argument("out", type=Path, help="the list, one word a line")
    add_language(parser)
    options = parser.parse_args(arguments)
    try:
        words = vocabulary(options.language)
    except NoPronunciation as problem:
        print(problem, file=sys.stderr)
        return 1
    options.out.write_text("".join(f"{word}\n" for word in words), encoding="utf-8")
    print(f"{len(words)} words")
    return 0


if __name__ == "__main__":
    sys.exit(main())
