"""Recordings of people: those of two Debian packages, where installed, and of folders given on the command line."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

import numpy as np
import numpy.typing as npt
import soundfile

from fieldassist.voice.audio import RATE_HZ, Clip, clip_of, read_audio
from tests.bench.voice.speech import ACCENTED, CLEAN, Floats, Speech, at_level

TESTDATA = Path("/usr/share/pocketsphinx/test/data")  # Debian package pocketsphinx-testdata
PROMPTS = Path("/usr/share/asterisk/sounds/en")  # Debian package asterisk-core-sounds-en-wav
# Prompts that are numbers or letters could be answers; the rest is talk.
_NOT_TALK = frozenset({"digits", "letters", "phonetic", "silence"})
_SOUNDS = (".wav", ".flac", ".ogg", ".mp3")
_SHORTEST_TALK_S = 1.0
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_NUMBERS = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


@dataclass(frozen=True)
class Labelled:
    """A recording and what is truly said in it. speaker: by a letter, "" where it does not matter."""

    name: str
    clip: Clip
    said: str
    speaker: str = ""


@dataclass
class Talk:
    """Recordings of talk that is not meant for the tablet. missing: what was not at hand, in words."""

    clips: list[Clip] = field(default_factory=list)
    sources: dict[str, float] = field(default_factory=dict)  # seconds by source
    missing: list[str] = field(default_factory=list)

    def add(self, source: str, clips: list[Clip]) -> None:
        """Take in the clips of a source."""
        self.clips += clips
        self.sources[source] = self.sources.get(source, 0.0) + sum(c.seconds for c in clips)


def raw(path: Path) -> Clip:
    """A file of bare 16 kHz mono int16 samples."""
    return clip_of(np.frombuffer(path.read_bytes(), dtype="<i2").astype(np.int16))


def cards() -> tuple[list[Labelled], list[str]]:
    """Spoken playing cards with their transcripts, and the phrases of the grammar that comes with them."""
    folder = TESTDATA / "cards"
    if not folder.is_dir():
        return [], []
    ranks = [*_NUMBERS, "ace", "jack", "queen", "king", "lady"]
    card = [f"{r}{of} {s}" for r in ranks for of in (" of", "") for s in ["clubs", "hearts", "diamonds", "spades"]]
    phrases = [*card, *(f"{a} {b}" for a in ranks for b in ranks), *(f"{a} {b}" for a in ranks for b in card)]
    phrases += [f"{a} {b}" for a in card[::8] for b in card[::7]]  # every suit before every rank
    return [Labelled(p.stem, read_audio(folder / f"{p.stem}.wav"), said) for p, said in _transcripts(folder)], phrases


def commands() -> tuple[list[Labelled], list[str]]:
    """A spoken command of the same package, and the phrases of the grammar that comes with it."""
    path = TESTDATA / "goforward.raw"
    if not path.exists():
        return [], []
    units = (" meter", " meters", "")
    phrases = [f"go {way} {n}{unit}" for way in ("forward", "backward") for n in ("one", *_NUMBERS) for unit in units]
    return [Labelled("goforward", raw(path), "go forward ten meters")], phrases


def digit_string() -> list[Labelled]:
    """A string of digits of the same package; its transcript is its name."""
    path = TESTDATA / "tidigits" / "dhd.2934z.raw"
    return [Labelled("digits", raw(path), "29340")] if path.exists() else []


def digits(folder: Path | None) -> list[Labelled]:
    """Single digits from a folder with files named DIGIT_SPEAKER_TAKE, such as 7_a_3.flac; said: the figure."""
    if folder is None or not folder.is_dir():
        return []
    found = sorted(p for p in folder.iterdir() if re.fullmatch(r"\d_\w+", p.stem) and p.suffix in _SOUNDS)
    names = sorted({p.stem.split("_")[1] for p in found})
    return [Labelled(p.stem, read_audio(p), p.stem[0], _LETTERS[names.index(p.stem.split("_")[1])]) for p in found]


def strings(singles: list[Labelled], count: int, random: Random) -> list[Labelled]:
    """Strings of four digits, each of one speaker's single ones with 0.15 s between, at one level.

    singles: as `digits` gives them; count: strings, as many of each speaker.
    """
    by_speaker: dict[str, list[Labelled]] = {}
    for one in singles:
        by_speaker.setdefault(one.speaker, []).append(one)
    made = []
    for speaker, theirs in sorted(by_speaker.items()):
        for number in range(count // len(by_speaker)):
            four = random.sample(theirs, 4)
            parts = [np.zeros(RATE_HZ // 4)]
            for one in four:
                samples = one.clip.samples.astype(np.float64)
                parts += [samples * (16_000 / np.abs(samples).max()), np.zeros(round(0.15 * RATE_HZ))]
            clip = clip_of(np.concatenate([*parts, np.zeros(RATE_HZ // 10)]).astype(np.int16))
            made.append(Labelled(f"{speaker}-{number}", clip, "".join(one.said for one in four), speaker))
    return made


def talk(folders: list[Path]) -> Talk:
    """All the talk of people that is at hand."""
    found = Talk()
    read_aloud = [read_audio(p) for p in sorted((TESTDATA / "librivox").glob("*.wav"))]
    if (TESTDATA / "something.raw").exists():
        read_aloud.append(raw(TESTDATA / "something.raw"))
    if read_aloud:
        found.add("pocketsphinx-testdata, read sentences", read_aloud)
    else:
        found.missing.append("Debian package pocketsphinx-testdata")
    prompts = [p for p in sorted(PROMPTS.rglob("*.wav")) if not _NOT_TALK.intersection(p.parts)]
    if prompts:
        clips = [read_audio(p) for p in prompts if soundfile.info(p).duration >= _SHORTEST_TALK_S]
        found.add("asterisk-core-sounds-en-wav, telephone prompts", clips)
    else:
        found.missing.append("Debian package asterisk-core-sounds-en-wav")
    for number, folder in enumerate(folders, start=1):
        files = sorted(p for p in folder.rglob("*") if p.suffix in _SOUNDS) if folder.is_dir() else []
        if files:
            found.add(f"folder {number} of talk given", [read_audio(p) for p in files])
        else:
            found.missing.append(f"folder {number} of talk given")
    return found


def accented_talk(speech: Speech, one_in: int) -> Talk:
    """Everyday sentences in foreign accents by rule, not meant for the tablet: each by one in so many speakers."""
    found = Talk()
    speakers = [voice for voice in speech.voices(ACCENTED) if voice.startswith(("joe", "flite"))]
    lines = (Path(__file__).parent / "overheard.txt").read_text(encoding="utf-8").splitlines()
    for place, line in enumerate(lines):
        for number, voice in enumerate(speakers):
            if (place + number) % one_in == 0:
                samples = np.rint(speech.say(voice, line) * 32767).astype(np.int16)
                found.add("everyday sentences in seven accents by rule", [clip_of(samples)])
    return found


def stream(clips: list[Clip], speech: Speech, random: Random) -> npt.NDArray[np.int16]:
    """The clips in drawn order, all at one level, with pauses of 0.4 to 2 s between, in a room's hiss."""
    parts: list[Floats] = []
    for clip in random.sample(clips, len(clips)):
        samples = clip.samples.astype(np.float64) / 32768
        if len(samples) >= RATE_HZ // 10 and np.abs(samples).max() > 0:
            parts += [np.zeros(round(random.uniform(0.4, 2.0) * RATE_HZ)), at_level(samples, speech.level_dbov)]
    parts.append(np.zeros(2 * RATE_HZ))
    return speech.in_noise(np.concatenate(parts), CLEAN, random.randrange(2**31)).samples


def _transcripts(folder: Path) -> Iterator[tuple[Path, str]]:
    for file in sorted(folder.glob("*.transcription")):
        for line in file.read_text(encoding="utf-8").splitlines():
            if match := re.fullmatch(r"<s>\s*(.*?)\s*</s>\s*\((\S+)\)", line.strip()):
                yield folder / match.group(2), match.group(1)
