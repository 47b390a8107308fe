"""What is drawn behind the person: minutes of dust on a ruler, what a task takes, who lifts a piece, a face."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.checklist.plan import Person
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.content.person import Carrying, Controls, DustBar
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn, RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TextLabel

_BAR_HIGH = 84  # dots


class DustRuler(Drawn):
    """Minutes of the table's tasks on a ruler of eight hours: noted full, what runs hatched, four hours as a thick
    line; beyond it in amber."""

    def __init__(self, look: Look, bar: DustBar) -> None:
        self._bar = bar
        super().__init__(look, size_hint_y=None, height=look.dots(_BAR_HIGH))

    def show(self, bar: DustBar) -> None:
        """Show other minutes."""
        self._bar = bar
        self.again()

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look, bar = self.look, self._bar
        x, y, w, h = box
        high = h * 0.56
        track = (x, y + h - high, w, high)

        def at(minutes: float) -> float:
            return x + w * min(1.0, minutes / bar.whole)

        marks.field(look, track, "bare")
        spent = bar.noted + bar.running
        marks.field(look, (x, track[1], at(min(bar.noted, bar.limit)) - x, high), "ink")
        if bar.running:
            left = at(bar.noted)
            marks.hatch(look, (left, track[1], max(at(spent) - left, look.dots(4)), high), "ink", apart=12, thick=4)
        if spent > bar.limit:
            left = at(bar.limit)
            marks.field(look, (left, track[1], at(spent) - left, high), "due")
        marks.frame(look, track, "edge", 3)
        for hour in range(1, 8):
            place = at(60 * hour)
            tall = look.dots(24 if hour == 4 else 12)
            marks.stroke(look, (place, track[1], place, track[1] - tall), "ink", 7 if hour == 4 else 3)
        place = at(bar.limit)
        marks.stroke(look, (place, track[1], place, track[1] + high), "ink", 7)


class LiftFigures(Drawn):
    """How many lift a piece, as figures; a hoist where nobody may; a question where no figure holds."""

    def __init__(self, look: Look, carrying: Carrying, *, side: float = 56, **rest: Any) -> None:
        self._signs = figures_of(carrying)
        self._side = side
        wide = look.dots(len(self._signs) * (side + 6))
        super().__init__(look, size_hint=(None, None), size=(wide, look.dots(side)), **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look = self.look
        for i, name in enumerate(self._signs):
            marks.sign(look, name, box[0] + i * look.dots(self._side + 6), box[1], look.dots(self._side))


def figures_of(carrying: Carrying) -> tuple[SignName, ...]:
    """The signs of who or what lifts a piece."""
    if carrying.kind == "gear":
        return ("hoist",)
    if carrying.kind == "not judged" or carrying.people is None:
        return ("question",)
    one: SignName = "person"
    return (one,) * carrying.people


def controls_row(look: Look, controls: Controls) -> RowBox:
    """What Table 1 asks of a task, as signs with the mask's factor."""
    signs: list[SignName] = []
    if controls.water:
        signs.append("water")
    if controls.collector:
        signs.append("collector")
    row = RowBox(look, *(marks.Sign(look, name, 56) for name in signs), gap=12, high=64)
    if controls.factor:
        row.add_widget(marks.Sign(look, "mask", 56))
        row.add_widget(
            TextLabel(look, str(controls.factor), "near", bold=True, fit=True, size_hint_x=None, width=look.dots(48))
        )
    row.size_hint_x = None
    row.width = look.dots(12 + 68 * max(1, len(signs)) + (120 if controls.factor else 0))
    return row


class FaceKey(Key):
    """Somebody of the crew: the person's sign beside the name."""

    def __init__(
        self, look: Look, person: Person, caption: str, press: Callable[[], object], *, chosen: bool, high: float
    ) -> None:
        super().__init__(
            look,
            name_of(person.name),
            press,
            sign="person",
            chosen=chosen,
            caption=caption,
            size="near",
            high=high,
        )
