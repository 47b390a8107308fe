"""The pieces of a row that is being set: those that are in, and the combed bed that waits for the next."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.language import Words
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.work_page import RowPiece
from fieldassist.ui.widgets import marks
from fieldassist.ui.widgets.boxes import Drawn
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.text import TextLabel, width_of

_HIGH = 154.0


class SpreadRow(Drawn):
    """The row."""

    def __init__(self, look: Look, pieces: Sequence[RowPiece], words: Words, next_told: str) -> None:
        self._pieces = tuple(pieces)
        self._next = TextLabel(look, next_told, "near", bold=True, align="center", fit=True)
        self._numbers = [TextLabel(look, piece.number, "key", fit=True, valign="middle") for piece in pieces]
        told = [words(piece.told) if piece.told is not None else piece.at for piece in pieces]
        self._told = [
            TextLabel(look, one, "small", bold=False, role="quiet", align="right", fit=True, least=0.5) for one in told
        ]
        super().__init__(look, size_hint_y=None, height=look.dots(_HIGH) + max(0.0, look.text - 1) * look.dots(40))
        for text in (*self._numbers, *self._told, self._next):
            self.add_widget(text)

    def draw(self, box: marks.PixelBox) -> None:
        """Draw it."""
        look = self.look
        x, y, w, h = box
        each = w / max(1, len(self._pieces))
        marks.frame(look, box, "ink", 6)
        for at, piece in enumerate(self._pieces):
            inner = (x + at * each + look.dots(8), y + look.dots(8), each - look.dots(12), h - look.dots(16))
            if piece.standing == "in":
                self._draw_in(at, piece, inner)
            else:
                self._draw_next(at, inner)

    def _draw_in(self, at: int, piece: RowPiece, box: marks.PixelBox) -> None:
        look = self.look
        x, y, w, h = box
        marks.field(look, box, "tile")
        edges: dict[str, ColourName] = {"passed": "pass_", "failed": "fail"}
        marks.frame(look, box, edges.get(piece.lifted, "edge"), 8 if piece.lifted else 2)
        pad = look.dots(18)
        line = look.font("small") * 1.25
        # What a lift showed takes the whole width: the strokes stand over it.
        low = pad + line if piece.lifted else pad
        strokes = 6 if piece.witnessed else 1
        for stroke in range(strokes):
            left = x + pad + stroke * look.dots(12 if piece.witnessed else 0)
            length = look.dots(7 if piece.witnessed else 50)
            marks.field(look, (left, y + low, length, look.dots(24 if piece.witnessed else 6)), "ink")
        side = look.dots(48)
        corner = (x + w - side - pad, y + h - side - pad)
        if piece.lifted == "passed":
            marks.sign(look, "pass", *corner, side, "pass_")
        elif piece.lifted == "failed":
            marks.sign(look, "fail", *corner, side, "fail")
        high = look.font("key") * 1.2
        self._numbers[at].pos, self._numbers[at].size = (x + pad, y + h - high - look.dots(6)), (w * 0.5, high)
        start = pad if piece.lifted else w * 0.36
        self._told[at].pos, self._told[at].size = (x + start, y + look.dots(10)), (w - start - pad, line)

    def _draw_next(self, at: int, box: marks.PixelBox) -> None:
        look = self.look
        x, y, w, h = box
        marks.field(look, box, "bare")
        pitch = look.dots(10)
        for k in range(int(w / pitch)):
            marks.field(look, (x + k * pitch, y, pitch * 0.55, h), "mortar")
        high = look.font("key") * 1.25
        wide = width_of(self._numbers[at].words, look.font("key"), bold=True) + look.dots(24)
        self._plate((x + look.dots(10), y + h - high - look.dots(10), wide, high), self._numbers[at])
        line = look.font("near") * 1.5
        room = width_of(self._next.words, look.font("near"), bold=True) + look.dots(40)
        self._plate((x + w - room - look.dots(14), y + look.dots(14), room, line), self._next)

    def _plate(self, box: marks.PixelBox, text: TextLabel) -> None:
        marks.field(self.look, box, "key")
        marks.frame(self.look, box, "ink", 4)
        text.halign = "center"
        text.pos, text.size = box[:2], box[2:]
