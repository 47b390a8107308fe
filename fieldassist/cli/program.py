"""Every job without a screen."""

from __future__ import annotations

import argparse
import contextlib
import json
import shutil
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from fieldassist import __version__
from fieldassist.checklist.loader import WrongFile, load_checklist, load_folder, load_plan
from fieldassist.checklist.schema import Checklist
from fieldassist.cli import calc, handover, signing, verify, work
from fieldassist.cli.offers import NoSuchChoice, offers_for
from fieldassist.cli.progress import shown
from fieldassist.day.clock import SystemClock
from fieldassist.day.ear import Fate, NoAttention, catch
from fieldassist.day.listening import ATTENTION
from fieldassist.day.session import CannotOpen, Day, describe
from fieldassist.places import shipped
from fieldassist.record.keys import KeyProblem
from fieldassist.record.log import DayLog, LogProblem, recover
from fieldassist.voice.audio import AudioProblem, read_audio
from fieldassist.voice.microphone import Microphone, NoMicrophone, choose_input, list_inputs
from fieldassist.voice.models import KNOWN, choose_model, list_models, try_out
from fieldassist.voice.phrases import unknown_words
from fieldassist.voice.recognizer import ModelProblem, Recognizer, VoskRecognizer
from fieldassist.voice.speaker import find_speaker

OK, FAILED, MISUSED = 0, 1, 2
_CAUTIONS = (
    "Figures and reminders only: not a substitute for local codes, the products' data sheets and licensed practice."
)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Exit code 0: done; 1: it came out wrong; 2: it could not be tried."""
    parsed = _parser().parse_args(arguments)
    try:
        code: int = parsed.run(parsed)
        return code
    except (
        WrongFile,
        LogProblem,
        CannotOpen,
        ModelProblem,
        AudioProblem,
        NoMicrophone,
        NoSuchChoice,
        NoAttention,
        KeyProblem,
    ) as problem:
        print(problem, file=sys.stderr)
        return MISUSED
    except BrokenPipeError:
        return OK
    except KeyboardInterrupt:
        print("\nStopped. Everything acknowledged so far is in the log.", file=sys.stderr)
        return FAILED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fieldassist",
        description="Checklist, voice and record for setting large-format tile and gauged panels. " + _CAUTIONS,
    )
    parser.add_argument("--version", action="version", version=f"fieldassist {__version__}")
    jobs = parser.add_subparsers(title="jobs", required=True, metavar="JOB")

    def job(name: str, run: Callable[[argparse.Namespace], int], text: str) -> argparse.ArgumentParser:
        made = jobs.add_parser(name, help=text, description=text)
        made.set_defaults(run=run)
        return made

    def with_model(made: argparse.ArgumentParser) -> None:
        made.add_argument("--model", metavar="NAME", help="speech model: a folder in models/, or a path")

    made = job("demo", _demo, "play an invented site's day from recordings to its daily PDF")
    made.add_argument("--out", type=Path, default=Path("demo-day"), metavar="DIR", help="where it goes [demo-day]")
    made.add_argument("--scenario", type=Path, metavar="DIR", help="another scenario folder")
    with_model(made)

    made = job("hear", _hear, "run recordings through recognizer and phrases, without a day")
    made.add_argument("audio", nargs="+", type=Path, metavar="AUDIO")
    made.add_argument(
        "--can-say",
        default="idle",
        metavar="WHAT",
        help="digits, numbers, idle (between steps), or CHECKLIST:STEP with a file or a shipped checklist [idle]",
    )
    made.add_argument(
        "--attention", metavar="PHRASE", help=f"take only what begins with this phrase, such as '{ATTENTION}'"
    )
    made.add_argument("--json", action="store_true", help="one JSON object a line")
    with_model(made)

    made = job("begin", _begin, "open a new day from a plan file")
    made.add_argument("plan", type=Path, metavar="PLAN", help="YAML with site, crew and areas")
    made.add_argument("day", type=Path, metavar="DAY", help="the day's log, a new file such as 2026-03-17.db")
    made.add_argument("--checklists", type=Path, metavar="DIR", help="folder of checklists [the shipped ones]")

    made = job("work", _work, "go on with a day: type what you would say, or give recordings or a stream")
    work.add_options(made)
    with_model(made)

    made = job("tablet", _tablet, "the tablet's screens: work a day by touch and by voice")
    made.add_argument("day", nargs="?", type=Path, metavar="DAY", help="[the one open last, or choose on the screen]")
    made.add_argument("--no-microphone", action="store_true", help="by touch only")
    made.add_argument(
        "--data", type=Path, metavar="DIR", help="what belongs to no single day [the tablet's own folder]"
    )
    size = made.add_mutually_exclusive_group()
    size.add_argument("--window", type=_size, default=(1280, 800), metavar="WxH", help="its size in dots [1280x800]")
    size.add_argument("--full", action="store_true", help="fill the screen")

    made = job("events", _events, "show a day's events")
    made.add_argument("day", type=Path, metavar="DAY")
    made.add_argument("--json", action="store_true", help="one JSON object a line")

    made = job("report", _report, "write the daily PDF of a day")
    made.add_argument("day", type=Path, metavar="DAY")
    made.add_argument("--out", type=Path, metavar="PDF", help="[daily-log.pdf beside the day]")
    made.add_argument("--units", choices=["metric", "us"], help="[the plan's own]")

    made = job("recover", _recover, "save every whole event of a damaged day; the damaged file is kept")
    made.add_argument("day", type=Path, metavar="DAY")

    made = job("checklists", _checklists, "check checklist files, or list the shipped ones")
    made.add_argument("files", nargs="*", type=Path, metavar="FILE")
    with_model(made)

    calc.add_parser(jobs)
    signing.add_parsers(jobs)
    handover.add_parsers(jobs)
    verify.add_parser(jobs)

    made = job("microphone", _microphone, "list the microphones and show the level of one")
    made.add_argument("device", nargs="?", metavar="DEVICE", help="its number or a part of its name [the default one]")
    made.add_argument("--list", action="store_true", help="list only")
    made.add_argument("--seconds", type=float, metavar="S", help="show the level for so long [until Ctrl-C]")

    made = job("models", _models, "list the speech models at hand, try the one in use")
    with_model(made)
    return parser


# --- jobs ---------------------------------------------------------------------------------------------------------


def _recognizer(name: str | None) -> Recognizer:
    return VoskRecognizer(choose_model(shipped("models"), name))


def _demo(options: argparse.Namespace) -> int:
    from fieldassist.cli.demo import play

    out: Path = options.out
    folder: Path = options.scenario or shipped("assets") / "demo"
    readings = out / "read-back"
    shutil.rmtree(readings, ignore_errors=True)
    played = play(folder, out, _recognizer(options.model), find_speaker(readings), lambda line: print(line, flush=True))
    total = sum(played.fates.values())
    counts = ", ".join(f"{fate.value} {played.fates[fate]}" for fate in Fate)
    print(f"\nHeard {total} recordings: {counts}.")
    print(f"Record: {played.log}   Utterances: {played.utterances}")
    print(f"Daily log, {played.pages} pages: {played.pdf}")
    print(f"Sealed with the invented foreman's key {played.fingerprint}. Check it as an inspector would:")
    print(f"  fieldassist verify {played.pdf} --key '{played.fingerprint}'")
    if played.differences:
        print("\nThe day did not come out as the scenario says:")
        for difference in played.differences:
            print(f"  {difference}")
        return FAILED
    print("The day came out as the scenario says.")
    return OK


def _hear(options: argparse.Namespace) -> int:
    checklists, _ = load_folder(shipped("checklists"))
    offers = offers_for(options.can_say, checklists)
    recognizer = _recognizer(options.model)
    code = OK
    for path in options.audio:
        row: dict[str, object] = {"file": str(path)}
        try:
            clip = read_audio(path)
        except AudioProblem as problem:
            row |= {"words": "", "command": None, "value": None, "why": str(problem)}
            code = FAILED
        else:
            caught = catch(recognizer, clip, offers, attention=options.attention)
            row |= {
                "words": caught.words,
                "command": caught.command.model_dump(mode="json") if caught.command else None,
                "value": caught.value or (describe(caught.command) if caught.command is not None else None),
                "why": caught.why or None,
                "foreign": caught.foreign,
                "seconds": round(clip.seconds, 2),
                "note": clip.note,
            }
        if options.json:
            print(json.dumps(row, ensure_ascii=False), flush=True)
        else:
            print(f"{path}: {row['words']!r} -> {row['value'] or 'no command: ' + str(row['why'])}", flush=True)
    return code


def _begin(options: argparse.Namespace) -> int:
    plan = load_plan(options.plan)
    checklists, refused = load_folder(options.checklists or shipped("checklists"))
    for wrong in refused:
        print(wrong, file=sys.stderr)
    with Day.begin(options.day, plan, checklists, SystemClock()) as day:
        print(f"Day open: {options.day}, {len(plan.areas)} areas.")
        print(day.prompt.say)
    return OK


def _work(options: argparse.Namespace) -> int:
    work.run(options, lambda: _recognizer(options.model))
    return OK


def _size(text: str) -> tuple[int, int]:
    width, cross, height = text.partition("x")
    if not (cross and width.isdecimal() and height.isdecimal() and int(width) >= 640 and int(height) >= 640):
        raise argparse.ArgumentTypeError(f"{text!r} is no size such as 1280x800, 640 at least each way")
    return int(width), int(height)


def _tablet(options: argparse.Namespace) -> int:
    # Kivy opens its window where it is imported, so its size is said before.
    from fieldassist.ui import start_kivy

    start_kivy.fill_screen() if options.full else start_kivy.size_of_window(*options.window)
    try:
        from fieldassist.ui.app import open_window

        open_window(options.day, data=options.data, listen=not options.no_microphone)
    except start_kivy.NoWindow as problem:
        print(problem, file=sys.stderr)
        return MISUSED
    return OK


def _warn(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def _microphone(options: argparse.Namespace) -> int:
    inputs = list_inputs()
    for one in inputs:
        print(f"{'*' if one.default else ' '} {one.index:3}  {one.name}, {one.rate} Hz, channels {one.channels}")
    choose_input(inputs, options.device)
    if options.list:
        return OK
    begun = time.monotonic()
    with (
        Microphone(options.device, on_warning=_warn) as microphone,
        contextlib.suppress(KeyboardInterrupt),
    ):
        while options.seconds is None or time.monotonic() - begun < options.seconds:
            level = microphone.level()
            state = "NO SOUND" if level.dead else "TOO LOUD" if level.clipped else f"{level.peak_dbfs:5.1f} dBov"
            print(f"\r{level.bar(48)} {state:12}", end="", flush=True)
            time.sleep(0.1)
    print()
    return OK


def _events(options: argparse.Namespace) -> int:
    with DayLog.open(options.day, read_only=True) as log:
        for event in log.events:
            if options.json:
                print(event.model_dump_json())
            else:
                body = event.body.model_dump(mode="json", exclude={"type", "plan", "checklist", "strokes", "signature"})
                told = ", ".join(f"{k} {v}" for k, v in body.items() if v not in (None, "", [], False))
                print(f"{event.seq:4} {event.at.wall} {event.by:10} {event.body.type}: {told}")
        print(f"{len(log.events)} events, chain whole, head {log.head}", file=sys.stderr)
    return OK


def _report(options: argparse.Namespace) -> int:
    from fieldassist.report.daily import CannotWrite, record_of, write_daily_pdf
    from fieldassist.report.story import NoDay

    out: Path = options.out or options.day.with_name("daily-log.pdf")
    with DayLog.open(options.day, read_only=True) as log:
        try:
            made = write_daily_pdf(record_of(log), out, units=options.units, progress=shown("Daily log"))
        except (CannotWrite, NoDay) as problem:
            print(problem, file=sys.stderr)
            return MISUSED
    for left in made.left_out:
        print(f"{left.name} is not in it: {left.why}.", file=sys.stderr)
    print(f"{out}, {made.pages} pages.")
    return OK


def _recover(options: argparse.Namespace) -> int:
    saved = recover(options.day)
    print(
        f"{saved.events} whole events saved in {options.day}; the damaged file is kept as {saved.damaged} "
        f"({saved.reason}). Check the last readings with the crew and say again what is missing."
    )
    return OK


def _checklists(options: argparse.Namespace) -> int:
    try:
        knows: Callable[[str], bool] | None = _recognizer(options.model).knows
    except ModelProblem as problem:
        print(problem, file=sys.stderr)
        knows = None
    code = OK
    good: dict[str, Checklist] = {}
    wrong: list[WrongFile] = []
    if options.files:
        for path in options.files:
            try:
                good[str(path)] = load_checklist(path)
            except WrongFile as refusal:
                wrong.append(refusal)
    else:
        good, wrong = load_folder(shipped("checklists"))
    for mistake in wrong:
        print(mistake)
        code = FAILED
    for name, checklist in good.items():
        steps = sum(1 for _ in checklist.all_steps())
        print(
            f"{name}: {checklist.title}, edition {checklist.edition}, {steps} steps, {len(checklist.cautions)} cautions"
        )
        if knows is not None:
            offers = [
                offer
                for _, step in checklist.all_steps()
                for offer in offers_for(f"{checklist.checklist}:{step.id}", {checklist.checklist: checklist})
            ]
            missing = unknown_words(offers, knows)
            if missing:
                print(f"  the speech model does not know: {', '.join(missing)}; type or tap those, or use other words")
    return code


def _models(options: argparse.Namespace) -> int:
    folder = shipped("models")
    used = choose_model(folder, options.model)
    for path in list_models(folder):
        print(f"{'*' if path == used else ' '} {path.name}")
    recognizer = VoskRecognizer(used)
    begun = time.monotonic()
    trial = try_out(recognizer, shipped("assets") / "demo" / "audio")
    spent = time.monotonic() - begun
    print(f"In use: {used}")
    if not trial.right:
        heard = f"hears {trial.heard!r}" if trial.heard else "hears nothing"
        print(f"It loads, but {heard} where {KNOWN!r} is said. Is it a model of English?")
        print("models/README.md tells how to add another.")
        return FAILED
    print(f"It loads, and hears {KNOWN!r} in a known recording: {spent / trial.seconds:.2f} s for a second of sound.")
    return OK
