"""Whole files of every kind, from which broken ones are made."""

from __future__ import annotations

import io
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import numpy as np
import soundfile
from PIL import Image

from fieldassist.checklist.plan import Role
from fieldassist.places import shipped
from fieldassist.record.carried import write_carried
from fieldassist.record.cms import sign_hash
from fieldassist.record.keys import SigningKey, public_pem
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import join_lines
from fieldassist.record.receipt import make_receipt, sealed_head
from fieldassist.record.roster import RosterEntry, make_roster, written_time
from fieldassist.record.stamp import write_request
from fieldassist.report.signed import sign_pages
from tests.authority import Authority
from tests.fuzz.breaking import as_log
from tests.hostile.test_photos import jpeg, png
from tests.proof.test_verify import Handed, begin, hand_over, seal
from tests.small_day import EDWIN, EDWIN_SIGNS

MADE = datetime(2026, 3, 17, 8, tzinfo=UTC)
OWNER = SigningKey("olga", Role.OWNER, b"\x03" * 32)
_TESTS = Path(__file__).parents[1]
_GOLDEN = _TESTS / "golden"


@cache
def seeds(folder: Path) -> dict[str, tuple[tuple[str, bytes], ...]]:
    """By reader: files that it reads, with their names. folder: an empty one, to make them in."""
    handed = _handed(folder)
    day, pdf, bundle = (("day" + path.suffix, path.read_bytes()) for path in handed.files)
    with DayLog.open(handed.day) as log:
        signed = ("signed.pdf", sign_pages(log, EDWIN_SIGNS, log.events[-1].at).path.read_bytes())
        lines = ("day.db.lines", join_lines(log.texts))
        receipt = make_receipt(sealed_head(log.events, log.hashes), OWNER, MADE).to_bytes()
    one = RosterEntry(name="edwin", role=Role.FOREMAN, record_key=EDWIN.public_key, since=written_time(MADE))
    roster = make_roster("Quillhaven Tile", [one], OWNER, MADE).to_bytes()
    golden = tuple((f"{path.stem}.db", _golden(path, folder)) for path in sorted(_GOLDEN.glob("*.jsonl")))
    model = shipped("models") / "plainspeech-en"
    return {
        "photo": (("a.jpg", jpeg()), ("b.jpg", jpeg(progressive=True)), ("c.png", png())),
        "printed photo": (("a.jpg", jpeg()), ("c.png", png()), ("d.png", _palette())),
        "sound": tuple((f"a.{kind}", _sound(kind)) for kind in ("wav", "flac", "ogg", "aiff", "mp3")),
        "checklist": tuple((path.name, path.read_bytes()) for path in sorted(shipped("checklists").glob("*.yaml"))[:3]),
        "plan": (("site.yaml", (_TESTS / "site.yaml").read_bytes()),),
        "script": (("day.txt", (_TESTS / "rehearse" / "honest-day.txt").read_bytes()),),
        "bundle": (bundle,),
        "log": (day,),
        "recover": (day,),
        "print": golden,
        "resume": golden,
        "lines": (lines,),
        "examine": (day, pdf, bundle, lines, signed, signed),
        "held": (day, pdf, bundle, signed),
        "strict": (signed,),
        "certificate": (("edwin.der", EDWIN_SIGNS.certificate),),
        "signature": (("signature.der", sign_hash(bytes(32), EDWIN_SIGNS)),),
        "carried": (("edwin.carried.json", _carried(folder)),),
        "stamp": (("1.tsr", _stamp(folder)),),
        "root": (("root.pem", Authority(folder / "authority").root),),
        "key": (("edwin.pem", public_pem(EDWIN.public_key).encode()),),
        "roster": (("roster.json", roster),),
        "receipt": (("1.json", receipt),),
        "model": tuple(
            (name.replace("/", "@"), (model / name).read_bytes())
            for name in ("conf/model.conf", "conf/mfcc.conf", "graph/words.txt", "graph/disambig_tid.int")
        ),
    }


def _handed(folder: Path) -> Handed:
    log = begin(folder / "day.db")
    seal(log, EDWIN_SIGNS)
    return hand_over(log)


def _carried(folder: Path) -> bytes:
    write_carried(folder / "carried", b"{}")
    return (folder / "carried").read_bytes()


def _stamp(folder: Path) -> bytes:
    with DayLog.open(folder / "day.db", read_only=True) as log:
        request = write_request(folder / "day.db", log.texts[-1], len(log.events))
    return Authority(folder / "clock").answer(request).read_bytes()


def _golden(path: Path, folder: Path) -> bytes:
    """A day of every kind of step, as a log."""
    return as_log(folder / f"{path.stem}.db", path.read_text("utf-8").splitlines())


def _sound(kind: str) -> bytes:
    out = io.BytesIO()
    tone = 0.3 * np.sin(np.arange(8000) / 5)
    soundfile.write(out, np.stack([tone, tone], axis=1), 8000, format=kind)
    return out.getvalue()


def _palette() -> bytes:
    out = io.BytesIO()
    Image.radial_gradient("L").convert("P").save(out, "PNG", transparency=3)
    return out.getvalue()
