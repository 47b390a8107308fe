"""A wrong file is refused with file, line, field, what is wrong and what is allowed; a stranger's good one works."""

from __future__ import annotations

import os
import re
import time
from collections.abc import Callable
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import get_args

import pytest
from pydantic import ValidationError

from fieldassist.checklist.follow import clock_span
from fieldassist.checklist.kinds import Lift
from fieldassist.checklist.loader import Problem, WrongFile, load_checklist, load_folder, load_plan
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import Area
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import CannotOpen, Day
from fieldassist.language import Words
from fieldassist.places import shipped
from fieldassist.trade.message import Message, Several
from fieldassist.trade.ridges import Family
from tests import SITE
from tests.conftest import Crew

Edit = Callable[[str, str], Path]


@pytest.fixture
def edited(tmp_path: Path) -> Edit:
    """A copy of the shower checklist with one text replaced."""
    text = (shipped("checklists") / "wet-area-wall.yaml").read_text(encoding="utf-8")

    def edit(old: str, new: str) -> Path:
        assert old in text
        path = tmp_path / "mine.yaml"
        path.write_text(text.replace(old, new, 1), encoding="utf-8")
        return path

    return edit


def line_of(path: Path, wanted: str) -> int:
    return next(n for n, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1) if wanted in line)


def problems(path: Path) -> tuple[Problem, ...]:
    with pytest.raises(WrongFile) as caught:
        load_checklist(path)
    return caught.value.problems


def refusal(path: Path) -> str:
    """What who wrote the file reads."""
    with pytest.raises(WrongFile) as caught:
        load_checklist(path)
    return Words()(caught.value.told)


def codes(path: Path) -> list[str]:
    return [problem.code for problem in problems(path)]


def test_a_wrong_unit_is_named_with_its_line_and_the_units_allowed(edited: Edit) -> None:
    path = edited("units: [mm, in]", "units: [mn, in]")
    text = refusal(path)
    assert str(path) in text
    assert f"line {line_of(path, '[mn, in]')}" in text
    assert "'mn' does not measure length" in text
    assert "mm, cm, m, in, ft" in text


def test_an_unknown_field_is_named_with_the_one_that_was_meant(edited: Edit) -> None:
    path = edited("quantity: temperature", "quantitty: temperature")
    text = refusal(path)
    assert f"line {line_of(path, 'quantitty')}" in text
    assert "did you mean 'quantity'?" in text


def test_a_wrong_kind_lists_those_allowed(edited: Edit) -> None:
    path = edited("kind: reading", "kind: readng")
    text = refusal(path)
    assert f"line {line_of(path, 'readng')}" in text
    assert "allowed: confirm, reading, choice, photo, hold, lift, method (did you mean 'reading'?)" in text


def test_an_unknown_rule_lists_those_known(edited: Edit) -> None:
    path = edited("rule: base flatness", "rule: base flatnes")
    text = refusal(path)
    assert f"line {line_of(path, 'base flatnes}')}" in text
    assert "required coverage" in text


def test_a_limit_without_its_basis_is_refused(edited: Edit) -> None:
    path = edited("limit: {rule: base flatness}", "limit: {at_most: 3, unit: mm}")
    assert codes(path) == ["limit-without-basis"]


def test_a_limit_without_a_corrective_action_is_refused(edited: Edit) -> None:
    path = edited(
        "        limit: {rule: base flatness}\n        on_fail: flatten-base\n",
        "        limit: {rule: base flatness}\n",
    )
    assert codes(path) == ["step-without-on-fail"]


def test_a_reference_to_nothing_lists_what_the_file_holds(edited: Edit) -> None:
    assert "allowed: discard-batch" in refusal(edited("on_fail: flatten-base", "on_fail: flaten-base"))


def test_broken_yaml_is_named_with_its_line(edited: Edit) -> None:
    path = edited("title: Wet-area wall (shower)", "title: [Wet-area wall")
    assert "line " in refusal(path)


def test_a_step_that_stands_twice_is_refused(edited: Edit) -> None:
    assert codes(edited("- id: base-clean", "- id: membrane")) == ["id-twice"]


def test_every_reference_to_nothing_is_told_at_once_with_its_own_line_and_field(edited: Edit) -> None:
    path = edited("on_fail: flatten-base", "on_fail: flaten-base")
    text = path.read_text(encoding="utf-8").replace("starts: pot-life", "starts: pott-life", 1)
    path.write_text(text.replace("needs: [base]", "needs: [bass]", 1), encoding="utf-8")
    found = problems(path)
    assert len(found) == sum(text.count(old) > 0 for old in ("flaten-base", "pott-life", "needs: [base]"))
    for problem, wrong in zip(found, ("flaten-base", "pott-life", "bass"), strict=False):
        assert problem.line == line_of(path, wrong)
        assert problem.field.rsplit(".", 1)[-1].split("[")[0] in ("on_fail", "starts", "needs")
        assert problem.code == "name-not-in-file"
        assert f"'{wrong}'" in Words()(problem.wrong)


# Nine levels of nine: some 600 bytes that stand for four hundred million words.
ALIASES = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{new}: &{new} [{', '.join([f'*{old}'] * 9)}]\n" for old, new in pairwise("abcdefghi")
)
# A mapping of many fields merged into many others.
MERGES = "a: &a\n" + "".join(f"  f{n}: 1\n" for n in range(3000)) + "".join(f"m{n}: {{<<: *a}}\n" for n in range(3000))


@pytest.mark.parametrize(
    "content",
    [ALIASES, MERGES, "a: &a [*a]\n", "a:\n" + "- 1\n" * 60_000, "x" * 300_000],
    ids=["aliases", "merges", "a loop", "many", "large"],
)
def test_a_file_that_stands_for_too_much_is_refused_soon(tmp_path: Path, content: str) -> None:
    path = tmp_path / "bomb.yaml"
    path.write_text(content, encoding="utf-8")
    began = time.process_time()
    (problem,) = problems(path)
    assert time.process_time() - began < 20
    assert problem.code in ("too-many-values", "too-large")


def test_a_pipe_a_device_and_a_folder_are_refused_without_waiting(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.yaml"
    os.mkfifo(pipe)
    for path in (pipe, Path("/dev/zero"), tmp_path):
        (problem,) = problems(path)
        assert problem.code == "not-regular"


# What a person who writes YAML for the first time does: the text, the line, and what it is called.
MISTAKES = [
    ("a:\n\t- 1\n", 2, "yaml-tab"),
    ("a: [%]\n", 1, "yaml-quotes"),
    ("a: @x\n", 1, "yaml-quotes"),
    ("a: ]\n", 1, "yaml-quotes"),
    ("a:\n  - b: 1\n   - c: 2\n", 3, "yaml-column"),
    ("a:\n  - b: 1\n    c: 2\n   d: 3\n", 4, "yaml-column"),
    ("- a\nb: 1\n", 2, "yaml-column"),
    ("a: b: c\n", 1, "yaml-colon"),
    ("a: - b\n", 1, "yaml-dash"),
    ("a: 1\nb\nc: 1\n", 2, "yaml-no-colon"),
    ("a: 1\nb\n", 2, "yaml-no-colon"),
    ("a: [1, 2\nb: 3\n", 2, "yaml-bracket"),
    ("a: {x: 1\nb: 3\n", 2, "yaml-bracket"),
    ("a: 'x\nb: 1\n", 1, "yaml-open-quote"),
    ("a: 'it's'\n", 1, "yaml-after-quote"),
    ("a: *x\n", 1, "yaml-alias"),
    ("a: 1\na: 2\n", 2, "yaml-twice"),
    ("a: 1\n---\nb: 2\n", 2, "yaml-documents"),
    ('a: "\\q"\n', 1, "yaml-escape"),
    ("b: 1\na: x\x00\n", 2, "odd-character"),
    ('b: 1\na: "x\\e[2J"\n', 2, "odd-character"),
    ('b: 1\na: "x\\u202e"\n', 2, "odd-character"),
    ("a:\n  " + "- " * 5000 + "x\n", 1, "too-deep"),
]


@pytest.mark.parametrize(("content", "line", "code"), MISTAKES)
def test_a_mistake_in_the_yaml_is_told_in_plain_words_with_its_line(
    tmp_path: Path, content: str, line: int, code: str
) -> None:
    path = tmp_path / "odd.yaml"
    path.write_text(content, encoding="utf-8")
    (problem,) = problems(path)
    assert problem.code == code
    assert problem.line == line


def test_what_was_written_wrong_is_shown_in_the_sentence(tmp_path: Path) -> None:
    path = tmp_path / "odd.yaml"
    path.write_text("a: [%]\n", encoding="utf-8")
    assert "text that begins with % must stand in quotes: '%'" in refusal(path)


def test_a_plan_among_checklists_is_called_a_plan_and_the_other_way_round() -> None:
    plan = SITE
    assert codes(plan) == ["is-plan"]
    with pytest.raises(WrongFile) as caught:
        load_plan(shipped("checklists") / "dry-floor.yaml")
    assert [problem.code for problem in caught.value.problems] == ["is-checklist"]


def test_a_refusal_moves_no_cursor_and_begins_no_line_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "odd.yaml"
    path.write_text('"\\e[2J\\n  line 9: PASS": 1\ntitle: x\n', encoding="utf-8")
    text = refusal(path)
    assert "\x1b" not in text
    assert not any(line.startswith("  line 9") for line in text.splitlines())


def test_words_that_carry_a_value_are_never_told_as_what_to_say() -> None:
    given = {"id": "up", "kind": "lift", "quantity": "label", "ask": "Lift it.", "on_fail": "more"}
    naming = Lift.model_validate({**given, "say": ["piece {value} lifted", "piece lifted"]})
    assert naming.asked() == Message("prompt-ask-and-say", {"ask": naming.ask, "phrase": "piece lifted"})
    named_only = Lift.model_validate({**given, "say": ["piece {value} lifted"]})
    assert named_only.asked() == named_only.ask


@pytest.mark.parametrize("family", get_args(Family))
def test_a_plan_may_name_any_family_of_notches(tmp_path: Path, family: str) -> None:
    text = SITE.read_text(encoding="utf-8")
    path = tmp_path / "site.yaml"
    path.write_text(text.replace("method: {family: square", f"method: {{family: {family}"), encoding="utf-8")
    assert load_plan(path).areas[0].method.family == family


def test_a_photo_step_has_no_answer_in_words(edited: Edit) -> None:
    photo = "      - {id: proof, kind: photo, ask: Take a photo.}\n      - id: base-clean\n"
    load_checklist(edited("      - id: base-clean\n", photo))
    said = photo.replace("photo.}", "photo., say: [photo taken]}")
    (problem,) = problems(edited("      - id: base-clean\n", said))
    assert (problem.code, problem.field.rsplit(".", 1)[-1]) == ("field-unknown", "say")


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "no-fields"),
        (b"- 1\n- 2\n", "no-fields"),
        (b"title: \xff\xfe", "not-utf8"),
    ],
)
def test_a_file_that_is_no_checklist_gets_a_sentence(tmp_path: Path, content: bytes, code: str) -> None:
    path = tmp_path / "odd.yaml"
    path.write_bytes(content)
    assert codes(path) == [code]


def test_one_wrong_file_does_not_hide_the_others(tmp_path: Path, edited: Edit) -> None:
    edited("kind: reading", "kind: readng")
    source = shipped("checklists") / "dry-floor.yaml"
    (tmp_path / "dry-floor.yaml").write_bytes(source.read_bytes())
    (tmp_path / "twin.yaml").write_bytes(source.read_bytes())
    good, refused = load_folder(tmp_path)
    assert list(good) == ["dry-floor"]
    assert [w.path.name for w in refused] == ["mine.yaml", "twin.yaml"]
    assert [p.code for p in refused[1].problems] == ["id-taken"]


def test_yes_and_no_are_words_not_booleans(edited: Edit) -> None:
    checklist = load_checklist(edited("say: [base released, layout released]", "say: [yes, on]"))
    assert checklist.step("base", "release-base").phrases() == ("yes", "on")


def test_phrases_are_given_by_language_with_the_letters_that_it_has(edited: Edit) -> None:
    both = "say: {en: [base released], es: [área entregada, base señalada]}"
    step = load_checklist(edited("say: [base released, layout released]", both)).step("base", "release-base")
    assert step.phrases("es") == ("área entregada", "base señalada")
    assert step.phrases("nl") == step.phrases() == ("base released",)
    with pytest.raises(WrongFile) as refused:
        load_checklist(edited("say: [base released, layout released]", both.replace("released]", "señalada]")))
    assert [problem.code for problem in refused.value.problems] == ["phrase-unspeakable"]


def test_a_strangers_step_with_a_reading_works_without_code(
    edited: Edit, plan: DayPlan, checklists: dict[str, Checklist], tmp_path: Path
) -> None:
    path = edited(
        "      - id: base-clean\n",
        "      - id: wall-moisture\n"
        "        kind: reading\n"
        "        ask: What does the moisture meter say?\n"
        '        say: ["moisture {value}"]\n'
        "        quantity: moisture\n"
        "        units: [percent]\n"
        "        limit: {at_most: 4, unit: percent, basis: our own rule}\n"
        "        on_fail: dry-out\n"
        "      - id: base-clean\n",
    )
    text = path.read_text(encoding="utf-8") + (
        "  - id: dry-out\n    title: Dry the wall\n    steps:\n"
        "      - {id: dried, ask: Dry it. Say 'wall dry'., say: [wall dry]}\n"
    )
    path.write_text(text, encoding="utf-8")
    mine = load_checklist(path)
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T07:00:00+01:00"))
    with Day.begin(tmp_path / "day.db", plan, {**checklists, mine.checklist: mine}, clock) as day:
        crew = Crew(day, clock)
        crew.say("this is rosa", "start area shower wall", "understood", "understood")
        crew.say("air temperature twenty one degrees!", "wall temperature eighteen degrees!", "humidity fifty percent!")
        crew.say("membrane checked", "gap two millimeters!", "short gap one millimeter!")
        assert Words()(day.prompt.say) == "What does the moisture meter say?"
        assert Words()(day.prompt.basis or "") == "our own rule"
        crew.say("moisture six percent!", "wall dry", "moisture three point five percent!", "wall clean")


def test_a_plan_asking_for_a_missing_checklist_says_which_are_at_hand(
    plan: DayPlan, checklists: dict[str, Checklist], tmp_path: Path, clock: SimulatedClock
) -> None:
    only = {"dry-floor": checklists["dry-floor"]}
    with pytest.raises(CannotOpen) as caught:
        Day.begin(tmp_path / "day.db", plan, only, clock)
    assert caught.value.told.code == "engine-unknown-checklist"
    assert "dry-floor" in Words()(caught.value.told)
    assert not (tmp_path / "day.db").exists()


def test_a_plan_without_a_foreman_is_refused(tmp_path: Path) -> None:
    text = SITE.read_text(encoding="utf-8")
    path = tmp_path / "site.yaml"
    path.write_text(text.replace("role: foreman", "role: installer"), encoding="utf-8")
    with pytest.raises(WrongFile) as caught:
        load_plan(path)
    assert [problem.code for problem in caught.value.problems] == ["crew-without-foreman"]


@pytest.mark.parametrize(("language", "codes"), [("en", []), ("pseudo", ["not-allowed"]), ("nl", ["not-allowed"])])
def test_a_plan_names_the_language_of_its_documents_among_those_that_there_are(
    language: str, codes: list[str], tmp_path: Path
) -> None:
    path = tmp_path / "site.yaml"
    text = SITE.read_text(encoding="utf-8")
    path.write_text(f"documents: {language}\n{text}", encoding="utf-8")
    if not codes:
        assert load_plan(path).documents == language
        return
    with pytest.raises(WrongFile) as caught:
        load_plan(path)
    assert [(problem.code, problem.line, problem.field) for problem in caught.value.problems] == [
        (codes[0], 1, "documents")
    ]


def test_a_day_whose_documents_are_in_a_language_without_words_here_stays_readable() -> None:
    plan = load_plan(SITE).model_dump(mode="json", exclude_defaults=True)
    assert DayPlan.model_validate(plan).documents == "en"
    assert DayPlan.model_validate({**plan, "documents": "nl"}).documents == "nl"


@pytest.mark.parametrize("date", ["2026-02-30", "17.03.2026", "２０２６-03-17", "2026-3-17"])
def test_a_plan_of_no_day_of_the_calendar_is_refused(tmp_path: Path, date: str) -> None:
    text = SITE.read_text(encoding="utf-8")
    path = tmp_path / "site.yaml"
    path.write_text(text.replace('"2026-03-17"', f'"{date}"'), encoding="utf-8")
    with pytest.raises(WrongFile) as caught:
        load_plan(path)
    assert [problem.code for problem in caught.value.problems] == ["not-date"]


def test_every_shipped_limit_interval_and_clock_names_its_basis(
    plan: DayPlan, checklists: dict[str, Checklist]
) -> None:
    assert len(checklists) == 5
    for checklist in checklists.values():
        planned = next((a for a in plan.areas if a.checklist == checklist.checklist), plan.areas[0])
        area = Area(planned, checklist, planned.method, methods_used=(planned.method,))
        for holder, step in checklist.all_steps():
            criterion = area.criterion(step)
            assert criterion is None or criterion.basis, f"{holder}/{step.id}"
        for section in checklist.sections:
            assert section.due is None or section.due.basis
        assert all(clock_span(area, clock).basis for clock in checklist.clocks)
        assert all(caution.basis for caution in checklist.cautions)


def test_an_exterior_wall_takes_no_rain_no_wide_fields_and_shows_ninety_five_percent(
    plan: DayPlan, checklists: dict[str, Checklist]
) -> None:
    checklist = checklists["exterior-wall"]
    area = Area(plan.areas[0], checklist, plan.areas[0].method, methods_used=(plan.areas[0].method,))
    # ANSI A108.5 §3.3.2 (2017): at least 95 % for exterior work, as reported in trade literature.
    contact = area.criterion(checklist.step("lift", "coverage"))
    assert contact is not None
    assert contact.at_least == 95
    # TCNA EJ171: movement joints every 8 to 12 ft outside, as reported in trade literature.
    joints = area.criterion(checklist.step("base", "joint-spacing"))
    assert joints is not None
    assert (joints.at_most, joints.unit) == (12, "ft")
    assert checklist.stops_work is not None
    assert set(checklist.stops_work.weather) == {"rain", "snow"}
    # Guard rails and scaffold: 29 CFR 1926.451, from memory.
    assert {"scaffold", "below"} <= {c.id for c in checklist.cautions if c.before == "area"}


def test_every_shipped_checklist_keys_the_back_or_combs_it_and_spreads_before_combing(
    checklists: dict[str, Checklist],
) -> None:
    # Keyed backs: ANSI A108.5 where 95 % is required; advised for all large tile (trade literature).
    for checklist in checklists.values():
        (section,) = (s for s in checklist.sections if s.sets == "tile" or s.tries)
        ids = [step.id for step in section.steps]
        assert ids.index("spread") < ids.index("comb") < ids.index("set")
        assert {"back", "keyed"} & set(ids) or checklist.products == ("gauged panel",)
        assert section.steps[ids.index("spread")].starts == ("open-time",)


def fault_codes(**changes: object) -> list[str]:
    """What is wrong with the smallest checklist once some of its parts are put in place of its own."""
    given = {
        "checklist": "small",
        "edition": 1,
        "title": "Small",
        "place": "dry",
        "surface": "wall",
        "products": ["tile"],
        "sections": [
            {"id": "go", "title": "Go", "when": "start", "steps": [{"id": "go", "ask": "Go?", "say": ["go"]}]}
        ],
        **changes,
    }
    with pytest.raises(ValidationError) as caught:
        Checklist.model_validate(given)
    return [code for item in caught.value.errors() for code in item["msg"].split()]


STEP = {"id": "one", "ask": "One?", "say": ["one"]}
BAGS = {"id": "bags", "kind": "reading", "ask": "Bags?", "quantity": "bags", "units": ["count"], "batch": "bags"}
MIX = {"title": "Mix", "when": "called", "called": ["mix"], "changes": "batch", "steps": [STEP]}
REST = {"id": "rest", "title": "Rest", "lasts": "5 min", "basis": "ours", "up": "Go on.", "bound": "at least"}


@pytest.mark.parametrize(
    ("code", "changes"),
    [
        ("section-again", {"sections": [{"id": "a", **MIX, "again": ["end"]}]}),
        ("section-anytime", {"sections": [{"id": "a", **MIX, "anytime": True}]}),
        ("section-empty", {"sections": [{"id": "a", "title": "A", "when": "start"}]}),
        ("section-batch", {"sections": [{"id": "a", "title": "A", "when": "start", "steps": [BAGS]}]}),
        ("sections-batch", {"sections": [{"id": "a", **MIX}, {"id": "b", **MIX, "called": ["stir"]}]}),
        ("corrective-empty", {"correctives": [{"id": "c", "title": "C", "then": "go on"}]}),
        ("clock-at-least", {"clocks": [{**REST, "warn": "1 min"}]}),
        (
            "clock-without-corrective",
            {"clocks": [REST], "sections": [{"id": "a", **MIX, "steps": [{**STEP, "stops": "rest"}]}]},
        ),
        (
            "stops-work-corrective",
            {
                "stops_work": {"weather": ["rain"], "corrective": "c", "basis": "ours"},
                "correctives": [{"id": "c", "title": "C", "steps": [STEP]}],
            },
        ),
        (
            "reading-of-batch",
            {"sections": [{"id": "a", **MIX, "steps": [{**BAGS, "batch": "water"}]}]},
        ),
    ],
)
def test_what_fits_no_clock_batch_or_section_is_named(code: str, changes: dict[str, object]) -> None:
    assert code in fault_codes(**changes)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("joint: 3 mm", "joint: 1 mm", "joint"),
        ("{family: square, width: 3/8 in, depth: 3/8 in,", "{family: square, width: 3/8 in, depth: 1 in,", "square"),
    ],
)
def test_a_plan_whose_figures_cannot_be_computed_is_refused_before_work_starts(
    old: str, new: str, words: str, checklists: dict[str, Checklist], tmp_path: Path, clock: SimulatedClock
) -> None:
    text = SITE.read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "site.yaml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CannotOpen) as caught:
        Day.begin(tmp_path / "day.db", load_plan(path), checklists, clock)
    assert caught.value.told.code == "engine-unworkable-area"
    assert words in Words()(caught.value.told)


def test_a_limit_may_be_any_computation_of_the_catalog(
    edited: Edit, plan: DayPlan, checklists: dict[str, Checklist], tmp_path: Path, clock: SimulatedClock
) -> None:
    # BS 5385-3: 3 mm under a 2 m straightedge, as reported in trade literature.
    mine = load_checklist(
        edited(
            "limit: {rule: base flatness}",
            'limit: {calculation: base-flatness, given: {standard: BS 5385, longest-edge: "{longest edge}"}, '
            "result: greatest gap}",
        )
    )
    with Day.begin(tmp_path / "day.db", plan, {**checklists, mine.checklist: mine}, clock) as day:
        crew = Crew(day, clock)
        crew.say("this is rosa", "start area shower wall")
        criterion = day.state.areas["shower wall"].criterion(mine.step("base", "flatness"))
        assert criterion is not None
        assert (criterion.at_most, criterion.unit) == (3.0, "mm")
        assert Words()(criterion.basis).startswith("BS 5385-3")


@pytest.mark.parametrize(
    ("limit", "words"),
    [
        ("{calculation: base-flatnes, result: greatest gap}", "base-flatness"),
        ("{calculation: base-flatness}", "names the result"),
    ],
)
def test_a_limit_by_an_unknown_computation_is_refused(edited: Edit, limit: str, words: str) -> None:
    assert words in refusal(edited("limit: {rule: base flatness}", f"limit: {limit}"))


def test_a_result_that_a_computation_lacks_is_refused_before_work_starts(
    edited: Edit, plan: DayPlan, checklists: dict[str, Checklist], tmp_path: Path, clock: SimulatedClock
) -> None:
    mine = load_checklist(edited("limit: {rule: base flatness}", "limit: {calculation: base-flatness, result: depth}"))
    with pytest.raises(CannotOpen) as refused:
        Day.begin(tmp_path / "day.db", plan, {**checklists, mine.checklist: mine}, clock)
    why = refused.value.told.figures["why"]
    assert isinstance(why, Message)
    assert (why.code, why.figures["given"]) == ("rules-no-such-figure", "depth")
    allowed = why.figures["allowed"]
    assert isinstance(allowed, Several)
    assert "greatest gap" in allowed.items


ROOT = Path(__file__).parents[2]


def test_every_fault_has_words_and_every_words_a_fault() -> None:
    """Codes stand in the checks as they are written in `file.ftl`, less "file-"."""
    words = (ROOT / "fieldassist" / "language" / "en" / "file.ftl").read_text(encoding="utf-8")
    told = set(re.findall(r"^file-([a-z0-9-]+) =", words, re.MULTILINE))
    sources = [*(ROOT / "fieldassist" / "checklist").rglob("*.py"), ROOT / "fieldassist" / "files.py"]
    source = "\n".join(path.read_text(encoding="utf-8") for path in sources)
    used = set(re.findall(r"(?:faults\.add|refused|told)\(\s*\"([a-z0-9-]+)\"", source))
    assert used <= told
    assert {code for code in told if f'"{code}"' not in source and f'"file-{code}"' not in source} == {
        "crew-share-name",
        "areas-share-name",
        "methods-share-name",
    }


def pasted(text: str, block: str) -> str:
    """A checklist with one example of checklists/README.md pasted in where its indent belongs."""
    if "bound: at " in block:  # a clock: before the first one
        return text.replace("clocks:\n", f"clocks:\n{block}", 1)
    if block.startswith("  - "):  # a corrective action: the last list of the file
        return text + block
    if block.startswith("      - "):  # a step: before the first one of the first section
        head, steps, rest = text.partition("    steps:\n")
        return head + steps + block + rest
    assert block.startswith("        limit:\n")
    assert "        limit: {rule: base flatness}\n" in text
    return text.replace("        limit: {rule: base flatness}\n", block, 1)


def test_every_example_of_the_guide_loads_as_it_is_pasted(tmp_path: Path) -> None:
    guide = (ROOT / "checklists" / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"^```yaml\n(.*?)^```", guide, re.MULTILINE | re.DOTALL)
    text = (shipped("checklists") / "wet-area-wall.yaml").read_text(encoding="utf-8")
    path = tmp_path / "wet-area-wall.yaml"
    before = sum(1 for _ in load_checklist(shipped("checklists") / path.name).all_steps())
    for block in blocks:
        text = pasted(text, block)
        path.write_text(text, encoding="utf-8")
        load_checklist(path)
    assert len(blocks) == 5
    assert sum(1 for _ in load_checklist(path).all_steps()) == before + 3
