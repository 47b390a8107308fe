"""Facts: the published shape, that every day keeps to it, and that they say what the record says."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from fieldassist.checklist import commands as cmd
from fieldassist.cli import main
from fieldassist.facts import facts_of
from fieldassist.facts.build import NoFacts
from fieldassist.facts.schema import schema
from fieldassist.language import Words
from fieldassist.record.bundle import open_bundle
from fieldassist.report.whole_day import write_whole_day
from tests.checklist.days import Bench
from tests.facts import SCHEMA
from tests.rehearse import CHECKLISTS, PLAN, SCRIPTS

VALIDATOR = Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))


def facts(bench: Bench) -> dict[str, Any]:
    return facts_of(bench.events, ["0" * 64] * len(bench.events), Words())


@pytest.fixture(scope="module")
def rehearsed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("facts") / "out"
    script = SCRIPTS / "honest-day.txt"
    given = ["rehearse", str(PLAN), str(script), "--checklists", str(CHECKLISTS), "--out", str(out)]
    assert main([*given, "--date", "2026-03-18"]) == 0
    return out


def test_the_published_schema_is_what_the_model_says() -> None:
    Draft202012Validator.check_schema(schema())
    assert json.loads(SCHEMA.read_text(encoding="utf-8")) == json.loads(json.dumps(schema())), (
        "python -m tests.facts write"
    )


def test_every_field_of_the_published_schema_is_closed_and_required() -> None:
    for name, shape in {**schema()["$defs"], "the day": schema()}.items():
        assert shape["additionalProperties"] is False, name
        assert set(shape["properties"]) - set(shape.get("required", ())) <= {"facts"}, name


def test_a_day_keeps_to_the_schema_after_every_event() -> None:
    bench = Bench.begun()
    opened = len(bench.events)
    bench.start("attic")
    bench.start("shower wall")
    bench.call("batch", "tile")
    for length in range(opened, len(bench.events) + 1):
        VALIDATOR.validate(facts_of(bench.events[:length], ["0" * 64] * length, Words()))


def test_an_area_that_nobody_started_is_there_with_what_is_planned() -> None:
    areas = {area["name"]: area for area in facts(Bench.begun())["areas"]}
    hall = areas["hall floor"]
    assert (hall["phase"], hall["planned_m2"], hall["set_m2"], hall["tiles"]) == ("not started", 18.0, 0.0, [])
    # ANSI A108.5 §3.3.2: 80 percent in dry, 95 percent in wet areas.
    assert (hall["required_percent"], areas["shower wall"]["required_percent"]) == (80.0, 95.0)


def test_the_same_facts_are_told_of_log_bundle_and_pages(
    rehearsed: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    bundle = tmp_path / "day.bundle"
    write_whole_day(rehearsed / "day.db", bundle, None, None, None)
    told = []
    for file in (rehearsed / "day.db", bundle, rehearsed / "daily-log.pdf"):
        capsys.readouterr()
        assert main(["facts", str(file)]) == 0
        told.append(json.loads(capsys.readouterr().out))
        VALIDATOR.validate(told[-1])
    assert told[0] == told[1] == told[2] == json.loads((rehearsed / "facts.json").read_text(encoding="utf-8"))
    assert told[0]["head"] == open_bundle(bundle).head


def test_facts_are_refused_where_there_is_no_whole_record(
    rehearsed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "notes.txt"
    other.write_text("no day", encoding="utf-8")
    damaged = tmp_path / "day.db"
    content = (rehearsed / "day.db").read_bytes()
    damaged.write_bytes(content.replace(b"niche wall", b"nIche wall"))
    for file in (tmp_path / "none.db", other, damaged):
        capsys.readouterr()
        assert main(["facts", str(file)]) == 2, file
        assert capsys.readouterr().out == ""


def test_events_that_do_not_follow_from_each_other_have_no_facts() -> None:
    bench = Bench.begun()
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="hall floor"))
    with pytest.raises(NoFacts):
        facts_of([*bench.events[:-2], bench.events[-1]], ["0" * 64] * 3, Words())
    with pytest.raises(NoFacts):
        facts_of([], [], Words())


def test_a_failure_is_open_until_it_is_cured_and_says_how() -> None:
    bench = Bench.begun()
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="shower wall"))
    for _ in range(40):
        found = next(a for a in facts(bench)["areas"] if a["name"] == "shower wall")["failures"]
        if found:
            break
        command = bench.next_answer(fail=True)
        assert command is not None
        bench.take(command)
    assert [(one["open"], one["closed"]) for one in found] == [(True, None)]
    assert found[0]["id"] in {point["figures"].get("failure") for point in facts(bench)["open_points"]}
    bench.go_on()
    cured = next(a for a in facts(bench)["areas"] if a["name"] == "shower wall")["failures"][0]
    assert (cured["id"], cured["open"]) == (found[0]["id"], False)
    assert cured["closed"]["corrective"] == cured["corrective"]
