"""The README's picture: two pages of the daily log of a fresh demo. Needs poppler-utils; run from the checkout."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent


def main() -> int:
    """Play the demo, draw its first two pages side by side into assets/daily-log.png."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)
        subprocess.run([sys.executable, "-m", "fieldassist", "demo", "--out", str(out)], check=True)
        pages = []
        for number in (1, 2):
            command = ["pdftoppm", "-r", "60", "-f", str(number), "-l", str(number), "-png", "-singlefile"]
            subprocess.run([*command, str(out / "daily-log.pdf"), str(out / f"page{number}")], check=True)
            pages.append(out / f"page{number}.png")
        from PIL import Image  # comes with reportlab

        pictures = [Image.open(page).convert("RGB") for page in pages]
        width = sum(p.width for p in pictures) + 30
        sheet = Image.new("RGB", (width, max(p.height for p in pictures) + 20), "#bebebe")
        left = 10
        for picture in pictures:
            sheet.paste(picture, (left, 10))
            left += picture.width + 10
        sheet.quantize(64, Image.Quantize.MAXCOVERAGE).save(HERE / "daily-log.png", optimize=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
