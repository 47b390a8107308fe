"""How things lie on a page: under each other, beside each other, in columns, or pulled under a finger."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.look import GAP, Look

from kivy.effects.scroll import ScrollEffect  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.gridlayout import GridLayout  # isort: skip
from kivy.uix.scrollview import ScrollView  # isort: skip
from kivy.uix.widget import Widget  # isort: skip


class ColumnBox(BoxLayout):
    """Things under each other; gap: dots between them; rises: as high as what is in it, else as high as it is given."""

    def __init__(self, look: Look, *inside: Widget, gap: float = GAP, rises: bool = False, **rest: Any) -> None:
        rest.setdefault("spacing", look.dots(gap))
        super().__init__(orientation="vertical", **rest)
        if rises:
            self.size_hint_y = None
            self.height = 0.0
            self.bind(minimum_height=self.setter("height"))
        for one in inside:
            self.add_widget(one)


class RowBox(BoxLayout):
    """Things beside each other; high: in dots, None as high as it is given; rises: as high as the highest in it."""

    def __init__(
        self, look: Look, *inside: Widget, gap: float = GAP, high: float | None = None, rises: bool = False, **rest: Any
    ) -> None:
        rest.setdefault("spacing", look.dots(gap))
        super().__init__(orientation="horizontal", **rest)
        if high is not None:
            self.size_hint_y, self.height = None, look.dots(high)
        elif rises:
            self.size_hint_y, self.height = None, 0
            self.bind(minimum_height=self.setter("height"))
        for one in inside:
            self.add_widget(one)


class Cells(GridLayout):
    """Keys in columns, all of one height [dots]."""

    def __init__(
        self, look: Look, inside: Sequence[Widget], columns: int, *, gap: float = GAP, high: float = 106, **rest: Any
    ) -> None:
        super().__init__(cols=max(1, columns), spacing=look.dots(gap), size_hint_y=None, **rest)
        rows = -(-len(inside) // max(1, columns))
        self.height = rows * look.dots(high) + max(0, rows - 1) * look.dots(gap)
        for one in inside:
            one.size_hint_y = 1
            self.add_widget(one)


class Scroll(ScrollView):
    """What does not fit is pulled up and down with one finger; a bar says that there is more."""

    def __init__(self, look: Look, inside: Widget, **rest: Any) -> None:
        super().__init__(
            do_scroll_x=False,
            bar_width=look.dots(12),
            bar_color=look.ink("edge"),
            bar_inactive_color=look.ink("edge"),  # it does not fade: it says that there is more
            scroll_type=["bars", "content"],
            scroll_distance=look.dots(18),
            effect_cls=ScrollEffect,  # it stops where it ends: nothing swings under a finger
            **rest,
        )
        inside.padding = (0, 0, look.dots(12 + GAP), 0)  # nothing lies under the bar
        self.add_widget(inside)


class Space(Widget):
    """Empty space: so many dots, or all that is left."""

    def __init__(self, look: Look, dots: float | None = None, **rest: Any) -> None:
        super().__init__(**rest)
        if dots is not None:
            self.size_hint = (None, None)
            self.size = (look.dots(dots), look.dots(dots))


class Drawn(Widget):
    """A place in which a picture is drawn: subclasses draw in `draw`, anew only when its place changes or `again`."""

    def __init__(self, look: Look, **rest: Any) -> None:
        self.look = look
        super().__init__(**rest)
        self.bind(pos=self.again, size=self.again)

    def again(self, *_: Any) -> None:
        """Draw it again."""
        self.canvas.before.clear()
        if self.width > 1 and self.height > 1:
            with self.canvas.before:
                self.draw((self.x, self.y, self.width, self.height))

    def draw(self, box: marks.PixelBox) -> None:
        """Draw into a box [pixels]; called inside `with canvas.before`."""


class Divider(Drawn):
    """A thin line between things."""

    def __init__(self, look: Look, role: ColourName = "edge", **rest: Any) -> None:
        self._role = role
        super().__init__(look, size_hint_y=None, height=look.dots(3), **rest)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        marks.field(self.look, box, self._role)


def lay_ground(look: Look, widget: Any, role: ColourName, *, edge: float = 0) -> None:
    """Give a widget a ground of this surface, from now on."""

    def draw(*_: Any) -> None:
        widget.canvas.before.clear()
        with widget.canvas.before:
            box = (*widget.pos, *widget.size)
            marks.field(look, box, role)
            if edge:
                marks.frame(look, box, "edge", edge)

    widget.bind(pos=draw, size=draw)
    draw()
