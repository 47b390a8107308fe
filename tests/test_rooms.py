"""Imports run downward only, so that each room can be read alone."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import fieldassist

PACKAGE = Path(fieldassist.__file__).parent

# Small files that any room may use; they import nothing of ours.
BOTTOM = {"files", "places", "printable"}
# What each room may import of the others.
BELOW = {
    "trade": set(),
    "language": {"trade"},
    "checklist": {"trade"},
    "record": {"checklist", "trade"},
    "voice": {"checklist", "language", "trade"},
    "assess": {"checklist", "language", "trade"},
    "report": {"assess", "checklist", "language", "record", "trade"},
    "day": {"checklist", "language", "record", "trade", "voice"},
    "proof": {"checklist", "record", "report"},
    "ui": {"assess", "checklist", "day", "language", "record", "report", "trade", "voice"},
}
# The rooms and parts of the screens that can be tried without one.
NO_KIVY = [
    *(
        "back_grid",
        "camera",
        "choices",
        "drafts",
        "entry",
        "handing",
        "ink",
        "jobs",
        "lift_words",
        "photo_words",
        "planning",
    ),
    *("soundcheck", "theme", "wellbeing"),
]
# Clocks, files, screens and sound have no place in what is only computed.
IMPURE = {"datetime", "os", "pathlib", "random", "sounddevice", "sqlite3", "subprocess", "threading", "time", "uuid"}


def imports(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{name.name}" for name in node.names}
    return found


@pytest.mark.parametrize("room", BELOW)
def test_a_room_imports_only_rooms_below_it(room: str) -> None:
    for path in (PACKAGE / room).glob("*.py"):
        rooms = (
            {name.split(".")[1] for name in imports(path) if name.startswith("fieldassist.")} - {"__version__"} - BOTTOM
        )
        assert rooms - {room} <= BELOW[room], f"{path.name} imports {rooms - {room} - BELOW[room]}"


@pytest.mark.parametrize("name", sorted(BOTTOM))
def test_what_every_room_may_use_imports_no_room(name: str) -> None:
    assert not {n for n in imports(PACKAGE / f"{name}.py") if n.startswith("fieldassist")}


@pytest.mark.parametrize(
    "path", [path for room in ("trade", "assess") for path in sorted((PACKAGE / room).glob("*.py"))], ids=str
)
def test_what_is_only_computed_knows_no_screen_file_or_clock(path: Path) -> None:
    assert not {name.split(".")[0] for name in imports(path)} & IMPURE


@pytest.mark.parametrize("name", ["commands", "engine", "prompt", "rules", "schema", "state"])
def test_the_engine_reads_no_file_and_no_clock(name: str) -> None:
    # uuid5 derives an id from what is given, it draws nothing.
    assert not {n.split(".")[0] for n in imports(PACKAGE / "checklist" / f"{name}.py")} & (IMPURE - {"uuid"})


@pytest.mark.parametrize("name", NO_KIVY)
def test_what_only_prepares_a_screen_knows_nothing_of_kivy(name: str) -> None:
    assert not {n for n in imports(PACKAGE / "ui" / f"{name}.py") if n.split(".")[0] == "kivy"}


@pytest.mark.parametrize("name", ["drafts", "planning", "wellbeing"])
def test_what_a_screen_says_holds_no_figure_of_its_own(name: str) -> None:
    """Figures come from `assess` and `trade`; a place in a list and a piece of a text are none."""
    tree = ast.parse((PACKAGE / "ui" / f"{name}.py").read_text(encoding="utf-8"))
    places = {id(part) for node in ast.walk(tree) if isinstance(node, ast.Subscript) for part in ast.walk(node.slice)}
    found = [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and type(node.value) in (int, float) and id(node) not in places
    ]
    assert found == []
    assert not {name for name in imports(PACKAGE / "ui" / f"{name}.py") if name == "math"}


def test_no_screen_reaches_past_the_desk_to_the_log() -> None:
    """Screens show a day and send commands: only a job that writes files opens its log, and that to read it."""
    opens = {path.stem for path in (PACKAGE / "ui").glob("*.py") if "DayLog" in path.read_text(encoding="utf-8")}
    assert opens == {"handing"}
    assert "read_only=True" in (PACKAGE / "ui" / "handing.py").read_text(encoding="utf-8")
