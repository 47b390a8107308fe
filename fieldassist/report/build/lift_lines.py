"""The lifts of an area: figure beside picture, how it was read and by whom, how sure that is, and how it is judged."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import LiftFact, PhotoFact
from fieldassist.language import Words
from fieldassist.report.area_model import LiftLine, LiftTable, PrintedPhoto
from fieldassist.report.build.area_words import AreaWords
from fieldassist.report.build.backs import (
    beside_told,
    doubt_told,
    how_measured,
    marks_of_back,
    read_of_back,
    short_told,
    squared_photo,
    way_told,
)
from fieldassist.report.build.dates import clock_told
from fieldassist.report.build.figures import measure, person, void_allowed
from fieldassist.report.build.states import sign_of
from fieldassist.report.keys import lift_key, lifts_key
from fieldassist.trade.message import Figure, Several, Text, message

# How much wider than high a back is printed at most, so that a row keeps its height.
_MOST_OBLONG = 2.0
_COLUMNS = ("photo", "lift", "contact", "read", "verdict")
# Over so many lifts a good one takes no row of its own.
MOST_ROWS = 10
# Why a lift failed, in few words; any other reason is told whole.
_SHORT = frozenset({"contact-short", "void-too-large", "void-near-edge", "corner-unsupported"})


def lift_table(told: AreaWords) -> LiftTable | None:
    """All of them; None where nothing was lifted."""
    lifts = told.area.lifts
    if not lifts:
        return None
    lines = tuple(_line(told, lift) for lift in lifts)
    piece = told.area.piece
    sides = sorted((piece.length_mm, piece.width_mm))
    pictured, brief = sum(bool(line.photos) for line in lines), len(lines) > MOST_ROWS
    photos = "none" if not pictured else "all" if pictured == len(lines) else "some"
    many = "yes" if brief else "no"
    return LiftTable(
        key=lifts_key(told.key),
        title=told.say("area-lifts-title", count=len(lifts), photos=photos),
        note=told.say("area-lifts-note", photos=photos, count=pictured, lifts=len(lifts), many=many),
        heads=tuple(told.say("area-lift-head", column=column) for column in _COLUMNS if pictured or column != "photo"),
        lines=lines,
        brief=brief,
        oblong=min(_MOST_OBLONG, sides[1] / sides[0]),
        photos=bool(pictured),
        measured=any(lift.back is not None for lift in lifts),
        feet=tuple(how_measured(told)),
    )


def _line(told: AreaWords, lift: LiftFact) -> LiftLine:
    piece, when = told.piece(lift.tile), told.time(lift.at)
    contact = told.contact(lift)
    batch: Figure = "" if not lift.batch else str(lift.batch)
    return LiftLine(
        key=lift_key(told.key, lift.number),
        title=told.say("area-lift-of", lift=str(lift.number), piece=piece),
        time=told.words(when),
        when=told.say("area-lift-when", time=when, batched="yes" if batch else "no", batch=batch),
        came=lift.came_told.text,
        sign=sign_of(lift),
        percent=told.words(contact) if contact else "",
        doubt=doubt_told(told, lift),
        way=way_told(told, lift),
        beside=tuple(beside_told(told, lift)),
        read=tuple(_read(told, lift)),
        verdict=told.say("area-lift-verdict", verdict=(lift.verdict or "none").replace(" ", "-")),
        result=" ".join(part for part in (_result(told, lift), *_marks(told, lift)) if part),
        good=lift.verdict == "passed" and not any(_marks(told, lift)),
        short=short_told(told, lift),
        photos=photos_of(told, lift),
    )


def _read(told: AreaWords, lift: LiftFact) -> Iterator[tuple[str, bool]]:
    """What was read besides contact, each with whether it breaks what is required."""
    need, void = told.area.required, told.void(lift)
    if void is None:
        yield told.say("area-no-void-read"), False
    else:
        over = need is not None and need.void_mm2 is not None and (lift.void_mm2 or 0.0) > need.void_mm2
        yield told.say("area-largest-void", void=void), over
    if lift.corners == lift.edges == "full":
        yield told.say("area-all-full"), False
    else:
        if lift.corners is not None:
            yield told.say("area-corners", full="yes" if lift.corners == "full" else "no"), lift.corners != "full"
        if lift.edges is not None:
            yield told.say("area-edges", full="yes" if lift.edges == "full" else "no"), lift.edges != "full"
    yield from read_of_back(told, lift)
    if lift.bed_mm is not None:
        yield told.say("area-bed-gauged", bed=measure(lift.bed_mm, "mm")), False


def _result(told: AreaWords, lift: LiftFact) -> str:
    if lift.verdict == "failed":
        return reasons_told(told, lift)
    if lift.verdict == "not complete":
        unread = Several(tuple(Text.plain(part.text) for part in lift.unread), "list")
        return told.say("area-lift-unread", parts=unread)
    if lift.verdict is None:
        short = lift.percent is not None and lift.percent < (told.area.required_percent or 0.0)
        read = "no" if lift.percent is None else "short" if short else "yes"
        return told.say("area-lift-not-judged", read=read)
    first = next(one for one in told.area.lifts if one.method == lift.method and one.verdict == "passed")
    proof = told.say("area-first-proof", letter=told.method(lift.method).letter) if first is lift else ""
    alone = told.say("area-one-eye") if lift.way == "eye" else ""
    return " ".join(part for part in (alone, proof) if part)


def _marks(told: AreaWords, lift: LiftFact) -> Iterator[str]:
    """What else there is to know of how it stands here: its photo says otherwise or could not tell, read anew, a photo
    taken back, corrected in words."""
    yield from marks_of_back(told, lift)
    undone = lift.undone
    if undone is not None:
        yield told.say(
            "area-lift-undone",
            was=Text.plain(undone.was.text),
            judged="yes" if undone.judged else "no",
            how=undone.how.replace(" ", "-"),
            time=told.time(undone.at),
            anew="no" if lift.percent is None else "yes",
        )
    back = sum(photo.lift == lift.number and photo.withdrawn for photo in told.photos)
    if back:
        yield told.say("area-lift-photo-back", count=back)
    if lift.amended:
        parts = tuple(str(part) for part in lift.amended)
        yield told.say("area-lift-amended", count=len(parts), parts=Several(parts, "and"))


def reasons_told(told: AreaWords, lift: LiftFact) -> str:
    """Why a lift failed, in few words."""
    need = told.area.required
    reasons: list[Figure] = []
    for reason in lift.reasons:
        short = reason.code.removeprefix("coverage-")
        if need is None or short not in _SHORT or (short == "void-too-large" and need.void_mm2 is None):
            reasons.append(Text.plain(reason.text))
        elif short == "contact-short":
            least = lift.required_percent if lift.required_percent is not None else need.percent
            dagger = told.dagger("required coverage")
            reasons.append(message("area-short-contact", required=measure(least, "percent"), dagger=dagger))
        elif short == "void-too-large" and need.void_mm2 is not None:
            dagger = told.dagger("largest void")
            reasons.append(message("area-short-void", allowed=void_allowed(need.void_mm2), dagger=dagger))
        else:
            reasons.append(message(f"area-short-{short}"))
    return told.say("area-reasons", reasons=Several(tuple(reasons), "list"))


# --- photos -------------------------------------------------------------------------------------------------------


def photos_of(told: AreaWords, lift: LiftFact) -> tuple[PrintedPhoto, ...]:
    """The photos of a lift; the one that its back was measured on as it was squared up, with what was found."""
    back = lift.back
    squared = () if back is None else (squared_photo(told, lift, back),)
    return squared + tuple(
        PrintedPhoto(
            photo.file,
            told.say(
                "area-photo-lift",
                lift=str(lift.number),
                piece=told.piece(lift.tile),
                contact=told.contact(lift) or message("area-not-read"),
                verdict=(lift.verdict or "none").replace(" ", "-"),
            ),
            told.say("area-photo-of", lift=str(lift.number), piece=told.piece(lift.tile)),
        )
        for photo in told.photos
        if photo.lift == lift.number and not photo.withdrawn and (back is None or photo.sha256 != back.photo)
    )


def step_photos(told: AreaWords, section: str, at_round: int) -> tuple[PrintedPhoto, ...]:
    """The photos taken in a round that lifted nothing."""
    return tuple(
        other_photo(photo, told.day.date, told.words)
        for photo in told.photos
        if photo.lift is None and (photo.section, photo.round) == (section, at_round) and not photo.withdrawn
    )


def other_photos(told: AreaWords, shown: frozenset[str]) -> tuple[PrintedPhoto, ...]:
    """The photos that stand nowhere else on these pages. shown: files of those that do."""
    return tuple(other_photo(photo, told.day.date, told.words) for photo in told.photos if photo.file not in shown)


def other_photo(photo: PhotoFact, day: str, words: Words) -> PrintedPhoto:
    """A photo that belongs to no lift: when, at which step and by whom."""
    caption = words(
        message(
            "area-photo-other",
            time=clock_told(photo.at, day),
            step="" if not photo.name else Text.plain(photo.name),
            at="yes" if photo.name else "no",
            name=person(photo.by),
            withdrawn="yes" if photo.withdrawn else "no",
        )
    )
    return PrintedPhoto(photo.file, words(message("area-photo-alt", caption=Text.plain(caption))), caption)
