"""Where a figure of the trade comes from, so that screens, logs and PDFs can always name it.

No limit travels without its basis. The standards themselves are sold, not free: most clauses here were read
second-hand, and say so, because an inspector will hold us to the text and not to our memory.

Every source has an identifier in `BASES`; what it says in words (a document without a name of its own, a note) stands
under that identifier in the language's file `basis.ftl`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from types import MappingProxyType

from fieldassist.trade.message import Figure, Message, Refused, Text, message

__all__ = ["BASES", "PRACTICE", "SECOND_HAND", "Basis", "Cited", "OutOfRange", "Provenance", "cite", "cited"]


class Provenance(StrEnum):
    """How well a figure is supported."""

    READ = "read"
    REPORTED = "reported"
    MEMORY = "memory"
    COMPUTED = "computed"
    PRACTICE = "practice"
    DATA_SHEET = "data-sheet"
    CREW = "crew"

    @property
    def told(self) -> Message:
        """In words."""
        return Message(f"basis-standing-{self.value}")


# Nobody here had the document before them.
SECOND_HAND = (Provenance.REPORTED, Provenance.MEMORY)


@dataclass(frozen=True, slots=True)
class Basis:
    """The source of one figure.

    id: its key in `BASES`; document: "ANSI A108.5", "" where it has no name of its own; clause: "§3.3.2" or "";
    edition: "2017" or ""; standing: how we know it; named: what it rests on is put into words; noted: there is a note
    on what differs between editions, or what it does not cover; figures: of those words.
    """

    id: str
    document: str = ""
    clause: str = ""
    edition: str = ""
    standing: Provenance = Provenance.REPORTED
    named: bool = False
    noted: bool = False
    figures: tuple[tuple[str, Figure], ...] = ()

    @property
    def told(self) -> Message:
        """One line fit for a PDF: document, clause and edition, how it is known, and the note.

        >>> print(BASES["tile-voids"].told)
        basis-noted(source=basis-standing-practice, note=basis-tile-voids-note)
        """
        figures = dict(self.figures)
        place = f" {self.clause}" if self.clause else ""
        place += f" ({self.edition})" if self.edition else ""
        source = self.standing.told
        if self.document or self.named:
            document: Figure = Message(f"basis-{self.id}", figures) if self.named else self.document
            source = message("basis-cited", document=document, place=place, standing=source)
        if not self.noted:
            return source
        return message("basis-noted", source=source, note=Message(f"basis-{self.id}-note", figures))


_ALL = (
    Basis("practice", standing=Provenance.PRACTICE),
    Basis("tile-contact", "ANSI A108.5", clause="§3.3.2", edition="2017", noted=True),
    Basis("tile-voids", standing=Provenance.PRACTICE, noted=True),
    Basis("stone-contact", "TCNA Handbook", clause="natural stone coverage", edition="2018", noted=True),
    Basis("stone-voids", "TCNA Handbook", clause="natural stone coverage", standing=Provenance.MEMORY),
    Basis("panel-contact", "ANSI A108.19", edition="2017", noted=True),
    Basis("panel-floor-contact", "ANSI A108.19", edition="2017", noted=True),
    Basis("panel-wet-contact", "ANSI A108.19", standing=Provenance.MEMORY, noted=True),
    Basis("panel-exterior-contact", "ANSI A108.20", standing=Provenance.MEMORY, noted=True),
    Basis("solid-bed", "BS 5385-1", edition="2018", noted=True),
    Basis("thin-set-bed", "Materials and Methods Standards Association bulletin 18", edition="May 2020"),
    Basis(
        "heavy-tile-bed",
        "Materials and Methods Standards Association bulletin 18; TCNA Handbook, 2015 onward",
        edition="May 2020",
        noted=True,
    ),
    Basis("data-sheet", standing=Provenance.DATA_SHEET, named=True),
    Basis("data-sheet-of", standing=Provenance.DATA_SHEET, named=True),
    Basis("data-sheet-least-bed", standing=Provenance.DATA_SHEET, named=True, noted=True),
    Basis("data-sheet-greatest-bed", standing=Provenance.DATA_SHEET, named=True, noted=True),
    Basis("data-sheet-least-temperature", standing=Provenance.DATA_SHEET, named=True, noted=True),
    Basis("data-sheet-greatest-temperature", standing=Provenance.DATA_SHEET, named=True, noted=True),
    Basis("crew", standing=Provenance.CREW),
    Basis("powder", standing=Provenance.MEMORY, noted=True),
    Basis("skin", edition="2000", named=True),
    Basis("mixing-dust", "29 CFR 1926.1153", clause="(f)", noted=True),
    Basis("ground-fault", "29 CFR 1926.404", clause="(b)(1)"),
    Basis("uncertainty", "JCGM 100 (GUM)", clause="§5.1.2 and §6.3.3", edition="2008", standing=Provenance.COMPUTED),
    Basis("notch-geometry", standing=Provenance.COMPUTED, named=True, noted=True),
    Basis("geometry", standing=Provenance.COMPUTED, named=True),
    Basis("volume", standing=Provenance.COMPUTED, named=True),
    Basis("slide", "ANSI A108.5", clause="§2.2.3", noted=True),
    Basis("comb-direction", "ANSI A108.5", noted=True),
    Basis("crew-balance", standing=Provenance.CREW, named=True),
    Basis("notch-depth", "DIN 18157-1", edition="1979", standing=Provenance.MEMORY),
    Basis("temperature-us", standing=Provenance.MEMORY, noted=True),
    Basis("temperature-eu", standing=Provenance.MEMORY, noted=True),
    Basis("open-time-class", "EN 12004-1", edition="2017", noted=True),
    Basis("a118-1-open-time", "ANSI A118.1", clause="suffix E", standing=Provenance.MEMORY),
    Basis("a118-4-open-time", "ANSI A118.4", clause="suffix E", standing=Provenance.MEMORY),
    Basis("a118-11-open-time", "ANSI A118.11", clause="suffix E", standing=Provenance.MEMORY),
    Basis("a118-15-open-time", "ANSI A118.15", clause="suffix E", standing=Provenance.MEMORY),
    Basis("slake", standing=Provenance.PRACTICE, noted=True),
    Basis("cure", standing=Provenance.MEMORY, noted=True),
    Basis("cold-cure", named=True, noted=True),
    Basis("concrete-age", "AS 3958", noted=True),
    Basis("base", "ANSI A108.02", clause="§4.2.2", noted=True),
    Basis("base-small-tile", "ANSI A108.02", clause="§4.2.2", noted=True),
    Basis("base-unknown-edge", "ANSI A108.02", clause="§4.2.2", noted=True),
    Basis("base-stone", "ANSI A108.02", clause="§4.2.2", noted=True),
    Basis("base-panel", "ANSI A108.19", standing=Provenance.MEMORY, noted=True),
    Basis("base-bs-5385", "BS 5385-3"),
    Basis("base-bs-8204", "BS 8204-1 and -2", noted=True),
    Basis("din-18202-row-2", "DIN 18202", clause="table 3 row 2", noted=True),
    Basis("din-18202-row-3", "DIN 18202", clause="table 3 row 3", noted=True),
    Basis("din-18202-row-4", "DIN 18202", clause="table 3 row 4", noted=True),
    Basis("din-18202-row-6", "DIN 18202", clause="table 3 row 6", noted=True),
    Basis("din-18202-row-7", "DIN 18202", clause="table 3 row 7", noted=True),
    Basis("lippage", "ANSI A108.02", clause="§4.3.7", edition="2013", noted=True),
    Basis("joint", "ANSI A108.02", clause="§4.3.8", noted=True),
    Basis("bond-joint", "ANSI A108.02", clause="§4.3.8.1", noted=True),
    Basis("joint-bs-5385", "BS 5385-1", edition="2018", noted=True),
    Basis("offset", "ANSI A108.02", clause="§4.3.8.2", noted=True),
    Basis("offset-older", "ANSI A108.02", clause="§4.3.8.2", edition="older text", noted=True),
    Basis("movement-inside", "TCNA Handbook EJ171", edition="2024/25", noted=True),
    Basis("movement-outside", "TCNA Handbook EJ171", edition="2024/25"),
    Basis("movement-slab", "TCNA Handbook", clause="pp. 430-437", edition="2018"),
    Basis("movement-width", "TCNA Handbook EJ171", noted=True),
    Basis("movement-width-inside", "TCNA Handbook EJ171", noted=True),
    Basis("movement-bs-5385", "BS 5385-3", edition="2024", noted=True),
    Basis("density", standing=Provenance.MEMORY, noted=True),
    Basis("density-given", standing=Provenance.CREW, named=True),
    Basis("weighed", standing=Provenance.CREW, named=True),
    Basis("team", "HSE L23", clause="¶120", standing=Provenance.READ),
    Basis("team-of-four", "HSE L23", clause="¶120", standing=Provenance.READ, noted=True),
    Basis("own-limit", standing=Provenance.CREW, named=True),
    Basis("filter-man", "HSE L23", clause="guideline filter", noted=True),
    Basis("filter-woman", "HSE L23", clause="guideline filter", standing=Provenance.MEMORY, noted=True),
    Basis("suction-hoisted", "EN 13155", edition="2003+A2:2009", noted=True),
    Basis("suction-by-hand", standing=Provenance.PRACTICE, named=True, noted=True),
    Basis("lifting-equation", "DHHS (NIOSH) Publication 94-110", edition="1994, rev. 2021", noted=True),
    Basis("lifting-manual", "DHHS (NIOSH) Publication 94-110", edition="1994, rev. 2021"),
    Basis("dust-average", "29 CFR 1910.1000", clause="(d)(1)(i)", standing=Provenance.READ),
    Basis("dust-minutes-left", "29 CFR 1910.1000", clause="(d)(1)(i)", standing=Provenance.READ, noted=True),
    Basis("dust-mixture", "29 CFR 1910.1000", clause="(d)(2)", standing=Provenance.READ),
    Basis("dust-action-level", "29 CFR 1926.1153", clause="(b)", standing=Provenance.READ, noted=True),
    Basis("dust-limit-us", "29 CFR 1926.1153", clause="(d)(1)", noted=True),
    Basis("dust-limit-uk", "HSE EH40", clause="workplace exposure limit, 8 hours"),
    Basis("dust-day", "29 CFR 1926.1153", clause="Table 1 and (c)(3)", noted=True),
    Basis("dust-table-1-i", "29 CFR 1926.1153", clause="Table 1 (i)", standing=Provenance.READ, noted=True),
    Basis("dust-table-1-ii", "29 CFR 1926.1153", clause="Table 1 (ii)", standing=Provenance.READ, noted=True),
    Basis("dust-table-1-iii", "29 CFR 1926.1153", clause="Table 1 (iii)", standing=Provenance.READ, noted=True),
    Basis("dust-table-1-iv", "29 CFR 1926.1153", clause="Table 1 (iv)", standing=Provenance.READ, noted=True),
    Basis("dust-table-1-vii", "29 CFR 1926.1153", clause="Table 1 (vii)", noted=True),
    Basis("dust-table-1-x", "29 CFR 1926.1153", clause="Table 1 (x)", noted=True),
    Basis("dust-table-1-xi", "29 CFR 1926.1153", clause="Table 1 (xi)", noted=True),
    Basis("dust-table-1-xii", "29 CFR 1926.1153", clause="Table 1 (xii)", noted=True),
    Basis("dust-table-1-xiii", "29 CFR 1926.1153", clause="Table 1 (xiii)", noted=True),
    Basis("success-run", standing=Provenance.COMPUTED, named=True),
    Basis("binomial", standing=Provenance.COMPUTED, named=True),
    Basis("hypergeometric", standing=Provenance.COMPUTED, named=True),
    Basis("exact-limits", "Clopper and Pearson", edition="1934", standing=Provenance.COMPUTED),
    Basis("lot-sample", "FAO ISPM 31", clause="table 1", edition="2008", standing=Provenance.MEMORY, noted=True),
    Basis(
        "acceptance-plan-read",
        "MIL-STD-105E",
        clause="tables I and II-A",
        edition="1989",
        standing=Provenance.READ,
        noted=True,
    ),
    Basis(
        "acceptance-plan",
        "MIL-STD-105E",
        clause="tables I and II-A",
        edition="1989",
        standing=Provenance.MEMORY,
        noted=True,
    ),
    Basis("arithmetic", standing=Provenance.COMPUTED, named=True),
    Basis(
        "units",
        "International yard and pound agreement; NIST Handbook 44",
        clause="appendix C",
        edition="1959",
        standing=Provenance.COMPUTED,
        noted=True,
    ),
    Basis("assumed", standing=Provenance.PRACTICE, noted=True),
    Basis("assumed-shoulder", standing=Provenance.PRACTICE, noted=True),
    Basis("assumed-least-pace", standing=Provenance.PRACTICE, noted=True),
    Basis("assumed-long-work", standing=Provenance.PRACTICE, noted=True),
    Basis("assumed-vibrator", standing=Provenance.PRACTICE, noted=True),
    Basis("assumed-indoors", standing=Provenance.PRACTICE, noted=True),
    Basis("lifting-limitations", "DHHS (NIOSH) Publication 94-110", clause="limitations", edition="1994, rev. 2021"),
    Basis("lifting-reach", "DHHS (NIOSH) Publication 94-110", clause="p. 8", edition="1994, rev. 2021", noted=True),
    Basis("lifting-grips", "DHHS (NIOSH) Publication 94-110", clause="table 7", edition="1994, rev. 2021", noted=True),
    Basis("lifting-equation-rounded", "DHHS (NIOSH) Publication 94-110", edition="1994, rev. 2021", noted=True),
)

BASES: Mapping[str, Basis] = MappingProxyType({basis.id: basis for basis in _ALL})

PRACTICE = BASES["practice"]


def cite(id: str, **figures: Figure) -> Basis:  # noqa: A002
    """A source whose words hold figures, such as the name of a mortar.

    >>> cite("data-sheet-of", name="grey mortar").told.figures["document"].figures["name"]
    'grey mortar'
    """
    return replace(BASES[id], figures=tuple(figures.items()))


@dataclass(frozen=True, slots=True)
class Cited:
    """A basis as it was told, taken apart: document with its place (None where none is named), how it is known (None
    where only its author's own words say so), and the note (None where there is none)."""

    source: Figure | None
    standing: Provenance | None
    note: Message | None = None


# The data sheet of a product that is named, and what is nobody's rule but ours.
_DATA_SHEET = "rules-data-sheet"
_OWN = ("rules-few-pieces", "rules-checklists-own")
_STANDING = "basis-standing-"


def cited(told: Message | Text) -> Cited:
    """What a told basis says, by its codes: of `Basis.told`, of a data sheet, of either within another message, or in
    the words of a checklist's author.

    >>> found = cited(BASES["dust-action-level"].told)
    >>> print(found.source, found.standing.value, found.note)
    basis-source(document=29 CFR 1926.1153, place= (b)) read basis-dust-action-level-note
    >>> cited(Text.plain("ours")).standing is None
    True
    """
    if isinstance(told, Text):
        return Cited(told, None)
    figures = told.figures
    if told.code.startswith(_STANDING):
        return Cited(None, Provenance(told.code.removeprefix(_STANDING)))
    if told.code == "basis-noted" and isinstance(source := figures["source"], Message):
        inner, note = cited(source), figures["note"]
        return replace(inner, note=note if isinstance(note, Message) else None)
    if told.code == "basis-cited" and isinstance(known := figures["standing"], Message):
        source = message("basis-source", document=figures["document"], place=figures["place"])
        return Cited(source, cited(known).standing)
    if told.code == _DATA_SHEET:
        return Cited(message("basis-data-sheet-of", name=figures["product"]), Provenance.DATA_SHEET)
    if told.code in _OWN:
        return Cited(told, Provenance.CREW)
    within = figures.get("basis")
    return Cited(told, cited(within).standing if isinstance(within, Message | Text) else None)


class OutOfRange(Refused):
    """A relation was asked for outside the range in which it holds; `told` says which range and why."""
