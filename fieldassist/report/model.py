"""A day's documents as plain data: what is printed, without a page in sight. `report.build` makes it from the facts.

Texts are in the document's language and units. A page is a function of its part of the model.
"""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.report.appendix_model import Appendix
from fieldassist.report.area_model import AreaPages, PhotoBlock
from fieldassist.report.closing_model import AddendumPages, ByHandPage, SigningPage
from fieldassist.report.front_model import FrontPage
from fieldassist.trade.quantities import Units


@dataclass(frozen=True, slots=True)
class PageFrame:
    """What stands on every page beside what it shows.

    head: at the left of the running head; foot: who answers, and for what record; red: that is open today; mark: across
    the top of every page of a day that proves nothing, "" on a day of work.
    """

    head: str
    foot: str
    red: bool
    mark: str


@dataclass(frozen=True, slots=True)
class DayPages:
    """All pages of a day.

    language: of the document (BCP 47); title, author, subject: of the file; between: photos that belong to no area with
    a page; attached: what the appendix tells of the files that go with the pages; trials_alone: methods are tried and
    nothing else is set, so that a trial's page comes first; numbered: names of areas with letters that cannot be set,
    the longest first, each with the one that its number stands in.
    """

    language: str
    units: Units
    title: str
    author: str
    subject: str
    frame: PageFrame
    front: FrontPage
    areas: tuple[AreaPages, ...]
    between: PhotoBlock | None
    signing: SigningPage
    addenda: tuple[AddendumPages, ...]
    appendix: Appendix
    by_hand: ByHandPage
    attached: tuple[str, ...] = ()
    trials_alone: bool = False
    numbered: tuple[tuple[str, str], ...] = ()
