"""A command as the record has it, on the first event of its decision: what anybody needs to decide it again.

What stands in the decision's own events is not written twice: opening a day is told by its events altogether, and the
finger's strokes, a key's signature, the order of a trial's samples and the checklist of an area are put back from them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import PlainSerializer, ValidationError

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.trade.message import Refused, message

if TYPE_CHECKING:
    from fieldassist.checklist.events import Event

# What stands for a signature where no event shows one: no decision looks at what it says.
ANY_SIGNATURE = "0" * 128


def recorded(command: Command, *, refused: bool = False) -> Command | None:
    """The command as it is written; None for one that is not. refused: no event of its own shows what it gave.

    `Refused` where it could not be read back: a value that no command of ours has.
    """
    if isinstance(command, cmd.OpenDay):
        return None
    left_out: dict[str, Any] = {}
    if isinstance(command, cmd.SignDay | cmd.ConfirmReleases | cmd.ReleaseHold | cmd.ReleaseMethod):
        left_out["signature"] = ""
    if isinstance(command, cmd.SignDay):
        left_out["strokes"] = ()
    if isinstance(command, cmd.StartArea | cmd.MoreSamples) and not refused:
        left_out |= {"head": "", "order": ()}
    if isinstance(command, cmd.PlanArea) and not refused:
        left_out["checklists"] = ()
    short = command.model_copy(update=left_out) if left_out else command
    try:
        type(short).model_validate(_brief(short))
    except ValidationError:
        raise Refused(message("engine-cannot-write")) from None
    return short


def _brief(command: Command) -> dict[str, Any]:
    return {"do": command.do, **command.model_dump(mode="json", exclude_defaults=True, warnings=False)}


# A command in a field of the record: what it is, and what is not left at its default.
AskedBriefly = Annotated[Command, PlainSerializer(_brief, return_type=dict[str, Any])]


def as_asked(command: Command, events: Sequence[Event]) -> Command:
    """The command with what was left out of it, from the events of its decision."""
    put_back: dict[str, Any] = {}
    if isinstance(command, cmd.SignDay | cmd.ConfirmReleases | cmd.ReleaseHold | cmd.ReleaseMethod) and command.key:
        signatures = (getattr(event.body, "signature", "") for event in events)
        put_back["signature"] = next(filter(None, signatures), ANY_SIGNATURE)
    for event in events:
        body: Any = event.body
        if isinstance(command, cmd.SignDay) and body.type == "day signed":
            put_back["strokes"] = body.strokes
        if isinstance(command, cmd.StartArea | cmd.MoreSamples) and body.type == "samples ordered":
            put_back |= {"head": body.head, "order": body.order}
        if isinstance(command, cmd.PlanArea) and body.type == "checklist adopted":
            put_back["checklists"] = (body.checklist,)
    return command.model_copy(update=put_back) if put_back else command
