"""Every computation of the trade by name: what it needs, in words and units, and what it gives back.

The other modules of this package take floats in canonical units. This one is the door for whoever has only text: the
command line, a checklist file, a screen. Each subject is a file of entries, loaded when one of its names is asked for;
an entry names its inputs in the words of the trade, reads each one as people write it ("1/2 in", "1200 mm", "50 lb"),
calls the module's function and gives rows that carry unit and basis. It computes nothing itself and makes no sentence.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import InvalidOperation
from importlib import import_module
from types import MappingProxyType

from fieldassist.trade.basis import Basis
from fieldassist.trade.catalog.model import Calculation, Input, InputKind, Result, ResultRow, Subject, Values, title_of
from fieldassist.trade.catalog.reading import nearest, read_inputs, system_of
from fieldassist.trade.catalog.results import results_of, verdict_of
from fieldassist.trade.message import Message, Refused, Several, message
from fieldassist.trade.quantities import System

__all__ = [
    "CALCULATIONS",
    "NAMES",
    "Calculation",
    "Input",
    "InputKind",
    "Result",
    "ResultRow",
    "Subject",
    "UnknownCalculation",
    "Values",
    "bases_of",
    "evaluate",
    "find_calculation",
    "read_inputs",
    "subject_title",
    "system_of",
    "title_of",
    "verdict_of",
]

# The names of each subject, in the order of the list: known before a subject is loaded.
NAMES: Mapping[Subject, tuple[str, ...]] = MappingProxyType(
    {
        "quantities": ("convert", "fraction", "size", "compare"),
        "ridges": (
            "ridges",
            "notch-outline",
            "bed",
            "slide",
            "air-path",
            "two-sided",
            "collapse-effort",
            "notch-depth",
            "notch-advice",
            "filling",
        ),
        "coverage": (
            "required-coverage",
            "lift-verdict",
            "area-verdict",
            "allowed-void",
            "greatest-contact",
            "gap-from-contact",
            "bed-for-contact",
            "solid-bed",
        ),
        "mortar": ("bed-limits", "bed-verdict", "bag-yield", "bags", "batches", "water", "mass-balance"),
        "times": (
            "slake",
            "pot-life",
            "open-time",
            "open-time-area",
            "clocks",
            "cure",
            "concrete-age",
            "working-temperature",
        ),
        "flatness": (
            "base-flatness",
            "din-18202",
            "lippage",
            "least-joint",
            "least-joint-british",
            "offset",
            "movement-joints",
        ),
        "lifting": (
            "piece-weight",
            "who-may-lift",
            "people-needed",
            "team-lift",
            "handling-filter",
            "lifting-limit",
            "lifting-frequency",
            "lifting-job",
            "hand-distance",
            "suction-margin",
        ),
        "dust": ("dust-controls", "dust-day", "dust-average", "dust-limit", "dust-minutes-left", "dust-mixture"),
        "sampling": (
            "lifts-needed",
            "lifts-prove",
            "lots-prove",
            "share-limits",
            "success-run",
            "sample-size",
            "lot-sample",
            "least-good-in-lot",
            "acceptance-plan",
            "acceptance-chance",
        ),
    }
)
_SUBJECT_OF: Mapping[str, Subject] = {name: subject for subject, names in NAMES.items() for name in names}


class UnknownCalculation(Refused):
    """No computation has this name; `told` offers the nearest."""


class _Calculations(Mapping[str, Calculation]):
    """All computations by name; a subject is loaded when the first of its names is asked for."""

    def __init__(self) -> None:
        self._loaded: dict[str, Calculation] = {}

    def __getitem__(self, name: str) -> Calculation:
        if name not in self._loaded:
            subject = import_module(f"fieldassist.trade.catalog.{_SUBJECT_OF[name]}")
            self._loaded |= {entry.name: entry for entry in subject.ENTRIES}
        return self._loaded[name]

    def __iter__(self) -> Iterator[str]:
        return iter(_SUBJECT_OF)

    def __len__(self) -> int:
        return len(_SUBJECT_OF)

    def __contains__(self, name: object) -> bool:
        return name in _SUBJECT_OF


CALCULATIONS: Mapping[str, Calculation] = _Calculations()


def subject_title(subject: Subject) -> Message:
    """A subject in words."""
    return Message(f"calc-subject-{subject}")


def find_calculation(name: str) -> Calculation:
    """The entry of `CALCULATIONS` of that name.

    Errors: `UnknownCalculation` with the nearest names.

    >>> find_calculation("peace-weight")
    Traceback (most recent call last):
        ...
    fieldassist.trade.catalog.UnknownCalculation: calc-unknown-near(name=peace-weight, near=[piece-weight])
    """
    if name in CALCULATIONS:
        return CALCULATIONS[name]
    word = name.casefold().replace("_", "-").replace(" ", "-")
    near = nearest(word, CALCULATIONS, 1, 0.75) or tuple(
        known for known in CALCULATIONS if word and set(word.split("-")) & set(known.split("-"))
    )
    near = near or nearest(word, CALCULATIONS, 2, 0.5)
    if not near:
        raise UnknownCalculation(message("calc-unknown", name=name))
    raise UnknownCalculation(message("calc-unknown-near", name=name, near=Several(near[:4], "or")))


def evaluate(name: str, given: Mapping[str, str], *, system: System = "metric") -> tuple[Result, ...]:
    """Do one computation by name, from text to results.

    Parameters: name, a key of `CALCULATIONS`; given, text by the name of each input, as people write it; system of
    the values in the results, metric being canonical. What a result tells is put into words, and into the same units,
    by `language.Words`.
    Result: figures and messages, each with unit and basis.
    Errors: `UnknownCalculation` with the nearest name; `Refused` for an input that is unknown, missing or cannot be
    read, with an example; `OutOfRange` from the computation, with the reason.

    >>> weight = evaluate("piece-weight", {"length": "1 m", "width": "3 m", "thickness": "6 mm"})[0]
    >>> weight.name, round(weight.value, 1), weight.unit
    ('weight', 42.3, 'kg')
    >>> evaluate("bed", {"notch": "half inch square"}, system="us")[0].unit
    'in'
    """
    calculation = find_calculation(name)
    values = read_inputs(calculation, given)
    try:
        return results_of(calculation, calculation.compute(values), system)
    except (OverflowError, InvalidOperation):
        raise Refused(message("calc-beyond-measure")) from None


def bases_of(calculation: Calculation) -> tuple[Basis, ...]:
    """Where the figures of the worked example come from, each source once, then the other sources.

    >>> [basis.document for basis in bases_of(CALCULATIONS["din-18202"])]
    ['DIN 18202']
    """
    found = [result.basis for result in evaluate(calculation.name, calculation.example)]
    return tuple(dict.fromkeys([*found, *calculation.others]))
