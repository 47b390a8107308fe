"""What the parts of an area's pages share: its facts, and how its pieces, times and figures are told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.facts.model import AreaFacts, DayFacts, LiftFact, LookFact, MethodFact, PhotoFact, TileFact
from fieldassist.language import Words
from fieldassist.report.build.dates import clock_told, days_after
from fieldassist.report.build.figures import contact, numbers, piece, size, void
from fieldassist.report.build.states import set_tiles
from fieldassist.report.keys import area_key
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity


@dataclass(frozen=True, slots=True)
class AreaWords:
    """An area of a day and the words of its document."""

    day: DayFacts
    area: AreaFacts
    words: Words

    def say(self, code: str, /, **figures: Figure) -> str:
        """A message in the document's words."""
        return self.words(message(code, **figures))

    def time(self, wall: str | None) -> Figure:
        """Hours and minutes, with how many days later where that is not the day's own."""
        return clock_told(wall or "", self.day.date)

    @property
    def key(self) -> str:
        """Of its pages."""
        return area_key(next(at for at, area in enumerate(self.day.areas, 1) if area.name == self.area.name))

    @property
    def kind(self) -> str:
        """Which word a piece goes by."""
        return self.area.piece.product.replace(" ", "-")

    def piece(self, number: int) -> Message:
        """A piece by its number: "tile 7"."""
        return piece(self.area.piece.product, number)

    def pieces(self, each: Iterable[int]) -> Message:
        """Pieces by their numbers: "tiles 1 to 4 and 7"."""
        found = sorted(set(each))
        return message("area-pieces", kind=self.kind, count=len(found), numbers=numbers(found))

    def count(self, pieces: int) -> Message:
        """So many pieces: "23 pieces"."""
        return message("area-count", kind=self.kind, count=pieces)

    def lifts(self, each: Iterable[int]) -> Message:
        """Lifts by their numbers: "lifts 1 and 4"."""
        found = sorted(set(each))
        return message("area-lifts", count=len(found), numbers=numbers(found))

    def contact(self, lift: LiftFact) -> Figure:
        """What a lift showed; "" where it was not read."""
        return "" if lift.percent is None else contact(lift.percent, lift.required_percent)

    def void(self, lift: LiftFact) -> Quantity | None:
        """Its largest void; None where it was not read."""
        most = self.area.required.void_mm2 if self.area.required is not None else None
        return None if lift.void_mm2 is None else void(lift.void_mm2, most, self.words)

    def size(self, *sides: float) -> str:
        """Two sides [mm]."""
        return size(sides, self.words)

    @property
    def other_days(self) -> bool:
        """Whether anything is timed here that was not on the day's own date."""
        area = self.area
        dated = [
            *(lift.at for lift in area.lifts),
            *(failure.at for failure in area.failures),
            *(release.at for release in area.releases),
            *(batch.at for batch in area.batches),
        ]
        return any(days_after(at, self.day.date) for at in dated if at)

    def dagger(self, limit: Literal["required coverage", "largest void", "corners", "lifts"]) -> str:
        """Behind a limit of a lift, by what its id begins with: a sign where it is known second-hand or from memory."""
        need = self.area.required
        ids = [] if need is None else [one for one in need.limits if one.startswith(limit)]
        known = {one.id: one.standing for one in self.day.limits}
        return self.say("area-dagger") if any(known[one] in ("second-hand", "from memory") for one in ids) else ""

    # --- what the facts hold of the area

    @property
    def set_tiles(self) -> list[TileFact]:
        """The pieces that are set and stay."""
        return set_tiles(self.area)

    @property
    def planned(self) -> int | None:
        """How many pieces the plan has places for; None where it has no grid."""
        places = [tile for tile in self.area.tiles if tile.row is not None or tile.name is not None]
        return len(places) if len(places) == len(self.area.tiles) and places else None

    @property
    def left_m2(self) -> float:
        """What of the surface is still to be set, as it is told: to the hundredth of a square metre."""
        return max(0.0, round(self.area.planned_m2 - self.area.set_m2, 2))

    @property
    def all_set(self) -> bool:
        """Whether every place of the plan has its piece, or, without a grid, the whole surface is set."""
        return not self.in_state("not set", "taken off") if self.planned is not None else not self.left_m2

    def in_state(self, *states: str) -> list[int]:
        """The numbers of the pieces in one of these states."""
        return [tile.number for tile in self.area.tiles if tile.state in states]

    def method(self, number: int) -> MethodFact:
        """A method of the area by its number."""
        return next(one for one in self.area.methods if one.number == number)

    def lift(self, number: int) -> LiftFact | None:
        """A lift by its number."""
        return next((one for one in self.area.lifts if one.number == number), None)

    @property
    def photos(self) -> list[PhotoFact]:
        """The photos taken here."""
        return [photo for photo in self.day.photos if photo.area == self.area.name]

    def looks(self, code: str) -> list[LookFact]:
        """What is to be looked at here, of one code."""
        return [look for look in self.day.look_at if look.area == self.area.name and look.code == code]


def minutes(value: float) -> Quantity:
    """Minutes, whole."""
    return Quantity(Fraction(int(value)), "min")
