"""What a trial says, in messages: no more than its samples can bear.

Means are told without decimals, chances in steps; two methods are never called alike, only not told apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from fieldassist.checklist.plan import PlannedQuestion
from fieldassist.trade.message import Figure, Message, Several, message, term
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.model import Analysis, Chance, Difference, Estimate, Gain, whole_percent


def verdict(analysis: Analysis) -> tuple[Message, ...]:
    """What a trial says of its combinations, in a sentence or a few; the first one alone says the least of it."""
    if analysis.best is None:
        return (message("trial-nothing-read"),)
    best = analysis.of(analysis.best)
    outside = [
        one.letter for one in analysis.estimates if one.eligible and one.contender is False and one.mean is not None
    ]
    worse = message("trial-worse", letters=named(outside), count=len(outside))
    if analysis.claim == "pictures":
        return (message("trial-pictures"), message("trial-highest", letter=best.letter, mean=_percent(best.mean)))
    beside = [letter for letter in analysis.contenders if letter != best.letter]
    if analysis.claim == "intervals":
        return (message("trial-no-rank"), *((worse,) if outside else ()))
    figures: dict[str, Figure] = {"letter": best.letter, "mean": _percent(best.mean), "range": interval(best)}
    if beside:
        apart = message("trial-not-apart", letters=named(beside), letter=best.letter)
        return (message("trial-best-so-far", **figures), apart, *((worse,) if outside else ()))
    return (message("trial-best", **figures), *((worse,) if outside else ()))


def ties(analysis: Analysis) -> tuple[Message, ...]:
    """The groups that cannot be told apart; none where no claim may be made."""
    if analysis.claim != "ranks":
        return ()
    return tuple(message("trial-tie", letters=named(group)) for group in analysis.ties)


def more(analysis: Analysis) -> Message | None:
    """How many more samples would settle it, None where nothing is left to settle or nobody knows yet."""
    if len(analysis.contenders) < 2 or analysis.claim == "pictures":
        return None
    letters = named(analysis.contenders)
    if analysis.more is None:
        return message("trial-too-close", letters=letters)
    return message("trial-more-needed", letters=letters, count=analysis.more) if analysis.more else None


def question(asked: PlannedQuestion) -> Message:
    """A question that was named beforehand."""
    if asked.letters is not None:
        one, other = asked.letters
        return message("trial-asks-letters", one=one, other=other)
    subject = f"trial-{asked.part}"
    if asked.part == "mortar":
        return message("trial-asks-mortar", one=asked.one or "none", other=asked.other or "none")
    return message("trial-asks-part", one=term(subject, str(asked.one)), other=term(subject, str(asked.other)))


def gain(found: Gain, asked: PlannedQuestion) -> Message:
    """What came of a question that was named beforehand."""
    about = question(asked)
    if found.found is None:
        return message("trial-gain-unclaimed", asked=about)
    figures: dict[str, Figure] = {
        "asked": about,
        "points": round(abs(found.points)),
        "low": _points(found.low),
        "high": _points(found.high),
        "pairs": len(found.pairs),
        "each": Several(tuple(_of_pair(*pair, points) for pair, points in zip(found.pairs, found.each, strict=True))),
    }
    if not found.found:
        return message("trial-gain-none", asked=about, low=figures["low"], high=figures["high"])
    return message("trial-gain-more" if found.points > 0 else "trial-gain-less", **figures)


def _of_pair(one: str, other: str, points: float) -> Message:
    """The gain of one pair, as it was found: a single pair's is mostly noise, and is never claimed alone."""
    return message("trial-gain-pair", one=one, other=other, points=f"{round(points):+d}")


def gains(analysis: Analysis, questions: Sequence[PlannedQuestion]) -> tuple[Message, ...]:
    """What came of each question that was named beforehand."""
    return tuple(gain(found, asked) for found, asked in zip(analysis.gains, questions, strict=True))


def difference(found: Difference) -> Message:
    """Two combinations set side by side."""
    figures: dict[str, Figure] = {"better": found.better, "worse": found.worse}
    if found.differs:
        return message("trial-differs", points=round(found.points), **figures)
    return message("trial-differs-not", **figures)


def doubts(analysis: Analysis) -> Iterator[Message]:
    """What whoever reads the figures has to know besides."""
    yield message("trial-as-read", readers=analysis.readers)
    if analysis.wide:
        yield message("trial-wide")


def chance(step: Chance) -> Message:
    """A chance in the step in which it is told."""
    return term("trial-chance", step)


def interval(one: Estimate) -> Message:
    """The interval of a mean, without decimals."""
    if one.low is None or one.high is None:
        return message("trial-no-interval")
    return message("trial-interval", low=str(whole_percent(one.low)), high=str(whole_percent(one.high)))


def named(letters: Sequence[str]) -> Figure:
    """Combinations by their letters, joined."""
    return Several(tuple(letters), "and")


def _percent(mean: float | None) -> Figure:
    return "-" if mean is None else Quantity(Fraction(whole_percent(mean)), "percent")


def _points(value: float) -> str:
    """A bound of a gain [points], with its sign where it is a loss.

    >>> _points(2.7), _points(-0.2), _points(-3.4)
    ('3', '0', '-3')
    """
    return str(round(value))
