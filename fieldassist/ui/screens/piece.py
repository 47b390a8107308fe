"""Piece: the record of one piece of the wall, and the way to correct what was read of it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import promised
from fieldassist.checklist.state import Area
from fieldassist.day.desk import View
from fieldassist.day.photo import NoPhoto, look_at, read
from fieldassist.record.attachments import folder_of
from fieldassist.trade.message import message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content import piece_record
from fieldassist.ui.content.history import rounds_of
from fieldassist.ui.content.piece_record import RecordPhoto, RecordReading, may_be_lifted
from fieldassist.ui.content.wall_map import MapPiece, WallMap, planned_map, wall_map
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.boxes import Cells, ColumnBox, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.lines import Line
from fieldassist.ui.widgets.picture import Seen, Thumb
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.wall_map import WallDrawing

from kivy.uix.widget import Widget  # isort: skip

_LEFT = 420.0  # how wide the drawing's column is [dots]
_THUMB = 360  # the longest side of a small picture, in pixels


class PieceScreen(Screen):
    """What is known of a piece: drawn, in lines, with its readings as keys."""

    place = "wall"

    @property
    def number(self) -> int:
        """Which piece."""
        return int(self.tablet.at_what.get("piece", 1))

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        words = self.tablet.words
        return words(message("wall-piece-title", number=str(self.number))), ""

    def refresh(self) -> None:
        """Show the record as it is now."""
        view = self.tablet.view
        name = self.tablet.at_what.get("area") or (view.state.active if view is not None else None)
        plan = view.state.plan.area(name) if view is not None and view.state.plan is not None and name else None
        if view is None or plan is None:
            if self.changed("record", None):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self.tablet.words(message("wall-no-piece")), "far"))
                self.act(self._to_wall(None))
            return
        area = view.state.areas.get(plan.name)
        if self.changed("record", (area.progress, area.readings) if area is not None else plan.name):
            self._lay_out(view, area, planned_map(plan) if area is None else wall_map(area))

    def _lay_out(self, view: View, area: Area | None, on: WallMap) -> None:
        tablet, look, words = self.tablet, self.look, self.tablet.words
        self.page.clear_widgets()
        piece = on.piece(self.number) or on.pieces[0]
        rounds = rounds_of(view.events, on.area, piece.number)
        drawing = WallDrawing(look, on, words, part=piece.span, framed=False)
        lines = ColumnBox(look, gap=4, rises=True)
        if area is not None:
            for line in piece_record.lines(area, piece.number):
                lines.add_widget(Line(look, words(line.about), words(line.says)))
            for lift in piece_record.lifts_of(area, piece.number):
                failed = lift.verdict == "failed"
                lines.add_widget(
                    Line(
                        look,
                        words(message("wall-about-lift")),
                        words(piece_record.lift_told(lift)),
                        sign="fail" if failed else "pass" if lift.verdict == "passed" else None,
                        role="fail" if failed else "ink",
                    )
                )
                beside = promised.beside(area, lift)
                if beside is not None:
                    lines.add_widget(TextLabel(look, words(beside), "small"))
            read = [self._reading(area, reading) for reading in piece_record.readings(area, rounds)]
            if read:
                lines.add_widget(TextLabel(look, words(message("wall-read")), "near", bold=True))
                lines.add_widget(Cells(look, read, 1 if look.text > 1 or tablet.upright else 2, high=112))
        photos = piece_record.photos(view.events, rounds)
        if photos:
            lines.add_widget(TextLabel(look, words(message("wall-photos", count=len(photos))), "near", bold=True))
            lines.add_widget(Cells(look, self._thumbs(view.path, photos), 3, high=190))
        head = TextLabel(look, words(message("wall-piece-title", number=str(piece.number))), "far")
        state = TextLabel(look, words(piece_record.state_told(area, piece.number)) if area is not None else "", "near")
        state.bold = True
        left = ColumnBox(look, head, drawing, state, gap=10)
        scroll = Scroll(look, lines)
        if tablet.upright:
            left.size_hint = (1, 0.5)
            self.page.add_widget(left)
            self.page.add_widget(scroll)
        else:
            left.size_hint_x, left.width = None, look.dots(_LEFT)
            both: tuple[Widget, ...] = (left, scroll)
            self.page.add_widget(RowBox(look, *(reversed(both) if look.left_hand else both), gap=24))
        self.act(*self._keys(view, area, on.area, piece))

    def _keys(self, view: View, area: Area | None, name: str, piece: MapPiece) -> list[Key]:
        tablet, look, words, number = self.tablet, self.look, self.tablet.words, piece.number
        keys = [self._to_wall(name)]
        if piece.due and name == view.state.active:
            told = words(message("wall-next-lift", number=str(number)))
            keys.insert(0, Key(look, told, partial(tablet.go, "lift", piece=number), kind="action", sign="lift"))
        history = partial(tablet.go, "history", area=name, piece=number)
        keys.append(Key(look, words(message("wall-history")), history, sign="page", over=True, size="near"))
        if area is not None and may_be_lifted(view.state, area, number):
            keys.append(Key(look, words(message("wall-lift-it")), self._lift, sign="lift", over=True, size="near"))
        return keys

    def _thumbs(self, day: Path, photos: Sequence[RecordPhoto]) -> list[Thumb]:
        """Small pictures to press; they are made beside the screen."""
        thumbs = [Thumb(self.look, photo.at, partial(self.tablet.go, "photos")) for photo in photos]
        folder = folder_of(day)

        def see() -> list[Seen]:
            return [_seen(folder / photo.file) for photo in photos]

        def show(found: list[Seen]) -> None:
            for thumb, seen in zip(thumbs, found, strict=True):
                thumb.show(seen)

        run_in_background(see, show)
        return thumbs

    def _to_wall(self, area: str | None) -> Key:
        what = {"area": area} if area is not None else {}
        words = self.tablet.words(message("wall-to-wall"))
        return Key(self.look, words, partial(self.tablet.go, "wall", **what), sign="wall")

    def _lift(self) -> None:
        self.tablet.send(cmd.AskLift(number=self.number))
        self.tablet.go("work")

    def _reading(self, area: Area, reading: RecordReading) -> Key:
        words = self.tablet.words
        said = message("wall-reading", name=reading.name, value=reading.value)
        caption = words(message("wall-reading-corrected")) if reading.corrected else ""
        return Key(
            self.look,
            words(said),
            partial(self.tablet.go, "history", area=area.plan.name, step=reading.step),
            kind="fail" if reading.passed is False else "plain",
            sign=None if reading.passed is None else "pass" if reading.passed else "fail",
            size="near",
            caption=caption,
            high=None,
        )


def _seen(file: Path) -> Seen:
    """A small picture of a photo, or "" where there is none."""
    try:
        return look_at(read(file), file.name, _THUMB)
    except NoPhoto:
        return ""
