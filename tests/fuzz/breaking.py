"""Ways to break a file: its bytes, the words of its format, or its values with every hash made to fit again."""

from __future__ import annotations

import hashlib
import json
import sqlite3
import tempfile
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path
from random import Random
from typing import Any

import rfc8785

from fieldassist.record.chain import GENESIS
from fieldassist.record.log import DayLog

# What means something to a reader of each kind, put where it is not expected.
WORDS: dict[str, tuple[bytes, ...]] = {
    ".pdf": (
        b" obj ", b" endobj ", b"stream\n", b"\nendstream", b"<<", b">>", b"[", b"]", b" R ", b"/Length 99999999 ",
        b"/Kids [1 0 R]", b"/Filter /FlateDecode ", b"/Prev 0 ", b"startxref\n0\n", b"%%EOF\n", b"trailer",
        b"xref\n0 1\n", b"/Type /ObjStm ", b"/Encrypt 1 0 R ", b"(", b"\\", b"/DCTDecode ", b"/EF ",
        b"/Names ", b"/Count -1 ",
    ),
    ".yaml": (
        b"&a ", b"*a", b"<<: *a\n", b"[", b"{", b"- ", b"? ", b": ", b"|", b">", b"!!python/object:os.system ",
        b"\t", b"---\n", b"'", b'"', b"%YAML 9\n", b"9" * 400, b"null", b"\"\\e[2J\"", b"1200 moons", b"1/0 mm",
    ),
    ".bundle": (b"PK\3\4", b"PK\1\2", b"PK\5\6", b"\xff" * 4, b"../", b"events.jsonl", b"left_out", b"\0\0\0\0"),
    ".jpg": (
        b"\xff\xd8", b"\xff\xd9", b"\xff\xda", b"\xff\xc2", b"\xff\xe1\xff\xff", b"\xff\xff", b"Exif\0\0", b"MM\0*",
        b"\xff\xdd",
    ),
    ".png": (b"IHDR", b"IDAT", b"IEND", b"eXIf", b"PLTE", b"tRNS", b"zTXt", b"\xff\xff\xff\xff", b"\0\0\0\0"),
    ".txt": (b"9999999999", b"\0", b"\n\n", b"\xff", b"#nonterm", b"@", b"expect ", b"07:00 ", b"every "),
}  # fmt: skip
_NUMBERS = (b"0", b"-1", b"1", b"255", b"65536", b"4294967295", b"99999999999999999999", b"1e999", b"0.5")
SENSELESS: tuple[Any, ...] = (
    None, True, "", "x", "x" * 3000, "\u202e\x00", "2026-13-45", "1/0", "430", "-50", "9" * 39, 0, -1, 10**6, 2**53 - 1,
    1e308, -1e300, 0.1, [], {}, [[]], "edwin", "hall floor", "T09:00", "9999-12-31T23:59:59+14:00",
)  # fmt: skip


def broken(data: bytes, name: str, others: Sequence[bytes], draw: Random) -> bytes:
    """The same file broken in one to four places."""
    suffix = Path(name).suffix
    if suffix in (".db", ".lines") and draw.random() < 0.5:
        return _senseless_day(data, suffix, draw)
    if suffix == ".json" and draw.random() < 0.5:
        raw = json.loads(data)
        _senseless(raw, draw)
        return rfc8785.dumps(raw)
    for _ in range(draw.randint(1, 4)):
        data = draw.choice(_WAYS)(data, draw)
        if suffix in WORDS and draw.random() < 0.5:
            at = draw.randrange(len(data) + 1)
            data = data[:at] + draw.choice(WORDS[suffix]) + data[at + draw.choice((0, 0, 4)) :]
        if draw.random() < 0.1:
            other = draw.choice(others)
            data = data[: draw.randrange(len(data) + 1)] + other[draw.randrange(len(other)) :]
    return data


def _flip(data: bytes, draw: Random) -> bytes:
    if not data:
        return data
    at = draw.randrange(len(data))
    return data[:at] + bytes([data[at] ^ 1 << draw.randrange(8)]) + data[at + 1 :]


def _cut(data: bytes, draw: Random) -> bytes:
    at = draw.randrange(len(data) + 1)
    return data[:at] + data[at + draw.choice((1, 2, 4, 40, 4000)) :]


def _end(data: bytes, draw: Random) -> bytes:
    return data[: draw.randrange(len(data) + 1)]


def _zeros(data: bytes, draw: Random) -> bytes:
    at, long = draw.randrange(len(data) + 1), draw.choice((1, 4, 100, 4096))
    return data[:at] + bytes(min(long, len(data) - at)) + data[at + long :]


def _twice(data: bytes, draw: Random) -> bytes:
    at = draw.randrange(len(data) + 1)
    return data[: at + draw.choice((1, 40, 4000))] + data[at:]


def _random(data: bytes, draw: Random) -> bytes:
    at = draw.randrange(len(data) + 1)
    return data[:at] + draw.randbytes(draw.randint(1, 16)) + data[at + draw.randint(0, 16) :]


def _line(data: bytes, draw: Random) -> bytes:
    """A line goes, stands twice, or changes its place."""
    lines = data.split(b"\n")
    at, to = draw.randrange(len(lines)), draw.randrange(len(lines))
    how = draw.randrange(3)
    line = lines[at] if how == 1 else lines.pop(at)
    if how:
        lines.insert(to, line)
    return b"\n".join(lines)


def _number(data: bytes, draw: Random) -> bytes:
    """The next number is another."""
    begun = next((i for i in range(draw.randrange(len(data) + 1), len(data)) if data[i : i + 1].isdigit()), len(data))
    end = next((i for i in range(begun, len(data)) if not data[i : i + 1].isdigit()), len(data))
    return data[:begun] + draw.choice(_NUMBERS) + data[end:]


_WAYS: tuple[Callable[[bytes, Random], bytes], ...] = (_flip, _cut, _end, _zeros, _twice, _random, _line, _number)


# --- values -------------------------------------------------------------------------------------------------------


def _senseless(raw: Any, draw: Random) -> None:
    """One value, or a member, is another, is gone, or is that of another place."""
    places = list(_places(raw))
    if not places:
        return
    holder, key = draw.choice(places)
    how = draw.randrange(4)
    if how == 0 and isinstance(holder, dict):
        del holder[key]
    elif how == 1:
        other, at = draw.choice(places)
        holder[key] = json.loads(json.dumps(other[at])) if at in other or isinstance(other, list) else None
    else:
        holder[key] = draw.choice(SENSELESS)


def _places(raw: Any) -> list[tuple[Any, Any]]:
    inside = raw.items() if isinstance(raw, dict) else enumerate(raw) if isinstance(raw, list) else ()
    found: list[tuple[Any, Any]] = []
    for key, value in inside:
        found.append((raw, key))
        found += _places(value)
    return found


def _senseless_day(data: bytes, suffix: str, draw: Random) -> bytes:
    """The day with events that say other things, chained anew by somebody who knows how."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "day.db"
        if suffix == ".lines":
            raws = [json.loads(line) for line in data.splitlines()]
        else:
            path.write_bytes(data)
            with closing(sqlite3.connect(path)) as database:
                raws = [json.loads(text) for (text,) in database.execute("SELECT text FROM events ORDER BY seq")]
        for _ in range(draw.randint(1, 2)):
            _disorder(raws, draw)
        texts = _chained(raws)
        if suffix == ".lines":
            return "".join(f"{text}\n" for text in texts).encode()
        return as_log(Path(folder) / "made.db", texts)


def _disorder(raws: list[Any], draw: Random) -> None:
    how = draw.randrange(6)
    at, to = draw.randrange(len(raws)), draw.randrange(len(raws))
    if how == 0:
        del raws[at]
    elif how == 1:
        raws.insert(to, json.loads(json.dumps(raws[at])))
    elif how == 2:
        raws.insert(to, raws.pop(at))
    else:
        _senseless(raws[at].get("body"), draw)
    for number, raw in enumerate(raws, start=1):
        if draw.random() < 0.98:
            raw["seq"], raw["id"] = number, f"e{number}"


def _chained(raws: Sequence[Any]) -> list[str]:
    texts, before = [], GENESIS
    for raw in raws:
        texts.append(rfc8785.dumps({**raw, "prev": before}).decode("utf-8"))
        before = hashlib.sha256(texts[-1].encode("utf-8")).hexdigest()
    return texts


def as_log(path: Path, texts: Sequence[str]) -> bytes:
    """A log of these texts, made at `path`, whether they read as events or not."""
    DayLog.create(path).close()
    with closing(sqlite3.connect(path)) as database:
        for number, text in enumerate(texts, start=1):
            row = (number, json.loads(text).get("id"), text, hashlib.sha256(text.encode("utf-8")).hexdigest())
            database.execute("INSERT OR IGNORE INTO events (seq, id, text, hash) VALUES (?, ?, ?, ?)", row)
        database.commit()
        database.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return path.read_bytes()
