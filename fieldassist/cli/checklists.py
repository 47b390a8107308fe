"""`fieldassist checklists`: whether checklist files are in order, and whether each of their words can be heard."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from fieldassist.checklist.loader import WrongFile, load_checklist, load_folder
from fieldassist.checklist.schema import Checklist
from fieldassist.cli.offers import offers_for
from fieldassist.cli.parser import FAILED, FILE, OK, Argument, Job, model_option
from fieldassist.cli.problems import told
from fieldassist.cli.terminal import Terminal
from fieldassist.places import shipped
from fieldassist.trade.message import message
from fieldassist.voice.phrases import unknown_words


def _checklists(terminal: Terminal, files: tuple[Path, ...], model: str | None) -> int:
    good: dict[str, Checklist] = {}
    wrong: list[WrongFile] = []
    if files:
        for path in files:
            try:
                good[str(path)] = load_checklist(path)
            except WrongFile as refusal:
                wrong.append(refusal)
    else:
        good, wrong = load_folder(shipped("checklists"))
    for mistake in wrong:
        terminal.tell(mistake.told)
    knows = _knows(terminal, model)
    for name, checklist in good.items():
        terminal.tell(
            message(
                "cli-checklist",
                name=name,
                title=checklist.title,
                edition=str(checklist.edition),
                steps=sum(1 for _ in checklist.all_steps()),
                cautions=len(checklist.cautions),
            )
        )
        if knows is not None and (missing := _unheard(checklist, knows)):
            terminal.tell(message("cli-checklist-unheard", words=", ".join(missing)), indent=2)
    return FAILED if wrong else OK


def _knows(terminal: Terminal, model: str | None) -> Callable[[str], bool] | None:
    """Whether the model knows a word; None, with the reason told, where there is no model."""
    from fieldassist.cli.hearing import recognizer
    from fieldassist.voice.vosk_model import ModelProblem

    try:
        return recognizer(model).knows
    except ModelProblem as problem:
        terminal.warn(told(problem))
        return None


def _unheard(checklist: Checklist, knows: Callable[[str], bool]) -> list[str]:
    own = {checklist.checklist: checklist}
    offers = [
        offer for _, step in checklist.all_steps() for offer in offers_for(f"{checklist.checklist}:{step.id}", own)
    ]
    return unknown_words(offers, knows)


job = Job("checklists", _checklists, Argument("files", metavar="FILE", type=FILE, nargs=-1), model_option())
