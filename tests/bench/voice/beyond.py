"""Measure 9: values that no step would take, up to twice the range: heard as they are, or as smaller ones?

A value that cannot be heard is taken for one that sounds like it: seventy for seventeen. Then it is never refused.
"""

from __future__ import annotations

from fieldassist.checklist.commands import GiveReading
from fieldassist.cli.offers import offers_for
from fieldassist.day.ear import catch
from fieldassist.voice.phrases import Taken, understand
from tests.bench.voice.base import Bench, Row
from tests.bench.voice.situations import checklists
from tests.bench.voice.speech import CLEAN, SAW_10
from tests.bench.voice.throats import CannotSpeak

# The step, and what is said there: the range ends at 50, 20, 30, 150 mm, 10 bags and 100 %.
_SAID = {
    "flatness": "gap sixty millimeters, gap seventy millimeters, gap eighty millimeters, gap ninety millimeters",
    "lippage": "lippage thirty millimeters, lippage forty millimeters",
    "bed": "bed forty millimeters, bed fifty millimeters, bed sixty millimeters",
    "slide": "slid one hundred and sixty millimeters, slid one hundred and ninety millimeters, slid three hundred "
    "millimeters",
    "bags": "twelve bags, sixteen bags, nineteen bags",
    "coverage": "coverage one hundred and four percent",
}


def beyond(bench: Bench) -> list[Row]:
    """A row a condition: heard as said, taken for another value, not understood."""
    shipped_ones = checklists()
    rows = []
    for condition in (CLEAN, SAW_10):
        row: Row = {"condition": condition.name, "said": 0, "as said": 0, "another value": 0, "nothing": 0, "heard": []}
        for step, said in _SAID.items():
            offers = offers_for(f"dry-floor:{step}", shipped_ones)
            for voice in bench.voices:
                for seed, words in enumerate(said.split(", ")):
                    try:
                        clip = bench.speech.recording(voice, words, condition, seed)
                    except CannotSpeak:
                        continue
                    caught = catch(bench.ears, clip, offers)
                    meant = understand(words, offers)
                    as_said = isinstance(meant, Taken) and caught.command == meant.command
                    another = isinstance(caught.command, GiveReading)
                    came = "as said" if as_said else "another value" if another else "nothing"
                    row[came] += 1
                    row["said"] += 1
                    if came != "as said":
                        row["heard"].append([voice, words, caught.words, caught.foreign])
        rows.append(row)
        bench.tell(f"beyond: {condition.name}")
    return rows
