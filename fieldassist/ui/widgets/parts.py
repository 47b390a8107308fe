"""What the screens are made of: words, targets to press, panels, marks and grids, in the colours of a theme.

Every part takes its colours from the `Look` it is given, and is made anew when the look changes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Literal

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)

from kivy.core.text import Label as CoreLabel  # isort: skip
from kivy.core.text import LabelBase  # isort: skip
from kivy.effects.scroll import ScrollEffect  # isort: skip
from kivy.graphics import Color, Ellipse, Line, Mesh, Rectangle  # isort: skip
from kivy.metrics import mm, sp  # isort: skip
from kivy.uix.behaviors import ButtonBehavior  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.gridlayout import GridLayout  # isort: skip
from kivy.uix.label import Label  # isort: skip
from kivy.uix.scrollview import ScrollView  # isort: skip
from kivy.uix.textinput import TextInput  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

from fieldassist.places import shipped
from fieldassist.ui.content.theme import DAY, GAP_MM, TARGET_MM, ColourRole, Theme, rgb

TYPEFACE = "Text"
_FONTS = shipped("assets") / "fonts"
LabelBase.register(
    TYPEFACE, str(_FONTS / "DejaVuSansCondensed.ttf"), fn_bold=str(_FONTS / "DejaVuSansCondensed-Bold.ttf")
)

Size = Literal["huge", "large", "plain", "small"]
_SP: dict[Size, float] = {"huge": 40, "large": 26, "plain": 20, "small": 16}

# Shapes that say what words beside them say: never a colour alone.
Shape = Literal["done", "now", "waiting", "failed", "caution", "none"]


@dataclass(frozen=True, slots=True)
class Look:
    """Theme and size of text: 1.0 to 1.5."""

    theme: Theme = DAY
    text: float = 1.0

    def font(self, size: Size) -> float:
        """The height of letters, in pixels."""
        return float(sp(_SP[size]) * self.text)


def target() -> float:
    """The least height and width of what is pressed, in pixels."""
    return float(mm(TARGET_MM))


def gap() -> float:
    """The space between things, in pixels."""
    return float(mm(GAP_MM))


class TextLabel(Label):
    """Text that wraps at its width and is as high as it needs to be."""

    def __init__(
        self,
        look: Look,
        text: str,
        size: Size = "plain",
        *,
        role: ColourRole = "ground",
        quiet: bool = False,
        **rest: Any,
    ) -> None:
        theme = look.theme
        colour = theme.quiet if quiet else theme.pair(role).foreground
        rest.setdefault("halign", "left")
        rest.setdefault("bold", size in ("huge", "large"))
        super().__init__(
            text=text,
            font_name=TYPEFACE,
            font_size=look.font(size),
            color=(*rgb(colour), 1),
            valign="middle",
            size_hint_y=None,
            height=0.0,
            **rest,
        )
        self.bind(width=self._wrap, texture_size=self._grow)
        self._wrap(self, self.width)

    def fill(self, lines: int) -> None:
        """Be as high as what it lies in, whatever it says: what needs more lines is cut short."""
        self.unbind(width=self._wrap, texture_size=self._grow)
        self.shorten, self.shorten_from, self.max_lines = lines == 1, "right", lines
        self.size_hint_y = 1
        self.bind(size=lambda _w, size: setattr(self, "text_size", size))

    def _wrap(self, _widget: Widget, width: float) -> None:
        self.text_size = (width, None)

    def _grow(self, _widget: Widget, size: Sequence[float]) -> None:
        self.height = size[1] if self.text else 0.0


def paint(widget: Any, colour: str, edge: str | None = None, thick: float = 1.0) -> None:
    """Give a widget a ground of this colour, and an edge, from now on."""
    widget.canvas.before.clear()
    with widget.canvas.before:
        Color(*rgb(colour))
        box = Rectangle(pos=widget.pos, size=widget.size)
        line = None
        if edge is not None:
            Color(*rgb(edge))
            line = Line(rectangle=(*widget.pos, *widget.size), width=thick)

    def follow(*_: Any) -> None:
        box.pos, box.size = widget.pos, widget.size
        if line is not None:
            line.rectangle = (*widget.pos, *widget.size)

    before = getattr(widget, "_follow", None)
    if before is not None:
        widget.unbind(pos=before, size=before)
    widget._follow = follow
    widget.bind(pos=follow, size=follow)


class Target(ButtonBehavior, Label):
    """Something to press: at least 18 mm high (tall: or so many times that), its words wrapped inside."""

    __events__ = ("on_needs",)

    def __init__(
        self,
        look: Look,
        text: str,
        press: Callable[[], None],
        *,
        role: ColourRole = "button",
        size: Size = "large",
        chosen: bool = False,
        tall: float = 1.0,
        **rest: Any,
    ) -> None:
        pair = look.theme.pair(role)
        super().__init__(
            text=text,
            font_name=TYPEFACE,
            font_size=look.font(size),
            bold=True,
            color=(*rgb(pair.foreground), 1),
            halign="center",
            valign="middle",
            size_hint_y=None,
            height=tall * target(),
            **rest,
        )
        self.look, self.role, self.chosen = look, role, chosen
        self._least = tall * target()
        self._font = look.font(size)
        self.needs = self._least  # the height that its words need
        self._press = press
        self._show(down=False)
        self.bind(width=self._wrap, texture_size=self._grow, state=lambda _w, state: self._show(down=state == "down"))

    def _show(self, *, down: bool) -> None:
        theme = self.look.theme
        pair = theme.pair(self.role)
        # Pressed or chosen: a thick edge, so that it is seen without colour too.
        thick = 4.0 if down or self.chosen else 1.0
        paint(self, pair.ground, theme.pair("ground").foreground if thick > 1 else theme.line, thick)

    def _wrap(self, _widget: Widget, width: float) -> None:
        # A word is never broken: letters get smaller before that.
        room, widest = width - 2 * gap(), self.widest_word()
        self.font_size = self._font * 0.97 * room / widest if 0 < room < widest else self._font
        self.text_size = (max(1.0, room), None)

    def widest_word(self) -> float:
        """The width of its longest word in pixels, in letters of the size that was asked for."""
        measure = CoreLabel(font_name=TYPEFACE, font_size=self._font, bold=True)
        return max((float(measure.get_extents(word)[0]) for word in self.text.split()), default=0.0)

    def _grow(self, _widget: Widget, size: Sequence[float]) -> None:
        self.needs = max(self._least, size[1] + 2 * gap())
        self.height = self.needs
        self.dispatch("on_needs")

    def on_needs(self) -> None:
        """Kivy calls it when the words need another height than before."""

    def on_release(self) -> None:
        """Kivy calls it when the finger is lifted on the target."""
        self._press()


class EntryField(TextInput):
    """A line (or some) to type in. typing: told of the field when it gets the keys, of None when it gives them back."""

    def __init__(
        self,
        look: Look,
        typing: Callable[[EntryField | None], None],
        text: str = "",
        *,
        hint: str = "",
        secret: bool = False,
        lines: int = 1,
        **rest: Any,
    ) -> None:
        pair = look.theme.panel
        super().__init__(
            text=text,
            hint_text=hint,
            password=secret,
            multiline=lines > 1,
            font_name=TYPEFACE,
            font_size=look.font("large"),
            foreground_color=(*rgb(pair.foreground), 1),
            hint_text_color=(*rgb(look.theme.quiet), 1),
            background_color=(*rgb(pair.ground), 1),
            background_normal="",
            background_active="",
            cursor_color=(*rgb(pair.foreground), 1),
            write_tab=False,
            size_hint_y=None,
            height=max(target(), lines * look.font("large") * 1.4 + 4 * gap()),
            padding=(2 * gap(), 3 * gap()),
            **rest,
        )
        self.unfocus_on_touch = False  # the letters on the screen are touched while it has the keys
        self.bind(focus=lambda _w, focused: typing(self if focused else None))
        with self.canvas.after:
            Color(*rgb(look.theme.line))
            edge = Line(rectangle=(*self.pos, *self.size), width=1.5)
        follow = lambda *_: setattr(edge, "rectangle", (*self.pos, *self.size))  # noqa: E731
        self.bind(pos=follow, size=follow)


class Panel(BoxLayout):
    """A column (or row) on a ground of its own, as high as what is in it."""

    def __init__(self, look: Look, *, role: ColourRole = "panel", row: bool = False, **rest: Any) -> None:
        rest.setdefault("padding", 2 * gap())
        rest.setdefault("spacing", gap())
        super().__init__(orientation="horizontal" if row else "vertical", size_hint_y=None, **rest)
        self.bind(minimum_height=self.setter("height"))
        paint(self, look.theme.pair(role).ground, look.theme.line)


class Upright(BoxLayout):
    """Things under each other, as high as what is in it."""

    def __init__(self, **rest: Any) -> None:
        rest.setdefault("spacing", gap())
        super().__init__(orientation="vertical", size_hint_y=None, height=0, **rest)
        self.bind(minimum_height=self.setter("height"))


class Abreast(BoxLayout):
    """Things beside each other, as high as the highest."""

    def __init__(self, **rest: Any) -> None:
        rest.setdefault("spacing", gap())
        super().__init__(orientation="horizontal", size_hint_y=None, height=0, **rest)
        self.bind(minimum_height=self.setter("height"))


class Choices(GridLayout):
    """Targets in as many columns as fit, all of one height."""

    def __init__(self, targets: Sequence[Widget], columns: int, **rest: Any) -> None:
        rest.setdefault("spacing", gap())
        super().__init__(cols=max(1, columns), size_hint_y=None, **rest)
        self.bind(minimum_height=self.setter("height"))
        for one in targets:
            self.add_widget(one)
            if isinstance(one, Target):
                one.bind(on_needs=self._level)

    def _level(self, *_: Any) -> None:
        targets = [one for one in self.children if isinstance(one, Target)]
        highest = max((one.needs for one in targets), default=0.0)
        for one in targets:
            one.height = highest


class Pick(Choices):
    """One of several, the chosen one with a thick edge; `chosen` is what it stands at.

    options: (value, words); picked: called with the value that was pressed.
    """

    def __init__(
        self,
        look: Look,
        options: Sequence[tuple[Any, str]],
        chosen: Any,
        picked: Callable[[Any], None],
        *,
        columns: int | None = None,
        size: Size = "plain",
        **rest: Any,
    ) -> None:
        targets = [
            Target(
                look,
                words,
                partial(picked, value),
                role="first" if value == chosen else "button",
                chosen=value == chosen,
                size=size,
            )
            for value, words in options
        ]
        super().__init__(targets, columns or len(options), **rest)
        self.chosen = chosen


_BAR = (0.5, 0.5, 0.5, 1)


class Scroll(ScrollView):
    """What does not fit is pulled up and down with one finger."""

    def __init__(self, inside: Upright, **rest: Any) -> None:
        super().__init__(
            do_scroll_x=False,
            bar_width=mm(2),
            bar_color=_BAR,
            bar_inactive_color=_BAR,  # it does not fade: it says that there is more
            scroll_type=["bars", "content"],
            scroll_distance=mm(3),
            effect_cls=ScrollEffect,  # it stops where it ends: nothing swings under a finger
            **rest,
        )
        # Nothing lies under the bar.
        inside.padding = (0, 0, mm(2) + gap(), 0)
        self.add_widget(inside)


class VerdictMark(Widget):
    """A shape that says how something stands, beside the words that say it.

    done: a full disc; now: a triangle that points on; waiting: a ring; failed: a crossed square; caution: a triangle
    that stands, with a stroke; none: nothing.
    """

    def __init__(self, look: Look, shape: Shape, *, role: ColourRole = "ground", **rest: Any) -> None:
        side = look.font("large")
        super().__init__(size_hint=(None, None), size=(side * 1.4, side * 1.4), **rest)
        self._foreground = look.theme.pair(role).foreground
        self._alarm = look.theme.pair("alarm").ground if role in ("ground", "panel") else self._foreground
        self.shape = shape
        self.bind(pos=self._draw, size=self._draw)
        self._draw()

    def _draw(self, *_: Any) -> None:
        self.canvas.clear()
        side = min(self.size) * 0.7
        x, y = self.center_x - side / 2, self.center_y - side / 2
        with self.canvas:
            Color(*rgb(self._alarm if self.shape in ("failed", "caution") else self._foreground))
            if self.shape == "done":
                Ellipse(pos=(x, y), size=(side, side))
            elif self.shape == "waiting":
                Line(ellipse=(x, y, side, side), width=side / 10)
            elif self.shape == "now":
                _triangle((x, y), (x, y + side), (x + side, y + side / 2))
            elif self.shape == "failed":
                Line(rectangle=(x, y, side, side), width=side / 12)
                Line(points=(x, y, x + side, y + side), width=side / 12)
                Line(points=(x, y + side, x + side, y), width=side / 12)
            elif self.shape == "caution":
                Line(points=(x, y, x + side, y, x + side / 2, y + side), close=True, width=side / 12)
                Line(points=(x + side / 2, y + side * 0.2, x + side / 2, y + side * 0.6), width=side / 12)


def _triangle(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> None:
    points: list[float] = []
    for x, y in (a, b, c):
        points += [x, y, 0.0, 0.0]
    Mesh(vertices=points, indices=[0, 1, 2], mode="triangles")


def blank(height: float = 0.0) -> Widget:
    """Empty space: of a height, or all that is left."""
    return Widget(size_hint_y=None, height=height) if height else Widget()
