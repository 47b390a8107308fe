"""What a script may expect of the day, in plain words over the day's facts.

    expect taken | refused | asked | not understood [because CODE]      of the phrase before
    expect answered CODE                        the same: something with this code was said back
    expect AREA [not] finished | started        or: expect [not] finished AREA
    expect tile N of AREA [not] suspect         any state of a tile, or "not set"; N is its number or its name
    expect lift N of AREA [not] failed          passed, failed, not complete
    expect 6 lifts of AREA                      tiles, lifts, failures or batches
    expect [no] open CODE [of AREA]             an open point with these words in its code
    expect no open points | 2 open points
    expect [not] signed | sealed
    expect PATH is [not] VALUE                  anything in the facts, as in
    expect areas[shower wall].tiles[7].state is suspect
    expect PATH at least | at most NUMBER       PATH counts NUMBER, for lists; PATH has VALUE, for what a list holds
    expect at most 110 utterances [in AREA]     of the crew, refused ones too; or words, which the tablet speaks

and of a trial, its combinations by their letters:

    expect C, D, A, B in AREA                   this ranking by their means, all of those that were read
    expect A [not] better than B in AREA        beyond noise
    expect A, C tied in AREA                    no two of them can be told apart; expect no ties in AREA
    expect contenders C, D in AREA              who is still in the running to be the best
    expect E [not] ruled out in AREA            by the mortar's limits or geometry
    expect claim ranks in AREA                  how much may be said: pictures, intervals, ranks
    expect 1 spoiled in AREA                    samples; or made
    expect C [not] released in AREA

A path names fields with points between them, and in brackets which of a list is meant: by its number, id, name or
code, or "first" and "last". A code is matched by any of its parts: "surface-set" is found in "open-surface-set".
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

from fieldassist.day.speaking import Counts
from fieldassist.printable import printable
from fieldassist.trade.message import Figure, Message, Refused, Several, message

CameTo: TypeAlias = Literal["taken", "refused", "asked", "not understood"]
DayData: TypeAlias = Mapping[str, Any]
_FATES = ("taken", "refused", "asked", "not understood")
_STATES = (
    "not set", "not yet covered", "covered", "lifted good", "lifted failed", "suspect", "accepted", "taken off",
)  # fmt: skip
_VERDICTS = ("passed", "failed", "not complete")
_COUNTED = ("tiles", "lifts", "failures", "batches")
# What an item of a list is called by.
_CALLED = ("number", "id", "name", "code", "date", "part", "what")
_NOTHING = object()
_WORDS: Mapping[bool | None, str] = {None: "none", True: "true", False: "false"}
_CODE = r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*"
_PATH = re.compile(r"[a-z_][a-z0-9_]*(?:\[[^\[\]]+\]|\.[a-z_][a-z0-9_]*)*")
_STEP = re.compile(r"\[([^\[\]]+)\]|\.?([a-z_][a-z0-9_]*)")


class NotExpected(Refused):
    """Words that expect nothing; `told` says why and what would."""


@dataclass(frozen=True, slots=True)
class AtOnce:
    """What is expected of the phrase before. fate: what became of it, None for any; code: of something said back.

    What was not understood is asked back too.
    """

    fate: CameTo | None
    code: str = ""

    def differs(self, fate: CameTo, said: Figure | None) -> Message | None:
        """How it came otherwise, None where it holds."""
        if self.fate not in (None, fate, "asked" if fate == "not understood" else fate):
            return message("rehearse-came", came=fate.replace(" ", "-"))
        if self.code and not any(has_code(code, self.code) for code in codes(said)):
            return message("rehearse-said", codes=Several(tuple(codes(said)) or ("-",)))
        return None


@dataclass(frozen=True, slots=True)
class WantedCount:
    """At most how many utterances of the crew, or words of the tablet, are expected; area: while that one was open."""

    what: Literal["utterances", "words"]
    most: int
    area: str = ""

    def differs(self, counts: Mapping[str, Counts]) -> Message | None:
        """How it came otherwise, None where it holds. counts: by area."""
        held = sum((one for area, one in counts.items() if self.area in ("", area)), Counts())
        found = held.utterances if self.what == "utterances" else held.tablet_words
        return message("rehearse-counted-more", what=self.what, count=found) if found > self.most else None


Expected: TypeAlias = "WantedFact | WantedCount | WantedOfTrial | AtOnce"


@dataclass(frozen=True, slots=True)
class WantedFact:
    """What is expected of the facts: what stands at `path`, compared with `value`; or that it does not (`negative`).

    How: "is", "has", "at least", "at most", "counts", and "open" for an open point whose code holds `value`, in any
    area or in that of `path`.
    """

    path: str
    how: Literal["is", "has", "at least", "at most", "counts", "open"]
    value: str
    negative: bool = False

    def differs(self, facts: DayData) -> Message | None:
        """How it came otherwise, None where it holds."""
        if self.how == "open":
            return self._open_differs(facts)
        found = look_up(facts, self.path)
        if found is _NOTHING and self.path.endswith(".state"):
            found = "not set"
        if found is _NOTHING:
            # Not even "is not" holds: a path with a slip of the pen would hold for ever.
            return message("rehearse-found", path=self.path, found=message("rehearse-nothing-there"))
        if self._holds(found) is not self.negative:
            return None
        return message("rehearse-found", path=self.path, found=_shown(found))

    def _holds(self, found: Any) -> bool:
        match self.how:
            case "counts":
                return isinstance(found, Sequence) and not isinstance(found, str) and len(found) == float(self.value)
            case "has":
                held = found if isinstance(found, Sequence) and not isinstance(found, str) else [found]
                return any(_is(one, self.value) for one in held)
            case "at least" | "at most":
                if isinstance(found, bool) or not isinstance(found, int | float):
                    return False
                limit = float(self.value)
                return found >= limit - 1e-9 if self.how == "at least" else found <= limit + 1e-9
            case _:
                return _is(found, self.value)

    def _open_differs(self, facts: DayData) -> Message | None:
        points = [p for p in facts["open_points"] if not p["answered"] and (not self.path or p["area"] == self.path)]
        found = any(has_code(point["code"], self.value) for point in points)
        if found is not self.negative:
            return None
        return message("rehearse-open", codes=Several(tuple(p["code"] for p in points) or ("-",)))


@dataclass(frozen=True, slots=True)
class WantedOfTrial:
    """What is expected of an area's trial.

    what: one of the forms above; letters: of the combinations, in order; value: a claim, or how many.
    """

    area: str
    what: Literal["ranking", "better", "tied", "contenders", "ruled out", "claim", "spoiled", "made", "released"]
    letters: tuple[str, ...] = ()
    value: str = ""
    negative: bool = False

    def differs(self, facts: DayData) -> Message | None:
        """How it came otherwise, None where it holds."""
        trial = look_up(facts, f"areas[{self.area}].trial")
        said = trial["analysis"] if isinstance(trial, Mapping) else None
        if said is None:
            return message("rehearse-found", path=self.area, found=message("rehearse-nothing-there"))
        holds, found = self._found(trial, said)
        return None if holds is not self.negative else message("rehearse-trial-found", found=found)

    def _found(self, trial: DayData, said: DayData) -> tuple[bool, str]:
        """Whether it holds, and what stands there."""
        letters = list(self.letters)
        match self.what:
            case "ranking" | "contenders":
                return said[self.what] == letters, ", ".join(said[self.what]) or "-"
            case "better":
                pairs = [(one["better"], one["worse"]) for one in said["differences"] if one["differs"]]
                return self.letters in pairs, ", ".join(f"{better} > {worse}" for better, worse in pairs) or "-"
            case "tied":
                groups = [set(group) for group in said["ties"]]
                tied = any(set(letters) <= group for group in groups) if letters else not groups
                return tied, "; ".join(", ".join(group) for group in said["ties"]) or "-"
            case "ruled out":
                out = [one["letter"] for one in trial["combinations"] if one["ruled_out"]]
                return set(letters) <= set(out), ", ".join(out) or "-"
            case "claim":
                return said["claim"] == self.value, said["claim"]
            case "released":
                released = [one["letter"] for one in trial["releases"]]
                return set(letters) <= set(released), ", ".join(released) or "-"
            case _:
                spoiled = sum(one["spoiled"] is not None for one in trial["samples"])
                found = spoiled if self.what == "spoiled" else trial["made"]
                return found == int(self.value), str(found)


def codes(told: Figure | None) -> list[str]:
    """The codes of a message and of all that it holds."""
    match told:
        case Message():
            return [told.code, *(code for figure in told.figures.values() for code in codes(figure))]
        case Several():
            return [code for item in told.items for code in codes(item)]
        case _:
            return []


def has_code(code: str, sought: str) -> bool:
    """Whether a code has these words in it.

    >>> has_code("open-surface-set", "surface-set"), has_code("open-surface-set", "face")
    (True, False)
    """
    return f"-{sought}-" in f"-{code}-"


def look_up(facts: Any, path: str) -> Any:
    """What stands at a path of the facts; a mark of its own where nothing does."""
    found = facts
    for step in _STEP.finditer(path):
        key, name = step[1], step[2]
        if name is not None:
            found = found.get(name, _NOTHING) if isinstance(found, Mapping) else _NOTHING
        else:
            found = _item(found, key.strip())
        if found is _NOTHING:
            break
    return found


def _item(held: Any, key: str) -> Any:
    if isinstance(held, Mapping):
        return held.get(key, _NOTHING)
    if not isinstance(held, Sequence) or isinstance(held, str) or not held:
        return _NOTHING
    if key in ("first", "last"):
        return held[0 if key == "first" else -1]
    for called in _CALLED:
        for one in held:
            if isinstance(one, Mapping) and called in one and _is(one[called], key):
                return one
    return _NOTHING


def _is(found: Any, value: str) -> bool:
    if found is None or isinstance(found, bool):
        return _WORDS[found] == value.lower()
    if isinstance(found, int | float):
        try:
            return abs(found - float(value)) < 1e-6
        except ValueError:
            return False
    if isinstance(found, Mapping) and "code" in found:
        return has_code(str(found["code"]), value)
    return isinstance(found, str) and found.lower() == value.lower()


def _shown(found: Any) -> str:
    if isinstance(found, Mapping):
        return ", ".join(found)
    if isinstance(found, Sequence) and not isinstance(found, str):
        return f"[{len(found)}]"
    if found is None or isinstance(found, bool):
        return _WORDS[found]
    return printable(str(found))


# --- reading ------------------------------------------------------------------------------------------------------


def read_expectation(words: str, areas: Sequence[str]) -> Expected:
    """What these words expect, in a day with these areas. Errors: `NotExpected`.

    >>> read_expectation("tile 7 of hall suspect", ["hall"])
    WantedFact(path='areas[hall].tiles[7].state', how='is', value='suspect', negative=False)
    """
    text = " ".join(words.split())
    low = text.lower()
    named = "|".join(re.escape(name) for name in sorted(areas, key=len, reverse=True))
    for pattern, make in _FORMS:
        found = re.fullmatch(pattern.replace("AREA", f"(?P<area>{named})"), low)
        if found is not None:
            expected: Expected = make(found)
            return expected
    compared = _compared(text)
    if compared is not None:
        return compared
    raise NotExpected(_why_not(low, areas))


def _compared(text: str) -> WantedFact | None:
    """A path and what it is compared with; names in a path and values keep their letters."""
    place = _PATH.match(text)
    if place is None:
        return None
    rest = text[place.end() :]
    for how, negative, pattern in (
        ("is", True, r" is not (.+)"),
        ("is", False, r" is (.+)"),
        ("has", True, r" has no (.+)"),
        ("has", False, r" has (.+)"),
        ("at least", False, r" at least (-?\d+(?:\.\d+)?)"),
        ("at most", False, r" at most (-?\d+(?:\.\d+)?)"),
        ("counts", False, r" counts (\d+)"),
    ):
        found = re.fullmatch(pattern, rest)
        if found is not None:
            return WantedFact(place[0], how, found[1], negative)  # type: ignore[arg-type]
    return None


def _at_once(found: re.Match[str]) -> AtOnce:
    return AtOnce(found["fate"], found["code"] or "")  # type: ignore[arg-type]


def _phase(found: re.Match[str]) -> WantedFact:
    path = f"areas[{found['area']}].phase"
    negative = found["no"] is not None
    if found["what"] == "started":
        return WantedFact(path, "is", "not started", not negative)
    return WantedFact(path, "is", "finished", negative)


def _tile(found: re.Match[str]) -> WantedFact:
    path = f"areas[{found['area']}].tiles[{found['number']}].state"
    return WantedFact(path, "is", found["state"], found["no"] is not None)


def _lift(found: re.Match[str]) -> WantedFact:
    path = f"areas[{found['area']}].lifts[{found['number']}].verdict"
    return WantedFact(path, "is", found["verdict"], found["no"] is not None)


def _count(found: re.Match[str]) -> WantedCount:
    return WantedCount(found["what"], int(found["most"]), found["area"] or "")  # type: ignore[arg-type]


def _open(found: re.Match[str]) -> WantedFact:
    return WantedFact(found["area"] or "", "open", found["code"], found["no"] is not None)


def _of_trial(what: str) -> Any:
    def made(found: re.Match[str]) -> WantedOfTrial:
        groups = found.groupdict()
        letters = tuple(re.findall(r"[A-Z]", (groups.get("letters") or "").upper()))
        negative = groups.get("no") is not None
        return WantedOfTrial(found["area"], what, letters, groups.get("value") or "", negative)  # type: ignore[arg-type]

    return made


def _better(found: re.Match[str]) -> WantedOfTrial:
    letters = (found["one"].upper(), found["other"].upper())
    return WantedOfTrial(found["area"], "better", letters, negative=found["no"] is not None)


_LETTERS = r"[a-z](?:, ?[a-z])*"

_FORMS: tuple[tuple[str, Any], ...] = (
    (rf"(?P<fate>{'|'.join(_FATES)})(?: because (?P<code>{_CODE}))?", _at_once),
    (rf"answered (?P<code>{_CODE})", lambda found: AtOnce(None, found["code"])),
    (r"(?P<no>not )?(?P<what>finished|started) AREA", _phase),
    (r"AREA (?:is )?(?P<no>not )?(?P<what>finished|started)", _phase),
    (rf"tile (?P<number>[^\[\]]+?) of AREA (?:is )?(?P<no>not (?!set|yet))?(?P<state>{'|'.join(_STATES)})", _tile),
    (rf"lift (?P<number>\d+) of AREA (?:is )?(?P<no>not (?!complete))?(?P<verdict>{'|'.join(_VERDICTS)})", _lift),
    (
        rf"(?P<count>\d+|no) (?P<what>{'|'.join(_COUNTED)}|tile|lift|failure|batch) (?:of|in) AREA",
        lambda found: WantedFact(
            f"areas[{found['area']}].{_plural(found['what'])}", "counts", found["count"].replace("no", "0")
        ),
    ),
    (
        r"(?P<count>\d+|no) open points?",
        lambda found: WantedFact("open_count", "is", found["count"].replace("no", "0")),
    ),
    (r"at most (?P<most>\d{1,6}) (?P<what>utterances|words)(?: (?:of|in) AREA)?", _count),
    (rf"(?P<no>no |not )?open (?P<code>{_CODE})(?: (?:of|in) AREA)?", _open),
    (rf"(?P<letters>{_LETTERS}) (?:of|in) AREA", _of_trial("ranking")),
    (r"(?P<one>[a-z]) (?:is )?(?P<no>not )?better than (?P<other>[a-z]) (?:of|in) AREA", _better),
    (rf"(?P<letters>{_LETTERS}) (?:are )?(?P<no>not )?tied (?:of|in) AREA", _of_trial("tied")),
    (r"no ties (?:of|in) AREA", _of_trial("tied")),
    (rf"contenders (?P<letters>{_LETTERS}) (?:of|in) AREA", _of_trial("contenders")),
    (rf"(?P<letters>{_LETTERS}) (?:is |are )?(?P<no>not )?ruled out (?:of|in) AREA", _of_trial("ruled out")),
    (r"claim (?P<value>pictures|intervals|ranks) (?:of|in) AREA", _of_trial("claim")),
    (r"(?P<value>\d{1,3}) (?:samples )?spoiled (?:of|in) AREA", _of_trial("spoiled")),
    (r"(?P<value>\d{1,3}) (?:samples )?made (?:of|in) AREA", _of_trial("made")),
    (rf"(?P<letters>{_LETTERS}) (?:is |are )?(?P<no>not )?released (?:of|in) AREA", _of_trial("released")),
    (
        r"(?P<no>not )?(?P<what>signed|sealed)",
        lambda found: WantedFact(found["what"], "is", "true", found["no"] is not None),
    ),
)


def _plural(what: str) -> str:
    return what if what in _COUNTED else {"batch": "batches"}.get(what, f"{what}s")


def _why_not(words: str, areas: Sequence[str]) -> Message:
    """Words that are none of the forms; where they name an area nearly as the plan does, that is said."""
    about = re.search(r"\b(?:of|in|finished|started) ([^\[\]]+)$", words)
    about = about or re.match(r"([^\[\]]+?) (?:is )?(?:not )?(?:finished|started)$", words)
    given = about[1] if about else ""
    near = difflib.get_close_matches(given, areas, 1, 0.6)
    if given and near and given != near[0]:
        return message("rehearse-no-such-area", given=printable(given[:60]), near=near[0])
    return message("rehearse-expects-nothing", given=printable(words[:80]))
