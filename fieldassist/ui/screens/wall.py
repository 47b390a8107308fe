"""Wall: what stands, and what of it may be trusted; a press on a piece opens its record."""

from __future__ import annotations

from functools import partial

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.laying import PieceSpan
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.state import State
from fieldassist.trade.message import message
from fieldassist.ui.content.day_page import date_told, tried_told
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.wall_map import WallMap
from fieldassist.ui.content.wall_page import (
    WhatNext,
    area_on_wall,
    map_of,
    other_areas,
    signed_at,
    surface_told,
    suspects_told,
    what_next,
)
from fieldassist.ui.screens.base import Screen, show_tried
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, TARGET, Look
from fieldassist.ui.widgets.text import LEAST_FIT, LINE, TextLabel, width_of
from fieldassist.ui.widgets.wall_map import PressedWall, ToldPiece, WallDrawing

from kivy.uix.widget import Widget  # isort: skip

_COLUMN = 248.0  # how wide what stands beside the wall is [dots]
_NEXT, _SUSPECTS, _THUMB = 164.0, 134.0, 124.0  # how high its keys are [dots]
# From this size of text on a key holds words alone.
LARGE = 1.25


class WallScreen(Screen):
    """The wall of one area with its pieces as keys, the other areas, what is suspect, and what comes next."""

    place = "wall"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        margin = self.look.dots(MARGIN)
        self.padding = (margin, 0.5 * margin, margin, 0.5 * margin)
        self._wall: PressedWall | None = None
        self._part: PieceSpan | None = None
        self._state: State | None = None

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs."""
        view = self.tablet.view
        plan = view.state.plan if view is not None else None
        words = self.tablet.words
        return words(message("wall-title")), words(date_told(plan.date)) if plan is not None else ""

    def refresh(self) -> None:
        """Show the wall as it is now; only pieces that changed are drawn again."""
        view = self.tablet.view
        if view is None or view.state.plan is None:
            if self.changed("page", None):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self.tablet.words(message("wall-no-day")), "far"))
                self.act(self._next_key(what_next(State(), None)))
            return
        state = view.state
        if state is self._state:
            return  # nothing happened
        self._state = state
        shown = area_on_wall(state, self.tablet.at_what.get("area"))
        assert shown is not None  # a plan has areas
        if shown.trial is not None:
            self._wall = None
            if self.changed("beside", (shown, tried_told(state, shown), self.tablet.words)):
                show_tried(self, shown, self.tablet.words(tried_told(state, shown)), *self._others(state, shown))
            return
        on, then = map_of(state, shown), what_next(state, shown, signed_at(view.events))
        beside = (shown.name, surface_told(on), on.on_wall, suspects_told(on), then, self._part, state.areas.keys())
        if self.changed("beside", beside) or self._wall is None:
            self._lay_out(state, shown, on, then)
        else:
            self._wall.show(on)

    def _lay_out(self, state: State, shown: AreaPlan, on: WallMap, then: WhatNext) -> None:
        tablet, look = self.tablet, self.look
        self._wall = PressedWall(
            look, on, tablet.words, partial(self._piece, shown.name), part=self._part, opened=self._opened
        )
        self.page.clear_widgets()
        suspects, walls = self._suspects_key(on), self._other_walls(state, shown, on)
        if shown.name not in state.areas and not state.closed:
            lay_out = partial(tablet.go, "layout", area=shown.name)
            suspects = Key(look, tablet.words(message("wall-lay-out")), lay_out, sign="wall", size="near", high=None)
        going_on = self._next_key(then)
        if tablet.upright:
            # Every dot goes to the wall: its pieces are to be pressed while the ridges run above it, too.
            self.page.spacing, self.spacing = look.dots(4), 0
            self.page.add_widget(_Progress(look, tablet.words, on, beside=True, size_hint_y=None, height=look.dots(73)))
            self.page.add_widget(self._wall)
            row = [*walls, *([suspects] if suspects is not None else [])]
            if row:
                for thumb in walls:
                    thumb.size_hint_x = 0.4 if suspects is not None else 1
                self.page.add_widget(RowBox(look, *row, high=TARGET))
            self.page.add_widget(RowBox(look, going_on, high=TARGET))
            return
        column = ColumnBox(look, gap=10, size_hint_x=None, width=look.dots(_COLUMN))
        column.add_widget(_Progress(look, tablet.words, on, beside=False))
        if walls:
            column.add_widget(RowBox(look, *walls, high=_THUMB))
        if suspects is not None:
            column.add_widget(RowBox(look, suspects, high=_SUSPECTS))
        column.add_widget(RowBox(look, going_on, high=_NEXT))
        both: tuple[Widget, ...] = (self._wall, column)
        self.page.add_widget(RowBox(look, *(reversed(both) if look.left_hand else both), gap=16))

    # --- keys -----------------------------------------------------------------------------------------------------

    def _next_key(self, then: WhatNext) -> Key:
        return Key(
            self.look,
            self.tablet.words(then.told),
            partial(self._go_on, then),
            kind="sheet" if then.leads == "none" else "action",
            sign="lift" if then.leads == "lift" and self.look.text < LARGE else None,
            high=None,
        )

    def _go_on(self, then: WhatNext) -> None:
        tablet = self.tablet
        match then.leads:
            case "lift":
                tablet.go("lift", piece=then.piece)
            case "start":
                view = tablet.view
                shown = area_on_wall(view.state, tablet.at_what.get("area")) if view is not None else None
                if shown is not None:
                    tablet.send(cmd.StartArea(area=shown.name))
                    tablet.go("work")
            case "day" | "work":
                tablet.go(then.leads)

    def _suspects_key(self, on: WallMap) -> Key | None:
        told = suspects_told(on)
        if not told:
            return None
        leads = (
            partial(self.tablet.go, "failed")
            if on.numbers("lifted failed")
            else partial(self.tablet.go, "history", area=on.area, failures=True)
        )
        words = (", " if self.tablet.upright else "\n").join(map(self.tablet.words, told))
        return Key(self.look, words, leads, size="near", high=None)

    def _other_walls(self, state: State, shown: AreaPlan, on: WallMap) -> list[Key]:
        tablet, look = self.tablet, self.look
        if self._part is not None:
            named = tablet.words(message("wall-whole"))
            return [WallKey(look, on, named, tablet.words, self._whole, seen=self._part)]
        others, more = other_areas(state, shown.name)
        keys: list[Key] = [
            WallKey(
                look,
                map_of(state, area),
                tablet.words(message("wall-area", area=area.name)),
                tablet.words,
                partial(tablet.go, "wall", area=area.name),
            )
            for area in others
        ]
        if more:
            words = tablet.words(message("wall-others", count=more))
            keys.append(Key(look, words, partial(tablet.go, "day"), kind="sheet", size="small", high=None))
        return keys

    def _others(self, state: State, shown: AreaPlan) -> list[Key]:
        """The first of the other areas, by its name."""
        others, _ = other_areas(state, shown.name)
        go, look = partial(self.tablet.go, "wall"), self.look
        return [Key(look, capital(one.name), partial(go, area=one.name), size="near") for one in others[:1]]

    # --- what is pressed ------------------------------------------------------------------------------------------

    def _piece(self, area: str, number: int) -> None:
        self.tablet.go("piece", area=area, piece=number)

    def _opened(self, part: PieceSpan | None) -> None:
        """A part of the wall was opened, or None: all of it is seen again."""
        self._part, self._state = part, None
        self.refresh()

    def _whole(self) -> None:
        self._opened(None)


class WallKey(Key):
    """A small wall as a key, with its name under it; seen: the part of it that is seen large now."""

    def __init__(
        self, look: Look, on: WallMap, named: str, told: ToldPiece, press: object, *, seen: PieceSpan | None = None
    ) -> None:
        self._drawing = WallDrawing(look, on, told, numbers=False, framed=False)
        self._seen = seen
        super().__init__(look, named, press, kind="sheet", size="small", high=None)  # type: ignore[arg-type]
        self.add_widget(self._drawing)
        self._lay()

    def words_box(self, box: marks.PixelBox) -> marks.PixelBox:
        """Under the drawing: one line, or two where the name is too long for one."""
        x, y, w, _ = box
        pad, font = self.look.dots(6), self.look.font("small")
        one = width_of(self.text, font * LEAST_FIT, bold=True) <= w - 2 * pad
        return x + pad, y + pad, w - 2 * pad, font * (1.25 if one else 2.5 * LEAST_FIT)

    def _lay(self, *_: object) -> None:
        super()._lay()
        x, y, w, h = self.face
        low = self.words_box(self.face)
        pad = self.look.dots(9)
        self._drawing.size_hint = (None, None)
        self._drawing.pos = (x + 2 * pad, low[1] + low[3] + pad / 2)
        self._drawing.size = (max(1.0, w - 4 * pad), max(1.0, y + h - pad - self._drawing.y))
        if self._seen is not None and self._drawing.width > 2:
            with self.canvas.after:
                self.canvas.after.clear()
                marks.frame(self.look, self._drawing.box_of(self._seen), "ink", 5)


class _Progress(Widget):
    """The area's name, its pieces of all, and its surface; beside: the count stands at the right, not under it."""

    def __init__(self, look: Look, told: ToldPiece, on: WallMap, *, beside: bool, **rest: object) -> None:
        super().__init__(**rest)
        self._look, self._beside = look, beside
        self._name = TextLabel(look, told(message("wall-area", area=on.area)), "near", bold=True, fit=True)
        self._count = TextLabel(look, str(on.on_wall), "clock", fit=True)
        self._of = TextLabel(look, told(message("wall-progress-of", of=str(on.planned))), "near", fit=True)
        said = surface_told(on) if on.laid_out else message("wall-not-laid-out")
        self._surface = TextLabel(look, told(said), "small", role="ink", fit=True)
        for one in (self._name, self._count, self._of, self._surface):
            self.add_widget(one)
        self.bind(pos=self._lay, size=self._lay)

    def _lay(self, *_: object) -> None:
        look = self._look
        x, y, w, h = self.x, self.y, self.width, self.height
        name, small, tall = look.font("near") * 1.25, look.font("small") * 1.25, look.font("clock") * 1.1
        wide = width_of(self._count.words, look.font("clock"), bold=True) + look.dots(6)
        of = width_of(self._of.words, look.font("near"), bold=False) + look.dots(6)
        if self._beside:
            left = w - wide - of - look.dots(12)
            self._put(self._name, x, y + h - name, left, name)
            self._put(self._surface, x, y + h - name - small, left, small)
            tall = look.font("clock") * LINE
            self._put(self._count, x + w - wide - of, y + h - tall + look.dots(8), wide, tall)
            self._put(self._of, x + w - of, y, of, name)
            return
        of = min(of, w - wide)
        top = y + h
        self._put(self._name, x, top - name, w, name)
        self._put(self._count, x, top - name - tall, wide, tall)
        self._put(self._of, x + wide, top - name - tall + look.dots(8), of, name)
        rest = max(small, top - name - tall - y - look.dots(4))
        lines = min(rest, small * 2)
        self._put(self._surface, x, top - name - tall - lines, w, lines)

    @staticmethod
    def _put(text: TextLabel, x: float, y: float, w: float, h: float) -> None:
        text.size_hint = (None, None)
        text.pos, text.size = (x, y), (max(1.0, w), h)
