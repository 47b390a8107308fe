"""The drawing of an area, from its facts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby

from fieldassist.checklist.laying import PieceSpan, SeamEnds, go_on, seam
from fieldassist.facts.model import AreaFacts, LiftFact, TileFact
from fieldassist.language import Words
from fieldassist.report.build.dates import short_day_told
from fieldassist.report.build.figures import contact, numbers, person
from fieldassist.report.build.figures import piece as piece_told
from fieldassist.report.build.states import sign_of
from fieldassist.report.signs import PieceGround
from fieldassist.report.wall_model import DrawnLift, DrawnOpening, DrawnPiece, DrawnWall, PieceRow, StateRun, state_runs
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity

# States that must not be missed, with how their ground is drawn, and whether work or proof is missing today.
_LOUD: Mapping[str, tuple[PieceGround, bool]] = {
    "suspect": ("suspect", True),
    "accepted": ("suspect", True),
    "lifted failed": ("plain", True),
    "taken off": ("not set", True),
    "not yet covered": ("dots", False),
    "not set": ("not set", False),
}


_LIFTED = ("lifted good", "lifted failed")


def wall(area: AreaFacts, words: Words) -> DrawnWall | None:
    """The area to scale, None where nothing is known of its pieces."""
    return _Builder(area, words).wall() if area.tiles else None


def pieces_told(run: StateRun, kind: str) -> Message:
    """The pieces of a run by their numbers, with the lift under each where that is what their state is about. kind: of
    the pieces, as plans name it."""
    told: Figure = numbers(run.numbers)
    if any(run.lifts):
        pairs = zip(run.numbers, run.lifts, strict=True)
        told = Several(tuple(message("drawn-by-lift", number=str(number), lift=lift) for number, lift in pairs))
    return message("area-pieces", kind=kind.replace(" ", "-"), count=len(run.numbers), numbers=told)


class _Builder:
    """One area."""

    def __init__(self, area: AreaFacts, words: Words) -> None:
        self.area, self.words = area, words
        self.letters = {method.number: method.letter for method in area.methods}
        self.lifts: dict[int, list[LiftFact]] = {}
        for lift in area.lifts:
            self.lifts.setdefault(lift.tile, []).append(lift)
        self.edges = area.required is not None and area.required.edges
        self.batches = len({tile.batch for tile in area.tiles if tile.batch})
        set_first = sorted((t for t in area.tiles if t.batch and t.order is not None), key=lambda t: t.order or 0)
        self.begins: dict[int, int] = {}
        for tile in reversed(set_first):
            self.begins[tile.batch] = tile.number

    def wall(self) -> DrawnWall:
        """All of it."""
        area, outline = self.area, self.area.outline
        whole = None if outline is None else PieceSpan(0.0, 0.0, outline.wide_mm, outline.high_mm)
        tiles = area.tiles if whole else sorted(area.tiles, key=lambda tile: (tile.order is None, tile.order or 0))
        pieces = tuple(self._piece(tile) for tile in tiles)
        laid = [piece.span for piece in pieces if piece.span is not None]
        holes = [(one.name, PieceSpan(one.x_mm, one.y_mm, one.wide_mm, one.high_mm)) for one in area.openings]
        return DrawnWall(
            surface=area.surface,
            kind=area.piece.product,
            outline=whole,
            joint_mm=area.joint_mm or 0.0,
            pieces=pieces,
            openings=tuple(
                DrawnOpening(name, span) for name, span in holes if not any(_within(other, span) for other in laid)
            ),
            seams=tuple(_seams(area)),
            seen=self._seen(),
            earlier=any(lift.verdict == "passed" and not lift.way for lift in area.lifts),
            rows=tuple(self._rows(tiles, pieces)),
            alt=self._alt(pieces),
        )

    def _seen(self) -> str:
        """How the pieces came into the record, and how many were put back after a lift as they were."""
        back = sum(tile.put_back == "put back" for tile in self.area.tiles)
        return self.words(message("drawn-seen", seen=self.area.seen_told.text, back=back))

    def _piece(self, tile: TileFact) -> DrawnPiece:
        told = self.words
        loud = _LOUD.get(tile.state)
        cleared = bool(tile.cleared_by) and tile.state == "covered"
        ground: PieceGround = loud[0] if loud else "cleared" if cleared else "plain"
        state, shown = _code(tile.state), loud is not None
        about: dict[str, Figure] = {"state": "cleared" if cleared else state, **_rests_on(tile)}
        words, short, brief = self._known(tile, about)
        lifts = self.lifts.get(tile.number, [])
        return DrawnPiece(
            number=tile.number,
            span=_span(tile),
            row=tile.row or 0,
            ground=ground,
            tint=tile.batch % 2 == 1 and self.batches > 1,
            loud=told(message("drawn-loud", state=state)) if shown else "",
            red=loud is not None and loud[1],
            words=words,
            short=short,
            brief=brief,
            state=told(Message("drawn-state", about)),
            by_lift=told(message("drawn-lift", lift=str(about["lift"]))) if tile.state in _LIFTED else "",
            tag=self._tag(tile),
            begins=(
                told(message("drawn-batch-begins", batch=str(tile.batch)))
                if self.begins.get(tile.batch) == tile.number
                else ""
            ),
            batch=tile.batch,
            lifts=tuple(self._lift(lift) for lift in lifts),
            again=tile.settings > 1,
            combing=tile.combing,
            edges=self.edges and bool(lifts) and lifts[-1].edges == "full",
        )

    def _known(self, tile: TileFact, about: Mapping[str, Figure]) -> tuple[str, str, str]:
        """What is known of a piece besides what must not be missed: in words, in short, and what matters most of it."""
        told = self.words
        state, short = Message("drawn-words", about), Message("drawn-short", about)
        named: list[Figure] = [] if tile.name is None else [tile.name]
        again: list[Figure] = [message("drawn-again", times=tile.settings - 1)] if tile.settings > 1 else []
        back: list[Figure] = [message("drawn-put-back")] if tile.put_back == "put back" else []
        long = [*named, *again, *([state] if told(state) else []), *back]
        middle = [*named, *again, *([short] if told(short) else []), *back]
        most = [*([short] if told(short) else []), *again, *back, *named][:1]
        return told(Several(tuple(long))), told(Several(tuple(middle))), told(Several(tuple(most)))

    def _tag(self, tile: TileFact) -> str:
        letter = self._letter(tile)
        if not letter and not tile.batch:
            return ""
        return self.words(message("drawn-tag", letter=letter or "no", batch=str(tile.batch)))

    def _lift(self, lift: LiftFact) -> DrawnLift:
        read = None if lift.percent is None else contact(lift.percent, lift.required_percent)
        return DrawnLift(
            number=lift.number,
            sign=sign_of(lift),
            contact="" if read is None else self.words(read),
            figure="" if read is None else self.words(message("drawn-figure", percent=_digits(read))),
            told=self.words(message("drawn-lift", lift=str(lift.number))),
            short=self.words(message("drawn-lift-short", lift=str(lift.number))),
        )

    # --- for whoever cannot see it

    def _rows(self, tiles: Sequence[TileFact], pieces: Sequence[DrawnPiece]) -> Iterator[PieceRow]:
        """Every piece in words; neighbours of which the same is told, and that were not lifted, in one row."""
        told = [(self._told(tile, piece), self._apart(tile), tile) for tile, piece in zip(tiles, pieces, strict=True)]
        for (row, _), run in groupby(told, key=lambda one: one[:2]):
            alike = [tile for _, _, tile in run]
            numbered = self.words(numbers(tile.number for tile in alike))
            yield replace(row, numbers=numbered, set=self._set(row.set, alike))

    def _apart(self, tile: TileFact) -> tuple[int, str]:
        """What parts it from neighbours of which the same is told: that it was lifted, or set on another day."""
        return tile.number if tile.number in self.lifts else 0, (tile.at or "")[:10]

    def _set(self, by: str, alike: Sequence[TileFact]) -> str:
        """By whom, and when from the first to the last, with the date where it was an earlier day's."""
        times = sorted(tile.at for tile in alike if tile.at is not None)
        if not times:
            return by
        first, last = times[0][11:16], times[-1][11:16]
        about: dict[str, Figure] = {"set": by, "first": first, "last": last, "one": "yes" if first == last else "no"}
        if (alike[0].event or 0) >= 0:
            return self.words(Message("drawn-set", about))
        return self.words(Message("drawn-set-before", {"date": short_day_told(times[0][:10]), **about}))

    def _told(self, tile: TileFact, piece: DrawnPiece) -> PieceRow:
        told = self.words
        state: list[Figure] = [piece.state] if tile.name is None else [tile.name, piece.state]
        if piece.again:
            state.append(message("drawn-again", times=tile.settings - 1))
        if tile.put_back == "put back":
            state.append(message("drawn-put-back"))
        lifts = [self._lift_told(lift) for lift in self.lifts.get(tile.number, [])]
        way = _code(tile.seen) or "no"
        by = message("drawn-setter", name=person(tile.setter), seen=way) if tile.seen else ""
        return PieceRow(
            numbers="",
            state=told(Several(tuple(state))),
            loud=bool(piece.loud),
            lifts=told(Several(tuple(lifts), "clauses")) if lifts else "",
            tag=piece.tag,
            set=told(by) if by else "",
        )

    def _lift_told(self, lift: LiftFact) -> Message:
        about: dict[str, Figure] = {"read": "no" if lift.percent is None else "yes", "percent": ""}
        if lift.percent is not None:
            about["percent"] = contact(lift.percent, lift.required_percent)
        rest: dict[str, Figure] = {"lift": str(lift.number), "sign": sign_of(lift), "way": lift.way or "none"}
        return Message("drawn-lift-told", about | rest)

    def _alt(self, pieces: Sequence[DrawnPiece]) -> str:
        """The drawing in words: its pieces by state, by method and batch, and by their signs; then every lift."""
        area = self.area
        said: list[Figure] = [
            message(
                "drawn-alt",
                area=area.name,
                pieces=message("area-count", kind=_code(area.piece.product), count=len(pieces)),
                surface=area.surface,
                laid="yes" if area.outline is not None else "no",
            )
        ]
        for run in state_runs(pieces):
            said.append(message("drawn-alt-state", state=run.state, pieces=pieces_told(run, area.piece.product)))
        said += self._under()
        combed = [piece.number for piece in pieces if piece.combing]
        edges = [piece.number for piece in pieces if piece.edges]
        for code, found in (("combed", combed), ("edges", edges)):
            if found:
                said.append(message(f"drawn-alt-{code}", pieces=self._numbered(found)))
        for lift in area.lifts:
            named = piece_told(area.piece.product, lift.tile)
            said.append(message("drawn-alt-lift", piece=named, lift=self._lift_told(lift)))
        return self.words(Several(tuple(said), "sentences"))

    def _under(self) -> Iterator[Figure]:
        """The pieces of each method and batch, in the order of the first of them."""
        found: dict[tuple[str, int], list[int]] = {}
        for tile in self.area.tiles:
            if tile.method is not None or tile.batch:
                found.setdefault((self._letter(tile), tile.batch), []).append(tile.number)
        for (letter, batch), each in found.items():
            lettered = "yes" if letter else "no"
            pieces = self._numbered(each)
            yield message("drawn-alt-under", lettered=lettered, letter=letter, batch=str(batch), pieces=pieces)

    def _numbered(self, each: Sequence[int]) -> Message:
        return message(
            "area-pieces", kind=_code(self.area.piece.product), count=len(each), numbers=numbers(sorted(each))
        )

    def _letter(self, tile: TileFact) -> str:
        return self.letters.get(tile.method if tile.method is not None else -1, "")


def _digits(percent: Quantity) -> str:
    return f"{float(percent.value):g}"


def _code(state: str) -> str:
    return state.replace(" ", "-")


def _rests_on(tile: TileFact) -> dict[str, Figure]:
    """The lifts that a state rests on."""
    if tile.cleared_by and tile.state == "covered":
        return {"lift": str(tile.cleared_by[0]), "other": str(tile.cleared_by[-1])}
    return {"lift": str(tile.why.figures.get("lift", 0)), "other": "0"}


def _span(tile: TileFact) -> PieceSpan | None:
    if tile.x_mm is None or tile.y_mm is None or tile.wide_mm is None or tile.high_mm is None:
        return None
    return PieceSpan(tile.x_mm, tile.y_mm, tile.wide_mm, tile.high_mm)


def _within(piece: PieceSpan, opening: PieceSpan) -> bool:
    """Whether a piece lies in an opening, and not round it."""
    middle = (piece.left + piece.width / 2, piece.bottom + piece.height / 2)
    return opening.holds(*middle) and piece.width <= opening.width + 1 and piece.height <= opening.height + 1


def _seams(area: AreaFacts) -> Iterator[SeamEnds]:
    """Where pieces of two methods meet, as long lines."""
    joint = area.joint_mm or 0.0
    at = {(t.row, t.column): t for t in area.tiles if t.row is not None and t.method is not None}
    found: list[SeamEnds] = []
    for (row, column), tile in at.items():
        for other in (at.get(((row or 0) + 1, column)), at.get((row, (column or 0) + 1))):
            one, two = _span(tile), _span(other) if other is not None else None
            if other is not None and one is not None and two is not None and other.method != tile.method:
                found.append(seam(one, two, joint))
    last: SeamEnds | None = None
    for ends in sorted(found, key=lambda one: (one[1] == one[3], one[1 if one[1] == one[3] else 0], one)):
        if last is not None and go_on(last, ends, joint):
            last = (*last[:2], *ends[2:])
            continue
        if last is not None:
            yield last
        last = ends
    if last is not None:
        yield last
