"""What came of a photo of a back, in words and for programs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING, Any, Literal

from fieldassist.cli.terminal import Terminal, safe
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.voids import CORNERS, EDGES, STRIP_MM, contact_as_read

if TYPE_CHECKING:
    from fieldassist.cli.photo_answer import PhotoAnswer
    from fieldassist.photo.measuring import MeasuredPhoto

CANNOT_TELL = 3
"""Exit code of a photo that does not tell: a full answer, and no figure."""

CHECKED_ON = "computed pictures only"
"""What the figures were checked on, until thirty real lifts were counted by hand and compared."""

PhotoVerdict = Literal["passes", "fails", "cannot tell"]


def verdict_of(answer: PhotoAnswer, least: float | None) -> PhotoVerdict | None:
    """What the whole interval says of what is required; None where nothing is."""
    if least is None:
        return None
    if answer.found is None or answer.found.low < least <= answer.found.high:
        return "cannot tell"
    return "passes" if answer.found.low >= least else "fails"


# --- in words -----------------------------------------------------------------------------------------------------


def lines_of(
    answer: PhotoAnswer, least: float | None, verdict: PhotoVerdict | None, *, assumed: bool
) -> Iterator[Figure]:
    """All that is told of a photo; assumed: nobody said what the back was."""
    if answer.cannot is not None:
        yield message("cli-photo-cannot", why=answer.cannot)
    if answer.proposed and answer.corners is not None:
        yield message("cli-photo-proposed", corners=" ".join(f"{x:.0f},{y:.0f}" for x, y in answer.corners))
    found = answer.found
    if found is None:
        return
    yield contact_line(found)
    if verdict is not None and least is not None:
        yield message(f"cli-photo-{verdict.replace(' ', '-')}", least=exactly(least, "percent"))
    yield from void_lines(found)
    if found.done.void_mm2:
        yield message("cli-photo-look")
    yield from _edges(found)
    yield _ridges(found)
    if found.way == "painted":
        yield message("cli-photo-by-hand")
        if answer.unfit is not None:
            yield message("cli-photo-only-painted", why=answer.unfit)
    else:
        if assumed:
            yield message("cli-photo-taken-as-bare")
        yield message("cli-photo-counts")
    yield message("cli-photo-checked")


def contact_line(found: MeasuredPhoto) -> Message:
    """The contact, never without its interval."""
    # Nothing is told better than it is, and no interval narrower.
    return message(
        "cli-photo-contact",
        way=found.way,
        contact=Quantity(contact_as_read(found.percent), "percent"),
        low=Quantity(contact_as_read(found.low), "percent"),
        high=Quantity(-contact_as_read(-found.high), "percent"),
    )


def void_lines(found: MeasuredPhoto) -> Iterator[Message]:
    """The largest void: how large, and where it is to be looked at."""
    done = found.done
    if not done.void_mm2:
        yield message("cli-photo-no-void")
        return
    left, top, _, _ = done.void_box
    low, high = found.void_between
    yield message(
        "cli-photo-void",
        sure="yes" if low == high else "no",
        low=exactly(round(low / 100, 1), "cm2"),
        high=exactly(round(high / 100, 1), "cm2"),
        void=exactly(round(done.void_mm2 / 100, 1), "cm2"),
        circle=exactly(round(found.circle_mm), "mm"),
        across=exactly(round(left), "mm"),
        down=exactly(round(top), "mm"),
    )


def _edges(found: MeasuredPhoto) -> Iterator[Message]:
    done = found.done
    yield message(
        "cli-photo-edges",
        strip=exactly(STRIP_MM, "mm"),
        band=exactly(int(done.band_percent), "percent"),
        corners=Several(tuple(exactly(int(share), "percent") for share in done.corner_percents)),
    )


def _ridges(found: MeasuredPhoto) -> Message:
    ridges = found.ridges
    if ridges.kind in ("straight", "curved"):
        return message(f"cli-photo-ridges-{ridges.kind}", degrees=round(ridges.direction_deg))
    return message(f"cli-photo-ridges-{ridges.kind.replace(' ', '-')}")


# --- for programs -------------------------------------------------------------------------------------------------


def photo_facts(
    terminal: Terminal, answer: PhotoAnswer, least: float | None, verdict: PhotoVerdict | None
) -> dict[str, Any]:
    """All that came of a photo, by stable names; None where nothing did."""
    ask, found, plan = answer.ask, answer.found, answer.plan
    told: dict[str, Any] = {
        "file": str(ask.file),
        "photo_dots": list(answer.dots),
        "size_mm": [round(side, 1) for side in ask.size_mm],
        "back": ask.surface,
        "corners": None if answer.corners is None else [[round(x, 1), round(y, 1)] for x, y in answer.corners],
        "corners_by": None if answer.corners is None else "proposed" if answer.proposed else "given",
        "source_mm": None if plan is None else round(plan.source_mm, 3),
        "how": None if found is None else found.way,
        "percent": None if found is None else round(found.percent, 2),
        "low": None if found is None else round(found.low, 2),
        "high": None if found is None else round(found.high, 2),
        **_parts(found),
        "required": least,
        "verdict": verdict,
        "unfit": None if answer.unfit is None else refused_facts(terminal, answer.unfit),
        "refused": None if answer.cannot is None else refused_facts(terminal, answer.cannot),
        "checked_on": CHECKED_ON,
    }
    return told


def _parts(found: MeasuredPhoto | None) -> dict[str, Any]:
    names = ("void", "band_percent", "corner_percents", "edge_percents", "ridges", "doubts")
    if found is None:
        return dict.fromkeys(names)

    done, read = found.done, found.ridges.kind in ("straight", "curved")
    void = {
        "mm2": round(done.void_mm2, 1),
        "between_mm2": [round(end, 1) for end in found.void_between],
        "box_mm": [round(at, 1) for at in done.void_box],
        "circle_mm": round(found.circle_mm, 1),
        "circle_at_mm": None if found.circle is None else [round(at, 1) for at in found.circle[:2]],
    }
    ridges = {"kind": found.ridges.kind, "direction_deg": round(found.ridges.direction_deg, 1) if read else None}
    doubts = found.doubts and {name: round(value, 2) for name, value in asdict(found.doubts).items()}
    corners = {name: round(share, 1) for name, share in zip(CORNERS, done.corner_percents, strict=True)}
    edges = {name: round(share, 1) for name, share in zip(EDGES, done.edge_percents, strict=True)}
    return dict(zip(names, (void, round(done.band_percent, 1), corners, edges, ridges, doubts), strict=True))


def refused_facts(terminal: Terminal, why: Figure) -> dict[str, str]:
    """A reason for a program: its code, and what a person is told."""
    code = why.code if isinstance(why, Message) else ""
    return {"code": code, "text": terminal.words(safe(why))}
