"""The named alternative: PocketSphinx (PyPI `pocketsphinx`), with its own English model, held to the same sentences.

Its grammar is the same graph in the JSpeech Grammar Format (https://www.w3.org/TR/jsgf/).
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from importlib.metadata import version
from typing import Any

from fieldassist.language.word_graph import WordGraph
from fieldassist.voice.audio import RATE_HZ, Clip
from fieldassist.voice.recognizer import Alternative, Heard
from fieldassist.voice.sentences import Sentences

_KEPT = 4


class NoRival(Exception):
    """PocketSphinx is not installed."""


class PocketSphinx:
    """PocketSphinx held to phrases.

    pronounce: ARPAbet of words that its dictionary may lack. Errors: `NoRival`.
    """

    def __init__(self, pronounce: Mapping[str, str]) -> None:
        try:
            import pocketsphinx
        except ImportError as error:
            raise NoRival("PocketSphinx is not installed (pip install pocketsphinx)") from error
        self.name = f"PocketSphinx {version('pocketsphinx')}"
        self._module = pocketsphinx
        self._decoder: Any = pocketsphinx.Decoder(lm=None, samprate=RATE_HZ, loglevel="FATAL")
        for word, sounds in pronounce.items():
            if self._decoder.lookup_word(word) is None:
                self._decoder.add_word(word, "".join(c for c in sounds if not c.isdigit()), True)
        self._searches: OrderedDict[Sentences, str] = OrderedDict()
        self._made = 0

    def knows(self, word: str) -> bool:
        """Whether its dictionary has the word."""
        return self._decoder.lookup_word(word) is not None

    def hold_to(self, said: Sentences) -> None:
        """Listen for these sentences from now on."""
        name = self._searches.pop(said, None)
        if name is None:
            self._made += 1
            name = f"list{self._made}"
            self._decoder.add_jsgf_string(name, jsgf(said.graph))
        self._searches[said] = name
        self._decoder.activate_search(name)
        while len(self._searches) > _KEPT:
            _, old = self._searches.popitem(last=False)
            self._decoder.remove_search(old)

    def hear(self, clip: Clip) -> str:
        """The words of one recording, "" for none."""
        return self.hear_raw(clip.samples.astype("<i2").tobytes())

    def hear_raw(self, sound: bytes) -> str:
        """The words in 16 kHz mono int16 samples, "" for none."""
        self._decoder.start_utt()
        self._decoder.process_raw(sound, full_utt=True)
        self._decoder.end_utt()
        found = self._decoder.hyp()
        return found.hypstr if found is not None else ""

    def utterances(self, sound: bytes) -> Sequence[bytes]:
        """A stream cut into utterances by its own endpointer."""
        pointer = self._module.Endpointer(sample_rate=RATE_HZ)
        size = int(pointer.frame_bytes)
        found, inside = [], bytearray()
        for start in range(0, len(sound) - size, size):
            part = pointer.process(sound[start : start + size])
            if part is not None:
                inside += part
            if inside and not pointer.in_speech:
                found.append(bytes(inside))
                inside = bytearray()
        return found


class SphinxEars:
    """PocketSphinx as the program's recognizer: one hearing and no rivals, as that is all its grammar gives."""

    def __init__(self, engine: PocketSphinx) -> None:
        self._engine = engine

    def hear(self, frames: Iterable[bytes], said: Sentences | None) -> Heard:
        """As `Recognizer.hear`, but it takes no dictation: without sentences nothing is heard."""
        sound = b"".join(frames)
        if said is None:
            return Heard((), len(sound) / 2 / RATE_HZ)
        self._engine.hold_to(said)
        words = self._engine.hear_raw(sound)
        found = (Alternative(words, 0.0, ()),) if words else ()
        return Heard(found, len(sound) / 2 / RATE_HZ)

    def listen(self, frames: Iterable[bytes], said_now: Callable[[], Sentences | None]) -> Iterator[Heard]:
        """As `Recognizer.listen`, each utterance cut by its own endpointer."""
        for part in self._engine.utterances(b"".join(frames)):
            yield self.hear([part], said_now())

    def knows(self, word: str) -> bool:
        """As `Recognizer.knows`."""
        return self._engine.knows(word)


def jsgf(graph: WordGraph) -> str:
    """A graph of sentences as a grammar, a rule a state.

    >>> from fieldassist.language.word_graph import graph_of
    >>> print(jsgf(graph_of([("next", "tile"), ("yes",)])))
    #JSGF V1.0;
    grammar said;
    public <s0> = next <s1> | yes <s2>;
    <s1> = tile <s2>;
    <s2> = <NULL>;
    """
    rules = [
        " | ".join(
            [f"{arc.word} <s{arc.to}>" for arc in arcs] + (["<NULL>"] if end is not None else []),
        )
        for arcs, end in zip(graph.arcs, graph.ends, strict=True)
    ]
    lines = [f"{'public ' if state == 0 else ''}<s{state}> = {rule};" for state, rule in enumerate(rules)]
    return "\n".join(["#JSGF V1.0;", "grammar said;", *lines])
