"""How many words of dictation are wrong: as the speech model hears them, and as the model of the extra writes them out.

`python -m tests.bench.notes PEOPLE [--every N] [--cache DIR]`: PEOPLE is a folder of recordings with `transcripts.tsv`,
as `models/build/human_speech.py` reads it. Besides them flite speaks invented notes of a site. Each is measured as it
is, and in pink noise and a saw's, 10 dB below the voice. Wrong words: substituted, left out and added, by the words
said (word error rate), figures and signs written in words. What was left out as guessed counts as wrong, and is neither
sure nor unsure.
"""

from __future__ import annotations

import argparse
import re
import resource
import tempfile
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
from num2words import num2words

from fieldassist.checklist.engine import UNSURE_NATS
from fieldassist.places import shipped
from fieldassist.voice.audio import RATE_HZ, frames
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
from fieldassist.voice.transcriber import TranscriberApart, packaged_model
from models.build.human_speech import read_recording, read_transcripts
from tests.bench.voice.speech import CLEAN, PINK_10, SAW_10, Floats, Speech, at_level

NOTES = (
    "The plumber moved the waste pipe on Monday, so the slope to the drain is not right any more.",
    "Two boxes arrived with chipped corners. We put them aside for cuts.",
    "I found a hairline crack in the screed, about three feet long, running toward the balcony door.",
    "The membrane was torn near the threshold. We patched it with two coats and let it dry overnight.",
    "Generator failed at half past ten, so we lost forty minutes and threw away a full bucket of thinset.",
    "The architect wants the grout joint at three millimeters instead of two, she will confirm it in writing.",
    "Behind the heated towel rail the wall is twelve millimeters out of plumb. The general contractor knows.",
    "Water is coming in under the window frame again. Somebody has to seal it before we carry on.",
    "The suction cups would not hold on the textured face, so four of us carried it by hand.",
    "Tell the office that we are nine spacers short and need another bag of rapid setting mortar by Thursday.",
    "Lippage at the corner of the shower was ground down and polished, the owner saw it and agreed.",
    "Moisture meter read four point two percent at the north wall. We wait until tomorrow.",
)
_QUIET_S = (0.25, 0.5)  # before and after what is said


def words_of(text: str) -> list[str]:
    """The words of a text, as they are compared.

    >>> words_of("It's 12 mm, 4.2% at half-past 10.")
    ["it's", 'twelve', 'millimeters', 'four', 'point', 'two', 'percent', 'at', 'half', 'past', 'ten']
    """
    text = re.sub(r"(\d)\s*mm\b", r"\1 millimeters", text.lower().replace("’", "'").replace("%", " percent "))
    text = re.sub(r"(\d+)(?:st|nd|rd|th)\b", lambda found: num2words(int(found[1]), to="ordinal"), text)
    text = re.sub(
        r"\d+(?:\.\d+)?", lambda found: num2words(float(found[0]) if "." in found[0] else int(found[0])), text
    )
    return [word for word in re.findall(r"[a-z]+(?:'[a-z]+)*", text) if word != "and"]


def wrong_words(said: Sequence[str], written: Sequence[str]) -> int:
    """Words substituted, left out and added: the Levenshtein distance between both.

    >>> wrong_words("the corner is damp".split(), "the corner was very damp".split())
    2
    """
    row = list(range(len(written) + 1))
    for place, one in enumerate(said, 1):
        before, row[0] = row[0], place
        for at, other in enumerate(written, 1):
            before, row[at] = row[at], min(row[at] + 1, row[at - 1] + 1, before + (one != other))
    return row[-1]


def _spoken(people: Path, speech: Speech, every: int) -> Iterator[tuple[str, str, Floats]]:
    for row in read_transcripts(people)[::every]:
        sound = read_recording(people, row["clip"]).astype(float) / 32768
        yield "people", row["sentence"], at_level(sound, speech.level_dbov)
    for text in NOTES[::every]:
        yield "notes of a site", text, speech.say("flite_slt", " ".join(words_of(text)))


def main() -> None:
    """Measure, and print a table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("people", type=Path)
    parser.add_argument("--every", type=int, default=1, help="take every Nth only")
    parser.add_argument("--cache", type=Path, default=Path(tempfile.gettempdir()) / "fieldassist-voice")
    options = parser.parse_args()
    speech = Speech(options.cache, None)
    ears = VoskRecognizer(choose_model(shipped("models")))
    counts: dict[tuple[str, str], Counter[str]] = defaultdict(Counter)
    seconds, clips = 0.0, 0
    with TranscriberApart(packaged_model()) as apart:
        for seed, (whose, text, sound) in enumerate(_spoken(options.people, speech, options.every)):
            padded = np.concatenate([np.zeros(int(s * RATE_HZ)) if s else sound for s in (_QUIET_S[0], 0, _QUIET_S[1])])
            for condition in (CLEAN, PINK_10, SAW_10):
                clip = speech.in_noise(padded, condition, seed)
                seconds, clips = seconds + clip.seconds, clips + 1
                said = words_of(text)
                heard, made = ears.hear(frames(clip), None).text, apart.transcribe(clip.samples)
                sure = "left out" if not made.text else "unsure" if made.likelihood < UNSURE_NATS else "sure"
                wrong = wrong_words(said, words_of(made.text))
                counts[whose, condition.name].update(
                    {
                        "said": len(said),
                        "heard wrong": wrong_words(said, words_of(heard)),
                        "wrong": wrong,
                        sure: len(said),
                        f"{sure} wrong": wrong,
                    }
                )
    print(
        "| spoken | noise | words | heard: wrong | written out: wrong | sure | of them wrong | unsure | of them wrong |"
    )
    print("|---|---|---|---|---|---|---|---|---|")
    for (whose, noise), count in counts.items():
        shares = (
            f"{100 * count[part] / max(count[of], 1):.0f} %"
            for part, of in (
                ("heard wrong", "said"),
                ("wrong", "said"),
                ("sure", "said"),
                ("sure wrong", "sure"),
                ("unsure", "said"),
                ("unsure wrong", "unsure"),
            )
        )
        print(f"| {whose} | {noise} | {count['said']} | " + " | ".join(shares) + " |")
    child = resource.getrusage(resource.RUSAGE_CHILDREN)
    share = (child.ru_utime + child.ru_stime) / seconds
    print(
        f"{clips} clips, {seconds:.0f} s of sound; written out with {share:.2f} s of processor for each second and "
        f"{child.ru_maxrss / 1024:.0f} MB at most"
    )


if __name__ == "__main__":
    main()
