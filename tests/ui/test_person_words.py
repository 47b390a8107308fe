"""What stands behind the person comes from the record and from assess; the trade's words explain each other."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.language import Words
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.explain import EXPLAINED, explanation, title, to_explain
from fieldassist.ui.content.glossary import GLOSSARY, found
from fieldassist.ui.content.person import carrying, caution_rows, controls, dust_bar
from tests.conftest import Crew

SAW = ("handheld power saw", "outdoors")


def test_the_bar_of_dust_holds_what_is_noted_and_what_runs_and_says_what_four_hours_change(crew: Crew) -> None:
    # 29 CFR 1926.1153 Table 1 (ii): outdoors no respirator up to 4 hours a shift, a factor of 10 beyond.
    crew.say("this is rosa")
    crew.day.do(cmd.NoteDust(task="handheld power saw", place="outdoors", minutes=Fraction(200)))
    crew.day.do(cmd.DustStarts(task="handheld power saw", place="outdoors"))
    crew.clock.advance(10)
    bar = dust_bar(crew.day.state, "rosa", crew.clock.now(), ("drill", "indoors"))
    assert (bar.noted, bar.running, bar.over) == (200, 10, False)
    assert bar.next is not None
    assert bar.next.code == "person-dust-then-more"
    crew.clock.advance(31)
    bar = dust_bar(crew.day.state, "rosa", crew.clock.now(), ("drill", "indoors"))
    assert (bar.running, bar.over, bar.told.code) == (41, True, "person-dust-over")
    assert bar.next is not None
    assert bar.next.code == "person-dust-now-more"


def test_what_the_table_has_no_row_for_runs_beside_the_bar(crew: Crew) -> None:
    crew.say("this is rosa", "dust starts mixing")
    crew.clock.advance(30)
    bar = dust_bar(crew.day.state, "rosa", crew.clock.now(), ("drill", "indoors"))
    assert bar.run is not None
    assert (bar.running, bar.next) == (0, None)


@pytest.mark.parametrize(
    ("task", "place", "spent", "drawn"),
    # 29 CFR 1926.1153 Table 1, entries (i), (ii), (vii), (x) and (xi): water or collector, and the least factor.
    [
        ("stationary masonry saw", "indoors", 0, (True, False, 0)),
        ("handheld power saw", "outdoors", 240, (True, False, 0)),
        ("handheld power saw", "outdoors", 241, (True, False, 10)),
        ("drill", "indoors", 300, (False, True, 0)),
        ("chipping tool", "outdoors", 0, (True, True, 0)),
        ("grinder for mortar removal", "indoors", 300, (False, True, 25)),
        ("sweeping", "indoors", 0, (False, False, 0)),
    ],
)
def test_controls_are_drawn_as_table_1_asks(task: str, place: str, spent: float, drawn: tuple[bool, bool, int]) -> None:
    asked = controls((task, place), spent)  # type: ignore[arg-type]
    assert (asked.water, asked.collector, asked.factor) == drawn


def test_a_caution_says_who_has_not_seen_it(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall")
    area = crew.day.state.area
    assert area is not None
    first = caution_rows(crew.day.state, area, crew.clock.now())[0]
    assert first.ready
    assert (first.heard, first.missing) == ((), ("rosa", "otto"))
    crew.say("understood")
    rows = {row.id: row for row in caution_rows(crew.day.state, area, crew.clock.now())}
    assert [name for name, _ in rows[first.id].heard] == ["rosa"]
    assert rows[first.id].missing == ("otto",)
    assert rows[first.id].told.code == "person-caution-missing"


def test_a_piece_is_handled_by_as_many_figures_as_assess_says(crew: Crew) -> None:
    # 1200 x 600 x 10 mm at 2350 kg/m3 (from memory): 16.9 kg; the equation of DHHS (NIOSH) 94-110 allows one less.
    one = carrying(crew.day.state, "shower wall", {})
    assert (one.kind, one.people, one.told.code) == ("hands", 2, "assess-handling-team")
    kneeling = carrying(crew.day.state, "shower wall", {"conditions": frozenset({"kneeling"})})
    assert (kneeling.kind, kneeling.people) == ("not judged", None)
    heavy = carrying(crew.day.state, "shower wall", {"weighed": Quantity(Fraction(60), "kg")})
    assert (heavy.kind, heavy.people) == ("gear", None)


def test_every_word_of_the_trade_goes_with_words_that_are_there() -> None:
    ids = [entry.id for entry in GLOSSARY]
    assert len(set(ids)) == len(ids)
    assert {other for entry in GLOSSARY for other in entry.see} <= set(ids)
    assert not [entry.id for entry in GLOSSARY if entry.id in entry.see]


def test_the_glossary_is_searched_in_words_and_meanings_the_word_itself_first() -> None:
    words = Words()
    entries = tuple((entry, words(entry.word), words(entry.means)) for entry in GLOSSARY)
    assert next(entry.id for entry in found("pot", entries)) == "pot-life"
    assert "skin" in [entry.id for entry in found("dry film", entries)]
    assert found("", entries) == GLOSSARY
    assert found("qqq", entries) == ()


def test_a_screen_explains_itself_once() -> None:
    words = Words()
    for screen in EXPLAINED:
        assert to_explain(screen, ()) == explanation(screen)
        assert to_explain(screen, (screen,)) is None
        assert words(title(screen))
    assert to_explain("a screen without words", ()) is None
