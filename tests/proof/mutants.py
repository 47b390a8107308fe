"""Records that make no sense, made from one that does: fields of events at random, decisions cut, doubled, put
elsewhere or brought about by something else.

Only what nobody could have asked for is made: a figure that stands in its command too, or a decision on which nothing
rests, would be another story, and as good a one.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from random import Random
from typing import Any

from tests.proof.reseal import Raw

# What a decision takes from its own events, so that another value is another story.
_GIVEN = {
    ("day signed", "strokes"),
    ("samples ordered", "head"),
    ("samples ordered", "order"),
    ("day sealed", "public_key"),
    ("day sealed", "signature"),
    ("day sealed", "head"),
    ("day sealed", "covers"),
    ("day sealed", "certificate"),
}
# Events that tell what is asked, or what no command brings about.
_UNTOUCHED = {"day opened", "checklist adopted", "area carried", "lots committed", "day sealed"}
# Commands that are refused where they come twice, at once.
_ONCE = {"confirm step", "start area", "start round", "sign day", "open addendum", "confirm lift"}
_OTHER_WORDS = {"passed": "failed", "failed": "passed", "foreman": "owner", "installer": "foreman", "owner": "foreman"}


@dataclass(frozen=True)
class Mutant:
    """A changed record: what was done to it, and between which events it must be named."""

    what: str
    raws: list[Raw]
    first: int
    last: int


def mutants(raws: Sequence[Raw], seed: int) -> Iterator[Mutant]:
    """Without end, and the same for the same seed."""
    dice = Random(seed)
    decisions = _decisions(raws)
    makers: list[Callable[..., Mutant | None]] = [_field, _field, _field, _cut, _doubled, _swapped, _asked, _by, _back]
    while True:
        mutant = dice.choice(makers)(raws, decisions, dice)
        if mutant is not None:
            yield mutant


def _decisions(raws: Sequence[Raw]) -> list[range]:
    """The places of the events of each decision, in order."""
    starts = [n for n, raw in enumerate(raws) if n == 0 or _command(raw) != _command(raws[n - 1])]
    return [range(start, end) for start, end in zip(starts, [*starts[1:], len(raws)], strict=True)]


def _command(raw: Raw) -> str:
    return str(raw["id"]).rpartition(".")[0]


def _of_commands(raws: Sequence[Raw], decisions: Sequence[range]) -> list[range]:
    return [one for one in decisions if "command" in raws[one[0]] and raws[one[0]]["body"]["type"] != "command refused"]


def _field(raws: Sequence[Raw], _: Sequence[range], dice: Random) -> Mutant | None:
    """Another value in one field of an event."""
    place = dice.randrange(1, len(raws))
    changed = copy.deepcopy([*raws])
    body = changed[place]["body"]
    if body["type"] in _UNTOUCHED:
        return None
    leaves = [leaf for leaf in _leaves(body, ()) if leaf[0] != "type" and (body["type"], leaf[0]) not in _GIVEN]
    if not leaves:
        return None
    path = dice.choice(leaves)
    holder: Any = body
    for key in path[:-1]:
        holder = holder[key]
    was = holder[path[-1]]
    holder[path[-1]] = _other(was, dice)
    what = f"{body['type']}: {'.'.join(map(str, path))} {was!r} becomes {holder[path[-1]]!r}"
    return Mutant(what, changed, place + 1, place + 1)


def _leaves(value: Any, path: tuple[Any, ...]) -> Iterator[tuple[Any, ...]]:
    if isinstance(value, dict) or (isinstance(value, list) and value):
        for key, one in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _leaves(one, (*path, key))
    elif value is not None:
        yield path


def _other(value: Any, dice: Random) -> Any:
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + dice.choice((-1, 1, 7, 1000, 0.5))
    if isinstance(value, list):
        return [value]
    number = str(value)
    if number.replace(".", "", 1).isdigit():
        return str(int(float(number)) + dice.choice((1, 2, 50)))
    return _OTHER_WORDS.get(number, f"{number} x")


def _cut(raws: Sequence[Raw], decisions: Sequence[range], dice: Random) -> Mutant | None:
    """One event of a decision of several is gone."""
    whole = dice.choice([one for one in _of_commands(raws, decisions) if len(one) > 1])
    place = dice.choice(whole)
    changed = [raw for n, raw in enumerate(copy.deepcopy([*raws])) if n != place]
    return Mutant(f"event {place + 1} is gone ({raws[place]['body']['type']})", changed, whole[0] + 1, whole[-1] + 1)


def _doubled(raws: Sequence[Raw], decisions: Sequence[range], dice: Random) -> Mutant | None:
    """A decision stands twice."""
    may = [one for one in _of_commands(raws, decisions) if raws[one[0]]["command"]["do"] in _ONCE]
    whole = dice.choice(may)
    again = copy.deepcopy([raws[n] for n in whole])
    for number, raw in enumerate(again):
        raw["id"] = f"again.{number}"
    changed = [*raws[: whole[-1] + 1], *again, *raws[whole[-1] + 1 :]]
    what = f"{raws[whole[0]]['command']['do']} at {whole[0] + 1} stands twice"
    return Mutant(what, copy.deepcopy(changed), whole[-1] + 2, whole[-1] + 1 + len(whole))


def _swapped(raws: Sequence[Raw], decisions: Sequence[range], dice: Random) -> Mutant | None:
    """A step is answered, and only then is the round begun that asks for it."""
    pairs = [
        (one, other)
        for one, other in pairwise(decisions)
        if raws[one[0]].get("command", {}).get("do") == "start round"
        and raws[other[0]].get("command", {}).get("do") in ("confirm step", "choose", "give reading")
        and raws[one[0]]["body"]["type"] != "command refused"
        and raws[other[0]]["body"]["type"] != "command refused"
    ]
    if not pairs:
        return None
    one, other = dice.choice(pairs)
    changed = [*raws[: one[0]], *(raws[n] for n in other), *(raws[n] for n in one), *raws[other[-1] + 1 :]]
    return Mutant(
        f"events {one[0] + 1} and {other[0] + 1} change places", copy.deepcopy(changed), one[0] + 1, other[-1] + 1
    )


def _asked(raws: Sequence[Raw], decisions: Sequence[range], dice: Random) -> Mutant | None:
    """A decision is said to come of something else."""
    whole = dice.choice(_of_commands(raws, decisions))
    other = dice.choice(("tick", "keep", "withdraw", "finish area"))
    changed = copy.deepcopy([*raws])
    was = changed[whole[0]]["command"]["do"]
    if was == other:
        return None
    changed[whole[0]]["command"] = {"do": other}
    return Mutant(f"{was} becomes {other}", changed, whole[0] + 1, whole[-1] + 1)


def _by(raws: Sequence[Raw], _: Sequence[range], dice: Random) -> Mutant | None:
    """Somebody else is said to have spoken."""
    place = dice.randrange(1, len(raws))
    changed = copy.deepcopy([*raws])
    was = changed[place]["by"]
    changed[place]["by"] = "nour" if was != "nour" else "rosa"
    return Mutant(f"{was} becomes {changed[place]['by']}", changed, place + 1, place + 1)


def _back(raws: Sequence[Raw], decisions: Sequence[range], dice: Random) -> Mutant | None:
    """A decision is older than the one before it."""
    whole = dice.choice(decisions[1:])
    earlier = raws[whole[0] - 1]["at"]["mono"]
    if earlier <= 0:
        return None
    changed = copy.deepcopy([*raws])
    for n in whole:
        changed[n]["at"]["mono"] = earlier - dice.choice((0.5, 1, 60))
    return Mutant(f"event {whole[0] + 1} goes back", changed, whole[0] + 1, whole[0] + 1)
