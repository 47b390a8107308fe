"""Silence is work: a reading that waits for no yes is kept by what goes on after it."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import follow, lifts
from fieldassist.checklist.commands import Command
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.kinds import photo
from fieldassist.checklist.kinds.reading import keep_unquestioned
from fieldassist.checklist.moment import TYPED, Moment
from fieldassist.checklist.offers import SETS
from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import State, Task
from fieldassist.trade.message import message

# What goes on with no work, or answers what was read back.
_BESIDE = (
    cmd.OpenDay,
    cmd.MakeNote,
    cmd.AddTranscript,
    cmd.MeasureBack,
    cmd.NoteDust,
    cmd.DustStarts,
    cmd.DustEnds,
    cmd.PlanArea,
    cmd.AddPerson,
    cmd.ConfirmReleases,
    cmd.OpenAddendum,
    cmd.CommitLots,
    cmd.Tick,
    cmd.Ask,
    cmd.Keep,
    cmd.Withdraw,
)


def keeps(state: State, command: Command, now: Moment) -> bool:
    """Whether a command keeps the reading that waits, where one does that waits for no yes.

    The same reading with another value takes its place, and a photo that nobody asks for is a remark.
    """
    pending = state.pending
    if pending is None or not pending.unquestioned or isinstance(command, _BESIDE):
        return False
    if isinstance(command, cmd.GiveReading) and command.corrects is None:
        return (command.section, command.step) != (pending.task.section, pending.task.step)
    if isinstance(command, cmd.AttachPhoto):
        return photo.asked_for(after_keeping(state, now))
    return True


def keep_first(draft: Draft) -> None:
    """Keep the reading that waits, with what follows from it, before what comes next is decided."""
    before = draft.state
    answered = keep_unquestioned(draft)
    follow.after_step(draft, *answered)
    ask_who_sets(draft, before, answered[0])
    lifts.settle(draft)
    draft.focus = None


def after_keeping(state: State, now: Moment) -> State:
    """The day as it will be once the reading that waits for no yes is kept; as it is where none waits.

    No lot falls here: from which seed it would, only the day knows.
    """
    if state.pending is None or not state.pending.unquestioned:
        return state
    draft = Draft(state, now, state.speaker.name if state.speaker is not None else "", "", TYPED)
    keep_first(draft)
    return draft.state


def ask_who_sets(draft: Draft, before: State, task: Task) -> None:
    """Say once a change of speaker that an installer who is not the setter answers at the setting of a tile."""
    area, speaker = before.area, before.speaker
    section = area.checklist.section(task.section) if area is not None else None
    if area is None or speaker is None or section is None or section.sets is None:
        return
    if speaker.role is not Role.INSTALLER or area.setter in (None, speaker.name):
        return
    if area.progress.answered_by != speaker.name:
        phrase = f"{speaker.said} {SETS}"
        draft.say(message("method-who-sets", setter=area.setter, name=speaker.name, phrase=phrase))
