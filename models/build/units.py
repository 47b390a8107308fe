"""The sounds the model tells apart, and the numbers Kaldi's files give them.

The model has one hidden state a phone, as in Kaldi's chain models (Povey et al. 2016, "Purely sequence-trained neural
networks for ASR based on lattice-free MMI"): the first frame of a phone is scored by its forward pdf, every further
one by its self-loop pdf. Phones do not depend on their neighbours. Training sees only the units; the decoding graph
and `final.mdl` also tell where in a word a phone stands (beginning, end, inside, alone), because vosk finds the words'
edges that way. All four places share the unit's two pdfs.

Which phones there are is the language's to say (`en/phones.py`). From the numbering here follow `final.mdl`
(kaldi_mdl.py), the graphs (graph.py) and the network's outputs: none of them can change alone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

SILENCE = "SIL"

PLACES = "BEIS"
"""Begin, End, Inside, Single: where in its word a phone stands, in the order of Kaldi's word-position phones."""


@dataclass(frozen=True)
class Units:
    """The phones of a language, and the numbers that they have; silence comes first."""

    phones: tuple[str, ...]

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Silence and the phones, in the order of the unit ids."""
        return (SILENCE, *self.phones)

    @cached_property
    def ids(self) -> Mapping[str, int]:
        """The unit id of a phone, and of silence."""
        return MappingProxyType({name: index for index, name in enumerate(self.names)})

    @property
    def pdfs(self) -> int:
        """Outputs of the network: unit u has the forward pdf 2u and the self-loop pdf 2u + 1."""
        return 2 * len(self.names)

    @cached_property
    def kaldi_phones(self) -> Mapping[str, int]:
        """Kaldi's phone ids. 0 is epsilon; the disambiguation symbols come after the last of these."""
        in_places = {
            f"{phone}_{place}": 2 + len(PLACES) * index + offset
            for index, phone in enumerate(self.phones)
            for offset, place in enumerate(PLACES)
        }
        return MappingProxyType({SILENCE: 1} | in_places)

    @property
    def transitions(self) -> int:
        """Number of transition ids; they run from 1 to this."""
        return 2 * len(self.kaldi_phones)

    def transition_ids(self, kaldi_phone: int) -> tuple[int, int]:
        """(self-loop, forward) transition ids of a Kaldi phone id.

        Kaldi numbers transitions state by state; each phone has one state with two transitions, the loop first.

        >>> Units(("T", "AX")).transition_ids(1)
        (1, 2)
        """
        if not 1 <= kaldi_phone <= len(self.kaldi_phones):
            raise ValueError(f"no phone has the id {kaldi_phone}: they run from 1 to {len(self.kaldi_phones)}")
        return 2 * kaldi_phone - 1, 2 * kaldi_phone

    def unit_of(self, name: str) -> int:
        """The unit id of a Kaldi phone name ("AX_B") or of a plain one ("AX", "SIL").

        >>> Units(("T", "AX")).unit_of("AX_B")
        2
        """
        if name not in self.ids and name not in self.kaldi_phones:
            raise ValueError(f"{name!r} is not one of the model's phones")
        return self.ids[name.partition("_")[0]]


def forward_pdf(unit: int) -> int:
    """The pdf of a unit's first frame."""
    return 2 * unit


def self_loop_pdf(unit: int) -> int:
    """The pdf of every frame of a unit after its first."""
    return 2 * unit + 1


def word_phones(phones: Sequence[str]) -> list[str]:
    """Kaldi phone names of a word's phones, each with its place in the word.

    >>> word_phones(["T", "AY", "L"]), word_phones(["AX"])
    (['T_B', 'AY_I', 'L_E'], ['AX_S'])
    """
    if len(phones) == 1:
        return [f"{phones[0]}_S"]
    last = len(phones) - 1
    return [f"{phone}_{'B' if i == 0 else 'E' if i == last else 'I'}" for i, phone in enumerate(phones)]
