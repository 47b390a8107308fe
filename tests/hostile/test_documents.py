"""PDFs, bundles and databases that claim or unfold to too much: what each reader of them takes is bounded."""

from __future__ import annotations

import io
import os
import sqlite3
import struct
import zlib
from contextlib import closing
from functools import cache
from pathlib import Path

import pikepdf
import pytest

from fieldassist.proof.apart import LEAST_MEMORY, MOST_MEMORY, memory_for
from fieldassist.record.manifest import EVENTS
from tests.hostile.bounded import MOST_MB, MOST_S, answered_apart
from tests.proof.test_verify import Handed, embedded, handed

__all__ = ["handed"]

_MANY = 200 * 1024 * 1024


@cache
def unfolding(size: int = _MANY) -> bytes:
    """A stream of zeros that unfolds to so many bytes (RFC 1951): about a thousandth of them."""
    packer = zlib.compressobj(9)
    return b"".join(packer.compress(bytes(1 << 20)) for _ in range(size >> 20)) + packer.flush()


def attached_bomb(pdf: pikepdf.Pdf) -> None:
    embedded(pdf)[EVENTS].write(unfolding(), filter=pikepdf.Name.FlateDecode)


def page_bomb(pdf: pikepdf.Pdf) -> None:
    stream = pdf.make_stream(b"")
    stream.write(unfolding(), filter=pikepdf.Name.FlateDecode)
    pdf.pages[0].contents_add(stream)


def bomb_in_a_bomb(pdf: pikepdf.Pdf) -> None:
    flate = pikepdf.Name.FlateDecode
    embedded(pdf)[EVENTS].write(zlib.compress(unfolding(), 9), filter=pikepdf.Array([flate, flate]))


def test_no_pdf_takes_more_memory_or_time_than_is_given(handed: Handed, tmp_path: Path) -> None:
    paths = []
    for harm in (attached_bomb, page_bomb, bomb_in_a_bomb):
        out = io.BytesIO()
        with pikepdf.open(handed.pdf) as pdf:
            harm(pdf)
            pdf.save(out, fix_metadata_version=False, stream_decode_level=pikepdf.StreamDecodeLevel.none)
        paths.append(tmp_path / f"{harm.__name__}.pdf")
        paths[-1].write_bytes(out.getvalue())
        assert len(out.getvalue()) < 1_000_000
    for path, answer in zip(paths, answered_apart("verify", paths), strict=True):
        assert answer.told.startswith("proof-"), (path.name, answer)
        assert answer.megabytes < MOST_MB, (path.name, answer)


def test_no_bundle_or_database_takes_more_memory_or_time_than_is_given(handed: Handed, tmp_path: Path) -> None:
    claims = tmp_path / "claims.bundle"
    data = bytearray(handed.bundle.read_bytes())
    data[18:26] = struct.pack("<2L", 2**31 - 1, 2**31 - 1)  # APPNOTE 4.3.7: both sizes of the first entry
    claims.write_bytes(data)
    sparse = tmp_path / "sparse.bundle"
    sparse.write_bytes(handed.bundle.read_bytes())
    os.truncate(sparse, 2**31 - 2)
    long_text = tmp_path / "long.db"
    long_text.write_bytes(handed.day.read_bytes())
    with closing(sqlite3.connect(long_text, isolation_level=None)) as database:
        database.execute("INSERT INTO events VALUES (99, 'x', zeroblob(80000000), 'y')")
    for reader, paths in {
        "bundle": {claims: "record-bundle-damaged", sparse: "record-bundle-damaged"},
        "log": {long_text: "record-damaged"},
        "recover": {long_text: "taken"},
    }.items():
        for (path, told), answer in zip(paths.items(), answered_apart(reader, list(paths)), strict=True):
            assert answer.told == told, (reader, path.name)
            assert answer.megabytes < MOST_MB, (reader, path.name, answer)
            assert answer.seconds < MOST_S, (reader, path.name, answer)


@pytest.mark.parametrize(
    ("size", "least", "most"), [(0, LEAST_MEMORY, LEAST_MEMORY), (2**33, MOST_MEMORY, MOST_MEMORY)]
)
def test_a_larger_file_may_take_more_up_to_a_bound(tmp_path: Path, size: int, least: int, most: int) -> None:
    path = tmp_path / "file"
    path.touch()
    with path.open("r+b") as file:
        file.truncate(size)
    assert least <= memory_for(path) <= most
    assert memory_for(tmp_path / "gone") == LEAST_MEMORY
