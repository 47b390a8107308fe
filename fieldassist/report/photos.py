"""Photos on the page, each above its caption."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.report.pictures import Album, PrintedPicture
from fieldassist.report.report_model import PhotoLine
from fieldassist.report.sheet import ACCENT, RULE, SMALL, Sheet, wrap
from fieldassist.report.wording import short_hash

_HIGH = 122.0


def photo_rows(sheet: Sheet, photos: Sequence[PhotoLine], album: Album) -> None:
    """Three a row, each above its caption."""
    gap = 10.0
    wide = (sheet.width - 2 * gap) / 3
    for start in range(0, len(photos), 3):
        row = photos[start : start + 3]
        found = [album.find(photo.file) for photo in row]
        captions = [_caption(photo, wide) for photo in row]
        high = max(_picture_height(picture, wide) for picture in found)
        sheet.need(high + 6 + max(map(len, captions)) * SMALL.leading)
        for at, (photo, picture, caption) in enumerate(zip(row, found, captions, strict=True)):
            x = sheet.left + at * (wide + gap)
            if isinstance(picture, PrintedPicture):
                across = min(wide, _HIGH * picture.wide / picture.high)
                down = across * picture.high / picture.wide
                sheet.picture(x, sheet.y, across, down, picture.jpeg)
                sheet.rect(x, sheet.y, across, down, stroke=RULE)
            else:
                sheet.rect(x, sheet.y, wide, high, stroke=ACCENT, dash=True)
                sheet.mark(x + 9, sheet.y + 12, "fail", 2.6)
                for number, line in enumerate(wrap(picture, SMALL, wide - 26)):
                    sheet.text(x + 19, sheet.y + 14.5 + number * SMALL.leading, line, SMALL)
            for number, line in enumerate(caption):
                y = sheet.y + high + 9 + number * SMALL.leading
                sheet.text(x, y, line, SMALL, strike=photo.withdrawn and number == 0)
            sheet.tick()
        sheet.y += high + 8 + max(map(len, captions)) * SMALL.leading


def _picture_height(picture: PrintedPicture | str, wide: float) -> float:
    if isinstance(picture, str):
        return 12 + SMALL.leading * len(wrap(picture, SMALL, wide - 26))
    return min(_HIGH, wide * picture.high / picture.wide)


def _caption(photo: PhotoLine, wide: float) -> list[str]:
    at = f"Lift {photo.lift}" if photo.lift is not None else photo.at[:1].upper() + photo.at[1:]
    lines = wrap(at, SMALL, wide)
    if photo.withdrawn:
        lines += wrap("withdrawn", SMALL, wide)
    lines += wrap(f"{photo.time} {photo.who} (event {photo.seq})", SMALL, wide)
    lines += wrap(photo.file, SMALL, wide)
    return lines + wrap(f"SHA-256 {short_hash(photo.sha256)}", SMALL, wide)
