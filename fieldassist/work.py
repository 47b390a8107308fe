"""A day worked without a screen: typed, by microphone, from recordings or from a stream of samples."""

from __future__ import annotations

import argparse
import queue
import sys
import threading
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.day.clock import SystemClock
from fieldassist.day.ear import Catch, Fate, Outcome, act, interpret_text
from fieldassist.day.listening import ATTENTION, Listening, Manner
from fieldassist.day.session import Answer, Day
from fieldassist.record import attachments
from fieldassist.record.log import AlreadyOpen, LogProblem
from fieldassist.voice.audio import AudioProblem, Clip, frames, is_silent, pcm_stream, read_audio, without_silence
from fieldassist.voice.earcons import Chime, Name, NoChime, find_chime
from fieldassist.voice.microphone import Microphone
from fieldassist.voice.recognizer import Heard, Recognizer
from fieldassist.voice.speaker import Silent, Speaker, find_speaker

_CHIME: dict[Fate, Name] = {
    Fate.TAKEN: "kept",
    Fate.REFUSED: "refused",
    Fate.ASKED: "asking",
    Fate.CALLED: "asking",
}


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
    try:
        day = Day.resume(options.day, SystemClock())
    except AlreadyOpen as busy:
        print(busy, file=sys.stderr)
        _look(options.day)
        raise
    with day:
        print(f"{len(day.log.events)} events in the log. {day.prompt.say}")
        manner = Manner.HELD if options.hold or options.audio else Manner.OPEN if options.open else Manner.CALLED
        if options.audio:
            ears = recognizer()
            _recorded(options.audio, ears, Listening(day, ears, manner), speaker)
        elif options.microphone is not None:
            ears = recognizer()
            _by_microphone(options, ears, Listening(day, ears, manner, attention=options.attention), speaker)
        elif options.pcm:
            ears = recognizer()
            listening = Listening(day, ears, manner, attention=options.attention)
            _streamed(pcm_stream(sys.stdin.buffer, options.pcm, 1, 4000), ears, listening, speaker)
        else:
            _typed(day, speaker)


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


def _by_microphone(options: argparse.Namespace, recognizer: Recognizer, listening: Listening, speaker: Speaker) -> None:
    """Listening and typed lines have threads of their own; only this one touches the day."""
    arrived: queue.Queue[tuple[Heard, bool] | str | None] = queue.Queue()

    def listen() -> None:
        try:
            for heard in recognizer.listen(listening.frames(microphone.frames()), listening.phrases):
                words = heard.alternatives[0].words if heard.alternatives else ()
                whole = not words or microphone.whole(words[0].start - 0.1, words[-1].end + 0.2)
                arrived.put((heard, whole))
        finally:
            arrived.put(None)

    def read() -> None:
        for line in sys.stdin:
            arrived.put(line.strip())

    def spoken() -> None:
        microphone.unmute()
        listening.prompted()

    with Microphone(options.microphone or None, hold_to_talk=options.hold, on_warning=_warn) as microphone:
        speaker.watch(microphone.mute, spoken)
        chime = NoChime() if options.quiet else find_chime(microphone.mute, microphone.unmute)
        threading.Thread(target=listen, name="listener", daemon=True).start()
        threading.Thread(target=read, name="typed", daemon=True).start()
        how = {
            Manner.HELD: "press Enter, say it, press Enter",
            Manner.CALLED: f"say '{listening.attention}' and what you want; answer what is asked as it is",
            Manner.OPEN: "say it",
        }[listening.manner]
        print(f"Listening to {microphone.name}: {how}; 'leave' and Enter to stop.", flush=True)
        try:
            while True:
                try:
                    what = arrived.get(timeout=0.5 if listening.dictating else 1.0)
                except queue.Empty:
                    _clocks(listening.day, speaker, chime)
                    _finish_note(listening, speaker, chime)
                    continue
                if what is None or what == "leave":
                    _finish_note(listening, speaker, chime, ended=True)
                    return
                _clocks(listening.day, speaker, chime)
                if isinstance(what, tuple):
                    heard, whole = what
                    # A gap in a note is heard in its sound; a reading that lacks a word is a wrong one.
                    if whole or listening.dictating:
                        _report(listening.take(heard), speaker, chime)
                    elif heard.addressed() and listening.manner is not Manner.CALLED:
                        chime.play("asking")
                        _say("I did not hear all of it. Say it again.", speaker)
                    _finish_note(listening, speaker, chime)
                elif what:
                    _report(act(listening.day, interpret_text(what, listening.day.prompt.offers)), speaker)
                elif options.hold and microphone.held:
                    microphone.release()
                elif options.hold:
                    speaker.stop()
                    microphone.hold()
        finally:
            speaker.stop()
            chime.close()


def _finish_note(listening: Listening, speaker: Speaker, chime: Chime | None = None, *, ended: bool = False) -> None:
    try:
        outcome = listening.note_due(ended=ended)
    except LogProblem as problem:
        print(problem, file=sys.stderr)
        _say("The note could not be kept.", speaker)
        return
    if outcome is not None:
        _report(outcome, speaker, chime)


def _clocks(day: Day, speaker: Speaker, chime: Chime) -> None:
    if _tick(day, speaker):
        chime.play("time is up", 2)


def _warn(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def _typed(day: Day, speaker: Speaker) -> None:
    """Lines from standard input; clocks are heard while nobody types."""
    lines: queue.Queue[str | None] = queue.Queue()

    def read() -> None:
        for line in sys.stdin:
            lines.put(line)
        lines.put(None)

    threading.Thread(target=read, daemon=True).start()
    print("Type what you would say; 'note ...', 'photo FILE', '?' for what may be said, 'leave' to stop.")
    while True:
        try:
            line = lines.get(timeout=1.0)
        except queue.Empty:
            _tick(day, speaker)
            continue
        text = (line or "leave").strip()
        if text == "leave":
            return
        _tick(day, speaker)
        if text == "?":
            print("\n".join(f"  {hint}" for hint in day.prompt.hints))
        elif text.startswith("note "):
            _say(day.do(cmd.MakeNote(text=text[5:].strip())).say, speaker)
        elif text.lower() in ("note", "make a note", "take a note"):
            _say("Type the note behind the word: note the corner is damp.", speaker)
        elif text.startswith("photo "):
            _say(_photo(day, Path(text[6:].strip())), speaker)
        elif text:
            _report(act(day, interpret_text(text, day.prompt.offers)), speaker)


def _photo(day: Day, source: Path) -> str:
    """Keep a copy of a photo beside the day, named by its content, and attach it to what is at hand."""
    try:
        data = source.read_bytes()
    except OSError as error:
        return f"{source} cannot be read: {error.strerror}."
    try:
        kept = attachments.keep(day.log.path, data, source.suffix)
    except LogProblem as problem:
        return str(problem)
    answer: Answer = day.do(cmd.AttachPhoto(file=kept.file, sha256=kept.sha256))
    return answer.say or f"Photo kept as {kept.file}."


def _tick(day: Day, speaker: Speaker) -> bool:
    """Let clocks speak; whether one did."""
    answer = day.tick()
    if answer is None:
        return False
    _say(answer.say, speaker)
    return True


def _report(outcome: Outcome, speaker: Speaker, chime: Chime | None = None) -> None:
    if chime is not None and outcome.fate in _CHIME:
        chime.play(_CHIME[outcome.fate])
    words = f"{outcome.catch.words!r}: " if outcome.catch.words else ""
    print(f"{words}{outcome.fate.value}{f' ({outcome.catch.why})' if outcome.catch.why else ''}", flush=True)
    if outcome.spoken:
        _say(outcome.spoken, speaker)


def _say(text: str, speaker: Speaker) -> None:
    print(f"  {text}", flush=True)
    speaker.say(text)
