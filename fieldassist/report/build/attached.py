"""What the appendix tells of the files that are attached to the pages, and above all of those that are not."""

from __future__ import annotations

from collections.abc import Iterable

from fieldassist.language import Words
from fieldassist.report.enclosures import LARGEST_TOGETHER, Enclosures
from fieldassist.trade.message import Several, message


def attached_told(enclosed: Enclosures, words: Words) -> tuple[str, ...]:
    """The sentences; none where no event speaks of a file.

    What is missing is told in one wording whatever the reason, since who has nothing but the PDF does not know it, and
    prints the same.
    """
    told = []
    if enclosed.in_bundle:
        told.append(message("page-attached-copies", count=len(enclosed.in_bundle)))
    if enclosed.lacking:
        most = LARGEST_TOGETHER // 1_000_000
        told.append(message("page-attached-lacking", files=_named(enclosed.lacking), most=most))
    if enclosed.loose:
        told.append(message("page-attached-loose", files=_named(enclosed.loose)))
    return tuple(words(one) for one in told)


def _named(files: Iterable[tuple[int, str]]) -> Several:
    return Several(tuple(message("page-attached-file", event=seq, file=name) for seq, name in files))
