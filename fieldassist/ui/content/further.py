"""What may be done besides answering what is asked, in groups: whatever may be said can be pressed too."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.prompt import Prompt
from fieldassist.trade.message import Message, term

# What answers another step than the one at hand: of the same lift, or of what goes on beside it.
_TOLD = ("give reading", "choose", "confirm step", "confirm lift", "spread mortar", "tiles in")
# By the word that names a group, in the order of the screen. What has a place of its own on another screen is not among
# them: yes and no, who speaks, which area, the weather, notes, the signature.
GROUPS: Mapping[str, tuple[str, ...]] = {
    "told": _TOLD,
    "begun": ("start round",),
    "lifts": ("ask lift", "leave lift", "accept tiles", "take off", "set lots"),
    "method": ("setter is", "change method", "vouch method"),
    "mortar": ("take bucket", "call late", "go on early", "leave out photo", "leave out reading"),
    "correct": ("give reading",),
}
# What takes the number of a tile or a place is offered whatever number would be taken: the engine says why not.
_TRIED = ("start round", "ask lift", "accept tiles", "take off", "set lots")


@dataclass(frozen=True, slots=True)
class OfferGroup:
    """Offers of one kind."""

    title: Message
    offers: tuple[Offer, ...]


def answers_of(asked: Prompt) -> tuple[Offer, ...]:
    """The offers that answer the question. Which piece is next, where that is not the plan's, is asked for apart."""
    return tuple(offer for offer in asked.answers if not _chooses_a_place(offer))


def _chooses_a_place(offer: Offer) -> bool:
    command = offer.command
    return isinstance(command, cmd.StartRound) and (
        offer.slot is not None or command.model_copy(update={"section": ""}) != cmd.StartRound(section="")
    )


def groups(asked: Prompt) -> tuple[OfferGroup, ...]:
    """What else may be done now. Nothing while a yes, or an acknowledgement, is waited for."""
    if asked.waits_for_yes or asked.caution is not None:
        return ()
    shown = {id(offer) for offer in answers_of(asked)}
    found = []
    for title, kinds in GROUPS.items():
        offers = tuple(o for o in asked.offers if id(o) not in shown and o.command.do in kinds and _may(o))
        shown |= {id(offer) for offer in offers}
        if offers:
            found.append(OfferGroup(term("work-group", title), offers))
    return tuple(found)


def _may(offer: Offer) -> bool:
    if not offer.phrases:
        return False
    return offer.now or (offer.slot is not None and offer.command.do in _TRIED)
