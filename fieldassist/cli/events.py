"""`fieldassist events`: a day's log, event by event."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist.events import DayOpened, Event
from fieldassist.checklist.listing import Listing
from fieldassist.cli.parser import OK, Job, day_argument, json_option
from fieldassist.cli.terminal import Terminal
from fieldassist.record.log import DayLog
from fieldassist.trade.message import Message, message


def _events(terminal: Terminal, day: Path, as_json: bool) -> int:
    with DayLog.open(day, read_only=True) as log:
        listing, listener = Listing(), terminal
        for event in log.events:
            if as_json:
                terminal.json(event.model_dump(mode="json"))
                continue
            if isinstance(event.body, DayOpened):
                listener = terminal.using(terminal.words.in_units(event.body.plan.units))
            listener.tell(_line(event, listing))
        terminal.warn(message("cli-chain-whole", events=len(log.events), head=log.head))
    return OK


def _line(event: Event, listing: Listing) -> Message:
    """Number, time, who, how it came to the tablet, and what happened."""
    return message(
        "cli-event",
        number=f"{event.seq:4}",
        at=event.at.wall,
        by=f"{event.by:10}",
        how=message(f"cli-how-{event.source.how.replace(' ', '-')}"),
        told=listing.line(event),
    )


job = Job("events", _events, day_argument(), json_option())
