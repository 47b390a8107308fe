"""Photos: what a day with many of them takes to keep, print and check. `python -m tests.bench.photos [COUNT ...]`.

Each is of 12 million dots and some 2.7 MB, of a lift of its own. Memory is the most that a process of its own had in
memory, libraries and all (getrusage, ru_maxrss).
"""

from __future__ import annotations

import io
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from PIL import Image, ImageDraw, ImageFilter

from fieldassist.checklist import commands as cmd
from fieldassist.day.photo import copy_of
from fieldassist.record import attachments
from fieldassist.record.log import DayLog
from tests.checklist.days import PHOTO, Bench

# The demands: what a day of so many photos may take.
COUNT, MOST_MB, MOST_FILE_MB = 46, 250, 20
_SIZE = (4032, 3024)


def ridged(size: tuple[int, int] = _SIZE) -> Image.Image:
    """The back of a lifted tile: ridges, bare places, and the grain of a camera."""
    wide, high = size
    image = Image.new("RGB", size, (150, 146, 140))
    draw = ImageDraw.Draw(image)
    for x in range(0, wide, wide // 60):
        draw.rectangle((x, 0, x + wide // 130, high), fill=(120, 115, 110))
    for n in range(60):
        x, y = n * 7919 % wide, n * 104729 % high
        draw.ellipse((x, y, x + wide // 30, y + high // 40), fill=(60, 60, 60))
    grain = Image.effect_noise(size, 40).convert("RGB")
    return Image.blend(image.filter(ImageFilter.GaussianBlur(2)), grain, 0.25)


def photo(back: Image.Image, number: int) -> bytes:
    """One photo, which differs from every other."""
    draw = ImageDraw.Draw(back)
    for bit in range(10):
        draw.rectangle((60 * bit, 0, 60 * bit + 59, 59), fill="black" if number >> bit & 1 else "white")
    paper = io.BytesIO()
    back.save(paper, "JPEG", quality=82)
    return paper.getvalue()


@dataclass
class Camera:
    """Takes photos, keeps them and their copies beside a day; bytes of both, and seconds that the copies took."""

    day: Path
    back: Image.Image
    photos: list[int] = field(default_factory=list)
    copies: list[int] = field(default_factory=list)
    spent: float = 0.0

    def take(self) -> cmd.AttachPhoto:
        data = photo(self.back, len(self.photos))
        began = time.perf_counter()
        copy = copy_of(data, "photo")
        self.spent += time.perf_counter() - began
        self.photos.append(len(data))
        self.copies.append(len(copy))
        kept, small = attachments.keep(self.day, data, ".jpg"), attachments.keep(self.day, copy, ".jpg")
        return cmd.AttachPhoto(file=kept.file, sha256=kept.sha256, copy_file=small.file, copy_sha256=small.sha256)


def keep_day(day: Path, count: int, back: Image.Image) -> Camera:
    """A day with so many lifts, each with its photo, at `day`."""
    bench, camera = Bench.begun(), Camera(day, back)
    bench.start("shower wall")
    turn = 0
    while len(camera.photos) < count:
        if turn % 8 == 0:
            bench.call("batch")
        for asked in (cmd.StartRound(section="tile"), cmd.AskLift()):
            if len(camera.photos) < count:
                bench.take(asked)
                _answer(bench, camera)
        turn += 1
    with DayLog.create(day) as log:
        log.append(bench.events)
    return camera


def _answer(bench: Bench, camera: Camera) -> None:
    """All that is asked; each photo is one of its own."""
    while (command := bench.next_answer()) is not None:
        bench.take(camera.take() if command is PHOTO else command)


def taken(*job: str) -> tuple[float, float, int]:
    """Memory [MB], processor time [s] and exit code of a job of the program, with the processes that it starts."""
    measure = (
        "import resource, subprocess, sys; code = subprocess.run(sys.argv[1:], capture_output=True).returncode;"
        "used = resource.getrusage(resource.RUSAGE_CHILDREN);"
        "print(used.ru_maxrss / 1024, used.ru_utime + used.ru_stime, code)"
    )
    command = (sys.executable, "-c", measure, sys.executable, "-m", "fieldassist", *job)
    memory, spent, code = subprocess.run(command, check=True, capture_output=True, text=True).stdout.split()
    return float(memory), float(spent), int(code)


def main(counts: list[int]) -> None:
    """Print what each number of photos takes."""
    back = ridged()
    for count in counts:
        with tempfile.TemporaryDirectory() as name:
            day = Path(name) / "day.db"
            camera = keep_day(day, count, back)
            large, small = sum(camera.photos) / count / 1e6, sum(camera.copies) / count / 1e3
            each = camera.spent / count
            print(f"{count} photos of {large:.1f} MB, copies of {small:.0f} kB, made in {each:.2f} s each")
            pdf, bundle = day.with_name("day.pdf"), day.with_suffix(".bundle")
            for told, job, made in (
                ("print", ("report", str(day), "--out", str(pdf)), pdf),
                ("bundle", ("bundle", str(day), "--out", str(bundle)), bundle),
                ("verify the PDF", ("verify", str(pdf)), pdf),
                ("verify the bundle", ("verify", str(bundle)), bundle),
                ("reprint the PDF", ("reprint", str(pdf), "--out", str(day.with_name("again.pdf"))), pdf),
            ):
                memory, spent, code = taken(*job)
                size = made.stat().st_size / 1e6
                print(f"  {told}: {memory:.0f} MB of memory, {spent:.1f} s, {size:.1f} MB of file (exit code {code})")
            print(f"  printed again the same: {pdf.read_bytes() == day.with_name('again.pdf').read_bytes()}")
    print(f"demands for {COUNT}: print under {MOST_MB} MB of memory and {MOST_FILE_MB} MB of file")
    print(f"the most that this run had: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    main([int(count) for count in sys.argv[1:]] or [COUNT])
