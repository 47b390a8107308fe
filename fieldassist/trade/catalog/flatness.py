"""Entries on flatness, lippage, joints, offset and movement joints."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from fieldassist.trade import coverage, flatness
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.results import as_words, at_least, at_most, verdict_row
from fieldassist.trade.catalog.shared import asking
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Bound, Message, message

_in = asking("flatness")


def _judged(verdict: flatness.LengthVerdict) -> list[ResultRow]:
    return [
        verdict_row(verdict.outcome, basis=verdict.basis),
        as_words("reasons", verdict.reasons, basis=verdict.basis),
        as_words("unread", verdict.unread, basis=verdict.basis),
    ]


def _base_flatness(values: Values) -> Iterable[ResultRow]:
    limit = flatness.substrate_limit(
        values["standard"], values["longest-edge"], values["product"], span_mm=values["span"]
    )
    if values["gap"] is not None:
        yield from _judged(flatness.substrate_verdict(values["gap"], limit, values["short-gap"]))
    yield at_most("greatest gap", limit.gap_mm, "mm", limit.basis)
    yield ResultRow("under a straightedge of", limit.over_mm, "mm", limit.basis)
    yield at_most("and greatest gap", limit.short_gap_mm, "mm", limit.basis)
    yield ResultRow("within any", limit.short_over_mm, "mm", limit.basis)


def _din_18202(values: Values) -> Iterable[ResultRow]:
    row: flatness.DinRow = next(row for row in get_args(flatness.DinRow) if str(row) == values["row"])
    limit = flatness.din_18202_limit(row, values["span"], rounded=values["rounded"])
    return [at_most("greatest gap", limit.mm, "mm", limit.basis)]


def _lippage(values: Values) -> Iterable[ResultRow]:
    limit = flatness.lippage_allowance(values["joint"], values["warpage"])
    if values["step"] is not None:
        yield from _judged(flatness.lippage_verdict(values["step"], values["joint"], values["warpage"]))
    yield at_most("greatest step", limit.mm, "mm", limit.basis)


def _judged_joint(values: Values, least: flatness.LengthLimit) -> Iterable[ResultRow]:
    if values["joint"] is not None:
        yield from _judged(flatness.joint_verdict(values["joint"], least))
    yield at_least("least joint", least.mm, "mm", least.basis)


def _least_joint(values: Values) -> Iterable[ResultRow]:
    least = flatness.least_joint(
        values["facial-variation"],
        values["longest-edge"],
        running_bond=values["running-bond"],
        edge=values["edges"],
        warpage_mm=values["warpage"],
    )
    return _judged_joint(values, least)


def _offset(values: Values) -> Iterable[ResultRow]:
    limit = flatness.offset_limit(values["side"], values["edition"])
    if values["offset"] is not None:
        yield from _judged(flatness.offset_verdict(values["offset"], values["side"], values["edition"]))
    told = Message("flatness-no-offset-limit")
    if limit.mm is not None:
        told = message("flatness-one-third", limit=Bound(exactly(limit.mm, "mm"), "at most"))
    yield ResultRow("greatest offset", limit.mm, "mm", limit.basis, told=told)


def _movement_joints(values: Values) -> Iterable[ResultRow]:
    setting, swing = values["setting"], values["temperature-range"]
    spacing = flatness.movement_joint_spacing(setting)
    every = spacing.greatest_mm if values["spacing"] is None else values["spacing"]
    if values["width"] is not None:
        yield from _judged(flatness.movement_joint_verdict(values["width"], every, setting, swing))
    yield at_least("movement joints every", spacing.least_mm, "mm", spacing.basis)
    yield at_most("at most every", spacing.greatest_mm, "mm", spacing.basis)
    outdoors = setting == "exterior" or (setting == "above-ground slab" and swing is not None)
    if setting != "exterior BS 5385" and (swing is not None or not outdoors):
        width = flatness.movement_joint_width(every, swing, "exterior" if outdoors else "interior")
        yield at_least("least width of the joint", width.mm, "mm", width.basis)
    if values["run"] is not None:
        layout = flatness.movement_joint_layout(values["run"], every)
        yield ResultRow("joints", layout.joints, basis=spacing.basis)
        yield ResultRow("length of a bay", layout.bay_mm, "mm", spacing.basis)


ENTRIES = (
    Calculation(
        "base-flatness",
        "flatness",
        (
            _in("standard", "choice", "A108.02", "A108.02", choices=get_args(flatness.FlatnessStandard)),
            _in("longest-edge", "length", "600 mm", optional=True, shown=True),
            _in("product", "choice", "tile", "tile", choices=get_args(coverage.Product)),
            _in("span", "length", "2 m", "2 m"),
            _in("gap", "length", "4 mm", optional=True, shown=True),
            _in("short-gap", "length", "1.5 mm", optional=True, shown=True),
        ),
        _base_flatness,
        (flatness.substrate_limit, flatness.substrate_verdict),
        refuses=("flatness-din-span-outside",),
    ),
    Calculation(
        "din-18202",
        "flatness",
        (
            _in("row", "choice", "3", choices=tuple(map(str, get_args(flatness.DinRow)))),
            _in("span", "length", "2 m", of="din-18202"),
            _in("rounded", "flag", "no", "yes"),
        ),
        _din_18202,
        (flatness.din_18202_limit,),
        refuses=("flatness-din-span-outside",),
    ),
    Calculation(
        "lippage",
        "flatness",
        (
            _in("joint", "length", "1/8 in"),
            _in("warpage", "length", "0.5 mm", "0 mm"),
            _in("step", "length", "1 mm", optional=True, shown=True),
        ),
        _lippage,
        (flatness.lippage_allowance, flatness.lippage_verdict),
        refuses=("flatness-joint-without-lippage",),
    ),
    Calculation(
        "least-joint",
        "flatness",
        (
            _in("facial-variation", "length", "0.5 mm"),
            _in("longest-edge", "length", "24 in", optional=True, shown=True, of="least-joint"),
            _in("running-bond", "flag", "yes", "no", shown=True),
            _in("edges", "choice", "rectified", "calibrated", choices=("rectified", "calibrated"), shown=True),
            _in("warpage", "length", "1/32 in", "0 mm", shown=True, of="least-joint"),
            _in("joint", "length", "1/8 in", optional=True, of="least-joint"),
        ),
        _least_joint,
        (flatness.least_joint, flatness.joint_verdict),
        refuses=("flatness-bond-without-edge",),
    ),
    Calculation(
        "least-joint-british",
        "flatness",
        (_in("tile", "size", "600 x 1200 mm"), _in("joint", "length", "2 mm", optional=True, of="least-joint")),
        lambda v: _judged_joint(v, flatness.least_joint_bs_5385(*v["tile"])),
        (flatness.least_joint_bs_5385,),
        refuses=("flatness-side-over-british-figures",),
    ),
    Calculation(
        "offset",
        "flatness",
        (
            _in("side", "length", "600 mm"),
            _in("offset", "length", "300 mm", optional=True, shown=True),
            _in("edition", "choice", "older", "newer", choices=("newer", "older")),
        ),
        _offset,
        (flatness.offset_limit, flatness.offset_verdict),
        refuses=("flatness-offset-beyond-side",),
    ),
    Calculation(
        "movement-joints",
        "flatness",
        (
            _in("setting", "choice", "exterior", choices=get_args(flatness.MovementSetting)),
            _in("spacing", "length", "12 ft", optional=True, shown=True),
            _in("temperature-range", "temperature difference", "115 F", optional=True, shown=True),
            _in("run", "length", "9 m", optional=True),
            _in("width", "length", "1/2 in", optional=True),
        ),
        _movement_joints,
        (
            flatness.movement_joint_spacing,
            flatness.movement_joint_width,
            flatness.movement_joint_layout,
            flatness.movement_joint_verdict,
        ),
        refuses=(
            "flatness-no-temperature-range",
            "flatness-inside-too-far-apart",
            "flatness-outside-too-far-apart",
        ),
    ),
)
