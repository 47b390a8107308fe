"""The README's pictures of pages: two of a fresh demo's daily log, and the first of its trial. Needs poppler-utils; run
from the checkout."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent


def main() -> int:
    """Play the demos, draw their first pages into assets/daily-log.png and assets/trial.png."""
    with tempfile.TemporaryDirectory() as folder:
        for job, pages, name in (((), (1, 2), "daily-log.png"), (("--trial",), (1,), "trial.png")):
            out = Path(folder) / name
            subprocess.run([sys.executable, "-m", "fieldassist", "demo", *job, "--out", str(out)], check=True)
            draw(out / "daily-log.pdf", pages, HERE / name)
    return 0


def draw(pdf: Path, pages: tuple[int, ...], picture: Path) -> None:
    """These pages side by side."""
    drawn = []
    with tempfile.TemporaryDirectory() as folder:
        for number in pages:
            command = ["pdftoppm", "-r", "60" if len(pages) > 1 else "90", "-f", str(number), "-l", str(number)]
            page = Path(folder) / f"page{number}"
            subprocess.run([*command, "-png", "-singlefile", str(pdf), str(page)], check=True)
            drawn.append(page.with_suffix(".png"))
        from PIL import Image  # comes with reportlab

        images = [Image.open(page).convert("RGB") for page in drawn]
        width = sum(image.width + 10 for image in images) + 10
        sheet = Image.new("RGB", (width, max(image.height for image in images) + 20), "#bebebe")
        left = 10
        for image in images:
            sheet.paste(image, (left, 10))
            left += image.width + 10
        sheet.quantize(64, Image.Quantize.MAXCOVERAGE).save(picture, optimize=True)


if __name__ == "__main__":
    sys.exit(main())
