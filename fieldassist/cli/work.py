"""A day worked without a screen: typed, by microphone, from recordings or from a stream of samples."""

from __future__ import annotations

import argparse
import sys
import threading
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.day.clock import SystemClock
from fieldassist.day.desk import Desk, Report
from fieldassist.day.ear import Catch, Fate, Outcome
from fieldassist.day.listening import ATTENTION, Listening, Manner
from fieldassist.day.photo import attach
from fieldassist.day.session import Day
from fieldassist.record.log import AlreadyOpen, LogProblem
from fieldassist.voice.audio import AudioProblem, Clip, frames, is_silent, pcm_stream, read_audio, without_silence
from fieldassist.voice.earcons import find_chime
from fieldassist.voice.recognizer import Heard, Recognizer
from fieldassist.voice.speaker import Silent, Speaker, find_speaker


def add_options(made: argparse.ArgumentParser) -> None:
    """The options of the job `work`, but for the model."""
    made.add_argument("day", type=Path, metavar="DAY")
    made.add_argument("--audio", nargs="+", type=Path, default=[], metavar="FILE", help="recordings, in order")
    made.add_argument(
        "--microphone", nargs="?", const="", metavar="DEVICE", help="listen: a number or name from the job microphone"
    )
    made.add_argument("--pcm", type=int, metavar="RATE", help="16-bit mono samples on standard input at this rate")
    manner = made.add_mutually_exclusive_group()
    manner.add_argument(
        "--attention",
        default=ATTENTION,
        metavar="PHRASE",
        help=f"said before what is meant for the tablet, unless it has just asked something [{ATTENTION}]",
    )
    manner.add_argument("--open", action="store_true", help="no attention phrase: every phrase that is heard counts")
    manner.add_argument("--hold", action="store_true", help="with --microphone: Enter begins and ends what is heard")
    made.add_argument("--quiet", action="store_true", help="write only, do not speak")


def run(options: argparse.Namespace, recognizer: Callable[[], Recognizer]) -> None:
    """Go on with a day as the options say. `recognizer` loads the speech model, which typing does not need."""
    speaker = Silent() if options.quiet else find_speaker()
    manner = Manner.HELD if options.hold or options.audio else Manner.OPEN if options.open else Manner.CALLED
    try:
        day = Day.resume(options.day, SystemClock())
    except AlreadyOpen as busy:
        print(busy, file=sys.stderr)
        _look(options.day)
        raise
    with day:
        print(f"{len(day.log.events)} events in the log. {day.prompt.say}")
        if options.audio:
            ears = recognizer()
            _recorded(options.audio, ears, Listening(day, ears, manner), speaker)
        elif options.microphone is not None:
            _by_microphone(day, options, recognizer(), manner, speaker)
        elif options.pcm:
            ears = recognizer()
            listening = Listening(day, ears, manner, attention=options.attention)
            _streamed(pcm_stream(sys.stdin.buffer, options.pcm, 1, 4000), ears, listening, speaker)
        else:
            print("Type what you would say; 'note ...', 'photo FILE', '?' for what may be said, 'leave' to stop.")
            desk = Desk(lambda: day, lambda _view: None, _write, speaker=speaker)
            threading.Thread(target=_read, args=(desk,), kwargs={"ends": True}, name="typed", daemon=True).start()
            desk.serve()


def _look(path: Path) -> None:
    """Where a day stands that another program works on."""
    with Day.resume(path, SystemClock(), read_only=True) as day:
        print(f"{len(day.log.events)} events in the log so far. {day.prompt.say}")
        for name, area in day.state.areas.items():
            at_hand = area.step.ask if area.step else "between rounds"
            print(f"  {name}: {area.progress.phase}, {at_hand}")
        for clock in day.prompt.clocks:
            print(f"  {clock.title}, {clock.area}: {max(0.0, clock.left_minutes):.0f} min left")


def _recorded(paths: Iterable[Path], recognizer: Recognizer, listening: Listening, speaker: Speaker) -> None:
    """Each recording as if a key had been held for it."""
    for path in paths:
        _tick(listening.day, speaker)
        try:
            clip = read_audio(path)
        except AudioProblem as problem:
            print(problem, file=sys.stderr)
            continue
        if clip.note:
            print(f"{path}: {clip.note}")
        if is_silent(clip):
            silence = Catch("", None, "", "silence: nothing was said", addressed=False)
            _report(Outcome(Fate.IGNORED, silence, ""), speaker)
            continue
        _report(listening.take(_hear(recognizer, clip, listening)), speaker)
        _finish_note(listening, speaker)
    _finish_note(listening, speaker, ended=True)


def _hear(recognizer: Recognizer, clip: Clip, listening: Listening) -> Heard:
    spoken = without_silence(clip)
    heard = recognizer.hear(listening.frames(frames(spoken)), listening.phrases())
    return replace(heard, audio=spoken.samples.astype("<i2").tobytes())


def _streamed(blocks: Iterable[bytes], recognizer: Recognizer, listening: Listening, speaker: Speaker) -> None:
    for heard in recognizer.listen(listening.frames(blocks), listening.phrases):
        _tick(listening.day, speaker)
        _finish_note(listening, speaker)
        _report(listening.take(heard), speaker)
    _finish_note(listening, speaker, ended=True)


def _by_microphone(day: Day, options: argparse.Namespace, ears: Recognizer, manner: Manner, speaker: Speaker) -> None:
    """By microphone, and typed lines beside it. NoMicrophone and NoAttention as the desk finds them."""
    problems: list[Exception] = []

    def opened(name: str) -> None:
        how = {
            Manner.HELD: "press Enter, say it, press Enter",
            Manner.CALLED: f"say '{options.attention}' and what you want; answer what is asked as it is",
            Manner.OPEN: "say it",
        }[manner]
        print(f"Listening to {name}: {how}; 'leave' and Enter to stop.", flush=True)

    def failed(problem: Exception) -> None:
        problems.append(problem)
        desk.close()

    chime = None if options.quiet else find_chime
    desk = Desk(lambda: day, lambda _view: None, _write, speaker=speaker, chime=chime)
    desk.listen(
        ears,
        manner,
        attention=options.attention,
        device=options.microphone or None,
        opened=opened,
        failed=failed,
    )
    typed = {"holds": options.hold, "ends": False}
    threading.Thread(target=_read, args=(desk,), kwargs=typed, name="typed", daemon=True).start()
    desk.serve()
    for problem in problems:
        raise problem


def _read(desk: Desk, *, holds: bool = False, ends: bool) -> None:
    """Typed lines to the desk until 'leave'. holds: an empty line is the key; ends: so does the end of the input."""
    for line in sys.stdin:
        text = line.strip()
        if text == "leave":
            break
        if text == "?":
            desk.ask(lambda day: print("\n".join(f"  {hint}" for hint in day.prompt.hints)))
        elif text.startswith("note "):
            desk.do(cmd.MakeNote(text=text[5:].strip()))
        elif text.startswith("photo "):
            desk.ask(partial(attach, source=Path(text[6:].strip())))
        elif text.lower() in ("note", "make a note", "take a note") and ends:
            print("  Type the note behind the word: note the corner is damp.", flush=True)
        elif text:
            desk.typed(text)
        elif holds and desk.held:
            desk.release()
        elif holds:
            desk.hold()
    else:
        if not ends:
            return
    desk.close()


def _finish_note(listening: Listening, speaker: Speaker, *, ended: bool = False) -> None:
    try:
        outcome = listening.note_due(ended=ended)
    except LogProblem as problem:
        print(problem, file=sys.stderr)
        speaker.say("The note could not be kept.")
        return
    if outcome is not None:
        _report(outcome, speaker)


def _tick(day: Day, speaker: Speaker) -> None:
    """Let clocks speak."""
    answer = day.tick()
    if answer is not None:
        _write(Report(answer.say))
        speaker.say(answer.say)


def _report(outcome: Outcome, speaker: Speaker) -> None:
    _write(Report.of(outcome))
    if outcome.spoken:
        speaker.say(outcome.spoken)


def _write(report: Report) -> None:
    if report.problem:
        print(report.said, file=sys.stderr, flush=True)
        return
    if report.fate is not None and (report.words or report.why):
        words = f"{report.words!r}: " if report.words else ""
        print(f"{words}{report.fate.value}{f' ({report.why})' if report.why else ''}", flush=True)
    if report.said:
        print(f"  {report.said}", flush=True)
