"""A day's pages put together."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.build.answering import HEAD_DIGITS
from fieldassist.report.build.appendix import appendix
from fieldassist.report.build.area import area_pages, photos_between
from fieldassist.report.build.attached import attached_told
from fieldassist.report.build.closing import addenda, by_hand_page, signing
from fieldassist.report.build.dates import time_told
from fieldassist.report.build.figures import person
from fieldassist.report.build.front import front
from fieldassist.report.build.states import last_seal, signature_of
from fieldassist.report.enclosures import NOTHING_ENCLOSED, Enclosures
from fieldassist.report.fonts import letters_everywhere, named
from fieldassist.report.grid import in_fours
from fieldassist.report.model import DayPages, PageFrame
from fieldassist.trade.message import Figure, Message, message


def day_pages(facts: DayFacts, words: Words, enclosed: Enclosures = NOTHING_ENCLOSED) -> DayPages:
    """All pages of a day.

    words: of the document, in the language and units in which the facts are told too; enclosed: the files that go with
    the pages.
    """
    about: dict[str, Figure] = {"site": facts.site, "date": facts.date, "kind": facts.kind}
    signed = signature_of(facts, 0)
    author = signed.name if signed is not None else next((p.name for p in facts.crew if p.role == "foreman"), "")
    areas = {
        area.name: area_pages(facts, number, words)
        for number, area in enumerate(facts.areas)
        if area.phase != "not started"
    }
    return DayPages(
        language=words.language,
        units=facts.units if words.units == "as given" else words.units,
        title=words(Message("page-title", about)),
        author=words(person(author)),
        subject=words(message("page-subject", events=facts.events, head=facts.head)),
        frame=PageFrame(
            head=words(Message("page-head", about)),
            foot=words(_foot(facts)),
            red=facts.unsealed > 0 or not all(one.good for one in facts.seals),
            mark="" if facts.kind == "work" else words(message(f"page-mark-{facts.kind}")),
        ),
        front=front(facts, words),
        areas=tuple(areas.values()),
        between=photos_between(facts, words),
        signing=signing(facts, words, [name for _, name in enclosed.lacking]),
        addenda=tuple(addenda(facts, words)),
        appendix=appendix(facts, words, {name: pages.wall for name, pages in areas.items()}),
        by_hand=by_hand_page(words),
        attached=attached_told(enclosed, words),
        trials_alone=bool(facts.areas) and all(area.trial is not None for area in facts.areas),
        numbered=tuple(_numbered(facts, words)),
    )


def _numbered(facts: DayFacts, words: Words) -> Iterator[tuple[str, str]]:
    """Names of areas with letters that no typeface has, the longest first: without its number one would read like
    another."""
    areas = sorted(enumerate(facts.areas, start=1), key=lambda one: -len(one[1].name))
    for number, area in areas:
        if named(area.name, "", letters_everywhere()) != area.name:
            yield area.name, words(message("page-area-numbered", number=str(number), area=area.name))


def _foot(facts: DayFacts) -> Message:
    """Who answers for the day, as each page's foot tells it."""
    record = message("page-record", events=facts.events, head=in_fours(facts.head[:HEAD_DIGITS]))
    signed = signature_of(facts, 0)
    if signed is None:
        return message("page-foot-not-signed", record=record)
    unfit = next((one for one in facts.seals if not one.good), None)
    seal = unfit or last_seal(facts)
    # Of an addendum it is its seal that covers the pages as they are now.
    answers = signed if seal is None else signature_of(facts, seal.part) or signed
    about: dict[str, Figure] = {
        "name": person(answers.name),
        "role": message("page-role", role=answers.role),
        "time": time_told(answers.at, facts.date),
    }
    if seal is None:
        return message("page-foot-not-sealed", record=record, **about)
    if unfit is not None:
        return message("page-foot-unfit", record=record, part=unfit.part, **about)
    if not facts.unsealed:
        return message("page-foot-sealed", record=record, part=seal.part, **about)
    later = next((one.number for one in facts.addenda if one.event > seal.event), 0)
    return message("page-foot-since", record=record, part=seal.part, addendum=later, **about)
