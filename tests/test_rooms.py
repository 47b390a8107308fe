"""Imports run downward only, so that each room can be read alone."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import fieldassist

PACKAGE = Path(fieldassist.__file__).parent

# Small files that any room may use; they import nothing of ours.
BOTTOM = {"extras", "files", "places", "printable", "qr"}
# What each room may import of the others.
BELOW = {
    "trade": set(),
    "language": {"trade"},
    "checklist": {"language", "trade"},
    "record": {"checklist", "trade"},
    "voice": {"checklist", "language", "trade"},
    "assess": {"checklist", "language", "trade"},
    "trial": {"assess", "checklist", "trade"},
    "photo": {"trade"},
    "facts": {"assess", "checklist", "record", "trade", "trial"},
    "report": {"checklist", "facts", "language", "record", "trade", "trial"},
    "day": {"checklist", "language", "record", "trade", "trial", "voice"},
    "rehearsal": {"checklist", "day", "facts", "language", "photo", "record", "report", "trade", "trial"},
    "proof": {"checklist", "facts", "language", "record", "report", "trade", "trial"},
    "ui": {"assess", "checklist", "day", "language", "photo", "proof", "record", "report", "trade", "trial", "voice"},
}
# What each part of the screens may import of the others. `content` can be tried without a screen: it knows no Kivy.
UI = {
    "start_kivy": set(),
    "content": set(),
    "background": {"content", "start_kivy"},
    "widgets": {"content", "start_kivy"},
    "tablet": {"content", "widgets"},
    "beginning": {"background", "content", "tablet"},
    "entering": {"content", "tablet", "widgets"},
    "choosing": {"background", "content", "tablet", "widgets"},
    "pins": {"background", "content", "tablet"},
    "carrying": {"background", "choosing", "content", "pins", "tablet", "widgets"},
    "screens": {"background", "beginning", "carrying", "choosing", "content", "entering", "pins", "tablet", "widgets"},
    "focus_keys": {"content", "start_kivy", "widgets"},
    "press_to_hear": {"start_kivy", "widgets"},
    "aids": {"content", "focus_keys", "press_to_hear", "start_kivy", "tablet", "widgets"},
    "app": {"aids", "content", "screens", "start_kivy", "tablet", "widgets"},
}
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
    for path in (PACKAGE / room).rglob("*.py"):
        rooms = (
            {name.split(".")[1] for name in imports(path) if name.startswith("fieldassist.")} - {"__version__"} - BOTTOM
        )
        assert rooms - {room} <= BELOW[room], f"{path.name} imports {rooms - {room} - BELOW[room]}"


@pytest.mark.parametrize("name", sorted(BOTTOM))
def test_what_every_room_may_use_imports_no_room(name: str) -> None:
    assert not {n for n in imports(PACKAGE / f"{name}.py") if n.startswith("fieldassist")}


@pytest.mark.parametrize(
    "path",
    [path for room in ("trade", "assess", "photo", "trial") for path in sorted((PACKAGE / room).glob("*.py"))],
    ids=str,
)
def test_what_is_only_computed_knows_no_screen_file_or_clock(path: Path) -> None:
    assert not {name.split(".")[0] for name in imports(path)} & IMPURE


@pytest.mark.parametrize("name", ["commands", "engine", "prompt", "rules", "schema", "state"])
def test_the_engine_reads_no_file_and_no_clock(name: str) -> None:
    # uuid5 derives an id from what is given, it draws nothing.
    assert not {n.split(".")[0] for n in imports(PACKAGE / "checklist" / f"{name}.py")} & (IMPURE - {"uuid"})


def ui_parts(path: Path) -> set[str]:
    """The parts of the screens that a file imports."""
    prefix = "fieldassist.ui."
    return {name.removeprefix(prefix).split(".")[0] for name in imports(path) if name.startswith(prefix)}


def test_screens_are_made_of_parts_that_import_downward_only() -> None:
    """Screens know the tablet by its written interface and the program hands them in: no import runs in a circle."""
    files = [path for path in (PACKAGE / "ui").rglob("*.py") if path.name != "__init__.py"]
    for path in files:
        part = path.relative_to(PACKAGE / "ui").parts[0].removesuffix(".py")
        assert ui_parts(path) - {part} <= UI[part], f"{path} imports {ui_parts(path) - {part} - UI[part]}"
    assert {path.relative_to(PACKAGE / "ui").parts[0].removesuffix(".py") for path in files} == set(UI)


def test_no_screen_knows_another() -> None:
    base = "fieldassist.ui.screens.base"
    for path in (PACKAGE / "ui" / "screens").glob("*.py"):
        if path.stem != "registry":
            others = {n for n in imports(path) if n.startswith("fieldassist.ui.screens.")}
            assert {n for n in others if n != base and not n.startswith(f"{base}.")} == set(), path.name


@pytest.mark.parametrize("path", sorted((PACKAGE / "ui" / "content").glob("*.py")), ids=lambda path: path.stem)
def test_what_only_prepares_a_screen_knows_nothing_of_kivy(path: Path) -> None:
    assert not {n for n in imports(path) if n.split(".")[0] == "kivy"}


@pytest.mark.parametrize("name", ["drafts", "planning", "safety"])
def test_what_a_screen_says_holds_no_figure_of_its_own(name: str) -> None:
    """Figures come from `assess` and `trade`; a place in a list and a piece of a text are none."""
    tree = ast.parse((PACKAGE / "ui" / "content" / f"{name}.py").read_text(encoding="utf-8"))
    places = {id(part) for node in ast.walk(tree) if isinstance(node, ast.Subscript) for part in ast.walk(node.slice)}
    found = [
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and type(node.value) in (int, float) and id(node) not in places
    ]
    assert found == []
    assert not {name for name in imports(PACKAGE / "ui" / "content" / f"{name}.py") if name == "math"}


def test_no_screen_reaches_past_the_desk_to_the_log() -> None:
    """Screens show a day and send commands: only a job that writes files opens its log, and that to read it."""
    files = {path.stem: path.read_text(encoding="utf-8") for path in (PACKAGE / "ui").rglob("*.py")}
    assert {name for name, text in files.items() if "DayLog" in text} == {"export"}
    assert "read_only=True" in files["export"]


def test_no_screen_takes_its_words_from_a_document() -> None:
    """What a screen says of a day is told by `language`; only the export of files, and the review, read `report`."""
    readers = {
        path.stem
        for path in (PACKAGE / "ui").rglob("*.py")
        if any(name.startswith("fieldassist.report") for name in imports(path))
    }
    assert readers <= {"export", "signoff"}
