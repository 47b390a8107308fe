"""Every reader of a file from elsewhere, in a process of its own: what it answered, and what that took.

`python -m tests.hostile.bounded READER FILE ...` prints a line of JSON for each file.
"""

from __future__ import annotations

import contextlib
import json
import re
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from fieldassist.trade.message import Refused

MOST_MB = 256
MOST_S = 30.0


@dataclass(frozen=True)
class Answered:
    """told: the code of a refusal, "taken" where there was none, or "raised NAME: ..." for what should never come.

    megabytes: the most that the process had in memory, libraries and all, or one that it started (then of all files so
    far); seconds: of processor, that of such processes not counted.
    """

    told: str
    megabytes: int
    seconds: float


def _photo(path: Path) -> None:
    from fieldassist.day.photo import copy_of, look_at, read, without_places
    from fieldassist.report.pictures import scaled

    data = read(path)
    look_at(data, path.name, 1600)
    without_places(data, path.name)
    copy_of(data, path.name)
    scaled(data, 480, 360)


def _printed(path: Path) -> None:
    from fieldassist.report.pictures import scaled

    scaled(path.read_bytes(), 480, 360)


def _sound(path: Path) -> None:
    from fieldassist.voice.audio import read_audio, without_silence

    without_silence(read_audio(path))


def _checklist(path: Path) -> None:
    from fieldassist.checklist.loader import load_checklist

    load_checklist(path)


def _plan(path: Path) -> None:
    from fieldassist.checklist.loader import load_plan

    load_plan(path)


def _bundle(path: Path) -> None:
    from fieldassist.record.bundle import open_bundle, take_in

    with tempfile.TemporaryDirectory() as folder:
        take_in(open_bundle(path), Path(folder))


def _log(path: Path) -> None:
    from fieldassist.record.log import DayLog

    DayLog.open(path, read_only=True).close()


def _recover(path: Path) -> None:
    from fieldassist.record.recover import recover

    recover(path)


def _verify(path: Path) -> None:
    from fieldassist.proof.verify import verify

    judgment = verify(path)
    if judgment.exit_code:
        raise Refused(judgment.told[-2])


def _examine(path: Path) -> None:
    from fieldassist.proof.examine import examine
    from fieldassist.proof.known import NOTHING_KNOWN

    with tempfile.TemporaryDirectory() as folder:
        examine(path, NOTHING_KNOWN, Path(folder))


def _print(path: Path) -> None:
    from fieldassist.checklist.listing import Listing
    from fieldassist.facts import facts_of
    from fieldassist.language import Words
    from fieldassist.record.log import DayLog
    from fieldassist.report.daily import print_pages, record_of

    words = Words("en", "metric")
    with DayLog.open(path, read_only=True) as log:
        listing = Listing()
        for event in log.events:
            words(listing.line(event))
        facts_of(log.events, log.hashes, words)
        print_pages(record_of(log))


def _resume(path: Path) -> None:
    from fieldassist.day.clock import SystemClock
    from fieldassist.day.session import Day

    Day.resume(path, SystemClock(), read_only=True).close()


def _lines(path: Path) -> None:
    from fieldassist.record.islands import islands_of
    from fieldassist.record.lines import further_in, other_in, texts_in

    copy = path.read_bytes()
    further_in(copy, 0, "0" * 64)
    other_in(copy, ())
    islands_of(texts_in(copy), texts_in(copy))


def _key(path: Path) -> None:
    from fieldassist.record.keys import read_public

    read_public(str(path))


def _roster(path: Path) -> None:
    from fieldassist.record.roster import load_roster

    load_roster(path)


def _receipt(path: Path) -> None:
    from fieldassist.record.receipt import load_receipt, read_receipt

    read_receipt(load_receipt(path))


def _carried(path: Path) -> None:
    from fieldassist.record.carried import drawn_words, read_carried

    read_carried(path, " ".join(drawn_words()[:6]))


def _certificate(path: Path) -> None:
    from fieldassist.record.certificate import certificate_name

    with contextlib.suppress(ValueError):  # what it says that it raises
        certificate_name(path.read_bytes())


def _signature(path: Path) -> None:
    from fieldassist.record.cms import read_signature

    read_signature(path.read_bytes(), bytes(32))


def _strict(path: Path) -> None:
    from fieldassist.proof.strict import read_strict

    read_strict(path.read_bytes())


def _stamp(path: Path) -> None:
    from cryptography import x509
    from cryptography.hazmat.primitives.serialization import Encoding

    from fieldassist.record.stamp import check_stamp, read_stamp
    from tests.small_day import EDWIN_SIGNS

    answer = path.read_bytes()
    read_stamp(answer)
    der = x509.load_der_x509_certificate(EDWIN_SIGNS.certificate)
    check_stamp(answer, der.public_bytes(Encoding.PEM))


def _root(path: Path) -> None:
    from fieldassist.record.stamp import read_root

    read_root(path)


def _held(path: Path) -> None:
    from fieldassist.proof.held import read_held

    with tempfile.TemporaryDirectory() as folder:
        read_held(path, Path(folder))


def _model(path: Path) -> None:
    """One file of the shipped model is this one; its name has "@" for "/"."""
    from fieldassist.places import shipped
    from fieldassist.voice.recognizer import VoskRecognizer

    model = shipped("models") / "plainspeech-en"
    with tempfile.TemporaryDirectory() as folder:
        for file in filter(Path.is_file, model.rglob("*")):
            link = Path(folder) / file.relative_to(model)
            link.parent.mkdir(parents=True, exist_ok=True)
            ours = str(file.relative_to(model)) == path.name.replace("@", "/")
            link.symlink_to(path if ours else file)
        VoskRecognizer(Path(folder))


def _script(path: Path) -> None:
    from fieldassist.checklist.loader import load_plan
    from fieldassist.rehearsal.script import read_script

    read_script(path, load_plan(Path(__file__).parents[1] / "rehearse" / "plan.yaml"))


READERS: dict[str, Callable[[Path], None]] = {
    "photo": _photo,
    "printed photo": _printed,
    "sound": _sound,
    "checklist": _checklist,
    "plan": _plan,
    "bundle": _bundle,
    "log": _log,
    "recover": _recover,
    "verify": _verify,
    "examine": _examine,
    "print": _print,
    "resume": _resume,
    "lines": _lines,
    "key": _key,
    "roster": _roster,
    "receipt": _receipt,
    "carried": _carried,
    "certificate": _certificate,
    "signature": _signature,
    "strict": _strict,
    "stamp": _stamp,
    "root": _root,
    "held": _held,
    "model": _model,
    "script": _script,
}


def read(reader: str, path: Path) -> Answered:
    """What a reader answers about a file here, with the most memory that this process had since."""
    began = time.process_time()
    _forget_peak()
    try:
        READERS[reader](path)
        told = "taken"
    except Refused as refused:
        told = refused.told.code
    except Exception as error:
        told = f"raised {type(error).__name__}: {str(error)[:200]}"
    return Answered(told, _peak_mb(), round(time.process_time() - began, 2))


def _forget_peak() -> None:
    # Linux, proc(5): 5 sets the peak of resident memory back to what is resident now.
    Path("/proc/self/clear_refs").write_text("5")


def _peak_mb() -> int:
    found = re.search(r"VmHWM:\s+(\d+) kB", Path("/proc/self/status").read_text())
    assert found is not None
    return max(int(found[1]), resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss) // 1024


def answered_apart(reader: str, paths: Sequence[Path]) -> list[Answered]:
    """What a reader answers about files, one after the other in a fresh process."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.hostile.bounded", reader, *map(str, paths)],
        capture_output=True,
        text=True,
        timeout=len(paths) * MOST_S + 60,
        check=True,
    )
    return [Answered(**json.loads(line)) for line in done.stdout.splitlines()]


if __name__ == "__main__":
    for name in sys.argv[2:]:
        print(json.dumps(asdict(read(sys.argv[1], Path(name)))), flush=True)
