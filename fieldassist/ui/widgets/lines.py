"""Lines of a record: what a line is about in quiet small letters, what it says beside it."""

from __future__ import annotations

from typing import Any

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.signs import SignName
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.widgets.boxes import RowBox
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.marks import Sign
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.anchorlayout import AnchorLayout  # isort: skip


class Line(RowBox):
    """A line that is as high as the higher of its two texts. about: what it is about, `wide` dots wide where text has
    its usual size; sign: drawn between the two."""

    def __init__(
        self,
        look: Look,
        about: str,
        says: str,
        *,
        wide: float = 150,
        sign: SignName | None = None,
        role: ColourName = "ink",
        **rest: Any,
    ) -> None:
        super().__init__(look, gap=14, size_hint_y=None, height=0, **rest)
        first = TextLabel(look, about, "small", role="quiet", size_hint_x=None, width=look.dots(wide * look.text))
        then = TextLabel(look, says, "near", role=role)
        for text in (first, then):
            text.bind(height=self._rise)
        self._texts = (first, then)
        self.add_widget(_top(first, width=first.width))
        if sign is not None:
            mark = Sign(look, sign, side=34, role=role)
            self.add_widget(_top(mark, width=mark.width))
        self.add_widget(_top(then))

    def _rise(self, *_: Any) -> None:
        self.height = max(text.height for text in self._texts) + self._texts[0].look.dots(8)


def _top(inside: Any, width: float | None = None) -> AnchorLayout:
    """Something at the upper edge of its place."""
    place = AnchorLayout(anchor_y="top", anchor_x="left")
    if width is not None:
        place.size_hint_x, place.width = None, width
    place.add_widget(inside)
    return place
