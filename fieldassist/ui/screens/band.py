"""The band over every screen: the person, the clocks (or the page's name where no mortar is about), the ear."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fieldassist.trade.message import message
from fieldassist.ui.content.clocks import ClockFace, ClockRow, clock_row
from fieldassist.ui.content.ear_ring import STEPS, EarRing
from fieldassist.ui.content.names import person as name_of
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.clock_marks import pail, ridges
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TextLabel, width_of

from kivy.clock import Clock  # isort: skip
from kivy.graphics import Line  # isort: skip
from kivy.uix.floatlayout import FloatLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

HIGH = 112  # dots
RIDGES_HIGH = 70  # the strip of ridges under the band of an upright tablet
OVER_HIGH = 317  # while a clock that ran out waits for its answer
_EAR = 134  # how wide the ear's place is


class PersonKey(Key):
    """Who works: behind it lies all that is about persons. While the tablet is locked it shows that."""

    def __init__(self, look: Look, words: str, press: Callable[[], object], role: ColourName, *, locked: bool) -> None:
        self._role, self._locked = role, locked
        super().__init__(look, words, press, kind="sheet", high=None, size="small")
        if self.label is not None:
            self.label.paint_in(role)

    def _lay(self, *_: Any) -> None:
        self.canvas.before.clear()
        look, side = self.look, self.look.dots(56)
        with self.canvas.before:
            if self.focused or self.state == "down":
                marks.frame(look, (*self.pos, *self.size), self._role, 4)
            left, top = self.x + (self.width - side) / 2, self.y + self.height - look.dots(6)
            marks.sign(look, "lock" if self._locked else "person", left, top - side, side, self._role)
        if self.label is not None:
            self.label.pos = self.x + look.dots(4), self.y + look.dots(4)
            self.label.size = self.width - look.dots(8), self.height - side - look.dots(10)


class EarKey(Key):
    """How it hears: a ring that fills with the voice; struck through while it hears nothing."""

    def __init__(self, look: Look, named: str, press: Callable[[], object], *, deaf: bool, role: ColourName) -> None:
        self.steps, self._deaf, self._role = 0, deaf, role
        super().__init__(look, "", press, kind="sheet", high=None, named=named)

    def fill(self, steps: int) -> None:
        """Fill so many parts of the ring."""
        if steps != self.steps:
            self.steps = steps
            self._lay()

    def _lay(self, *_: Any) -> None:
        self.canvas.before.clear()
        look = self.look
        radius = min(self.width, self.height) / 2 - look.dots(12)
        x, y = self.x + self.width / 2, self.y + self.height / 2
        side = radius * 1.12
        with self.canvas.before:
            if self.focused or self.state == "down":
                marks.frame(look, (*self.pos, *self.size), self._role, 4)
            marks.colour(look, "edge" if self._role == "ink" else self._role)
            Line(circle=(x, y, radius), width=max(1.0, look.dots(1.5)))
            if self.steps:
                marks.colour(look, self._role)
                Line(circle=(x, y, radius, 180, 180 + 360 * self.steps / STEPS), width=look.dots(5), cap="none")
            marks.sign(look, "ear", x - side / 2, y - side / 2, side, self._role)
            if self._deaf:
                marks.stroke(
                    look, (x - radius * 0.7, y - radius * 0.7, x + radius * 0.7, y + radius * 0.7), self._role, 6
                )


class RidgeStrip(Drawn):
    """A clock's ridges with when it began and when it ends."""

    def __init__(self, look: Look, face: ClockFace, ends: str, ink: ColourName, **rest: Any) -> None:
        self._face, self._ink = face, ink
        self._begun = TextLabel(look, face.begun, "small", role="quiet" if ink == "ink" else ink, fit=True)
        self._ends = TextLabel(look, ends, "small", bold=True, role=ink, align="right", fit=True)
        super().__init__(look, **rest)
        for one in (self._begun, self._ends):
            self.add_widget(one)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it: the ridges over the times, or between them where it is low and wide."""
        look = self.look
        x, y, w, h = box
        line = look.font("small") * 1.25
        role: ColourName = "mortar" if self._ink == "ink" else self._ink
        if h > line + look.dots(34):
            ridges(look, (x, y + line, w, h - line), self._face, role, self._ink)
            half = w / 2
            self._begun.pos, self._begun.size = (x, y), (half * 0.55, line)
            self._ends.pos, self._ends.size = (x + half * 0.55, y), (w - half * 0.55, line)
        else:
            first = width_of(self._begun.words, look.font("small")) + look.dots(16)
            last = width_of(self._ends.words, look.font("small"), bold=True) + look.dots(16)
            ridges(look, (x + first, y, w - first - last, h), self._face, role, self._ink)
            self._begun.pos, self._begun.size = (x, y), (first, h)
            self._ends.pos, self._ends.size = (x + w - last, y), (last, h)


class Pail(Drawn):
    """The pot that sinks."""

    def __init__(self, look: Look, share: float, **rest: Any) -> None:
        self._share = share
        super().__init__(look, **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        pail(self.look, box, self._share)


class Overtime(Drawn):
    """The minutes of a clock that ran out, and those over it, hatched."""

    def __init__(self, look: Look, face: ClockFace, **rest: Any) -> None:
        self._face = face
        super().__init__(look, **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look, face = self.look, self._face
        x, y, w, h = box
        whole = face.total - face.left
        end = x + w * min(0.94, face.total / max(whole, 1e-6) * 0.86)
        ridges(look, (x, y, end - x, h * 0.7), face, "on_fail", "on_fail")
        over = (end, y, max(look.dots(10), (x + w - end) * 0.7), h * 0.5)
        marks.hatch(look, over, "on_fail", apart=9, thick=3)
        marks.frame(look, over, "on_fail", 2)
        marks.field(look, (x, y, w, look.dots(5)), "on_fail")
        marks.stroke(look, (end, y - h * 0.08, end, y + h * 0.8), "on_fail", 6)


class Band(FloatLayout):
    """The band. Its height changes only while a clock that ran out waits for its answer."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(size_hint_y=None)
        self._tablet, self._look = tablet, tablet.look
        self._ring = EarRing()
        self._ear: EarKey | None = None
        self._now: object = None
        self._title = ("", "")
        self.height = self._look.dots(HIGH)
        # Once a frame, however much of it changes in that.
        self._draw = Clock.create_trigger(lambda _dt: self._again(), -1)
        self.bind(size=self._draw, pos=self._draw)

    @property
    def row(self) -> ClockRow:
        """The clocks as they stand."""
        view = self._tablet.view
        return clock_row(view.state, view.at) if view is not None else ClockRow()

    def look_at_level(self) -> None:
        """Show how loud the voice is; called twice a second. Draws nothing where that is as it was."""
        desk, ear = self._tablet.desk, self._ear
        level = desk.level() if desk is not None else None
        if ear is not None:
            ear.fill(self._ring.look(level.rms_dbfs) if level is not None and not level.dead else 0)

    def refresh(self, title: tuple[str, str]) -> None:
        """Show what has changed."""
        self._title = title
        tablet, view, row = self._tablet, self._tablet.view, self.row
        high = OVER_HIGH if row.expired is not None else HIGH
        if tablet.upright and row.expired is None and (row.open or row.wait) is not None:
            high += RIDGES_HIGH
        self.height = self._look.dots(high)
        speaker = view.state.speaker if view is not None else None
        now = (
            tuple(
                None if f is None else (f.told, f.standing, f.minutes_gone, f.begun, f.ends)
                for f in (row.open, row.pot, row.wait)
            ),
            None if row.expired is None else (row.expired.face.told, row.expired.question),
            speaker,
            tablet.locked,
            title if row.open is None or row.pot is None else "",
            tablet.deaf if tablet.listens else "off",
            view.state.kind if view is not None else None,
        )
        if now != self._now:
            self._now = now
            self._draw()

    def _again(self) -> None:
        row = self.row
        self.clear_widgets()
        over = row.expired is not None
        self.canvas.before.clear()
        with self.canvas.before:
            marks.field(self._look, (*self.pos, *self.size), "fail_plate" if over else "sheet")
        ink: ColourName = "on_fail" if over else "ink"
        self._lay_ends(ink)
        left, right = self._look.dots(HIGH), self._look.dots(_EAR)
        if self._look.left_hand:
            left, right = right, left
        high = self._look.dots(HIGH)
        room = (self.x + left, self.y + self.height - high, self.width - left - right, high)
        if row.expired is not None:
            self._lay_over(room, row.expired.face)
        else:
            self._lay_clocks(room, row)
        with self.canvas.before:
            marks.field(self._look, (self.x, self.y, self.width, self._look.dots(3)), "edge")

    def _put(self, widget: Widget, x: float, y: float, w: float, h: float) -> Widget:
        widget.size_hint = (None, None)
        widget.pos, widget.size = (x, y), (w, h)
        self.add_widget(widget)
        return widget

    def _lay_ends(self, ink: ColourName) -> None:
        tablet, look = self._tablet, self._look
        view, words = tablet.view, tablet.words
        speaker = view.state.speaker if view is not None else None
        who = name_of(speaker.name) if speaker is not None else words(message("frame-nobody"))
        person = PersonKey(look, who, lambda: tablet.go("person"), ink, locked=tablet.locked)
        deaf = not tablet.listens or bool(tablet.deaf)
        self._ear = EarKey(look, words(message("frame-ear")), lambda: tablet.go("ear"), deaf=deaf, role=ink)
        high, ear = look.dots(HIGH - 2), look.dots(_EAR)
        ends: list[tuple[Widget, float]] = [(person, look.dots(HIGH)), (self._ear, ear)]
        if look.left_hand:
            ends.reverse()
        (first, wide), (last, last_wide) = ends
        self._put(first, self.x, (self.y + self.height) - high, wide, high)
        self._put(last, (self.x + self.width) - last_wide, (self.y + self.height) - high, last_wide, high)

    def _lay_clocks(self, room: marks.PixelBox, row: ClockRow) -> None:
        look, upright = self._look, self._tablet.upright
        x, y, w, h = room
        first = row.open or row.wait
        if first is None and row.pot is None:
            self._lay_title(room)
            return
        part = w * (0.5 if upright else 0.57)
        if first is None:
            quiet = TextLabel(
                look,
                self._tablet.words(message("frame-nothing-combed", short="yes" if upright else "no")),
                "near",
                role="quiet",
                fit=True,
                bold=False,
            )
            self._put(quiet, x + look.dots(24), y, part - look.dots(40), h)
        else:
            self._lay_first((x, y, part, h), first)
        if row.pot is not None:
            self._lay_pot((x + part, y, w - part, h), row.pot)
        elif self._title[0]:
            self._put(
                TextLabel(look, self._title[0], "near", bold=True, align="right", fit=True),
                x + part + look.dots(12),
                y,
                w - part - look.dots(24),
                h,
            )

    def _lay_first(self, room: marks.PixelBox, face: ClockFace) -> None:
        look, upright, words = self._look, self._tablet.upright, self._tablet.words
        x, y, w, h = room
        warns = face.standing == "warning"
        if warns:
            with self.canvas.before:
                marks.field(look, room, "due")
                marks.frame(look, room, "ink", 5)
        role: ColourName = "on_due" if warns else "ink"
        figure = self._figure((x + look.dots(24), y, w, h), face, role)
        ends = words(message(f"frame-ends-{face.kind}", time=face.ends))
        strip = RidgeStrip(look, face, ends, role)
        if upright:
            self._put(
                strip,
                self.x + look.dots(24),
                self.y + look.dots(6),
                self.width - look.dots(48),
                look.dots(RIDGES_HIGH - 14),
            )
        else:
            left = figure + look.dots(22)
            self._put(strip, left, y + look.dots(4), x + w - left - look.dots(28), h - look.dots(14))

    def _figure(self, room: marks.PixelBox, face: ClockFace, role: ColourName) -> float:
        """The minutes in large; where they end [pixels]."""
        look = self._look
        x, y, _, h = room
        wide = width_of(face.told, look.font("clock"), bold=True) + look.dots(6)
        self._put(TextLabel(look, face.told, "clock", role=role, fit=True), x, y, wide, h)
        if face.standing != "running":
            return x + wide
        unit = self._tablet.words(message("frame-minutes"))
        side = width_of(unit, look.dots(32), bold=True) + look.dots(8)
        label = TextLabel(look, unit, "small", bold=True, role=role, fit=True, valign="bottom")
        self._put(label, x + wide + look.dots(6), y + look.dots(14), side, h * 0.5)
        return x + wide + look.dots(6) + side

    def _lay_pot(self, room: marks.PixelBox, face: ClockFace) -> None:
        look, upright = self._look, self._tablet.upright
        x, y, w, h = room
        warns = face.standing == "warning"
        if warns:
            with self.canvas.before:
                marks.field(look, room, "due")
                marks.frame(look, room, "ink", 5)
        role: ColourName = "on_due" if warns else "ink"
        end = self._figure((x + look.dots(16), y, w, h), face, role) + look.dots(10)
        self._put(Pail(look, face.left / max(face.total, 1e-6)), end, y + look.dots(20), look.dots(62), look.dots(72))
        end += look.dots(74)
        if not upright and x + w - end > look.dots(90):
            caption = self._tablet.words(message("frame-pot-ends"))
            self._put(
                TextLabel(look, caption, "small", role="quiet" if not warns else role, fit=True),
                end,
                y + h * 0.45,
                x + w - end,
                h * 0.4,
            )
            self._put(
                TextLabel(look, face.ends, "small", bold=True, role=role, fit=True),
                end,
                y + h * 0.1,
                x + w - end,
                h * 0.36,
            )

    def _lay_title(self, room: marks.PixelBox) -> None:
        look = self._look
        x, y, w, h = room
        title, beside = self._title
        tablet = self._tablet
        kind = tablet.view.state.kind if tablet.view is not None else "work"
        if kind != "work":
            mark = tablet.words(message("frame-not-work", kind=kind))
            title = f"{mark} · {title}" if title else mark
        wide = w - look.dots(48)
        second = wide * (0.5 if beside else 0.0)
        self._put(TextLabel(look, title, "key", fit=True), x + look.dots(24), y, wide - second, h)
        if beside:
            self._put(
                TextLabel(look, beside, "near", role="quiet", align="right", fit=True, bold=False),
                x + look.dots(24) + wide - second,
                y,
                second,
                h,
            )

    def _lay_over(self, room: marks.PixelBox, face: ClockFace) -> None:
        """A clock that ran out: what ran out when, the overtime counted up, the minutes as drawn."""
        look, words = self._look, self._tablet.words
        x, y, w, _ = room
        high = self.height
        told = words(message(f"frame-over-{face.kind}", time=face.ends, name=face.title))
        self._put(
            TextLabel(look, told, "far", role="on_fail", fit=True),
            x + look.dots(24),
            y,
            w - look.dots(24),
            look.dots(HIGH),
        )
        left = self.x + look.dots(136)
        wide = (self.x + self.width) - left - look.dots(16)
        share = 1.0 if self._tablet.upright else 0.48
        below = high - look.dots(HIGH) - look.dots(10)
        self._put(
            TextLabel(look, face.told, "over", role="on_fail", fit=True),
            left,
            self.y + look.dots(6),
            wide * share,
            below,
        )
        if self._tablet.upright:
            return
        over = words(message(f"frame-over-what-{face.kind}", name=face.title))
        self._put(
            TextLabel(look, over, "key", role="on_fail", fit=True),
            left + wide * 0.5,
            self.y + look.dots(20),
            wide * 0.2,
            below * 0.8,
        )
        at = left + wide * 0.72
        strip = wide * 0.28
        self._put(Overtime(look, face), at, self.y + below * 0.32, strip, below * 0.5)
        self._put(
            TextLabel(look, face.begun, "small", bold=True, role="on_fail", fit=True),
            at,
            self.y + below * 0.08,
            strip / 2,
            below * 0.22,
        )
        self._put(
            TextLabel(look, face.ends, "small", bold=True, role="on_fail", align="right", fit=True),
            at + strip / 2,
            self.y + below * 0.08,
            strip / 2,
            below * 0.22,
        )
