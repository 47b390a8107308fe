"""What a day's pages cost by events and by photos, as ratios against named alternatives: `python -m tests.bench.pages`.

`python -m tests.bench.pages print FOLDER` prints the day that lies there; the other command does so in a process of its
own, to read what memory that took.
"""

from __future__ import annotations

import io
import json
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path

from PIL import Image, ImageChops, ImageFilter
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from fieldassist.record.chain import check_texts
from fieldassist.report.daily import Record, write_daily_pdf
from tests.report.days import large

TILES = 50, 200, 400
# Which are lifted 46 times, with a photo each.
TILES_OF_PHOTOS, MEGABYTES = 100, 2.7


def main() -> None:
    """Print one line a measure."""
    with tempfile.TemporaryDirectory() as name:
        _by_events(Path(name))
        _by_photos(Path(name))


def _by_events(folder: Path) -> None:
    """Processor time of days that grow, and of each thousand events more."""
    spent: list[tuple[int, float]] = []
    for tiles in TILES:
        record = large(tiles).record()
        ours = _least(partial(write_daily_pdf, record, folder / "day.pdf"))
        bare = _least(partial(_bare, record, folder / "bare.pdf"))
        pages = write_daily_pdf(record, folder / "day.pdf").pages
        spent.append((len(record.events), ours))
        each = f"{ours / len(record.events) * 1000:.2f} s a thousand events"
        print(
            f"{tiles} tiles, {len(record.events)} events, {pages} pages: {ours:.2f} s, {each} (target 0.3), "
            f"{ours / bare:.1f} x one bare reportlab line an event"
        )
    (few, least), (many, most) = spent[0], spent[-1]
    print(f"from {few} to {many} events: {(most - least) / (many - few) * 1000:.2f} s each thousand more")


def _least(run: Callable[[], object], times: int = 3) -> float:
    """The least processor time of several runs [s]."""
    spent = []
    for _ in range(times):
        start = time.process_time()
        run()
        spent.append(time.process_time() - start)
    return min(spent)


def _bare(record: Record, path: Path) -> None:
    canvas = Canvas(str(path))
    for number, text in enumerate(record.texts):
        canvas.drawString(40, 800 - 14 * (number % 55), text[:100])
        if number % 55 == 54:
            canvas.showPage()
    canvas.save()


def _by_photos(folder: Path) -> None:
    """Memory and size of a day with the photos of a phone, against a PDF that holds the photos as they were taken."""
    quality = _quality()
    taken: list[bytes] = []

    def camera(number: int) -> bytes:
        taken.append(_photo(number, quality))
        return taken[-1]

    site = large(TILES_OF_PHOTOS, camera)
    lies = folder / "photos"
    (lies / "attached").mkdir(parents=True)
    record = site.record(lies / "attached")
    (lies / "events.jsonl").write_text("".join(f"{text}\n" for text in record.texts), encoding="utf-8")
    (lies / "head.json").write_text(json.dumps(record.hashes[-1]), encoding="utf-8")
    mean = sum(map(len, taken)) / len(taken) / 1e6
    print(f"a day with {len(taken)} photos of {mean:.1f} MB, {len(record.events)} events:")
    ours, start = _memory("print", str(lies)), _memory("nothing")
    size = (lies / "day.pdf").stat().st_size
    as_taken = folder / "as-taken.pdf"
    canvas = Canvas(str(as_taken))
    for data in taken:
        canvas.drawImage(ImageReader(io.BytesIO(data)), 0, 0, 200, 150)
        canvas.showPage()
    canvas.save()
    against = "a process that only loads the program"
    print(f"  peak memory {ours:.0f} MB (target 250), {ours / start:.1f} x that of {against}")
    ratio, against = size / as_taken.stat().st_size, "a PDF of nothing but the photos as they were taken"
    print(f"  file {size / 1e6:.1f} MB (target 20), {ratio:.2f} x {against}")


@cache
def _grain() -> Image.Image:
    """A picture of 12 megapixels with the grain of a phone's."""
    grain = Image.effect_noise((2000, 1500), 60).filter(ImageFilter.GaussianBlur(1.2)).resize((4000, 3000))
    return Image.merge("RGB", (grain, grain.rotate(180), grain.transpose(Image.Transpose.FLIP_LEFT_RIGHT)))


def _photo(number: int, quality: int) -> bytes:
    """A photo that differs from every other all over."""
    paper = io.BytesIO()
    ImageChops.offset(_grain(), 37 * number, 11 * number).save(paper, "JPEG", quality=quality)
    return paper.getvalue()


def _quality() -> int:
    """With which a photo weighs about MEGABYTES."""
    return next(q for q in range(95, 10, -2) if len(_photo(0, q)) <= MEGABYTES * 1e6)


def _memory(*task: str) -> float:
    """Peak memory of a task in a process of its own [MB]."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.pages", *task], check=True, capture_output=True, text=True
    )
    return float(done.stdout)


def _peak() -> float:
    """The peak memory of this process [MB]; that of `resource` is its parent's too (proc(5), VmHWM)."""
    status = Path("/proc/self/status").read_text(encoding="utf-8")
    return next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM:")) / 1024


def _print_day(folder: Path) -> None:
    texts = (folder / "events.jsonl").read_text(encoding="utf-8").splitlines()
    chain = check_texts(texts, json.loads((folder / "head.json").read_text(encoding="utf-8")))
    assert chain.bad is None
    record = Record(chain.events, texts, chain.hashes, folder / "attached", "fieldassist of a bench")
    write_daily_pdf(record, folder / "day.pdf")


if __name__ == "__main__":
    match sys.argv[1:]:
        case []:
            main()
        case ["print", given]:
            _print_day(Path(given))
            print(_peak())
        case ["nothing"]:
            print(_peak())
        case _:
            sys.exit(__doc__)
