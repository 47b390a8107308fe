"""A folder or a file is chosen, on any page: what lies at hand first, then any folder, one step at a time."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from functools import partial
from pathlib import Path

from fieldassist.trade.message import Message, message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content.export import folders_in, places
from fieldassist.ui.content.found_files import FoundFile, files_in, found_files
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll, lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN
from fieldassist.ui.widgets.text import TextLabel

_HIGH = 112.0  # of a key [dots]

Chosen = Callable[[Path], None]


def choose_folder(tablet: Tablet, then: Chosen, here: Path | None = None, *, reading: bool = False) -> None:
    """Choose a folder to write to, or to read from. then: called with it once the sheet is closed; here: None for the
    user's own."""
    at = here or Path.home()
    run_in_background(
        lambda: folders_in(at, reading=reading),
        lambda inside: _show_folders(tablet, at, inside, then, reading=reading),
    )


def _show_folders(tablet: Tablet, here: Path, inside: Sequence[Path], then: Chosen, *, reading: bool) -> None:
    def taken() -> None:
        tablet.close_sheet()
        then(here)

    to = partial(choose_folder, tablet, then, reading=reading)
    keys = [_folder_key(tablet, path, partial(to, path)) for path in inside]
    says = message("check-take-folder" if reading else "signing-write-here")
    _walk(
        tablet,
        here,
        keys,
        partial(to, here.parent),
        Key(tablet.look, tablet.words(says), taken, kind="action", high=None),
    )


def choose_file(tablet: Tablet, question: Message, endings: Collection[str], then: Chosen) -> None:
    """Choose a file with one of these endings, of those that lie on sticks and in the user's own folders, or in any.

    then: called with it once the sheet is closed.
    """
    beside = tablet.view.path.parent if tablet.view is not None else tablet.data / "days"
    run_in_background(
        lambda: found_files(places(beside, reading=True), endings),
        lambda found: _show_found(tablet, question, found, endings, then),
    )


def _show_found(
    tablet: Tablet, question: Message, found: Sequence[FoundFile], endings: Collection[str], then: Chosen
) -> None:
    look, words = tablet.look, tablet.words
    sheet = ColumnBox(look, gap=12, padding=look.dots(MARGIN))
    lay_ground(look, sheet, "ground")
    sheet.add_widget(TextLabel(look, words(question), "key"))
    if not found:
        sheet.add_widget(TextLabel(look, words(message("check-none-found")), "near"))
    keys = file_keys(tablet, found, partial(_taken, tablet, then))
    sheet.add_widget(Scroll(look, ColumnBox(look, Cells(look, keys, _columns(tablet), high=_HIGH), rises=True)))
    back = Key(look, words(message("frame-back")), tablet.close_sheet, size="near", size_hint_x=0.4, high=None)
    walk = partial(walk_to_file, tablet, endings, then)
    other = Key(look, words(message("signing-other-folder")), walk, sign="more", high=None)
    sheet.add_widget(RowBox(look, back, other, gap=14, high=_HIGH))
    tablet.sheet(sheet)


def file_keys(tablet: Tablet, found: Sequence[FoundFile], then: Chosen) -> list[Key]:
    """A key for each file, with where it lies and from when it is."""
    return [
        Key(
            tablet.look,
            one.path.name,
            partial(then, one.path),
            caption=tablet.words(one.told),
            size="near",
            high=None,
        )
        for one in found
    ]


def walk_to_file(tablet: Tablet, endings: Collection[str], then: Chosen, here: Path | None = None) -> None:
    """Choose a file in any folder, one step at a time; here: None begins at the user's own."""
    at = here or Path.home()
    run_in_background(
        lambda: (folders_in(at, reading=True), files_in(at, endings)),
        lambda inside: _show_inside(tablet, at, inside, endings, then),
    )


def _show_inside(
    tablet: Tablet,
    here: Path,
    inside: tuple[Sequence[Path], Sequence[Path]],
    endings: Collection[str],
    then: Chosen,
) -> None:
    look = tablet.look
    folders, files = inside
    keys = [
        Key(look, path.name, partial(_taken, tablet, then, path), sign="page", size="near", high=None) for path in files
    ]
    keys += [_folder_key(tablet, path, partial(walk_to_file, tablet, endings, then, path)) for path in folders]
    _walk(tablet, here, keys, partial(walk_to_file, tablet, endings, then, here.parent), None)


def _taken(tablet: Tablet, then: Chosen, path: Path) -> None:
    tablet.close_sheet()
    then(path)


def _columns(tablet: Tablet) -> int:
    return 1 if tablet.upright else 2


def _folder_key(tablet: Tablet, path: Path, press: Callable[[], None]) -> Key:
    return Key(tablet.look, path.name, press, sign="go-on", size="near", high=None)


def _walk(tablet: Tablet, here: Path, keys: Sequence[Key], up: Callable[[], None], take: Key | None) -> None:
    """What lies in a folder, with the way up; take: the key that takes this folder."""
    look, words = tablet.look, tablet.words
    column = ColumnBox(look, gap=12, padding=look.dots(MARGIN))
    lay_ground(look, column, "ground")
    column.add_widget(TextLabel(look, str(here), "near", bold=True))
    column.add_widget(Scroll(look, ColumnBox(look, Cells(look, keys, _columns(tablet), high=_HIGH), rises=True)))
    row = [
        Key(look, words(message("frame-back")), tablet.close_sheet, size="near", size_hint_x=0.3, high=None),
        Key(look, words(message("signing-folder-up")), up, sign="open-up", size="near", size_hint_x=0.4, high=None),
    ]
    column.add_widget(RowBox(look, *row, *([take] if take is not None else []), gap=14, high=_HIGH))
    tablet.sheet(column)
