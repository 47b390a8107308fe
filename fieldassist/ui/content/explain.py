"""What each screen says of itself, once: what it shows and what one does there. Which were told stands in preferences.

It is to be had again from the help page at any time.
"""

from __future__ import annotations

from collections.abc import Collection

from fieldassist.checklist.prompt import Prompt
from fieldassist.trade.message import Message, message, term

# The screens that explain themselves, in the order of the help page.
EXPLAINED: tuple[str, ...] = (
    "wall",
    "piece",
    "layout",
    "work",
    "else",
    "lift",
    "measuring",
    "failed",
    "photos",
    "plan",
    "plan parts",
    "plan sources",
    "day",
    "site",
    "mortars",
    "days",
    "trial design",
    "trial",
    "trial samples",
    "release",
    "history",
    "signing",
    "pages",
    "handing",
    "countersign",
    "check",
    "person",
    "dust",
    "cautions",
    "handling",
    "tablet",
    "crew",
    "roster",
    "ear",
    "glossary",
)


def to_explain(screen: str, told: Collection[str]) -> Message | None:
    """What a screen has to say of itself; None where it was told before, or has nothing to tell.

    >>> to_explain("wall", ["wall"]) is None
    True
    """
    return explanation(screen) if screen in EXPLAINED and screen not in told else None


def explanation(screen: str) -> Message:
    """What one of `EXPLAINED` says of itself."""
    return term("person-explains", screen)


def title(screen: str) -> Message:
    """What one of `EXPLAINED` is called."""
    return term("person-screen", screen)


def why(asked: Prompt) -> tuple[Message, ...]:
    """What lies behind a refusal: what is asked first, what its answer must reach, and where that comes from."""
    found = [message("person-why-asked", ask=asked.ask)]
    if asked.caution is not None:
        found.append(message("person-why-caution", caution=asked.caution))
    if asked.requirement is not None:
        found.append(message("person-why-needs", requirement=asked.requirement))
    if asked.basis is not None:
        found.append(message("safety-source", basis=asked.basis))
    return tuple(found)
