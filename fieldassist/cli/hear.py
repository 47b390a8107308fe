"""`fieldassist hear`: recordings to words to command, without a day."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist.attempt import attempt
from fieldassist.checklist.loader import load_folder
from fieldassist.checklist.state import State
from fieldassist.cli.hearing import recognizer
from fieldassist.cli.offers import offers_for
from fieldassist.cli.parser import FAILED, FILE, OK, Argument, Job, Option, json_option, model_option
from fieldassist.cli.problems import told
from fieldassist.cli.terminal import Terminal
from fieldassist.day.ear import catch
from fieldassist.places import shipped
from fieldassist.trade.message import message
from fieldassist.voice.audio import AudioProblem, read_audio


def _hear(
    terminal: Terminal,
    audio: tuple[Path, ...],
    can_say: str,
    attention: str | None,
    as_json: bool,
    model: str | None,
) -> int:
    checklists, _ = load_folder(shipped("checklists"))
    offers = offers_for(can_say, checklists)
    ears = recognizer(model)
    code = OK
    for path in audio:
        row: dict[str, object] = {"file": str(path)}
        try:
            clip = read_audio(path)
        except AudioProblem as problem:
            row |= {"words": "", "command": None, "value": None, "why": terminal.words(told(problem))}
            code = FAILED
        else:
            caught = catch(ears, clip, offers, attention=attention)
            row |= {
                "words": caught.words,
                "command": caught.command.model_dump(mode="json") if caught.command else None,
                "value": caught.value or (terminal.words(attempt(State(), caught.command)) if caught.command else None),
                "why": None if caught.why is None else terminal.words(caught.why),
                "asked_about": caught.asked_about,
                "foreign": caught.foreign,
                "seconds": round(clip.seconds, 2),
                "note": clip.note,
            }
        if as_json:
            terminal.json(row)
        elif row["value"]:
            told_as = "cli-heard-unsure" if row["asked_about"] else "cli-heard"
            terminal.tell(message(told_as, file=str(path), words=str(row["words"]), value=str(row["value"])))
        else:
            terminal.tell(message("cli-not-heard", file=str(path), words=str(row["words"]), why=str(row["why"])))
    return code


job = Job(
    "hear",
    _hear,
    Argument("audio", metavar="AUDIO", type=FILE, nargs=-1, required=True),
    Option("--can-say", metavar="WHAT", default="idle"),
    Option("--attention", metavar="PHRASE"),
    json_option(),
    model_option(),
)
