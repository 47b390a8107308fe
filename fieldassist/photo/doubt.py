"""How far a proposal can be trusted, from the picture itself: doubts, the gates they have to pass, and the interval.

Nobody says of a picture that it is a hard one. What is known of it: how far mortar and back lie apart, by how much the
share moves when one tap is left out, by how much two methods differ, and how much of the piece could be either.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fieldassist.photo.calibrated import GATE, HALF_WIDTH
from fieldassist.photo.gates import Doubts
from fieldassist.photo.picture import CannotTell
from fieldassist.photo.taps import Taps
from fieldassist.photo.tones import Dots, Tones, fit
from fieldassist.trade.checks import measured
from fieldassist.trade.message import message

__all__ = ["TapsLeftOut", "contradicting", "interval", "left_out", "must_agree", "must_pass"]

# A tap that the others take for its own side with less than this chance contradicts them. Ours: common practice, no
# published source.
_LEAST_OWN_CHANCE = 0.1
# The dots of a tap are judged by the quarter of them that is most like its own side.
_OWN_PART = 0.75


@dataclass(frozen=True, slots=True)
class TapsLeftOut:
    """What each tap is to the others. own: how likely they take it for its own side; percent: of mortar without it."""

    own: tuple[float, ...]
    percent: tuple[float, ...]


def left_out(dots: Dots) -> TapsLeftOut:
    """Learn from all taps but one, for each of them."""
    own, percent = [], []
    for number, on_mortar in enumerate(dots.taps.mortar):
        tones = fit(dots.without(number))
        flat = dots.shown[number] - dots.tapped_terms[number] @ tones.light
        mortar, bare, _ = tones.chances(flat[None])[:, 0]
        # A tap beside a border shows some of its own side.
        of_own = (mortar if on_mortar else bare) / np.maximum(mortar + bare, 1e-6)
        own.append(float(np.quantile(of_own, _OWN_PART)))
        percent.append(_percent(dots, tones))
    return TapsLeftOut(tuple(own), tuple(percent))


def _percent(dots: Dots, tones: Tones) -> float:
    flat = dots.y - (dots.terms @ tones.light)[:, None]
    mortar, bare, _ = tones.chances(flat[None]).sum(axis=(1, 2))
    return 100 * float(mortar / max(mortar + bare, 1e-6))


def contradicting(left: TapsLeftOut) -> int | None:
    """The number of the tap that the others most take for the other side, counted from 0; None where none is."""
    number = min(range(len(left.own)), key=left.own.__getitem__)
    return number if left.own[number] < _LEAST_OWN_CHANCE else None


def must_agree(taps: Taps, left: TapsLeftOut) -> None:
    """Errors: `CannotTell`, and which tap it is, where one looks to the others like what lies on the other side."""
    number = contradicting(left)
    if number is None:
        return
    mortar = len(taps.of(True))
    if number < mortar:
        raise CannotTell(message("measure-mortar-tap-contradicts", tap=number + 1))
    raise CannotTell(message("measure-bare-tap-contradicts", tap=number - mortar + 1))


def must_pass(doubts: Doubts) -> None:
    """Errors: `CannotTell` with the reason where a doubt is too large for any figure."""
    stopped = GATE.stops(doubts)
    if stopped == "neither":
        raise CannotTell(message("measure-like-neither", share=measured(round(doubts.neither), "percent")))
    if stopped == "unlike":
        raise CannotTell(message("measure-one-material"))
    if stopped in ("apart", "ambiguous"):
        raise CannotTell(message("measure-too-alike"))
    if stopped == "taps":
        raise CannotTell(message("measure-hangs-on-one-tap", points=round(doubts.taps, 1)))
    if stopped == "methods":
        raise CannotTell(message("measure-two-ways-differ", points=round(doubts.methods, 1)))


def interval(percent: float, doubts: Doubts) -> tuple[float, float]:
    """Between which shares of mortar the true one lies in nine of ten such pictures [percent].

    Split conformal prediction (Vovk, Gammerman, Shafer, Algorithmic Learning in a Random World,
    2005, 4.5).
    """
    half = HALF_WIDTH * doubts.points
    return max(0.0, percent - half), min(100.0, percent + half)
