"""The words of the trade and of this program, each in a plain sentence, with a sign where one helps.

Their English stands in `language/en/person.ftl`; here is which words there are, in which order, and what goes together.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from fieldassist.trade.message import Message, term
from fieldassist.ui.content.signs import SignName


@dataclass(frozen=True, slots=True)
class GlossaryEntry:
    """A word. id: of its two messages; sign: the drawn sign that helps, "" for none; see: words that go with it."""

    id: str
    sign: SignName | Literal[""] = ""
    see: tuple[str, ...] = ()

    @property
    def word(self) -> Message:
        """The word itself."""
        return term("person-word", self.id)

    @property
    def means(self) -> Message:
        """What it means, in a sentence."""
        return term("person-means", self.id)


_WORD = re.compile(r"[^\W_]+")

# As a crew comes across them: mortar, bed, tile, lift, proof.
GLOSSARY: tuple[GlossaryEntry, ...] = (
    GlossaryEntry("batch", "sack", ("lot-of-mortar", "slake", "pot-life")),
    GlossaryEntry("lot-of-mortar", "sack", ("batch",)),
    GlossaryEntry("slake", "pail", ("batch", "pot-life")),
    GlossaryEntry("pot-life", "pail", ("open-time", "slake")),
    GlossaryEntry("open-time", "clock", ("skin", "pot-life")),
    GlossaryEntry("skin", "clock", ("open-time",)),
    GlossaryEntry("notch", "trowel", ("ridge", "collapse")),
    GlossaryEntry("ridge", "comb-direction", ("notch", "collapse", "void")),
    GlossaryEntry("collapse", "stroke", ("ridge", "void", "stroke")),
    GlossaryEntry("bed", "comb-direction", ("ridge", "keyed-back")),
    GlossaryEntry("keyed-back", "key-back", ("bed", "coverage")),
    GlossaryEntry("stroke", "stroke", ("collapse", "beat-in")),
    GlossaryEntry("beat-in", "mallet", ("stroke",)),
    GlossaryEntry("lippage", "set", ("joint",)),
    GlossaryEntry("joint", "set", ("lippage",)),
    GlossaryEntry("lift", "lift", ("coverage", "void", "lot")),
    GlossaryEntry("coverage", "lift", ("lift", "void")),
    GlossaryEntry("void", "lift", ("coverage", "collapse")),
    GlossaryEntry("lot", "lift", ("lift",)),
    GlossaryEntry("suspect", "question", ("covered", "lift")),
    GlossaryEntry("covered", "pass", ("suspect", "lift")),
    GlossaryEntry("witnessed", "ear", ("counted",)),
    GlossaryEntry("counted", "wall", ("witnessed",)),
    GlossaryEntry("hold-point", "sign", ("witnessed",)),
    GlossaryEntry("method", "trowel", ("notch", "keyed-back", "stroke")),
    GlossaryEntry("silica", "shield", ()),
)


def found(typed: str, entries: tuple[tuple[GlossaryEntry, str, str], ...]) -> tuple[GlossaryEntry, ...]:
    """The entries whose word or meaning has what was typed; those whose word begins with it first.

    entries: each with its word and its meaning as they are read.
    """
    sought = typed.strip().casefold()
    hits = [
        (not word.casefold().startswith(sought), sought not in word.casefold(), at, entry)
        for at, (entry, word, meaning) in enumerate(entries)
        if sought in word.casefold() or sought in meaning.casefold()
    ]
    return tuple(entry for *_, entry in sorted(hits, key=lambda hit: hit[:3]))


def named_in(text: str, entries: tuple[tuple[GlossaryEntry, str, str], ...]) -> tuple[GlossaryEntry, ...]:
    """The entries whose word stands in a text, in the glossary's order; entries: as for `found`."""
    words = f" {' '.join(_WORD.findall(text.casefold()))} "
    return tuple(entry for entry, word, _ in entries if f" {word.casefold()} " in words)
