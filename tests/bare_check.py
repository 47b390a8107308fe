"""python -m tests.bare_check: what somebody gets who installs no more than it takes to check a day.

Builds the wheel, installs it without extras into a fresh environment, measures what came with it, and there checks a
signed file, a changed one and a trial, prints a day and asks for what only the tablet can do.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

import pikepdf

from fieldassist.checklist.moment import Moment
from fieldassist.extras import TABLET
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import EVENTS
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.report.signed import write_signed_pages
from tests.browsers.cases import certified, entry_for, roster_of, stored, worked_day
from tests.golden import log_of
from tests.report.conftest import RUTH

ROOT = Path(__file__).parents[1]
LARGEST_MB = 120.0
# What a new environment has before anything is put into it.
_ITS_OWN = ("pip", "setuptools", "pkg_resources", "_distutils_hack")


def bare_environment(folder: Path) -> Path:
    """A fresh environment with the wheel and what it asks for; gives its folder of programs."""
    subprocess.run([sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", folder / "wheel", ROOT], check=True)
    (wheel,) = (folder / "wheel").iterdir()
    venv.create(folder / "bare", with_pip=True)
    programs = folder / "bare" / ("Scripts" if os.name == "nt" else "bin")
    subprocess.run([programs / "python", "-m", "pip", "install", "-q", wheel], check=True)
    return programs


def megabytes(folder: Path) -> float:
    """What was installed, in MB (10^6 bytes): everything but what the environment came with."""
    (site,) = folder.glob("bare/lib/python*/site-packages")
    own = [each for each in site.iterdir() if not each.name.startswith(_ITS_OWN)]
    files = [file for each in own for file in ([each] if each.is_file() else each.rglob("*")) if file.is_file()]
    return sum(file.stat().st_size for file in files) / 1e6


def files_to_check(folder: Path) -> dict[str, Path]:
    """A day's log with its signed file, the same with a changed reading, the list of keys, and a trial."""
    site = worked_day()
    day = stored(folder, site, site.record().texts)
    made = {name: folder / name for name in ("signed.pdf", "changed.pdf", "roster.json", "trial.pdf")}
    with DayLog.open(day, read_only=True) as log:
        write_signed_pages(record_of(log), certified(RUTH), made["signed.pdf"], Moment(
            wall="2026-03-04T12:00:00+01:00", mono=0.0, boot="a"))  # fmt: skip
    with pikepdf.open(made["signed.pdf"]) as pdf:
        spec = next(x for x in pdf.objects if isinstance(x, pikepdf.Dictionary) and "/EF" in x and x.UF == EVENTS)
        spec.EF.F.write(spec.EF.F.read_bytes().replace(b'"value":"92"', b'"value":"96"'))
        changed = io.BytesIO()
        pdf.save(changed)
    made["changed.pdf"].write_bytes(changed.getvalue())
    made["roster.json"].write_bytes(roster_of(entry_for(RUTH)))
    with DayLog.create(folder / "trial.db") as log:
        log.append_texts(log_of("trial").read_text(encoding="utf-8").splitlines()[:260])
        write_daily_pdf(record_of(log), made["trial.pdf"])
    return made | {"day": day}


def main() -> int:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        programs = bare_environment(folder)
        size = megabytes(folder)
        print(f"installed: {size:.0f} MB (at most {LARGEST_MB:.0f})")
        wrong = [] if size < LARGEST_MB else ["too large"]
        files = files_to_check(folder)
        print_of = folder / "print.pdf"
        for expected, told, *job in (
            (0, "", "verify", files["signed.pdf"], "--roster", files["roster.json"]),
            (3, "", "verify", files["signed.pdf"]),
            (1, "", "verify", files["changed.pdf"], "--roster", files["roster.json"]),
            (3, "numpy", "verify", files["trial.pdf"]),
            (0, "", "report", files["day"], "--out", print_of),
            (0, "", "events", files["day"]),
            (2, "fieldassist[tablet]", "tablet"),
            (2, "fieldassist[tablet]", "hear", files["day"]),
        ):
            here = {**os.environ, "PYTHONPATH": "", "FIELDASSIST_DATA": str(folder / "data")}
            done = subprocess.run(
                [programs / "fieldassist", *job], capture_output=True, text=True, env=here, cwd=folder
            )
            said = done.stdout + done.stderr
            good = done.returncode == expected and told in said and "Traceback" not in said
            print(f"{'as it should' if good else 'WRONG'}: {' '.join(map(str, job))}: exit code {done.returncode}")
            if not good:
                wrong.append(said)
        missing = f"import importlib.util as i; print([n for n in {sorted(TABLET)} if i.find_spec(n)])"
        there = subprocess.run([programs / "python", "-c", missing], capture_output=True, text=True, cwd=folder).stdout
        print(f"of the tablet's libraries there are: {there.strip()}")
        wrong += [] if there.strip() == "[]" else [there]
    for each in wrong:
        print(each)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
