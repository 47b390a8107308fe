"""The drawn wall: every word by measure in its piece, every state with a word, nothing left out in silence."""

from __future__ import annotations

import re
from functools import cache
from itertools import combinations

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import proven
from fieldassist.facts import model
from fieldassist.facts.build import day_facts
from fieldassist.language import Words
from fieldassist.report import fonts
from fieldassist.report.build.wall import wall
from fieldassist.report.grid import MM, OPEN_TODAY
from fieldassist.report.wall_layout import FittedWall, lay_out_wall, least_high, wall_parts
from fieldassist.report.wall_model import DrawnPiece, DrawnWall
from fieldassist.trade.message import message
from tests.checklist.days import Bench, counted_day
from tests.report.conftest import in_words
from tests.report.walls import STATES, area, drawn, lift, mixed, required

WORDS = Words("en", "metric")
fonts.register()
MORE = WORDS(message("drawn-more"))
NICHE = model.OpeningFact(name="niche", x_mm=1206, y_mm=900, wide_mm=600, high_mm=500)
# The mock-ups' grids, and those that are hard to fit.
GRIDS = {
    "one piece": mixed(1, 1, 600, 600),
    "3 by 2": mixed(2, 3, 1200, 600),
    "a niche": mixed(2, 7, 600, 1200, openings=[NICHE]),
    "15 by 5": mixed(5, 15, 300, 600),
    "20 by 10": mixed(10, 20, 600, 600),
    "40 by 30": mixed(30, 40, 600, 600),
    "panels": mixed(1, 4, 1000, 3000),
    "narrow strips": mixed(2, 6, 100, 1200),
    "low strips": mixed(30, 20, 300, 75),
    "pieces without a place": mixed(3, 5, 900, 900, named=3, surface="floor"),
    "no grid": mixed(4, 5, 0, 0, laid=False),
    "no grid, 200 pieces": mixed(10, 20, 0, 0, laid=False),
}
# Full width, beside a column at the side, and low.
FULL, BESIDE, LOW = (174 * MM, 180 * MM), (98 * MM, 115 * MM), (174 * MM, 60 * MM)


@cache
def laid(name: str, room: tuple[float, float]) -> tuple[tuple[DrawnWall, FittedWall], ...]:
    return tuple((part, lay_out_wall(part, *room, WORDS)) for part in wall_parts(drawn(GRIDS[name]), *room))


def of(facts: model.AreaFacts, room: tuple[float, float] = FULL) -> FittedWall:
    return lay_out_wall(drawn(facts), *room, WORDS)


def in_piece(layout: FittedWall, number: int) -> str:
    return " ".join(text.text for one in layout.pieces if one.piece.number == number for text in one.fitted.texts)


def listed(layout: FittedWall) -> str:
    return " ".join(text.strip() for line in layout.lines for text, _ in line)


def piece(facts: model.AreaFacts, number: int) -> DrawnPiece:
    return next(one for one in drawn(facts).pieces if one.number == number)


# --- by measure ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", GRIDS)
def test_no_word_stands_outside_its_piece_and_no_two_lie_over_each_other(name: str) -> None:
    for part, layout in (found for room in (FULL, BESIDE, LOW) for found in laid(name, room)):
        over = [one.box for one in layout.pieces if not one.piece.row and one.piece.span is not None]
        if part.outline is not None:
            over += [layout.box_of(opening.span, part.outline) for opening in part.openings]
        for one in layout.pieces:
            boxes = one.fitted.boxes
            assert all(one.box.holds(box) for box in boxes), one.piece.number
            assert not any(a.meets(b, 0.05) for a, b in combinations(boxes, 2)), one.piece.number
            assert not (one.piece.row and any(box.meets(other, 0.05) for box in boxes for other in over))
        rows = [text.box for text in layout.row_numbers]
        assert not any(a.meets(b) for a, b in combinations(rows, 2))
        assert all(box.x >= 0 and box.right <= layout.board.x for box in rows)
        assert all(text.style.size >= 8 for one in layout.pieces for text in one.fitted.texts)


@pytest.mark.parametrize("name", GRIDS)
def test_a_drawing_keeps_within_its_place(name: str) -> None:
    for wide, high in (FULL, BESIDE, LOW):
        for _, layout in laid(name, (wide, high)):
            assert layout.high <= high + 0.01
            # A joint of the rim, of which pieces take half.
            assert max(one.box.right for one in layout.pieces) <= wide + 3 * layout.scale
            assert max(one.box.low for one in layout.pieces) <= layout.key_top


@pytest.mark.parametrize("name", GRIDS)
def test_what_is_not_said_in_a_piece_is_said_in_the_list(name: str) -> None:
    for room in (FULL, BESIDE, LOW):
        for _, layout in laid(name, room):
            untold = {one.piece.number for one in layout.pieces if not one.fitted.told}
            named: set[int] = set()
            for first, last in re.findall(r"(\d+)(?: to (\d+))?", listed(layout)):
                named |= set(range(int(first), int(last or first) + 1))
            # Only where there is no room for the list, its last line leads to the table of all pieces.
            assert untold <= named or listed(layout).endswith(MORE)
            assert room != FULL or not listed(layout).endswith(MORE) or name in ("40 by 30", "low strips")


def test_a_piece_on_which_there_is_room_bears_number_state_method_batch_and_lift_in_words() -> None:
    facts = area(2, 3, 600, 1200, lifts=[lift(7, 2, 97.6, way="photo")], about={2: {"state": "lifted good"}})
    layout = of(facts)
    assert in_piece(layout, 1) == "1 A, b1 covered by lift 1"
    assert in_piece(layout, 2) == "2 A, b1 97 % lift 7"  # contact is rounded down


def test_small_pieces_have_the_first_number_of_each_row_beside_them_and_what_is_open_in_a_list() -> None:
    layout = of(area(10, 20, 600, 600, about={107: {"state": "suspect"}}))
    assert [text.text for text in layout.row_numbers] == ["1", *map(str, range(21, 200, 20))]
    assert listed(layout) == "SUSPECT since lift 1: tile 107. 200 tiles set"
    assert "plain: covered, a good lift before it and behind it" in [entry.told for entry in layout.key]


def test_a_failed_lift_is_never_left_out_for_the_good_one_that_followed() -> None:
    lifts = [lift(11, 107, 75.0, verdict="failed"), lift(14, 107, 91.0, way="photo")]
    layout = of(area(10, 20, 600, 600, lifts=lifts, about={107: {"state": "lifted good", "settings": 2}}))
    (signs,) = [one.fitted.signs for one in layout.pieces if one.piece.number == 107]
    assert [sign.sign for sign in signs] == ["failed", "good"]


def test_a_wall_is_drawn_at_the_largest_scale_that_leaves_room() -> None:
    facts = area(2, 7, 600, 1200)
    scales = [round(MM / of(facts, (174 * MM, high * MM)).scale) for high in (230, 100, 85, 60)]
    assert scales == [30, 30, 40, 75]
    assert f"1 : {scales[0]}" in of(facts).caption


@pytest.mark.parametrize("name", ["3 by 2", "20 by 10", "40 by 30", "low strips", "no grid, 200 pieces"])
def test_in_a_place_of_its_least_height_every_lift_has_its_sign(name: str) -> None:
    for part, _ in laid(name, FULL):
        layout = lay_out_wall(part, FULL[0], least_high(part, FULL[0], WORDS), WORDS)
        assert not [one.piece.number for one in layout.pieces if one.piece.lifts and not one.fitted.signs]


def test_a_wall_of_very_small_pieces_is_drawn_in_two_and_cut_where_a_batch_ends() -> None:
    """24 m of 40 columns: batch 2 begins in column 18 of every row."""
    about = {n: {"batch": 1 if (n - 1) % 40 < 17 else 2} for n in range(1, 1201)}
    parts = wall_parts(drawn(area(30, 40, 600, 600, about=about)), 174 * MM, 230 * MM)
    assert [len(part.pieces) for part in parts] == [17 * 30, 23 * 30]
    assert [part.part for part in parts] == [(1, 2), (2, 2)]
    for part in parts:
        layout = lay_out_wall(part, 174 * MM, 230 * MM, WORDS)
        assert min(one.box.wide for one in layout.pieces) >= 5 * MM


# --- states -------------------------------------------------------------------------------------------------------


def test_every_state_has_a_word_or_a_lift_beside_its_ground() -> None:
    facts = mixed(3, 3, 1200, 1200, about=dict(enumerate(STATES, start=1)), lifts=[lift(1, 9, 98.0)])
    layout = of(facts)
    told = {facts.tiles[n - 1].state: in_piece(layout, n) for n in range(1, 10)}
    assert "covered by lift 12" in in_piece(layout, 1)
    assert "between good lifts 11 and 14" in in_piece(layout, 2)
    assert "SUSPECT" in told["suspect"]
    assert "SUSPECT accepted in words" in told["accepted"]
    assert "NOT YET COVERED" in told["not yet covered"]
    assert "NOT SET" in told["not set"]
    assert "TAKEN OFF" in told["taken off"]
    assert "FAILED" in told["lifted failed"]
    assert "98 % lift 1" in told["lifted good"]
    grounds = {(one.ground, bool(one.loud), one.lifts[:1]) for one in drawn(facts).pieces}
    assert {one.ground for one in drawn(facts).pieces} == {"plain", "cleared", "suspect", "dots", "not set"}
    assert len(grounds) >= 6


def test_red_is_said_of_nothing_but_what_is_open() -> None:
    layout = of(mixed(3, 3, 1200, 1200, about=dict(enumerate(STATES, start=1)), lifts=[]))
    red = {
        one.piece.number: text.text
        for one in layout.pieces
        for text in one.fitted.texts
        if text.style.colour == OPEN_TODAY
    }
    assert red == {3: "SUSPECT", 4: "SUSPECT", 7: "TAKEN OFF", 8: "FAILED"}


def test_a_failed_lift_that_was_cured_stands_beside_the_good_one_that_followed() -> None:
    lifts = [lift(2, 1, 84.0, verdict="failed"), lift(6, 1, 98.0, way="grid")]
    facts = area(1, 1, 600, 1200, about={1: {"settings": 2, "state": "lifted good"}}, lifts=lifts)
    layout = of(facts)
    assert [sign.sign for sign in sorted(layout.pieces[0].fitted.signs, key=lambda sign: sign.y)] == ["failed", "good"]
    assert in_piece(layout, 1) == "1 A, b1 set again 84 % lift 2 98 % lift 6"


@pytest.mark.parametrize(
    ("more", "sign"),
    [
        ({"way": "photo"}, "good"),
        ({"way": "grid"}, "good"),
        ({"way": "eye"}, "eye"),
        ({"way": "photo", "verdict": "failed"}, "failed"),
        ({"verdict": "not complete"}, "open"),
        ({"verdict": None}, "open"),
    ],
)
def test_a_lifts_sign_tells_how_it_was_read_and_what_it_came_to(more: dict[str, str], sign: str) -> None:
    assert piece(area(1, 1, 600, 600, lifts=[lift(1, 1, 96.0, **more)]), 1).lifts[0].sign == sign


def test_the_key_explains_the_signs_that_occur_and_no_others() -> None:
    plain = of(area(1, 3, 600, 1200))
    assert [entry.sign for entry in plain.key] == ["combing level"]
    every = {entry.sign for entry in of(mixed(3, 6, 600, 1200)).key}
    assert {"cleared", "suspect", "dots", "not set", "odd batch", "even batch", "method", "combing level"} <= every
    assert "again" not in every  # said in words in each piece


def test_batches_are_told_apart_only_where_there_is_more_than_one() -> None:
    assert not any(one.tint for one in drawn(area(2, 3, 600, 600)).pieces)
    two = drawn(area(2, 3, 600, 600, about={n: {"batch": 2} for n in (4, 5, 6)}))
    assert [one.tint for one in two.pieces] == [True] * 3 + [False] * 3


def test_a_border_lies_between_two_methods_and_nowhere_else() -> None:
    two = drawn(area(2, 3, 600, 600, about={n: {"method": 1} for n in (4, 5, 6)}))
    assert two.seams == ((-1.5, 601.5, 3 * 603 - 1.5, 601.5),)
    assert drawn(area(2, 3, 600, 600)).seams == ()


def test_edges_are_marked_where_they_have_to_be_full_and_were() -> None:
    needs = required(edges=True)
    lifts = [lift(1, 1, 96.0, edges="full"), lift(2, 2, 96.0, edges="not full")]
    panels = drawn(area(1, 3, 1000, 3000, required=needs, lifts=lifts))
    assert [one.edges for one in panels.pieces] == [True, False, False]
    assert not any(one.edges for one in drawn(area(1, 3, 1000, 3000, lifts=lifts)).pieces)
    for room in (FULL, BESIDE, LOW):
        layout = lay_out_wall(panels, *room, WORDS)
        # All of a piece or none: some would say that the others are not full.
        assert {len(one.edges) for one in layout.pieces if not one.piece.edges} == {0}
        assert {len(one.edges) for one in layout.pieces if one.piece.edges} <= {0, 4}
        assert ("edge" in {entry.sign for entry in layout.key}) == any(one.edges for one in layout.pieces)
    assert len(lay_out_wall(panels, *FULL, WORDS).pieces[0].edges) == 4


def test_an_area_without_a_grid_says_that_its_pieces_lie_somewhere_else() -> None:
    layout = of(GRIDS["no grid"])
    assert layout.scale == 0
    assert layout.caption.startswith("In the order in which the pieces were set: the plan does not say where")
    assert "its place for good" not in layout.caption
    order = [one.piece.number for one in sorted(layout.pieces, key=lambda one: (one.box.y, one.box.x))]
    by_setting = sorted(GRIDS["no grid"].tiles, key=lambda tile: (tile.order is None, tile.order or 0))
    assert order == [tile.number for tile in by_setting]


# --- for whoever cannot see it ------------------------------------------------------------------------------------


def test_the_figures_words_hold_every_piece_and_every_lift() -> None:
    facts = mixed(4, 6, 600, 600)
    found = drawn(facts)
    for one in facts.lifts:
        assert f"Tile {one.tile}, lift {one.number}" in found.alt
    rows = {number: row for row in found.rows for number in in_words(row.numbers)}
    assert list(rows) == [tile.number for tile in facts.tiles]
    assert all(f"lift {one.number}" in rows[one.tile].lifts for one in facts.lifts)
    states, under = (
        in_lists(r"(?<!batch \d): tiles? ([^.]*)\.", found.alt),
        in_lists(r"batch \d: tiles? ([^.]*)\.", found.alt),
    )
    assert states == {tile.number for tile in facts.tiles}
    assert under == {tile.number for tile in facts.tiles if tile.batch}


def in_lists(after: str, told: str) -> set[int]:
    """The pieces that are listed behind something."""
    found: set[int] = set()
    for listed in re.findall(after, told):
        for first, last in re.findall(r"(?<!lift )\b(\d+)(?: to (\d+))?", listed):
            found |= set(range(int(first), int(last or first) + 1))
    return found


# --- from a day ---------------------------------------------------------------------------------------------------


def facts_of_day(bench: Bench) -> model.DayFacts:
    return day_facts(bench.events, ["0" * 64] * len(bench.events), WORDS)


@cache
def counted(seed: int) -> tuple[Bench, model.AreaFacts, DrawnWall]:
    bench = counted_day(seed)
    facts = next(one for one in facts_of_day(bench).areas if one.name == "shower wall")
    found = wall(facts, WORDS)
    assert found is not None
    return bench, facts, found


@pytest.mark.parametrize("seed", range(2))
def test_no_counted_tile_is_ever_printed_as_witnessed(seed: int) -> None:
    bench, facts, found = counted(seed)
    tiles = bench.state.areas["shower wall"].progress.tiles
    seen = {number: proven.seen(tile) for number, tile in tiles.items()}
    assert {tile.number: tile.seen for tile in facts.tiles if tile.seen} == seen
    back = sum(tile.put_back == "put back" for tile in facts.tiles)
    assert found.seen == WORDS(message("drawn-seen", seen=facts.seen_told.text, back=back))
    words = {number: row.set.split(", ")[1] for row in found.rows if row.set for number in in_words(row.numbers)}
    assert words == seen


@pytest.mark.parametrize("seed", range(2))
def test_a_piece_has_the_state_lifts_method_and_batch_that_the_record_gives_it(seed: int) -> None:
    bench, facts, found = counted(seed)
    progress = bench.state.areas["shower wall"].progress
    letters = {method.number: method.letter for method in facts.methods}
    for one in found.pieces:
        tile = progress.tiles.get(one.number)
        if tile is None:
            assert one.loud == "NOT SET"
            continue
        assert one.tag == f"{letters[tile.method]}, b{tile.batch}"
        assert [lift.number for lift in one.lifts] == [
            n for n, lift in progress.lifts.items() if lift.tile == one.number
        ]
        assert one.again == (sum(setting.tile == one.number for setting in progress.history) > 1)


def test_a_tile_that_is_lifted_again_and_not_put_back_yet_does_not_say_that_it_was() -> None:
    bench = Bench.begun("metric")
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="porch"))
    bench.go_on()
    bench.call("bucket", "tile")
    before = wall(facts_of_day(bench).areas[_porch(bench)], WORDS)
    bench.take(cmd.AskLift())
    for _ in range(20):
        here = bench.state.area
        assert here is not None
        if any(lift.verdict == "failed" for lift in here.progress.lifts.values()):
            break
        wrong = bench.state.pending is None and here.step is not None and here.step.id in ("coverage", "corners")
        command = bench.next_answer(fail=wrong)
        assert command is not None
        bench.take(command)
    after = wall(facts_of_day(bench).areas[_porch(bench)], WORDS)
    assert before is not None
    assert after is not None
    (one,), (two,) = ([p for p in drawing.pieces if p.lifts] for drawing in (before, after))
    assert "put back" in one.words
    assert (two.loud, "put back" in two.words) == ("FAILED", False)


def _porch(bench: Bench) -> int:
    return [one.name for one in facts_of_day(bench).areas].index("porch")


def test_an_area_that_goes_on_keeps_the_pieces_and_lifts_of_the_day_before_with_its_date() -> None:
    """No number of an event of another day stands for anything on paper."""
    earlier = {"event": -65, "at": "2026-03-16T14:10:00+01:00"}
    lifts = [lift(1, 2, 96.0, way=""), lift(2, 4, 97.0, way="photo")]
    facts = area(2, 2, 600, 600, about={1: earlier, 2: earlier, 3: earlier}, lifts=lifts)
    found = drawn(facts)
    assert [(row.numbers, row.set) for row in found.rows] == [
        ("1", "Rosa, witnessed, 16 March 2026, 14:10"),
        ("2", "Rosa, witnessed, 16 March 2026, 14:10"),
        ("3", "Rosa, witnessed, 16 March 2026, 14:10"),
        ("4", "Rosa, witnessed, 09:35"),
    ]
    assert [one.lifts[0].sign for one in found.pieces if one.lifts] == ["eye", "good"]
    assert "good lift, by eye or on an earlier day" in [entry.told for entry in of(facts).key]
    assert "65" not in found.alt


def test_each_setting_says_what_its_lot_was() -> None:
    bench = Bench.begun("metric")
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="porch"))
    bench.go_on()
    bench.call("bucket", *["tile"] * 5)
    progress = bench.state.areas["porch"].progress
    tiles = {tile.number: tile for tile in facts_of_day(bench).areas[_porch(bench)].tiles}
    assert progress.lots
    for number, set_tile in progress.tiles.items():
        lot, told = progress.lots[set_tile.order], tiles[number].lot
        assert told is not None
        assert (told.setting, told.one_in, told.fell, told.forced) == (lot.setting, lot.one_in, lot.fell, lot.forced)
