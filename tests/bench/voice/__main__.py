"""Run the voice benchmark and print its tables: `python -m tests.bench.voice [--quick]`."""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from fieldassist.places import shipped
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
from tests.bench.voice import beyond, corpora, devices, dialogue, limits, people, phrases, speakers, speed, table, talk
from tests.bench.voice.base import FULL, QUICK, Bench
from tests.bench.voice.rivals import NoRival, PocketSphinx
from tests.bench.voice.situations import demo_day
from tests.bench.voice.speech import Speech

_MEASURES = (
    "phrases",
    "people",
    "speakers",
    "beyond",
    "talk",
    "accented talk",
    "dialogue",
    "limits",
    "devices",
    "speed",
)
_BARRED = ("speakers", "people", "beyond", "accented talk", "speed", "dialogue")
_SIZES = {name: type(number) for name, number in asdict(QUICK).items()}


def main() -> int:
    """Measure what was asked for; the tables go to standard output, progress to standard error."""
    options = _options()
    start = time.monotonic()

    def tell(line: str) -> None:
        print(f"[{time.monotonic() - start:6.0f} s] {line}", file=sys.stderr, flush=True)

    options.cache.mkdir(parents=True, exist_ok=True)
    speech = Speech(options.cache, options.parts)
    voices = speech.voices()
    found = corpora.talk(options.talk)
    missing = [f"voice {voice}: {why}" for voice, why in speech.missing.items()] + found.missing
    rival = None
    try:
        rival = None if options.no_rival else PocketSphinx(speech.pronunciations())
    except NoRival as problem:
        missing.append(str(problem))
    if not voices:
        print(f"No voice can speak here: {'; '.join(missing)}", file=sys.stderr)
        return 1
    with tempfile.TemporaryDirectory(dir=options.cache) as name:
        ears = VoskRecognizer(choose_model(shipped("models")))
        moments = demo_day(Path(name) / "day")
        size = replace(QUICK if options.quick else FULL, **dict(options.size))
        bench = Bench(ears, rival, speech, voices, moments, Path(name), size, tell)
        jobs: dict[str, Callable[[], Any]] = {
            "phrases": lambda: phrases.phrases(bench),
            "people": lambda: people.people(bench, options.digits),
            "speakers": lambda: speakers.speakers(bench, options.pool),
            "beyond": lambda: beyond.beyond(bench),
            "accented talk": lambda: _accented(bench),
            "talk": lambda: {"rows": talk.talk(bench, found)},
            "dialogue": lambda: dialogue.dialogue(bench),
            "limits": lambda: limits.limits(bench, found),
            "devices": lambda: devices.devices(bench, found),
            "speed": lambda: speed.speed(bench),
        }
        results: dict[str, Any] = {
            "voices": voices,
            "missing": missing,
            "rival": rival.name if rival else None,
            "talk": found.sources,
        }
        for measure in options.only or (_BARRED if options.bars else _MEASURES):
            results[measure if measure != "talk" else "overheard"] = jobs[measure]()
            _save(options.json, results)
            if measure == "talk":  # by itself, since the rival takes far longer
                results["overheard"]["rows"] += talk.rival_talk(bench, found)
                _save(options.json, results)
    tell("done")
    print(table.write(results))
    return 0


def _accented(bench: Bench) -> dict[str, Any]:
    found = corpora.accented_talk(bench.speech, bench.size.accented_talk)
    return {"rows": talk.talk(bench, found), "talk": found.sources}


def _save(path: Path | None, results: dict[str, Any]) -> None:
    if path is not None:
        path.write_text(json.dumps(results, indent=1, default=str) + "\n", encoding="utf-8")


def _sized(text: str) -> tuple[str, float]:
    """One number of `Size`. Errors: ValueError."""
    name, _, number = text.partition("=")
    return name, _SIZES[name](number)


def _options() -> argparse.Namespace:
    made = argparse.ArgumentParser(prog="python -m tests.bench.voice", description=__doc__)
    made.add_argument("--quick", action="store_true", help="a few minutes; the figures are rough")
    made.add_argument("--bars", action="store_true", help=f"what a bar speaks of: {', '.join(_BARRED)}")
    made.add_argument("--only", nargs="+", choices=_MEASURES, help="just these measures")
    made.add_argument("--cache", type=Path, default=Path("lab/bench"), metavar="FOLDER", help="for spoken sentences")
    made.add_argument("--parts", type=Path, default=Path("lab/parts"), metavar="FOLDER", help="of the neural voices")
    made.add_argument("--digits", type=Path, metavar="FOLDER", help="people's digits, DIGIT_SPEAKER_TAKE.flac")
    made.add_argument("--talk", type=Path, nargs="+", default=[], metavar="FOLDER", help="people's talk")
    made.add_argument("--pool", type=Path, metavar="FILE", help="what the speakers say; written where it is not there")
    made.add_argument(
        "--size", type=_sized, nargs="+", default=[], metavar="NAME=NUMBER", help=f"other sizes: {', '.join(_SIZES)}"
    )
    made.add_argument("--no-rival", action="store_true", help="leave PocketSphinx out: it takes most of the time")
    made.add_argument("--json", type=Path, metavar="FILE", help="all counts, and what went wrong, one by one")
    return made.parse_args()


if __name__ == "__main__":
    sys.exit(main())
