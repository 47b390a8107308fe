"""The one file of a day whose bytes are signed: the daily log as it is handed over, next to the seal of the record.

It is printed and signed in one revision (PAdES baseline B, ETSI EN 319 142-1), so that any viewer of PDFs can tell
whether a byte of it was changed, and no later version of this program has to print the same bytes. It lies beside the
day. Every other print is a copy and says so.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pikepdf

from fieldassist.checklist.events import DaySealed
from fieldassist.checklist.moment import Moment
from fieldassist.record.cms import sign_hash
from fieldassist.record.keys import SigningKey, certificate_hash
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import MANIFEST, Manifest, read_manifest
from fieldassist.report.daily import DailyReport, print_pages, store, write_daily_pdf
from fieldassist.report.enclosures import CannotWrite, Record, enclose, record_of
from fieldassist.report.pdf import SignatureField, with_signature
from fieldassist.trade.message import Refused, message
from fieldassist.trade.quantities import Units


def signed_pages_of(day: Path) -> Path:
    """Where the signed file of the log at `day` lies.

    >>> signed_pages_of(Path("site/2026-03-17.db")).as_posix()
    'site/2026-03-17.signed.pdf'
    """
    return day.with_suffix(".signed.pdf")


def sign_pages(
    log: DayLog,
    key: SigningKey,
    at: Moment,
    *,
    units: Units | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> DailyReport:
    """Make the signed file of a day beside it. One that is there of an earlier part is kept as NAME.part-N.pdf.

    key: that of the last seal, opened; at: now; units, progress and errors as `write_daily_pdf`, and CannotWrite when
    the last event is no seal of this key.
    """
    record, path = record_of(log), signed_pages_of(log.path)
    _check_seal(record, key)
    _keep_earlier(record, path)
    return write_signed_pages(record, key, path, at, units=units, progress=progress)


def write_signed_pages(
    record: Record,
    key: SigningKey,
    path: Path,
    at: Moment,
    *,
    units: Units | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> DailyReport:
    """Write the day's log as a PDF with the record attached, and sign all bytes of it.

    key: of the last seal, which names its certificate; at: the time of signing that the file claims. The same record,
    key, time and units give the same bytes. Otherwise as `write_daily_pdf`.
    """
    _check_seal(record, key)
    field = SignatureField(key.name, datetime.fromisoformat(at.wall))
    printed = print_pages(record, units=units, progress=progress, signature=field)
    store(with_signature(printed.content, lambda digest: sign_hash(digest, key)), path)
    if progress is not None:
        progress(printed.steps, printed.steps)
    return DailyReport(printed.pages, path, printed.left_out, signed=True)


def current_signed_pages(log: DayLog) -> Path | None:
    """The signed file of a day as it stands now, None where there is none or the day has gone on since."""
    path = signed_pages_of(log.path)
    found = _manifest_in(path)
    return path if found is not None and found.head == log.head else None


def hand_out(
    log: DayLog,
    path: Path,
    *,
    units: Units | None = None,
    language: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> DailyReport:
    """Write the daily log that is handed over to `path`: the day's signed file where it shows all of the day, else a
    print of what it holds by now.

    units, language: of the print, and then a copy is printed also where there is a signed file; None for the signed
    file, or the plan's own. Otherwise as `write_daily_pdf`.
    """
    signed = current_signed_pages(log) if units is None and language is None else None
    if signed is None:
        return write_daily_pdf(record_of(log), path, units=units, language=language, progress=progress)
    try:
        content = signed.read_bytes()
        with pikepdf.open(signed) as pdf:
            pages = len(pdf.pages)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise CannotWrite(message("report-cannot-write", file=str(path), why=why)) from error
    store(content, path)
    if progress is not None:
        progress(1, 1)
    return DailyReport(pages, path, enclose(record_of(log)).left_out, signed=True)


def keep_signed_pages(log: DayLog, content: bytes) -> None:
    """Put the signed file of a day, made on another tablet, beside it here, where there is none that shows all of it.

    An earlier one is kept, as by `sign_pages`. CannotWrite when the disk refuses.
    """
    if current_signed_pages(log) is None:
        path = signed_pages_of(log.path)
        _keep_earlier(record_of(log), path)
        store(content, path)


def _keep_earlier(record: Record, path: Path) -> None:
    """Give the signed file of an earlier part another name."""
    earlier = _manifest_in(path)
    if earlier is not None and earlier.head != record.hashes[-1]:
        part = sum(isinstance(event.body, DaySealed) for event in record.events[: earlier.events]) - 1
        try:
            path.replace(path.with_suffix(f".part-{part}.pdf"))
        except OSError as error:
            why = error.strerror or type(error).__name__
            raise CannotWrite(message("report-cannot-write", file=str(path), why=why)) from error


def _check_seal(record: Record, key: SigningKey) -> None:
    last = record.events[-1].body if record.events else None
    if not isinstance(last, DaySealed):
        raise CannotWrite(message("report-not-sealed-to-its-end"))
    if not last.certificate:
        raise CannotWrite(message("report-seal-names-no-certificate"))
    if (last.public_key, last.certificate) != (key.public_key, certificate_hash(key.certificate)):
        raise CannotWrite(message("report-other-key-sealed", name=last.name))


def _manifest_in(path: Path) -> Manifest | None:
    """What a PDF of ours says of the record in it, None where there is none to be read."""
    try:
        with pikepdf.open(path) as pdf:
            return read_manifest(pdf.attachments[MANIFEST].get_file().read_bytes())
    except (OSError, pikepdf.PdfError, KeyError, Refused):
        return None
