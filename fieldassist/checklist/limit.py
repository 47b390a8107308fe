"""An acceptance criterion as a checklist file has it."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from fieldassist.checklist import rules
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.plan import Written
from fieldassist.checklist.wording import Wording
from fieldassist.trade import catalog


class LimitSpec(Written):
    """An acceptance criterion: numbers with a basis, the name of a rule that computes them for the area, or any
    computation of the trade (`fieldassist calc` lists them) with its inputs and the result that is the limit."""

    at_least: float | None = None
    at_most: float | None = None
    unit: str | None = None
    basis: Wording | None = None
    rule: str | None = None
    calculation: str | None = None
    given: dict[str, str] = Field(default_factory=dict)
    result: str | None = None
    bound: Literal["at least", "at most"] = "at most"

    @model_validator(mode="after")
    def _numbers_or_rule(self) -> LimitSpec:
        faults = Faults()
        numbers = self.at_least is not None or self.at_most is not None
        kinds = (self.calculation is not None, self.rule is not None, numbers or bool(self.unit or self.basis))
        if sum(kinds) > 1:
            faults.add("limit-mixed")
        elif self.calculation is not None:
            known = list(catalog.CALCULATIONS)
            if self.calculation not in known:
                faults.add("calculation-unknown", "calculation", given=self.calculation, allowed=known)
            if self.result is None:
                faults.add("limit-without-result")
        elif self.given or self.result:
            faults.add("limit-result-alone", "given" if self.given else "result")
        elif self.rule is not None:
            if self.rule not in rules.LIMITS:
                faults.add("rule-unknown", "rule", given=self.rule, allowed=sorted(rules.LIMITS))
        else:
            self._check_numbers(faults)
        faults.tell()
        return self

    def _check_numbers(self, faults: Faults) -> None:
        if self.at_least is None and self.at_most is None:
            faults.add("limit-empty")
            return
        if self.unit is None:
            faults.add("limit-without-unit")
        if self.basis is None:
            faults.add("limit-without-basis")
        if self.at_least is not None and self.at_most is not None and self.at_least > self.at_most:
            faults.add("limit-impossible", "at_least", least=self.at_least, most=self.at_most)


class Plausible(Written):
    """Where a reading can lie at all; outside it was misheard or mistyped, and is asked again."""

    low: float
    high: float
    unit: str
