"""`fieldassist events`: a day's log, event by event."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import OK, Job, day_argument, json_option
from fieldassist.cli.terminal import Terminal
from fieldassist.record.log import DayLog
from fieldassist.trade.message import message

_LONG = {"type", "plan", "checklist", "strokes", "signature"}


def _events(terminal: Terminal, day: Path, as_json: bool) -> int:
    with DayLog.open(day, read_only=True) as log:
        for event in log.events:
            if as_json:
                terminal.json(event.model_dump(mode="json"))
            else:
                body = event.body.model_dump(mode="json", exclude=_LONG)
                told = ", ".join(f"{k} {v}" for k, v in body.items() if v not in (None, "", [], False))
                terminal.tell(f"{event.seq:4} {event.at.wall} {event.by:10} {event.body.type}: {told}")
        terminal.warn(message("cli-chain-whole", events=len(log.events), head=log.head))
    return OK


job = Job("events", _events, day_argument(), json_option())
