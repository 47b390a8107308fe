"""Keys for a number, with its unit and the parts of an inch."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial
from typing import Any

from fieldassist.trade.quantities import unit_info
from fieldassist.ui.content.entry import BELOW_ZERO, TypedEntry, rows
from fieldassist.ui.widgets.parts import Abreast, Choices, Look, Pick, Target, TextLabel, Upright, blank, gap

from kivy.uix.boxlayout import BoxLayout  # isort: skip

INCHES = ("in", "in2")
DEGREES = ("degC", "degF")


def unit_words(unit: str) -> str:
    """How a unit is written on the pad.

    >>> unit_words("percent"), unit_words("in2"), unit_words("count")
    ('%', 'in²', '')
    """
    return "" if unit == "count" else unit_info(unit).symbol


class NumberPad(Abreast):
    """What was typed, in huge figures, and the units to choose from; `taken` gets it when it is complete.

    typed and unit are told to `changed` at once, so that whoever shows it can keep them.
    """

    def __init__(
        self,
        look: Look,
        units: Sequence[str],
        unit: str,
        typed: TypedEntry,
        changed: Callable[[TypedEntry, str], None],
    ) -> None:
        super().__init__()
        self._look, self._changed = look, changed
        self.units, self.unit, self.typed = tuple(units), unit, typed
        self.shown = TextLabel(look, "", "huge", halign="center", pos_hint={"center_y": 0.5})
        self.add_widget(self.shown)
        self._units = Abreast(pos_hint={"center_y": 0.5})
        self.add_widget(self._units)
        self._show()
        self._show_units()

    def press(self, key: str) -> None:
        """A key of the pad."""
        self.typed = self.typed.press(key)
        self._show()
        self._changed(self.typed, self.unit)

    def _pick(self, unit: str) -> None:
        self.unit = unit
        self._show()
        self._show_units()
        self._changed(self.typed, self.unit)

    def _show(self) -> None:
        self.shown.text = f"{str(self.typed) or '…'} {unit_words(self.unit)}".strip()

    def _show_units(self) -> None:
        self._units.clear_widgets()
        if any(unit in DEGREES for unit in self.units):
            self._units.add_widget(Target(self._look, BELOW_ZERO, partial(self.press, BELOW_ZERO), size="plain"))
        if len(self.units) > 1:
            options = [(unit, unit_words(unit)) for unit in self.units]
            self._units.add_widget(Pick(self._look, options, self.unit, self._pick, size="large"))


class Keypad(Choices):
    """The keys."""

    def __init__(self, look: Look, press: Callable[[str], None], *, fractions: bool, **rest: Any) -> None:
        keys = [key for row in rows(fractions=fractions) for key in row]
        targets = [Target(look, key, partial(press, key), size="large") for key in keys]
        super().__init__(targets, 5 if fractions else 3, **rest)


class NumberEntry(BoxLayout):
    """Asks for one number: its keys, its unit, "Take it" and "Leave as it is".

    Parameters: take, called with the number and its unit; leave, called when nothing should change; unit: the one to
    begin with; hint: a line under the title, such as what can be right.
    """

    def __init__(
        self,
        look: Look,
        title: str,
        units: Sequence[str],
        take: Callable[[Fraction, str], None],
        leave: Callable[[], None],
        *,
        unit: str = "",
        upright: bool = False,
        hint: str = "",
        typed: TypedEntry | None = None,
        changed: Callable[[TypedEntry, str], None] | None = None,
    ) -> None:
        super().__init__(orientation="vertical" if upright else "horizontal", spacing=2 * gap())
        unit = unit or units[0]
        self._take = take
        asked = Upright(size_hint_x=0.45 if not upright else 1, pos_hint={"top": 1})
        asked.add_widget(TextLabel(look, title, "large"))
        if hint:
            asked.add_widget(TextLabel(look, hint, "plain", quiet=True))
        self.number = NumberPad(look, units, unit, typed or TypedEntry(), changed or (lambda _typed, _unit: None))
        asked.add_widget(self.number)
        asked.add_widget(Target(look, "Take it", self._taken, role="first"))
        asked.add_widget(Target(look, "Leave as it is", leave))
        self.add_widget(asked)
        side = Upright(size_hint_x=0.55 if not upright else 1, pos_hint={"top": 1})
        side.add_widget(Keypad(look, self.number.press, fractions=any(u in INCHES for u in units)))
        self.add_widget(side)
        if upright:
            self.add_widget(blank())

    def _taken(self) -> None:
        value = self.number.typed.value
        if value is not None:
            self._take(value, self.number.unit)
