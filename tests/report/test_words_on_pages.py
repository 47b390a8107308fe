"""Pages in a language that is English letter by letter in disguise: whatever still reads as plain English is a sentence
that no language file holds.

Left alone are names, what the crew said or wrote, phrases to say, sources, figures with their units, and commands.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from fieldassist.facts.build import day_facts
from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report import fonts
from fieldassist.report.build import day_pages
from fieldassist.report.daily import lay_out
from fieldassist.report.enclosures import enclose
from fieldassist.report.sheet import Sheet
from fieldassist.report.tags import Tag
from fieldassist.trade.message import message
from fieldassist.trade.quantities import UNITS
from tests.report import trials
from tests.report.conftest import HandedOver, Site

PSEUDO = Words("pseudo", "metric")
_UNITS = "|".join(sorted({re.escape(unit.symbol) for unit in UNITS.values() if unit.symbol}, key=len, reverse=True))
_APART = [
    re.compile(r"(?<!\w)'[^']{1,120}'(?!\w)|“[^”]*”"),  # phrases to say, and what was said or written
    re.compile(rf"(?<=[0-9½⅛¼¾] )(?:{_UNITS})(?![A-Za-z])"),
    re.compile(r"\b[0-9a-f]{4,64}\b"),  # hashes and keys
    re.compile(r"\S+\.(?:pdf|jpg|csv|json|jsonl|flac|db)\b"),
    re.compile(r"\bANSI\b|\bISO\b|\bUTC\b|fieldassist|plainspeech-en|C2TES1"),
]
_WORD = re.compile(r"(?<![\w'/.])[A-Za-z]{3,}(?!\w)")


def plain_words(told: str, names: frozenset[str]) -> list[str]:
    """The plain English words of a text, without names and what stands for itself in every language."""
    for name in sorted(names, key=len, reverse=True):
        told = re.sub(re.escape(name), " … ", told, flags=re.IGNORECASE)
    for apart in _APART:
        told = apart.sub(" … ", told)
    return _WORD.findall(told)


def test_the_search_finds_a_word_and_spares_names_phrases_and_figures() -> None:
    names = frozenset({"shower wall"})
    assert plain_words("Ḱéṕť: Shower wall, 12 min, 'next tile', “it slipped”, ab12ef, day.pdf", names) == []
    assert plain_words("Ḱéṕť. Covered by lift 7", names) == ["Covered", "lift"]


def given(facts: DayFacts) -> frozenset[str]:
    """What people wrote and named, as far as it stands outside of quotes."""
    texts = {facts.site, facts.address, facts.owner, *(person.name for person in facts.crew)}
    for area in facts.areas:
        texts |= {area.name, area.where, area.mortar.name, *(method.name for method in area.methods)}
        texts |= {tile.name for tile in area.tiles if tile.name} | {batch.lot for batch in area.batches if batch.lot}
    texts |= {note.text for note in facts.notes} | {limit.source for limit in facts.limits}
    texts |= {one.text for one in facts.conditions if one.what == "weather"}
    texts |= {correction.text for correction in facts.corrections} | {one.reason for one in facts.addenda}
    return frozenset(text.rstrip(".") for text in texts if text)


def shown(sheet: Sheet) -> Iterator[str]:
    """All that stands on each page, without commands, and what figures say to a reader that does not see."""
    for page in sheet.pages:
        steps = [step for _, step in page.steps]
        yield " ".join(step[-1].strip() for step in steps if step[0] == "text" and step[3] != fonts.FIXED)
        yield " ".join(step[1] for step in steps if step[0] == "bookmark")
    yield from (tag.alt for tag in elements(sheet.document) if tag.alt)


def elements(tag: Tag) -> Iterator[Tag]:
    yield tag
    for held in tag.holds:
        if isinstance(held, Tag):
            yield from elements(held)


def plain_on(sheet: Sheet, names: frozenset[str]) -> list[list[str]]:
    """The plain English words of each page and figure that has some."""
    return [found for text in shown(sheet) if (found := plain_words(" ".join(text.split()), names))]


def test_no_page_of_a_day_with_everything_in_it_has_a_plain_english_word(handed_over: HandedOver) -> None:
    record = handed_over.record
    facts = day_facts(record.events, record.hashes, PSEUDO)
    pages = day_pages(facts, PSEUDO, enclose(record))
    assert plain_on(lay_out(pages, PSEUDO), given(facts)) == []
    assert plain_words(" ".join((pages.title, pages.subject, pages.frame.head, pages.frame.foot)), given(facts)) == []


def test_no_page_of_a_trial_has_a_plain_english_word() -> None:
    area = trials.area_of(trials.EIGHT, questions=trials.ASKED)
    facts = trials.facts_of(area, words=PSEUDO, spoil=11)
    started = facts.areas[0].model_copy(update={"phase": "working"})
    facts = facts.model_copy(update={"areas": [started]})
    assert plain_on(lay_out(day_pages(facts, PSEUDO), PSEUDO), given(facts) | {"the piece slipped off the wall"}) == []


def test_letters_that_cannot_be_set_are_named_in_the_documents_language_and_stay_in_the_files_title(site: Site) -> None:
    record = site.record()
    facts = day_facts(record.events, record.hashes, PSEUDO).model_copy(update={"site": "Bay \U00013080\U00013081"})
    pages = day_pages(facts, PSEUDO)
    told = " ".join(shown(lay_out(pages, PSEUDO)))
    assert f"Bay {PSEUDO(message('page-letters-lacking'))}" in told
    assert "\U00013080" in pages.title
