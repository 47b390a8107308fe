"""The vocabulary: every word that the model shall know, one a line.

    python -m models.build.words OUT

Two parts. What the program itself listens for is gathered from the program, so that a new checklist or unit is in the
next model by itself: phrases of the shipped checklists at every step, the number grammar in both spellings, units,
the attention phrase, weather, words of a site. General words are a list that is kept as it is, `general_words.txt`: the
vocabulary of the first model, which came from general English text. It is not made again, so that no word that was
ever known is lost.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.offers import WEATHER, Offer
from fieldassist.cli.offers import offers_for
from fieldassist.day.listening import ATTENTION
from fieldassist.language import numbers
from fieldassist.language.spoken import spoken_language
from fieldassist.places import shipped
from fieldassist.voice.sentences import sentences
from models.build.pronounce import without_pronunciation

GENERAL = Path(__file__).with_name("general_words.txt")

# For "this is ...": a crew is called by its given names. Ours: common ones of many languages that CMUdict has.
GIVEN_NAMES = """
    aaron adam adrian ahmed aisha alan albert alejandro alex alexander ali alice amanda amir amy ana andre andrea
    andrew andy angela anita ann anna anne anthony anton antonio arthur ashley barbara ben benjamin bill bob boris
    brandon brenda brian bruce bruno carl carla carlos carmen carol caroline catherine charles charlie chris
    christian christina christine christopher claire clara claudia connor craig cynthia dan daniel danny dave david
    dean deborah denis dennis derek diana diego dmitri donald donna doug dylan eddie edgar edward edwin elena eli
    elizabeth ella emil emily emma eric erik ernest ethan eva evan fatima felix fernando fiona florian francesca
    francis francisco frank fred gabriel gary george gerald gina giovanni glen gloria gordon grace greg gregory
    gustavo hanna hannah hans harold harry hassan heather hector helen helga henry hugo ian ibrahim igor ines ingrid
    irene isaac isabel ivan jack jacob jake james jamie jan jane janet jason javier jean jeff jennifer jenny jeremy
    jerry jesse jessica jill jim joan joe joel john johnny jonathan jorge jose joseph joshua juan juanita judith
    julia julian julie karen karl kate katherine kathy katie keith kelly ken kenneth kevin khalid kim klaus kurt
    kyle lars laura lauren lee lena leo leon leonard lewis lily linda lisa logan lola lorenzo louis louise lucas
    lucia lucy luis luke luther manuel marco marcus margaret maria marie mario mark marta martha martin marvin mary
    matt matthew maurice max maya megan melissa michael michelle miguel mike mila miles mohamed mohammed monica
    nadia nancy natalie nathan neil nicholas nick nicole nina noah nora norman oleg olga oliver olivia omar oscar
    otto owen pablo pamela pat patricia patrick paul paula pedro peggy peter petra phil philip rachel rafael ralph
    ramon randy raul ray rebecca ricardo richard rick rita rob robert roberto robin rodney roger roland roman ron
    ronald rosa rose roy ruben russell ruth ryan sally sam samantha samuel sandra sara sarah scott sean sebastian
    sergei sergio sharon shawn sheila simon sofia sonia sophie stan stanley stefan stella stephanie stephen steve
    steven stuart sue susan tamara tanya tara ted teresa terry theo theresa thomas tim timothy tina todd tom tomas
    tommy tony tracy tyler vera vernon veronica victor victoria viktor vincent vladimir walter wanda wayne wendy
    william wolfgang xavier yolanda yvonne zach zoe
"""

_CALENDAR = """
    january february march april may june july august september october november december
    monday tuesday wednesday thursday friday saturday sunday
"""
# Weather beside what the program listens for, as it is said in notes.
_WEATHER = "clear dry wet warm cold hot frost fog storm stormy thunder hail drizzle showers wind"


class NoPronunciation(ValueError):
    """Words of the program that nobody told how to say; the message names them."""


def own_words() -> frozenset[str]:
    """Every word that the program listens for or that a site's notes need."""
    speech = spoken_language()
    same = speech.numbers.forms.same
    texts: tuple[Iterable[str], ...] = (
        _said(),
        _demo_plan(),
        numbers.vocabulary(),
        (*same, *same.values()),
        (ATTENTION, *WEATHER, *speech.fillers, *speech.links),
        (*speech.everyday, *speech.site_words, *speech.site_sentences),
        (GIVEN_NAMES, _CALENDAR, _WEATHER),
    )
    return frozenset(word for part in texts for text in part for word in text.lower().split())


def general_words() -> frozenset[str]:
    """The kept list of general English words."""
    return frozenset(GENERAL.read_text(encoding="utf-8").split())


def vocabulary() -> list[str]:
    """Every word of the model, in order.

    Errors: `NoPronunciation` for words without one.
    """
    words = own_words() | general_words()
    if missing := without_pronunciation(words):
        raise NoPronunciation(
            f"Nobody told how to say: {', '.join(missing)}. Write them into {GENERAL.parent.name}/words_by_hand.txt."
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
    options = parser.parse_args(arguments)
    try:
        words = vocabulary()
    except NoPronunciation as problem:
        print(problem, file=sys.stderr)
        return 1
    options.out.write_text("".join(f"{word}\n" for word in words), encoding="utf-8")
    print(f"{len(words)} words")
    return 0


if __name__ == "__main__":
    sys.exit(main())
