"""`fieldassist calc`, as it is typed: lists, explains, answers in words and in JSON, and refuses with the reason."""

from __future__ import annotations

import json
import re
import shlex
from dataclasses import dataclass
from pathlib import Path

import pytest

from fieldassist.cli import calc, main
from fieldassist.language import Words
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog import (
    CALCULATIONS,
    NAMES,
    Calculation,
    bases_of,
    evaluate,
    find_calculation,
    subject_title,
    system_of,
    verdict_of,
)

ENGLISH = Words()

DEVELOPERS = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
each = pytest.mark.parametrize("calculation", CALCULATIONS.values(), ids=list(CALCULATIONS))


@dataclass
class Said:
    code: int
    out: str
    err: str


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch):  # type: ignore[no-untyped-def]
    """Type `fieldassist calc ...` and read what comes back."""
    monkeypatch.setenv("COLUMNS", "100")

    def typed(*arguments: str) -> Said:
        code = main(["calc", *arguments])
        out, err = capsys.readouterr()
        return Said(code, out, err)

    return typed


def example_arguments(calculation: Calculation) -> list[str]:
    return shlex.split(calc.example_command(calculation))[2:]


def flat(text: str) -> str:
    return " ".join(text.split())


# --- lists and help -----------------------------------------------------------------------------------------------


def test_without_a_name_all_are_listed_by_subject_one_line_each(say) -> None:  # type: ignore[no-untyped-def]
    said = say()
    lines = said.out.splitlines()
    assert said.code == 0
    subjects = [ENGLISH(subject_title(subject)) for subject in NAMES]
    assert [line for line in lines if line in subjects] == subjects
    for name, calculation in CALCULATIONS.items():
        row = [name, ENGLISH(calculation.title)]
        assert [line.split(None, 1) for line in lines if line.split()[:1] == [name]] == [row]
    assert max(map(len, lines)) <= 120


def test_the_list_is_there_for_programs_too(say) -> None:  # type: ignore[no-untyped-def]
    listed = json.loads(say("--json").out)
    assert [row["name"] for row in listed] == list(CALCULATIONS)
    length = listed[list(CALCULATIONS).index("piece-weight")]["inputs"][0]
    assert (length["kind"], length["required"], length["example"]) == ("length", True, "1000 mm")


@each
def test_the_help_names_every_input_with_an_example_the_sources_and_the_cautions(say, calculation) -> None:  # type: ignore[no-untyped-def]
    said = say(calculation.name, "--help")
    told = flat(said.out)
    assert said.code == 0
    assert flat(ENGLISH(calculation.summary)) in told
    for spec in calculation.inputs:
        assert f"--{spec.name} " in said.out
        assert flat(ENGLISH(spec.told)) in told
        assert spec.example in told
        if spec.default is not None:
            assert f"[{spec.default}]" in told
        for choice in spec.choices:
            assert choice in told
    for line in (*(ENGLISH(basis.told) for basis in bases_of(calculation)), *map(ENGLISH, calculation.cautions)):
        assert flat(line) in told
    assert calc.example_command(calculation) in said.out


# --- answers ------------------------------------------------------------------------------------------------------


@each
def test_the_example_of_the_help_runs_as_it_stands(say, calculation) -> None:  # type: ignore[no-untyped-def]
    said = say(*example_arguments(calculation))
    results = evaluate(calculation.name, calculation.example)
    assert said.code == (0 if verdict_of(results) in ("passed", None) else 1)
    assert said.err == ""
    lines = said.out.splitlines()
    shown = [result for result in results if not result.detail]
    assert [line.split(": ")[0] for line in lines[: len(shown)]] == [result.name.split(": ")[0] for result in shown]
    assert lines[len(shown)].startswith("Basis")
    words = Words(units=system_of(calculation, calculation.example))
    for basis in {words(result.basis.told) for result in shown}:
        assert basis in said.out
    for caution in map(ENGLISH, calculation.cautions):
        assert said.out.count(caution) == 1


@each
@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_json_holds_the_numbers_units_and_sources(say, calculation, units) -> None:  # type: ignore[no-untyped-def]
    said = say(*example_arguments(calculation), "--units", units, "--json")
    answer = json.loads(said.out)
    results = evaluate(calculation.name, calculation.example, system=units)
    words = Words(units=units)
    assert answer["calculation"] == calculation.name
    assert answer["units"] == units
    assert answer["verdict"] == verdict_of(results)
    assert calculation.example.items() <= answer["given"].items()
    assert [(row["name"], row["value"], row["unit"], row["text"], row["basis"]) for row in answer["results"]] == [
        (result.name, result.value, result.unit, words(result.told), words(result.basis.told)) for result in results
    ]
    assert answer["cautions"] == list(map(ENGLISH, calculation.cautions))


# What is typed, a line that must come back, and the source of its value.
PRINTED = [
    (
        'lifting-limit --reach "10 in" --height "22 in" --travel "37 in" --lifts-per-minute 3 --duration short '
        "--grip fair --constants us --rounding manual",
        "limit at the origin: 34.9 lb",
        "DHHS (NIOSH) Publication 94-110, example 4",
    ),
    (
        'dust-average --periods "150 for 2 h" "75 for 2 h" "50 for 4 h" --substance other',
        "8-hour average, in the unit given: 81.25",
        "29 CFR 1910.1000(d)(1)(i), example",
    ),
    ('din-18202 --row 3 --span "2 m"', "greatest gap: 6 mm", "DIN 18202, extended table of a trade handbook"),
    ('lifts-needed --confidence "95 %" --share "90 %"', "lifts: 29", "success run, ln 0.05 / ln 0.9"),
    (
        'required-coverage --product "gauged panel" --place dry --surface wall --units us',
        "largest void allowed: 2 in²",
        "ANSI A108.19 (2017)",
    ),
    (
        'piece-weight --length "1.0 m" --width "3.0 m" --thickness "6 mm" --density "2350 kg/m3"',
        "weight: 42.3 kg",
        "1.0 x 3.0 x 0.006 m³ at 2350 kg/m³",
    ),
    ('team-lift --limits "20 kg" "20 kg"', "together: 26.7 kg", "HSE L23 ¶120"),
    (
        'movement-joints --setting exterior --spacing "12 ft" --temperature-range "115 F"',
        "least width of the joint: 9/16 in",
        "TCNA Handbook EJ171, published case",
    ),
    ("lifts-prove --good 3 --lifted 3", "least share of good tiles: 36.8 %", "0.05^(1/3)"),
    ('open-time --mortar-class "C2TE S1"', "open time: 30 min", "EN 12004-1:2017"),
    ('convert --value "1 gal" --to L', "converted: 3.785412 L", "231 in³, NIST Handbook 44 appendix C"),
    ('lot-sample --lot 100 --bad-share "5 %"', "samples: 45", "FAO ISPM 31 (2008) table 1"),
    (
        'dust-mixture --contaminants "500 of 1000; 45 of 200; 40 of 200"',
        "equivalent exposure: 0.925",
        "29 CFR 1910.1000(d)(2)",
    ),
]


@pytest.mark.parametrize(("typed", "line", "source"), PRINTED, ids=[row[0].split()[0] for row in PRINTED])
def test_a_published_value_is_printed(say, typed: str, line: str, source: str) -> None:  # type: ignore[no-untyped-def]
    said = say(*shlex.split(typed))
    assert said.code == 0
    assert line in said.out.splitlines(), source


def test_answers_come_in_the_units_of_the_question_unless_asked_otherwise(say) -> None:  # type: ignore[no-untyped-def]
    inches = ["piece-weight", "--length", "24 in", "--width", "48 in", "--thickness", "3/8 in"]
    # 8 ft² of 3/8 in at 2350 kg/m³: 0.74322 m² x 9.525 mm x 2.35 = 16.636 kg = 36.68 lb.
    assert "weight: 36.7 lb" in say(*inches).out
    assert "weight: 16.6 kg" in say(*inches, "--units", "metric").out


@pytest.mark.parametrize(("bed", "code"), [("3/32 in", 0), ("0.0886 in", 1)])
def test_a_failed_verdict_is_exit_code_one(say, bed: str, code: int) -> None:  # type: ignore[no-untyped-def]
    assert say("bed-verdict", "--bed", bed, "--mortar", "thin-set").code == code


SHOWER = ("lift-verdict", "--contact", "97 %", "--place", "wet", "--surface", "wall")


@pytest.mark.parametrize(
    ("void", "verdict", "code"),
    # ANSI A108.19 (2017) gives 2 in² as the largest void, as reported; union article of 2021: the same for tile.
    [("2 in2", "passed", 0), ("1290.32 mm2", "passed", 0), ("2.01 in2", "failed", 1), ("50 in2", "failed", 1)],
)
@pytest.mark.parametrize("product", ["tile", "gauged panel"])
def test_a_void_over_two_square_inches_fails_a_lift(say, void: str, verdict: str, code: int, product: str) -> None:  # type: ignore[no-untyped-def]
    rest = ("--void-to-edge", "3 in", "--corners-supported", "yes", "--product", product)
    said = say(*SHOWER, "--largest-void", void, *rest)
    assert (said.out.splitlines()[0], said.code) == (f"verdict: {verdict}", code)


def test_a_verdict_that_is_not_complete_is_no_pass(say) -> None:  # type: ignore[no-untyped-def]
    said = say(*SHOWER)
    assert (said.out.splitlines()[0], said.code) == ("verdict: not complete", 1)
    assert json.loads(say(*SHOWER, "--json").out)["verdict"] == "not complete"


def test_a_flag_needs_no_yes(say) -> None:  # type: ignore[no-untyped-def]
    cups = ["suction-margin", "--weight", "42.3 kg", "--holding", "50 kg", "50 kg"]
    assert say(*cups).code == say(*cups, "--hoisted", "no").code == 0
    assert say(*cups, "--hoisted").code == say(*cups, "--hoisted", "yes").code == 1


def test_the_failed_notches_are_told_with_their_reasons(say) -> None:  # type: ignore[no-untyped-def]
    said = say("notch-advice", "--mortar", "thin-set", "--warpage", "1 mm", "--substrate", "1.5 mm")
    assert re.search(r"\d+\. quarter inch square, one side: fails: too little mortar", said.out)
    assert re.search(r"\d+\. half inch square, both sides: fails: .* above the most this mortar allows", said.out)


# --- refusals -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("peice-weight", "did you mean piece-weight?"),
        ("weight", "did you mean piece-weight?"),
        ("piece-weight", "needs --length (one side), --width"),
        ('piece-weight --lenght "1 m"', "Did you mean --length?"),
        ('piece-weight --length "1 m" --width 3 --thickness "6 mm"', "'3' has no unit"),
        ('piece-weight --length "1 m" --width "3 kg" --thickness "6 mm"', "is a mass, and a length is asked for"),
        ("bed-verdict --bed", "--bed needs a value"),
        ('bed-verdict --bed "2 mm" --mortar thinset', "did you mean thin-set?"),
        ("slide --units imperial", "metric"),
        ('ridges --notch "half inch square" --trowel-angle 20', "outside 30 to 90"),
        (
            'lifting-limit --reach "25 cm" --height "1 m" --travel "20 cm" --duration short --conditions kneeling',
            "stand up",
        ),
        ("pot-life", "take it from the mortar's data sheet"),
    ],
)
def test_what_cannot_be_tried_is_exit_code_two_with_the_reason(say, typed: str, words: str) -> None:  # type: ignore[no-untyped-def]
    said = say(*shlex.split(typed))
    assert said.code == 2
    assert words in said.err
    assert "Traceback" not in said.err
    assert said.out == ""


def test_a_misused_command_shows_one_that_works(say) -> None:  # type: ignore[no-untyped-def]
    shown = say("piece-weight", "--length", "1 m").err.splitlines()[-1].removeprefix("For example: ")
    assert say(*shlex.split(shown)[2:]).code == 0


# --- another language ---------------------------------------------------------------------------------------------


def names_that_stand(calculation: Calculation) -> set[str]:
    """What is no word of a language: names and examples to be typed, words of a choice, documents and units."""
    typed = {
        calculation.name,
        *NAMES,
        *CALCULATIONS,
        "fieldassist calc",
        "--language NAME",
        "metric",
        "us",
        "yes",
        "no",
    }
    for spec in calculation.inputs:
        typed |= {f"--{spec.name}", spec.name, spec.example, *(spec.choices), spec.default or ""}
        typed |= set(re.split(r"[;,:] ", spec.example))
    cited = {part for basis in BASES.values() for part in (basis.document, basis.clause, basis.edition)}
    return {name for name in typed | cited if name}


def plain_english(calculation: Calculation, text: str) -> list[str]:
    """Two words in a row, or more, that are written in plain letters and are no names."""
    text = flat(text)
    for name in sorted(names_that_stand(calculation), key=len, reverse=True):
        text = text.replace(name, "|")
    return re.findall(r"[A-Za-z]{3,}(?:[ ,;:]+[A-Za-z]{2,})+", text)


@each
def test_in_another_language_no_sentence_is_plain_english(say, calculation, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setenv("FIELDASSIST_LANGUAGE", "pseudo")
    answer, help_page = say(*example_arguments(calculation)), say(calculation.name, "--help")
    refusal = say(calculation.name, "--nonsense", "1")
    for text in (answer.out, help_page.out, refusal.err):
        assert plain_english(calculation, text) == []
    assert answer.out != ""


def test_what_cannot_be_tried_is_told_in_the_other_language(say, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setenv("FIELDASSIST_LANGUAGE", "pseudo")
    for typed in (
        "peice-weight",
        "pot-life",
        "bed-verdict --bed two --mortar thin-set",
        "slide --notch sqare",
    ):
        told = say(*shlex.split(typed))
        assert told.code == 2
        assert plain_english(find_calculation("slide"), told.err) == []


def test_the_list_is_told_in_the_other_language(say, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setenv("FIELDASSIST_LANGUAGE", "pseudo")
    assert plain_english(find_calculation("slide"), say().out) == []


# --- documentation ------------------------------------------------------------------------------------------------


@each
def test_the_documentation_lists_it_with_its_title(calculation: Calculation) -> None:
    assert f"| `{calculation.name}` | {ENGLISH(calculation.title)} |" in DEVELOPERS


SHOWN = re.findall(r"^\$ fieldassist (calc .+)\n((?:(?!\$ |```).*\n)*)", DEVELOPERS, re.MULTILINE)


def test_the_documentation_shows_commands_with_their_answers() -> None:
    assert len(SHOWN) >= 3


@pytest.mark.parametrize(("typed", "printed"), SHOWN, ids=[typed.split()[1] for typed, _ in SHOWN])
def test_a_command_of_the_documentation_prints_what_stands_there(say, typed: str, printed: str) -> None:  # type: ignore[no-untyped-def]
    said = say(*shlex.split(typed)[1:])
    assert (said.out + said.err).strip() == printed.strip()
