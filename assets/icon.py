"""The window's icon: ridges of mortar on a base and a tile that comes down on them. `python assets/icon.py`."""

from __future__ import annotations

from pathlib import Path

from PIL import Image, ImageDraw

SIDE, TIMES = 256, 4


def main() -> None:
    """Draw assets/icon.png, in the colours of the day theme."""
    side = SIDE * TIMES
    image = Image.new("RGB", (side, side), "#f4f1ea")
    pen = ImageDraw.Draw(image)
    pen.rectangle((0, side * 0.86, side, side), fill="#15191d")
    ridge = side / 9
    for number in range(4):
        left = ridge * (0.75 + 2.15 * number)
        pen.rectangle((left, side * 0.56, left + ridge * 1.1, side * 0.86), fill="#123f5c")
    pen.polygon(
        [(side * 0.05, side * 0.36), (side * 0.95, side * 0.18), (side * 0.95, side * 0.32), (side * 0.05, side * 0.5)],
        fill="#ddd6c6",
        outline="#15191d",
        width=TIMES * 4,
    )
    image.resize((SIDE, SIDE), Image.Resampling.LANCZOS).quantize(32).save(
        Path(__file__).resolve().parent / "icon.png", optimize=True
    )


if __name__ == "__main__":
    main()
