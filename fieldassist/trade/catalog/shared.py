"""Inputs, sources and cautions that several entries share."""

from __future__ import annotations

from typing import Any, Protocol, get_args

from fieldassist.trade import coverage, mortar, ridges
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog.model import Input, InputKind, Subject, Values
from fieldassist.trade.message import Message, Refused, message

__all__ = [
    "ARITHMETIC",
    "CEMENT_CAUTIONS",
    "FIELD_CAUTIONS",
    "LIFTING_CAUTIONS",
    "MORTAR_INPUTS",
    "NOTCH_INPUTS",
    "NOTCH_REFUSALS",
    "OWN_NOTCH",
    "SETTING_INPUTS",
    "asking",
    "bed_limits",
    "bed_word",
    "notch_of",
    "requirement",
]

ARITHMETIC = BASES["arithmetic"]

SITE_FIRST = Message("calc-caution-site-first")
CEMENT_CAUTIONS = (*(caution.told for caution in mortar.MIXING_CAUTIONS), SITE_FIRST)
FIELD_CAUTIONS = (Message("coverage-caution-field"),)
LIFTING_CAUTIONS = (Message("lifting-caution-hands"), Message("lifting-caution-permit"))


class _Ask(Protocol):
    def __call__(
        self,
        name: str,
        kind: InputKind,
        example: str,
        default: str | None = None,
        *,
        optional: bool = False,
        choices: tuple[str, ...] = (),
        shown: bool = False,
        of: str = "",
    ) -> Input: ...


def asking(subject: Subject) -> _Ask:
    """Inputs of a subject, explained under its own codes; `of` names the entry where another explains it otherwise.

    >>> asking("ridges")("edge", "length", "150 mm").told.code
    'ridges-in-edge'
    """

    def ask(
        name: str, kind: InputKind, example: str, default: str | None = None, *, of: str = "", **more: Any
    ) -> Input:
        code = f"{subject}-in-{name}-{of}" if of else f"{subject}-in-{name}"
        return Input(name, Message(code), kind, example, default, **more)

    return ask


_notch = asking("ridges")
NOTCH_INPUTS = (
    _notch("notch", "choice", "half inch square", optional=True, choices=tuple(ridges.COMMON_NOTCHES), shown=True),
    _notch("notch-family", "choice", "U", optional=True, choices=get_args(ridges.Family)),
    _notch("notch-width", "length", "1/4 in", optional=True),
    _notch("notch-depth", "length", "3/8 in", optional=True),
    _notch("notch-spacing", "length", "1/4 in", optional=True),
    _notch("notch-pitch", "length", "1/2 in", optional=True),
    _notch("notch-lean", "angle", "30", optional=True),
)
OWN_NOTCH = tuple(spec.name for spec in NOTCH_INPUTS[1:])
NOTCH_REFUSALS = (
    "ridges-no-tooth",
    "ridges-not-square",
    "ridges-too-shallow-to-be-round",
    "ridges-do-not-lean",
    "ridges-lean-outside",
    "ridges-notch-twice",
    "ridges-notch-half-told",
    "ridges-trowel-angle-outside",
    "ridges-filling-outside",
)

_mortar = asking("mortar")
MORTAR_INPUTS = (
    _mortar("mortar", "choice", "large-and-heavy-tile", choices=get_args(mortar.MortarKind)),
    _mortar("least-bed", "length", "3 mm", optional=True),
    _mortar("greatest-bed", "length", "12 mm", optional=True),
)

_coverage = asking("coverage")
SETTING_INPUTS = (
    _coverage("product", "choice", "tile", "tile", choices=get_args(coverage.Product)),
    _coverage("place", "choice", "wet", choices=get_args(coverage.Place)),
    _coverage("surface", "choice", "wall", choices=get_args(coverage.Surface)),
)


def notch_of(values: Values) -> ridges.Notch:
    """The notch that was named or described.

    Errors: `Refused` for both or neither, and those of `ridges.Notch`.
    """
    own = [name for name in OWN_NOTCH if values[name] is not None]
    if values["notch"] is not None:
        if own:
            raise Refused(message("ridges-notch-twice", input=own[0]))
        return ridges.COMMON_NOTCHES[values["notch"]]
    family, width, depth = values["notch-family"], values["notch-width"], values["notch-depth"]
    spacing, pitch = values["notch-spacing"], values["notch-pitch"]
    if depth is None and family == "square":
        depth = width
    if family is None or width is None or depth is None or (spacing is None) == (pitch is None):
        raise Refused(message("ridges-notch-half-told"))
    if pitch is not None:
        return ridges.notch_at_pitch(family, width, depth, pitch, values["notch-lean"])
    return ridges.Notch(family, width, depth, spacing, values["notch-lean"])


def bed_limits(values: Values) -> mortar.BedLimits:
    """The limits of the mortar that was named, or of its data sheet."""
    return mortar.bed_limits(
        values["mortar"], data_sheet_least_mm=values["least-bed"], data_sheet_greatest_mm=values["greatest-bed"]
    )


def bed_word(verdict: str) -> Message:
    """A verdict on a bed or its mortar in one or two words."""
    return Message(f"mortar-word-{verdict.replace(' ', '-')}")


def requirement(values: Values) -> coverage.Requirement:
    """The contact that the setting requires."""
    return coverage.required_contact(values["product"], values["place"], values["surface"])
