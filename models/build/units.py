"""The sounds the model tells apart, and the numbers Kaldi's files give them.

The model has one hidden state a phone, as in Kaldi's chain models (Povey et al. 2016, "Purely sequence-trained neural
networks for ASR based on lattice-free MMI"): the first frame of a phone is scored by its forward pdf, every further
one by its self-loop pdf. Phones do not depend on their neighbours. Training sees only the units; the decoding graph
and `final.mdl` also tell where in a word a phone stands (beginning, end, inside, alone), because vosk finds the words'
edges that way. All four places share the unit's two pdfs.

From the numbering here follow `final.mdl` (kaldi_mdl.py), the graphs (graph.py) and the network's outputs: none of them
can change alone.
"""

from collections.abc import Sequence

PHONES: tuple[str, ...] = (
    *("AA", "AE", "AH", "AX", "AO", "AW", "AY", "B", "CH", "D", "DH", "EH", "ER", "EY", "F", "G", "HH", "IH", "IY"),
    *("JH", "K", "L", "M", "N", "NG", "OW", "OY", "P", "R", "S", "SH", "T", "TH", "UH", "UW", "V", "W", "Y", "Z", "ZH"),
)
"""CMUdict's 39 ARPAbet phones, and AX for the unstressed AH ("a", "the")."""

SILENCE = "SIL"

UNITS: tuple[str, ...] = (SILENCE, *PHONES)

UNIT_ID: dict[str, int] = {name: index for index, name in enumerate(UNITS)}

PDFS = 2 * len(UNITS)
"""Outputs of the network: unit u has the forward pdf 2u and the self-loop pdf 2u + 1."""

PLACES = "BEIS"
"""Begin, End, Inside, Single: where in its word a phone stands, in the order of Kaldi's word-position phones."""

KALDI_PHONES: dict[str, int] = {SILENCE: 1} | {
    f"{phone}_{place}": 2 + len(PLACES) * index + offset
    for index, phone in enumerate(PHONES)
    for offset, place in enumerate(PLACES)
}
"""Kaldi's phone ids. 0 is epsilon; the disambiguation symbols come after the last of these."""

TRANSITIONS = 2 * len(KALDI_PHONES)
"""Number of transition ids; they run from 1 to this."""


def forward_pdf(unit: int) -> int:
    """The pdf of a unit's first frame."""
    return 2 * unit


def self_loop_pdf(unit: int) -> int:
    """The pdf of every frame of a unit after its first."""
    return 2 * unit + 1


def transition_ids(kaldi_phone: int) -> tuple[int, int]:
    """(self-loop, forward) transition ids of a Kaldi phone id.

    Kaldi numbers transitions state by state; each phone has one state with two transitions, the loop first.

    >>> transition_ids(KALDI_PHONES["SIL"])
    (1, 2)
    >>> transition_ids(KALDI_PHONES["ZH_S"]) == (TRANSITIONS - 1, TRANSITIONS)
    True
    """
    if not 1 <= kaldi_phone <= len(KALDI_PHONES):
        raise ValueError(f"no phone has the id {kaldi_phone}: they run from 1 to {len(KALDI_PHONES)}")
    return 2 * kaldi_phone - 1, 2 * kaldi_phone


def unit_of(name: str) -> int:
    """The unit id of a Kaldi phone name ("AX_B") or of a plain one ("AX", "SIL").

    >>> unit_of("AX_B") == UNIT_ID["AX"]
    True
    """
    if name not in UNIT_ID and name not in KALDI_PHONES:
        raise ValueError(f"{name!r} is not one of the model's phones")
    return UNIT_ID[name.partition("_")[0]]


def word_phones(phones: Sequence[str]) -> list[str]:
    """Kaldi phone names of a word's phones, each with its place in the word.

    >>> word_phones(["T", "AY", "L"]), word_phones(["AX"])
    (['T_B', 'AY_I', 'L_E'], ['AX_S'])
    """
    if len(phones) == 1:
        return [f"{phones[0]}_S"]
    last = len(phones) - 1
    return [f"{phone}_{'B' if i == 0 else 'E' if i == last else 'I'}" for i, phone in enumerate(phones)]
