"""What a command asked for, as the record has it when it was refused."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.changing import wish_told
from fieldassist.checklist.commands import Command
from fieldassist.checklist.kinds.reading import as_read
from fieldassist.checklist.state import State
from fieldassist.trade.message import Figure, Message, message, term


def attempt(state: State, command: Command) -> Message:
    """The command and what it named: "day-attempt-give-reading" with the step's name and the reading."""
    figures: dict[str, Figure] = {}
    for field in ("area", "name", "target", "bucket"):
        value = getattr(command, field, None)
        if value:
            figures[field] = str(value)
    if isinstance(command, cmd.PlanArea):
        figures["area"] = command.planned.name
    if isinstance(command, cmd.AddPerson):
        figures["name"] = command.person.name
    if isinstance(command, cmd.AskLift | cmd.TakeOff):
        figures["number"] = str(command.number or "")
    if isinstance(command, cmd.SpreadMortar | cmd.TilesIn):
        figures["number"] = str(command.tiles or "")
    if isinstance(command, cmd.NoteDust | cmd.DustStarts):
        figures["task"] = term("engine-dust-task", command.task) if command.task else message("day-attempt-dust-last")
    if isinstance(command, cmd.SetLots):
        figures["one-in"] = str(command.one_in)
    section, step = getattr(command, "section", None), getattr(command, "step", None)
    if section:
        figures["section"] = _holder(state, section)
    if section and step:
        figures["step"] = _step(state, section, step)
    if isinstance(command, cmd.Choose):
        figures["option"] = _option(state, command)
    if isinstance(command, cmd.GiveReading):
        figures["reading"] = command.label or as_read(command.value, command.unit)
    if isinstance(command, cmd.MethodWish):
        figures["wish"] = wish_told(command)
    if isinstance(command, cmd.KeepMethod):
        figures["reason"] = _reason(state, command)
    return Message(f"day-attempt-{command.do.replace(' ', '-')}", figures)


def _holder(state: State, section: str) -> Figure:
    try:
        return state.area.checklist.holder(section).title if state.area is not None else section
    except KeyError:
        return section


def _step(state: State, section: str, step: str) -> Figure:
    try:
        return state.area.checklist.step(section, step).name if state.area is not None else step
    except KeyError:
        return step


def _option(state: State, command: cmd.Choose) -> Figure:
    try:
        step = state.area.checklist.step(command.section, command.step) if state.area is not None else None
    except KeyError:
        step = None
    option = step.option(command.option) if step is not None and step.kind == "choice" else None
    return command.option if option is None else option.label


def _reason(state: State, command: cmd.KeepMethod) -> Figure:
    try:
        step = state.area.checklist.step(command.section, command.step) if state.area is not None else None
    except KeyError:
        step = None
    reason = step.reason(command.reason) if step is not None and step.kind == "method" else None
    return command.reason if reason is None else reason.label
