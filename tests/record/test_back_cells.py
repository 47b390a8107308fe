"""The file of a back's cells: read again as it was, and nothing else is read."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from fieldassist.record.back_cells import NoCells, cells_png, read_cells
from fieldassist.trade.voids import BackCells

BACK = BackCells(bytes(range(200)) * 3, 30, (20.0, 15.0))
SIZE = (600.0, 300.0)


def png(image: Image.Image, form: str = "PNG") -> bytes:
    paper = io.BytesIO()
    image.save(paper, form)
    return paper.getvalue()


def test_cells_are_read_again_as_they_were_kept() -> None:
    assert read_cells(cells_png(BACK), SIZE) == BACK


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (png(Image.new("RGB", (30, 20))), "record-cells-not-grey"),
        (png(Image.new("1", (30, 20))), "record-cells-not-grey"),
        (png(Image.new("I;16", (30, 20))), "record-cells-not-grey"),
        (png(Image.new("L", (4001, 1000))), "record-cells-many"),
        (png(Image.new("L", (20, 30))), "record-cells-size"),  # a cell of 30 by 10 mm
        (png(Image.new("L", (2, 1))), "record-cells-size"),
        (png(Image.new("L", (30, 20)), "JPEG"), "record-cells-damaged"),
        (cells_png(BACK)[:-30], "record-cells-damaged"),
        (b"", "record-cells-damaged"),
    ],
)
def test_what_is_no_such_picture_is_refused_with_its_reason(data: bytes, code: str) -> None:
    with pytest.raises(NoCells) as refused:
        read_cells(data, SIZE)
    assert refused.value.told.code == code


def test_a_picture_that_claims_to_be_huge_is_refused_by_its_header() -> None:
    # Width and height of the header are 32 bits each (ISO/IEC 15948, 11.2.2); its check value is not looked at first.
    huge = bytearray(png(Image.new("L", (30, 20))))
    huge[16:24] = (60_000).to_bytes(4, "big") * 2
    with pytest.raises(NoCells):
        read_cells(bytes(huge), SIZE)
