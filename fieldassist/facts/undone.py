"""What was read of lifts before, failed and counts no more, and what addenda correct of them, as facts."""

from __future__ import annotations

from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import State
from fieldassist.checklist.undone import Amendment, RoundPlace, Undone, amendments, undone
from fieldassist.facts import model
from fieldassist.facts.telling import Tell
from fieldassist.trade.message import Read, Several, message


class UndoneTeller:
    """Tells them of each lift of a day, by the round in which it was asked."""

    def __init__(self, state: State, stands: Standing, told: Tell) -> None:
        self._told = told
        self._undone: dict[RoundPlace, Undone] = {
            (one.area, one.section, one.round): one for one in undone(state, stands)
        }
        self._amended: dict[tuple[str, int], list[Amendment]] = {}
        for one in amendments(state, stands):
            if one.lift is not None:
                self._amended.setdefault((one.area, one.lift), []).append(one)

    def undone(self, at: RoundPlace) -> model.UndoneFact | None:
        """What had been read of a lift before, and failed; None where nothing had."""
        one = self._undone.get(at)
        if one is None:
            return None
        return model.UndoneFact(
            was=self._told(message("facts-undone", was=Several(one.was, "list"))),
            percent=min((float(read.quantity.value) for read in one.was if isinstance(read, Read)), default=None),
            judged=one.judged,
            how="corrected" if one.corrected else "taken back",
            at=one.at.wall,
            event=one.event,
        )

    def amended(self, area: str, lift: int) -> list[int]:
        """The numbers of the addenda that correct something of a lift."""
        return sorted({one.part for one in self._amended.get((area, lift), ())})
