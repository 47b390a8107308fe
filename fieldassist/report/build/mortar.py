"""Mortar and its clocks: used of allowed against a stop, and the bags against the bed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from fieldassist.facts.model import BatchFact, ClockFact
from fieldassist.report.area_model import BagsDrawn, BatchLine, ClockBar, MortarBlock
from fieldassist.report.build.area_words import AreaWords, minutes
from fieldassist.report.build.figures import measure
from fieldassist.report.build.methods import bed_ends
from fieldassist.report.keys import mortar_key
from fieldassist.trade.message import Figure, Several, Text, message

# Over so many batches only those nearest to the stop keep a row.
MOST_BATCHES, NEAREST = 8, 3


def mortar(told: AreaWords) -> MortarBlock | None:
    """The area's mortar; None where none was mixed."""
    area = told.area
    if not area.batches:
        return None
    shown, folded = _nearest(told, area.batches)
    said = _bags_told(told)
    looks = told.looks("open-bags")
    contradicted = area.bags is not None and area.bags.verdict != "as predicted" and _over(told)
    return MortarBlock(
        key=mortar_key(told.key),
        title=told.say("area-mortar"),
        note=_note(told),
        heads=tuple(_heads(told)),
        batches=tuple(_line(told, batch) for batch in shown),
        folded=_folded(told, folded),
        told=tuple(part for part in (told.say("area-clocks-measured"), said) if part),
        open=told.say("area-bags-open") if any(look.open for look in looks) else "",
        bags=_drawn(told) if contradicted else None,
    )


def _note(told: AreaWords) -> str:
    sheet = told.area.mortar
    lots = tuple(dict.fromkeys(batch.lot for batch in told.area.batches if batch.lot))
    parts: list[Figure] = [Text.plain(sheet.name)]
    if sheet.marking:
        parts.append(Text.plain(sheet.marking))
    if lots:
        parts.append(message("area-lot", lots=Several(lots, "and")))
    if sheet.slake_min is not None:
        parts.append(message("area-slake-least", minutes=measure(sheet.slake_min, "min")))
    least, most = bed_ends(told)
    parts.append(message("area-bed-band", at_least=least, at_most=most))
    return told.words(Several(tuple(parts), "list"))


def _heads(told: AreaWords) -> Iterator[str]:
    sheet = told.area.mortar
    yield told.say("area-head-batch")
    yield told.say("area-head-mixed")
    yield told.say("area-head-bags")
    yield told.say("area-head-slaked")
    yield told.say("area-head-pot-life", minutes=measure(sheet.pot_life_min, "min"))
    yield told.say("area-head-open-time", minutes=measure(sheet.open_time_min, "min"))


def _clock(told: AreaWords, number: int | None) -> ClockFact | None:
    return next((clock for clock in told.area.clocks if clock.number == number), None)


def _open_time(told: AreaWords, batch: BatchFact) -> ClockFact | None:
    """The run that came nearest to its stop."""
    runs = (_clock(told, number) for number in batch.open_times)
    return max((run for run in runs if run is not None), key=_share, default=None)


def _share(run: ClockFact) -> float:
    return run.used_minutes / run.minutes if run.minutes > 0 else 0.0


def _line(told: AreaWords, batch: BatchFact) -> BatchLine:
    pot, slake, lay_open = _clock(told, batch.pot_life), _clock(told, batch.slake), _open_time(told, batch)
    water: Figure = "" if batch.water_l is None else measure(batch.water_l, "L")
    bags: Figure = "" if batch.bags is None else measure(batch.bags, "count")
    known = "both" if batch.bags is not None and batch.water_l is not None else "bags" if bags else "none"
    return BatchLine(
        number=told.say("area-batch", number=str(batch.number), bucket=batch.bucket),
        mixed=told.words(told.time(pot.started if pot is not None else batch.at)),
        bags=told.say("area-bags-water", known=known, bags=bags, water=water),
        slaked="" if slake is None else told.words(minutes(slake.used_minutes)),
        pot_life=None if pot is None else _bar(told, pot),
        open_time=None if lay_open is None else _bar(told, lay_open),
    )


def _bar(told: AreaWords, run: ClockFact) -> ClockBar:
    out = run.outcome == "ran out" or _share(run) > 1
    state = "out" if out else "running" if run.outcome == "running" else "together" if run.together else "used"
    return ClockBar(
        share=_share(run),
        told=told.say("area-used", state=state, minutes=measure(ceil(round(run.used_minutes, 3)), "count")),
        out=out,
    )


# --- many batches -------------------------------------------------------------------------------------------------


def _worst(told: AreaWords, batch: BatchFact) -> float:
    """How near to a stop a batch came."""
    runs = [_clock(told, batch.pot_life), _open_time(told, batch)]
    return max((_share(run) for run in runs if run is not None), default=0.0)


def _nearest(told: AreaWords, batches: Sequence[BatchFact]) -> tuple[list[BatchFact], list[BatchFact]]:
    """Those that have a row, and those that have none."""
    if len(batches) <= MOST_BATCHES:
        return list(batches), []
    ran_out = [batch for batch in batches if _worst(told, batch) >= 1]
    near = sorted(batches, key=lambda batch: -_worst(told, batch))[: max(NEAREST, len(ran_out))]
    return [one for one in batches if one in near], [one for one in batches if one not in near]


def _folded(told: AreaWords, rest: Sequence[BatchFact]) -> str:
    if not rest:
        return ""
    most = ceil(max(_worst(told, batch) for batch in rest) * 100)
    counted = [batch.bags for batch in rest if batch.bags is not None]
    return told.say(
        "area-batches-folded",
        count=len(rest),
        told="none" if not counted else "all" if len(counted) == len(rest) else "some",
        bags=measure(sum(counted), "count"),
        most=measure(most, "percent"),
    )


# --- bags ---------------------------------------------------------------------------------------------------------


def _over(told: AreaWords) -> bool:
    """Whether no more is set: before that a bucket may still stand there half full."""
    return told.area.phase in ("finishing", "finished") or told.all_set


def _bags_told(told: AreaWords) -> str:
    bags = told.area.bags
    if bags is None:
        return told.say("area-bags-not-counted")
    least = told.area.mortar.least_bed_mm
    return told.say(
        "area-bags",
        used=measure(bags.used, "count"),
        predicted=measure(round(bags.predicted, 1), "count"),
        set=measure(round(told.area.set_m2, 2), "m2"),
        verdict=bags.verdict.replace(" ", "-") if _over(told) else "under-way",
        implied=measure(bags.implied_bed_mm or 0.0, "mm"),
        bed=measure(bags.bed_mm, "mm"),
        short="yes" if bags.implied_bed_mm is not None and bags.implied_bed_mm < least else "no",
        least=bed_ends(told)[0],
    )


def _drawn(told: AreaWords) -> BagsDrawn | None:
    bags = told.area.bags
    if bags is None:
        return None
    used, predicted = measure(bags.used, "count"), measure(round(bags.predicted, 1), "count")
    return BagsDrawn(
        expected=bags.predicted,
        used=bags.used,
        told=(told.say("area-bags-expected", bags=predicted), told.say("area-bags-used", bags=used)),
    )
