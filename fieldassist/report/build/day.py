"""A day's pages put together."""

from __future__ import annotations

from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.build.appendix import appendix
from fieldassist.report.build.area import area_pages, photos_between
from fieldassist.report.build.attached import attached_told
from fieldassist.report.build.closing import addenda, by_hand_page, signing
from fieldassist.report.build.front import front
from fieldassist.report.enclosures import NOTHING_ENCLOSED, Enclosures
from fieldassist.report.grid import in_fours
from fieldassist.report.model import DayPages, PageFrame
from fieldassist.trade.message import Figure, Message, message

_HEAD_DIGITS = 24  # of 64, beside which a copy is compared


def day_pages(facts: DayFacts, words: Words, enclosed: Enclosures = NOTHING_ENCLOSED) -> DayPages:
    """All pages of a day.

    words: of the document, in the language and units in which the facts are told too; enclosed: the files that go with
    the pages.
    """
    about: dict[str, Figure] = {"site": facts.site, "date": facts.date, "kind": facts.kind}
    signed = next((one for one in reversed(facts.signatures) if one.part == 0), None)
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
        author=words(message("prompt-person", name=author)),
        subject=words(message("page-subject", events=facts.events, head=facts.head)),
        frame=PageFrame(
            head=words(Message("page-head", about)),
            foot=words(_foot(facts)),
            red=facts.unsealed > 0,
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
    )


def _foot(facts: DayFacts) -> Message:
    """Who answers for the day, as each page's foot tells it."""
    record = message("page-record", events=facts.events, head=in_fours(facts.head[:_HEAD_DIGITS]))
    signed = next((one for one in reversed(facts.signatures) if one.part == 0), None)
    if signed is None:
        return message("page-foot-not-signed", record=record)
    seal = next((one for one in facts.seals if one.part == 0), None)
    sealed = "since" if facts.unsealed else "sealed"
    code = "not-sealed" if seal is None else sealed if seal.good else "unfit"
    about: dict[str, Figure] = {
        "name": message("prompt-person", name=signed.name),
        "role": message("page-role", role=signed.role),
        "time": signed.at[11:16],
    }
    return message(f"page-foot-{code}", record=record, **about)
