"""What is typed in digits means what the same words mean when they are spoken."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.offers import Offer, Slot
from fieldassist.trade.quantities import dimension_of, format_quantity
from fieldassist.voice import typed
from fieldassist.voice.phrases import NotUnderstood, Taken, understand

SLOTS = {
    "temperature": Slot("air-temperature", "temperature", ("degC", "degF"), -20, 50),
    "gap": Slot("gap", "length", ("mm", "in"), 0, 50),
    "coverage": Slot("coverage", "percent", ("percent",), 0, 100),
    "void": Slot("void", "area", ("mm2", "in2"), 0, 100_000),
    "slaked": Slot("slake", "duration", ("min", "s"), 0, 60),
    "bags": Slot("bags", "count", ("count",), 0, 100),
}


def meant(line: str) -> tuple[Fraction, str] | None:
    """Value and unit that a typed line comes to."""
    offers = [
        Offer((f"{name} {{value}}", "{value} " + name), name, cmd.GiveReading(section="-", step="-"), slot)
        for name, slot in SLOTS.items()
    ]
    found = understand(line, offers)
    if isinstance(found, NotUnderstood):
        return None
    assert isinstance(found, Taken), found
    assert isinstance(found.command, cmd.GiveReading)
    return found.command.value, found.command.unit


TYPED_AND_SPOKEN = [
    ("temperature 21 degrees", "temperature twenty one degrees"),
    ("temperature 21", "temperature twenty one"),
    ("temperature 21°", "temperature twenty one degrees"),
    ("temperature 21 °C", "temperature twenty one degrees celsius"),
    ("temperature 21C", "temperature twenty one degrees c"),
    ("temperature 68", "temperature sixty eight"),
    ("temperature 68 degrees F", "temperature sixty eight degrees fahrenheit"),
    ("temperature 68 deg", "temperature sixty eight degrees"),
    ("temperature minus 5", "temperature minus five"),
    ("temperature −5 °C", "temperature minus five degrees celsius"),
    ("temperature 5 below", "temperature five below"),
    ("21.5 degrees temperature", "twenty one point five degrees temperature"),
    ("gap 2 mm", "gap two millimeters"),
    ("gap 2mm", "gap two millimeters"),
    ("gap 2.5 millimeters", "gap two point five millimeters"),
    ("gap 2 and a half mm", "gap two and a half millimeters"),
    ("gap 2", "gap two"),
    ("gap 1/2 in", "gap one half inch"),
    ("gap ½ in", "gap half an inch"),
    ('gap 5/8"', "gap five eighths of an inch"),
    ("gap 5/8 of an inch", "gap five eighths of an inch"),
    ("gap 1/2 an inch", "gap half an inch"),
    ("gap 1-3/8 in", "gap one and three eighths inches"),
    ("gap 1 3/8 inches", "gap one and three eighths inches"),
    ("gap 1½ in", "gap one and a half inches"),
    ("gap 1 and 1/2 inches", "gap one and a half inches"),
    ("coverage 96 %", "coverage ninety six percent"),
    ("coverage 96%", "coverage ninety six percent"),
    ("coverage 96.5 percent", "coverage ninety six point five percent"),
    ("coverage 96 per cent", "coverage ninety six per cent"),
    ("coverage 96", "coverage ninety six"),
    ("coverage 9/10", "coverage nine tenths"),
    ("void 2 in2", "void two square inches"),
    ("void 2 in²", "void two square inches"),
    ("void 1/2 sq in", "void one half square inch"),
    ("void 1.5 square inches", "void one point five square inches"),
    ("void 650 mm²", "void six hundred fifty square millimeters"),
    ("slaked 8 min", "slaked eight minutes"),
    ("slaked 8", "slaked eight"),
    ("slaked 90 s", "slaked ninety seconds"),
    ("2 bags", "two bags"),
    ("bags 2 1/2", "bags two and a half"),
]


@pytest.mark.parametrize(("line", "spoken"), TYPED_AND_SPOKEN)
def test_what_is_typed_means_what_is_spoken(line: str, spoken: str) -> None:
    assert meant(line) is not None
    assert meant(line) == meant(spoken)


@pytest.mark.parametrize(
    "line",
    [
        "temperature 2 mm",
        "gap 2 degrees",
        "gap -2 mm",
        "coverage 2 mm",
        "gap 1,5 mm",
        "gap 3/0 in",
        "gap mm 2",
        "gap °",
    ],
)
def test_a_figure_of_another_kind_or_of_none_is_not_taken(line: str) -> None:
    assert meant(line) is None


@pytest.mark.parametrize("value", ["0", "1", "1/2", "3/16", "2-5/8", "12", "0.5", "47.25", "96"])
@pytest.mark.parametrize("unit", ["mm", "in", "percent", "degC", "degF", "in2", "min", "kg"])
def test_a_figure_as_it_is_shown_can_be_typed_back(value: str, unit: str) -> None:
    whole, _, part = value.rpartition("-")
    exact = Fraction(part) + int(whole or 0)
    shown = format_quantity(exact, unit)
    read = typed.read(shown)
    assert read is not None
    assert read.unit == unit
    assert format_quantity(read.value, unit) == shown


def test_a_number_in_a_name_is_listened_for_as_a_word() -> None:
    offer = Offer(("start area wall two",), "Wall 2", cmd.StartArea(area="wall two"))
    for line in ("start area wall 2", "Start area wall two"):
        found = understand(line, [offer])
        assert isinstance(found, Taken)
        assert found.command == offer.command
    assert isinstance(understand("start area wall 3", [offer]), NotUnderstood)


def test_every_unit_that_is_read_measures_what_its_slot_measures() -> None:
    for line, _ in TYPED_AND_SPOKEN:
        found = meant(line)
        assert found is not None
        name = next(name for name in SLOTS if name in line)
        assert dimension_of(found[1]) == SLOTS[name].dimension
