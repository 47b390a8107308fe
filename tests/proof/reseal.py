"""A record changed by somebody who holds the keys: chained anew, and sealed and released by PIN anew."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

import rfc8785

from fieldassist.checklist.events import DayOpened, Event
from fieldassist.proof.sense import check_sense
from fieldassist.proof.verdict import Findings
from fieldassist.record.chain import GENESIS, chain_hash, check_texts
from fieldassist.record.keys import SigningKey
from fieldassist.record.seal import statement
from fieldassist.trade.message import Message
from tests.golden import texts_of

Raw = dict[str, Any]


def raws_of(events: Sequence[Event]) -> list[Raw]:
    """The events as JSON has them, without what chains them."""
    return [{name: value for name, value in json.loads(text).items() if name != "prev"} for text in texts_of([*events])]


def resealed(raws: Sequence[Raw], keys: Mapping[str, SigningKey]) -> list[str]:
    """The texts of these events, numbered and chained anew, each seal made anew by the key of whoever it names."""
    texts: list[str] = []
    opened = raws[0]["body"]["plan"]
    before = GENESIS
    for place, raw in enumerate(raws):
        raw = raw | {"seq": place + 1}
        body = raw["body"]
        if body["type"] == "day sealed" and body["name"] in keys:
            key, signed = keys[body["name"]], raws[place - 1]
            says = statement(
                covers=place,
                date=opened["date"],
                head=before,
                name=body["name"],
                part=body["part"],
                role=body["role"],
                signed_at=signed["at"]["wall"],
                site=opened["site"],
            )
            made = {"covers": place, "head": before, "public_key": key.public_key, "signature": key.sign(says).hex()}
            raw = raw | {"body": body | made}
        texts.append(rfc8785.dumps({**raw, "prev": before}).decode("utf-8"))
        before = chain_hash(texts[-1])
    return texts


def senseless(texts: Sequence[str]) -> list[tuple[int, Message]]:
    """What makes no sense, by event: as the chain's own reading has it, or the engine's second decision."""
    chain = check_texts(texts)
    if chain.bad is not None:
        assert chain.fault is not None
        return [(chain.bad, chain.fault)]
    assert isinstance(chain.events[0].body, DayOpened)
    found = Findings()
    check_sense(chain, found)
    told = [one for one in found.told if one.code == "proof-senseless"]
    return [(int(str(one.figures["event"])), one.figures["why"]) for one in told]  # type: ignore[misc]
