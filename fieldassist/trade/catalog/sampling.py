"""Entries on what lifted tiles prove."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from fieldassist.trade import sampling
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.shared import asking
from fieldassist.trade.message import Several, message

_in = asking("sampling")
_CONFIDENCE = _in("confidence", "share", "95 %", "95 %")
_SHARE = _in("share", "share", "90 %", "90 %")
_LOT = _in("lot", "count", "40", optional=True)


def _lifts_needed(values: Values) -> Iterable[ResultRow]:
    need = sampling.lifts_needed(values["confidence"], values["share"], values["failures"], values["lot"])
    return [
        ResultRow("lifts", need.lifts, basis=need.basis),
        ResultRow("bad ones allowed among them", need.failures, basis=need.basis),
        ResultRow("words", need.words, basis=need.basis),
        ResultRow("caution", need.caution, basis=need.basis),
    ]


def _lifts_prove(values: Values) -> Iterable[ResultRow]:
    proof = sampling.what_lifts_prove(values["good"], values["lifted"], values["confidence"], values["lot"])
    return [
        ResultRow("least share of good tiles", proof.share, "share, rounded down", proof.basis),
        ResultRow("confidence", proof.confidence, "share", proof.basis),
        ResultRow("words", proof.words, basis=proof.basis),
        ResultRow("caution", proof.caution, basis=proof.basis),
    ]


def _lots_prove(values: Values) -> Iterable[ResultRow]:
    kinds = ("drawn", "forced", "chosen")
    counts = {f"{kind}_{found}": values[f"{kind}-{found}"] for kind in kinds for found in ("good", "bad")}
    tally = sampling.LiftTally(values["tiles"], **counts, row=values["row"], row_m2=values["row-area"])
    proof = sampling.what_lots_prove(tally, values["confidence"])
    if proof.share is not None:
        yield ResultRow("least share of good tiles", proof.share, "share, rounded down", proof.basis)
    yield ResultRow("confidence", proof.confidence, "share", proof.basis)
    yield ResultRow("words", proof.words[0], basis=proof.basis, told=Several(proof.words, "sentences"))


def _share_limits(values: Values) -> Iterable[ResultRow]:
    limits = sampling.clopper_pearson(values["good"], values["lifted"], values["confidence"], values["side"])
    return [
        ResultRow("at least", limits.low, "share, rounded down"),
        ResultRow("at most", limits.high, "share, rounded up"),
    ]


def _success_run(values: Values) -> Iterable[ResultRow]:
    needed = sampling.zero_failure_sample(values["confidence"], values["share"], values["form"])
    yield ResultRow("lifts, all good", needed)
    lifted = values["lifted"]
    if lifted is not None:
        shown = sampling.share_shown(lifted, values["confidence"], values["form"])
        label = message("sampling-out-share-shown", lifts=lifted)
        yield ResultRow(f"share shown by {lifted} good lifts", shown, "share, rounded down", label=label)


def _lot_left(values: Values) -> Iterable[ResultRow]:
    least = sampling.least_good_in_lot(values["good"], values["lifted"], values["lot"], values["confidence"])
    return [ResultRow("good tiles at least", least), ResultRow("of tiles", values["lot"])]


def _lot_sample(values: Values) -> Iterable[ResultRow]:
    samples = sampling.hypergeometric_sample(
        values["lot"], values["confidence"], values["bad-share"], values["failures"]
    )
    return [ResultRow("samples", samples)]


def _plan(values: Values) -> Iterable[ResultRow]:
    plan = sampling.z14_plan(values["lot"], values["quality-level"])
    return [
        ResultRow("code letter", plan.code, basis=plan.basis),
        ResultRow("tiles to inspect", plan.sample, basis=plan.basis),
        ResultRow("accept with bad ones up to", plan.accept, basis=plan.basis),
        ResultRow("reject from bad ones", plan.reject, basis=plan.basis),
        ResultRow("that is every tile", plan.everything, basis=plan.basis),
        ResultRow("an arrow of the table was followed", plan.followed, basis=plan.basis),
    ]


def _chance(values: Values) -> Iterable[ResultRow]:
    chance = sampling.accept_probability(values["sample"], values["accept"], values["bad-share"], values["lot"])
    return [ResultRow("chance of acceptance", 100 * chance, "percent")]


ENTRIES = (
    Calculation(
        "lifts-needed",
        "sampling",
        (_CONFIDENCE, _SHARE, _in("failures", "count", "1", "0"), _LOT),
        _lifts_needed,
        (sampling.lifts_needed,),
        refuses=("sampling-too-many-samples", "sampling-failures-over-claim"),
    ),
    Calculation(
        "lifts-prove",
        "sampling",
        (_in("good", "count", "3"), _in("lifted", "count", "3"), _CONFIDENCE, _LOT),
        _lifts_prove,
        (sampling.what_lifts_prove,),
        refuses=("sampling-more-good-than-all",),
    ),
    Calculation(
        "lots-prove",
        "sampling",
        (
            _in("tiles", "count", "48"),
            _in("drawn-good", "count", "10"),
            _in("drawn-bad", "count", "1", "0"),
            _in("forced-good", "count", "1", "0"),
            _in("forced-bad", "count", "1", "0"),
            _in("chosen-good", "count", "4", "0", shown=True),
            _in("chosen-bad", "count", "1", "0"),
            _in("row", "count", "6", "0", shown=True),
            _in("row-area", "area", "4.3 m2", "0 m2", shown=True),
            _CONFIDENCE,
        ),
        _lots_prove,
        (sampling.what_lots_prove,),
    ),
    Calculation(
        "share-limits",
        "sampling",
        (
            _in("good", "count", "4", of="share-limits"),
            _in("lifted", "count", "20", of="share-limits"),
            _in("confidence", "share", "90 %", "95 %", shown=True),
            _in("side", "choice", "lower", "two-sided", choices=get_args(sampling.BoundSide)),
        ),
        _share_limits,
        (sampling.clopper_pearson,),
        BASES["exact-limits"],
        refuses=("sampling-more-good-than-all",),
    ),
    Calculation(
        "success-run",
        "sampling",
        (
            _CONFIDENCE,
            _SHARE,
            _in("form", "choice", "n+1", "classical", choices=get_args(sampling.ZeroFailureForm)),
            _in("lifted", "count", "3", optional=True, shown=True, of="success-run"),
        ),
        _success_run,
        (sampling.zero_failure_sample, sampling.share_shown),
        BASES["success-run"],
        refuses=("sampling-too-many-samples",),
    ),
    Calculation(
        "sample-size",
        "sampling",
        (_CONFIDENCE, _SHARE, _in("failures", "count", "1", "0", shown=True, of="sample-size")),
        lambda v: [ResultRow("samples", sampling.sample_size(v["confidence"], v["share"], v["failures"]))],
        (sampling.sample_size,),
        BASES["binomial"],
        refuses=("sampling-too-many-samples",),
    ),
    Calculation(
        "lot-sample",
        "sampling",
        (
            _in("lot", "count", "100", of="lot-sample"),
            _CONFIDENCE,
            _in("bad-share", "share", "5 %"),
            _in("failures", "count", "1", "0", of="lot-sample"),
        ),
        _lot_sample,
        (sampling.hypergeometric_sample,),
        BASES["lot-sample"],
        refuses=("sampling-too-many-failures",),
    ),
    Calculation(
        "least-good-in-lot",
        "sampling",
        (
            _in("good", "count", "3", of="least-good-in-lot"),
            _in("lifted", "count", "3", of="least-good-in-lot"),
            _in("lot", "count", "40", of="lot-sample"),
            _CONFIDENCE,
        ),
        _lot_left,
        (sampling.least_good_in_lot,),
        BASES["hypergeometric"],
    ),
    Calculation(
        "acceptance-plan",
        "sampling",
        (_in("lot", "count", "100", of="acceptance-plan"), _in("quality-level", "percent", "4 %")),
        _plan,
        (sampling.z14_plan,),
        refuses=("sampling-lot-beyond-table", "sampling-level-not-held"),
    ),
    Calculation(
        "acceptance-chance",
        "sampling",
        (
            _in("sample", "count", "20"),
            _in("accept", "count", "2"),
            _in("bad-share", "share", "4 %", of="acceptance-chance"),
            _LOT,
        ),
        _chance,
        (sampling.accept_probability,),
        BASES["binomial"],
        (BASES["hypergeometric"],),
        refuses=("sampling-more-than-the-lot",),
    ),
)
