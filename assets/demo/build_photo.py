"""Draw the demo's photo again: the back of a lifted tile, invented, with voids where the ridges did not collapse.

    python assets/demo/build_photo.py [FILE]

The same program gives the same picture. About 85 percent of the back is covered, the edges are full, one
corner is empty, and the largest void has some 6 square inches.
"""

from __future__ import annotations

import random
import sys
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter

WIDE, HIGH = 960, 540
TILE = (60, 60, 900, 510)
CLAY, MORTAR, BOARD = (168, 120, 92), (176, 176, 170), (92, 84, 74)
RULE_MM = 1200  # the tile's long side
EDGE = 36  # 2 in: the strip along the edges is full


def draw() -> Image.Image:
    """The picture."""
    chance = random.Random(85)
    picture = Image.new("RGB", (WIDE, HIGH), BOARD)
    pen = ImageDraw.Draw(picture)
    left, top, right, bottom = TILE
    pen.rectangle(TILE, fill=MORTAR)
    # Troughs that stayed open between the ridges, across the short side.
    for x in range(left + EDGE + 6, right - EDGE, 18):
        y = top + chance.randint(EDGE, 120)
        while y < bottom - EDGE:
            length, half = chance.randint(30, 110), chance.uniform(2.4, 4.4)
            pen.rounded_rectangle((x - half, y, x + half, min(y + length, bottom - EDGE)), half, fill=CLAY)
            y += length + chance.randint(40, 120)
    # The empty corner, and the largest void.
    pen.polygon([(right, bottom), (right - 46, bottom), (right - 32, bottom - 22), (right, bottom - 36)], fill=CLAY)
    pen.ellipse((left + 420, top + 150, left + 484, top + 190), fill=CLAY)
    for _ in range(5000):
        x, y = chance.randint(left, right), chance.randint(top, bottom)
        shade = chance.randint(-14, 14)
        old = picture.getpixel((x, y))
        assert isinstance(old, tuple)
        pen.point((x, y), fill=tuple(max(0, min(255, part + shade)) for part in old))
    _rule(pen)
    return picture.filter(ImageFilter.GaussianBlur(1.1))


def _rule(pen: ImageDraw.ImageDraw) -> None:
    """A rule beside the tile, with a mark every 100 mm."""
    left, _, right, _ = TILE
    pen.rectangle((left, 18, right, 46), fill=(214, 190, 96))
    for mark in range(0, RULE_MM + 1, 100):
        x = left + (right - left) * mark / RULE_MM
        pen.line((x, 18, x, 34 if mark % 500 else 46), fill=(30, 30, 30), width=2)


def main(arguments: list[str]) -> int:
    """Write the picture; where to, with none given beside this program."""
    out = Path(arguments[0]) if arguments else Path(__file__).with_name("back.jpg")
    draw().save(out, quality=80)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
