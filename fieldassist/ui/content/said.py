"""What may be said, exactly as it must be said, and what was heard last, as a line of the page."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.checklist.offers import VALUE, Offer
from fieldassist.checklist.prompt import Prompt
from fieldassist.day.desk import Report
from fieldassist.day.listening import Manner
from fieldassist.trade.message import Message, message
from fieldassist.ui.content.heard import HeardLine, last_heard


def heard_now(reports: Sequence[Report]) -> HeardLine | None:
    """What was heard, where it is the last thing that was done; None after a press. Talk among people is none of it."""
    last = next((report for report in reversed(reports) if report.fate is not None and report.near), None)
    return next(iter(last_heard([last])), None) if last is not None else None


def heard_told(line: HeardLine) -> Message:
    """The line on the page."""
    if line.became == "dropped" and line.why:
        return message("work-heard-not-taken", words=line.words, why=line.why)
    return message(f"work-heard-{line.became}", words=line.words)


def say_lines(
    asked: Prompt, offers: Sequence[Offer], manner: Manner, attention: str, most: int = 2
) -> tuple[Message, ...]:
    """How these offers are said: with the phrase that calls the tablet where it is needed, and only there."""
    without = asked.window
    lines: list[Message] = []
    for offer in offers:
        if not offer.phrases or len(lines) == most:
            continue
        phrase = offer.phrases[0].replace(VALUE, "…")
        if manner is Manner.CALLED and not any(offer.command == one.command for one in without):
            lines.append(message("work-say-called", attention=attention, phrase=phrase))
        else:
            lines.append(message("work-say", phrase=phrase))
    return tuple(lines)
