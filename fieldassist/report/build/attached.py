"""What the appendix tells of the files that are attached to the pages, and above all of those that are not."""

from __future__ import annotations

from fieldassist.language import Words
from fieldassist.report.enclosures import LARGEST_TOGETHER, Enclosures
from fieldassist.trade.message import message


def attached_told(enclosed: Enclosures, words: Words) -> tuple[str, ...]:
    """The sentences; none where no event speaks of a file.

    What is missing is told in one wording whatever the reason, since who has nothing but the PDF does not know it, and
    prints the same.
    """
    told = []
    if enclosed.in_bundle:
        told.append(message("page-attached-copies", count=len(enclosed.in_bundle)))
    for seq, name in enclosed.lacking:
        told.append(message("page-attached-lacking", event=seq, file=name, most=LARGEST_TOGETHER // 1_000_000))
    for seq, name in enclosed.loose:
        told.append(message("page-attached-loose", event=seq, file=name))
    return tuple(words(one) for one in told)
