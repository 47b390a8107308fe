"""Signatures, seal and addenda, from the facts of the day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldassist.facts.model import AddedFact, AddendumFact, DayFacts, SealFact
from fieldassist.language import Words
from fieldassist.report import by_hand
from fieldassist.report.build.dates import time_told
from fieldassist.report.build.figures import person
from fieldassist.report.build.states import seal_of, signature_of
from fieldassist.report.closing_model import (
    AddedRow,
    AddendumPages,
    ByHandPage,
    Commands,
    CorrectedRow,
    ReopenedLine,
    SealBlock,
    SealLine,
    SignatureBlock,
    SigningPage,
)
from fieldassist.trade.message import Figure, Message, Several, message

# Boxes to tick fill seven rows; of more points their numbers are written down. Ours.
_MOST_TICKS = 98
# Files that are named one by one; of more the first few are, with the number of the others. Ours.
_MOST_NAMES = 6


def signing(facts: DayFacts, words: Words, lacking: Sequence[str] = ()) -> SigningPage:
    """The page of signatures. lacking: files that belong to the pages and do not go with them."""
    seal = seal_of(facts, 0)
    count = len(facts.look_at)
    many = count > _MOST_TICKS
    return SigningPage(
        running=words(message("closing-running")),
        title=words(message("closing-title")),
        intro=words(message("closing-intro")),
        foreman=_foreman(facts, 0, words),
        owner=SignatureBlock(
            words(message("closing-owner", name=facts.owner)), (words(message("closing-received", points=count)),)
        ),
        ticks=() if many else tuple(range(1, count + 1)),
        written=words(message("closing-write-numbers", points=count)) if many else "",
        inspector=SignatureBlock(words(message("closing-inspector")), (words(message("closing-finding")),)),
        seal=_seal(facts, 0, words),
        reopened=tuple(_reopened(facts, one, words) for one in facts.addenda),
        checking=words(message("closing-check")),
        steps=tuple(words(step) for step in _steps(seal)),
        by_hand=words(message("closing-by-hand-leads")),
        left_out=(_left_out(lacking, words),) if lacking else (),
        before_this=words(message("closing-before-this")),
    )


def _steps(seal: SealFact | None) -> Iterator[Message]:
    pages = "signed" if seal is not None and seal.certificate else "bare"
    yield message("closing-check-pages", pages=pages)
    yield message("closing-check-record")
    yield message("closing-check-key", name=person(seal.name) if seal else "", sealed="yes" if seal else "no")


def _time(at: str) -> Figure:
    """Date and time."""
    return time_told(at, "")


# --- signatures -------------------------------------------------------------------------------------------------


def _foreman(facts: DayFacts, part: int, words: Words) -> SignatureBlock:
    """Who signed a part of the day, for what."""
    signed = signature_of(facts, part)
    if signed is None:
        foremen = tuple(person(one.name) for one in facts.crew if one.role == "foreman")
        title = message("closing-foreman", name=Several(foremen, "or")) if foremen else message("closing-a-foreman")
        return SignatureBlock(
            words(title),
            (words(message("closing-may-change", part=part)),),
            alarm=words(message("closing-not-signed")),
        )
    title = message("closing-signer", role=message("page-role", role=signed.role), name=person(signed.name))
    told: list[Message] = [message("closing-signs", part=part, open=len(signed.open_points))]
    if part == 0:
        told += (*_in_words(facts), *_releases(facts))
    drawn = message("closing-drawn", name=person(signed.name)) if signed.strokes else message("closing-not-drawn")
    return SignatureBlock(
        words(title),
        tuple(words(one) for one in told),
        strokes=tuple(tuple(stroke) for stroke in signed.strokes),
        drawn=words(drawn),
        when=words(_time(signed.at)),
        alarm=words(Several(tuple(_not_confirmed(facts)) if part == 0 else (), "sentences")),
    )


def _in_words(facts: DayFacts) -> Iterator[Message]:
    """What stands on the foreman's words alone: points that he answered, tiles that he accepted."""
    answered = sum(point.answered for point in facts.open_points)
    if answered:
        yield message("closing-answered", count=answered)
    for area in facts.areas:
        tiles = tuple(str(tile.number) for tile in area.tiles if tile.state == "accepted")
        if tiles:
            yield message("closing-accepted", area=area.name, count=len(tiles), tiles=Several(tiles, "and"))


def _releases(facts: DayFacts) -> Iterator[Message]:
    """In which ways hold points were released and proven, where any was."""
    standing = [one for area in facts.areas for one in area.releases if not one.struck]
    confirmed_at = tuple(dict.fromkeys(one.at[11:16] for one in facts.confirmations))
    ways: list[Figure] = []
    for code, count in (
        ("closing-released-by-pin", sum(one.how == "pin" for one in standing)),
        ("closing-released-confirmed", sum(one.how == "called" and one.confirmed for one in standing)),
    ):
        if count:
            ways.append(message(code, count=count, times=Several(confirmed_at, "and")))
    if ways:
        yield message("closing-releases", ways=Several(tuple(ways), "clauses"))


def _not_confirmed(facts: DayFacts) -> Iterator[Message]:
    """How many hold points somebody called by voice and confirmed by no PIN: that is open today."""
    called = [one for area in facts.areas for one in area.releases if not one.struck and one.how == "called"]
    count = sum(not one.confirmed for one in called)
    if count:
        yield message("closing-released-called", count=count)


# --- seals ------------------------------------------------------------------------------------------------------


def _is_sealed(facts: DayFacts, part: int) -> bool:
    seal = seal_of(facts, part)
    return seal is not None and seal.good


def _seal(facts: DayFacts, part: int, words: Words) -> SealBlock:
    """A seal, or that there is none."""
    seal = seal_of(facts, part)
    alarms = tuple(words(one) for one in _alarms(facts, part, seal))
    lines = () if seal is None else tuple(_seal_lines(facts, seal, words))
    return SealBlock(words(message("closing-seal", part=part)), alarms, lines)


def _alarms(facts: DayFacts, part: int, seal: SealFact | None) -> Iterator[Message]:
    """What is not as it should be with a seal."""
    if seal is None:
        signed = "no" if signature_of(facts, part) is None else "yes"
        yield message("closing-no-seal", signed=signed)
    elif seal.why is not None:
        yield message("closing-seal-unfit", why=seal.why.text)
    elif seal.warning is not None:
        yield message("closing-seal-warning", warning=seal.warning.text)
    if part == 0 and any(one.good for one in facts.seals) and facts.unsealed:
        yield message("closing-unsealed", count=facts.unsealed, first=str(facts.events - facts.unsealed + 1))


def _seal_lines(facts: DayFacts, seal: SealFact, words: Words) -> Iterator[SealLine]:
    def line(label: str, told: Message) -> SealLine:
        return SealLine(words(message(label)), words(told))

    about = {"name": person(seal.name), "role": message("page-role", role=seal.role)}
    signed = signature_of(facts, seal.part)
    yield line("closing-key-of", message("closing-key-whose", **about))
    if seal.good:
        time = "" if signed is None else signed.at[11:16]
        yield line("closing-covers", message("closing-covers-events", count=seal.covers, time=time))
    pages = "signed" if seal.certificate else "bare"
    yield line("closing-pages", message("closing-pages-carry", pages=pages))
    yield SealLine(words(message("closing-key")), digits=seal.key)
    yield SealLine(words(message("closing-head")), digits=seal.head)


# --- what is not in the document --------------------------------------------------------------------------------


def _left_out(lacking: Sequence[str], words: Words) -> str:
    """What of the files does not go with the pages; why, the tablet tells, for the pages alone do not know it."""
    shown = tuple(lacking if len(lacking) <= _MOST_NAMES else lacking[: _MOST_NAMES - 1])
    return words(message("closing-left-out", files=Several(shown), more=len(lacking) - len(shown)))


# --- addenda ----------------------------------------------------------------------------------------------------


def addenda(facts: DayFacts, words: Words) -> Iterator[AddendumPages]:
    """The pages of each addendum."""
    for one in facts.addenda:
        title = words(message("closing-addendum", number=one.number, of=len(facts.addenda)))
        yield AddendumPages(
            key=_key(one),
            running=title,
            title=title,
            standing=words(_how_it_stands(facts, one.number)),
            alarm=not _is_sealed(facts, one.number),
            reason=words(message("closing-reason", reason=one.reason)),
            opened=words(message("closing-opened", name=person(one.by), time=_time(one.at), event=str(one.event))),
            corrected=tuple(_corrected(facts, one.number, words)),
            added=tuple(_added(line, facts.date, words) for line in one.added),
            foreman=_foreman(facts, one.number, words),
            seal=None if signature_of(facts, one.number) is None else _seal(facts, one.number, words),
        )


def _reopened(facts: DayFacts, addendum: AddendumFact, words: Words) -> ReopenedLine:
    standing = _how_it_stands(facts, addendum.number)
    told = message("closing-addendum-stands", number=addendum.number, standing=standing)
    return ReopenedLine(_key(addendum), words(told), alarm=not _is_sealed(facts, addendum.number))


def _key(addendum: AddendumFact) -> str:
    return f"addendum-{addendum.number}"


def _who(name: str, words: Words) -> str:
    return words(message("closing-by-clock")) if name == "clock" else words(person(name))


def _how_it_stands(facts: DayFacts, part: int) -> Message:
    """How an addendum stands, in one sentence."""
    signed, seal = signature_of(facts, part), seal_of(facts, part)
    if signed is None:
        return message("closing-addendum-not-signed")
    code = "not-sealed" if seal is None else "sealed" if seal.good else "unfit"
    role = message("page-role", role=signed.role)
    return message(f"closing-addendum-{code}", number=part, name=person(signed.name), role=role, time=_time(signed.at))


def _added(line: AddedFact, day: str, words: Words) -> AddedRow:
    time = words(time_told(line.at, day))
    return AddedRow(time, _who(line.by, words), line.told.text, str(line.event), line.withdrawn)


def _corrected(facts: DayFacts, part: int, words: Words) -> Iterator[CorrectedRow]:
    for one in facts.corrections:
        if one.part == part:
            by = words(message("closing-by-at", name=person(one.by), time=time_told(one.at, facts.date)))
            events = words(message("closing-events", target=str(one.target), event=str(one.event)))
            yield CorrectedRow(one.told.text, one.text, by, events)


# --- by hand ----------------------------------------------------------------------------------------------------


def by_hand_page(words: Words) -> ByHandPage:
    """The commands that check a record without this program."""
    title = words(message("closing-by-hand"))
    return ByHandPage(
        running=title,
        title=title,
        commands=(
            Commands(words(message("closing-hand-record", file=by_hand.NAME)), by_hand.RECIPE),
            Commands(words(message("closing-hand-pages")), by_hand.PAGES),
        ),
        results=words(message("closing-hand-results")),
        limits=words(message("closing-check-limits")),
    )
