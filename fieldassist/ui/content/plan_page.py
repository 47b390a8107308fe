"""The plan's first page: whether the method works and why, four choices with where they lead, and how it is gone on
with."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from fieldassist.assess.cures import reaches
from fieldassist.assess.inputs import Inputs
from fieldassist.assess.method import MethodAdvice, RidgePicture, advise, picture
from fieldassist.assess.steps import Knob, Neighbour, StepChoice, nearest, step_choices
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import methods
from fieldassist.checklist.commands import Command, MethodWish
from fieldassist.checklist.plan import Method, Trowel
from fieldassist.checklist.state import Area
from fieldassist.trade.message import Figure, Message, Refused, message, term
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.failed_lift import tool_size, trowel_told
from fieldassist.ui.content.ridge_drawing import air_share


@dataclass(frozen=True, slots=True)
class PlanPage:
    """A method over its base. works: None where it cannot be told; picture: None then; nearest: the single step that
    works where this does not."""

    inputs: Inputs
    advice: MethodAdvice
    picture: RidgePicture | None
    choices: tuple[StepChoice, ...]
    nearest: Neighbour | None

    @property
    def works(self) -> bool | None:
        """Whether the method works."""
        return self.advice.works


def plan_page(inputs: Inputs) -> PlanPage:
    """The page of an area's inputs. Never fails: what cannot be told has no picture and no choices."""
    advice = advise(inputs)
    try:
        choices, made = step_choices(inputs), picture(inputs)
    except Refused:
        return PlanPage(inputs, advice, None, (), None)
    return PlanPage(inputs, advice, made, choices, nearest(inputs, choices) if advice.works is False else None)


# --- words --------------------------------------------------------------------------------------------------------


def verdict_told(page: PlanPage) -> Message:
    """Whether it works, with the contact that it reaches, in a few words."""
    if page.works is None or page.advice.contact_percent is None:
        return message("plan-cannot-tell")
    code = "plan-page-works" if page.works else "plan-page-does-not-work"
    return message(code, contact=reaches(page.advice.contact_percent))


def reason_told(page: PlanPage) -> Figure:
    """The one reason: what is needed, the bed and the gap; or why another thing stands against it."""
    first = page.advice.reasons[0] if page.advice.reasons else None
    if page.picture is None or (first is not None and first.code not in ("ridges-too-little-mortar", *_GOOD)):
        return "" if first is None else message("plan-page-reason", reason=first)
    return message(
        "plan-page-needs",
        needed=Quantity(Fraction(repr(page.inputs.contact.minimum_percent)), "percent"),
        bed=_mm(page.picture.bed_mm),
        gap=_mm(page.picture.high_mm),
    )


_GOOD = ("ridges-near-limit", "ridges-fills-the-gap")


def ridges_told(made: RidgePicture) -> Message:
    """What the ridges are as they are combed."""
    return message("plan-page-combed", height=_mm(made.height_mm))


def gap_told(made: RidgePicture) -> Message:
    """The gap under the pressed tile."""
    if made.high_mm > made.low_mm:
        return message("plan-page-pressed", low=_mm(made.low_mm), high=_mm(made.high_mm))
    return message("plan-page-pressed-even", low=_mm(made.low_mm))


def air_told(made: RidgePicture) -> Figure:
    """The air that is left, "" for none."""
    air = round(100 * air_share(made))
    return message("plan-page-air", air=Quantity(Fraction(air), "percent")) if air else ""


def off_told(inputs: Inputs) -> Message:
    """What the picture takes for the tile's bow and the base, and whether the base was measured."""
    code = "plan-page-off" if inputs.base.assumption is None else "plan-page-off-assumed"
    return message(code, bow=inputs.warpage.value, base=inputs.base.value)


def now_told(knob: Knob, inputs: Inputs) -> Figure:
    """A choice as it stands."""
    if knob == "notch":
        return trowel_told(_trowel(inputs))
    if knob == "angle":
        return message("plan-degrees", value=inputs.angle.value)
    if knob == "sides":
        return term("plan-page-sides", inputs.sides.value)
    return inputs.skim.value if inputs.skim.value.value else message("plan-page-no-coat")


def step_told(step: Neighbour) -> Figure:
    """Where a key leads."""
    if step.knob == "notch":
        return tool_size(step.notch.depth_mm)
    if step.knob == "sides":
        return term("plan-page-comb", str(step.entries["sides"]))
    value = step.entries.get("angle" if step.knob == "angle" else "skim")
    assert isinstance(value, Quantity)
    return message("plan-degrees", value=value) if step.knob == "angle" else value


def nearest_told(step: Neighbour) -> Message:
    """What the big key says that goes to the nearest that works, with what it reaches."""
    assert step.contact_percent is not None
    reached = reaches(step.contact_percent)
    if step.knob == "way" and "setting" in step.entries:
        return message("plan-page-to-vibrated", contact=reached)
    if step.knob == "way":
        sides = term("plan-page-sides", str(step.entries["sides"]))
        return message("plan-page-to-way", notch=trowel_told(_trowel_of(step)), sides=sides, contact=reached)
    code = f"plan-page-to-{step.knob}"
    if step.knob == "sides":
        return message(f"{code}-{step.entries['sides']}", contact=reached)
    return message(code, to=step_told(step), contact=reached)


def _mm(value: float) -> Quantity:
    return Quantity(Fraction(repr(round(value, 1))), "mm")


# --- going on with it ---------------------------------------------------------------------------------------------


def method_of(inputs: Inputs, area: Area) -> Method:
    """The method that the inputs make of the one in use: notch and angle, sides, and how its ridges collapse.

    A coat that was entered is keyed into the back; how thick it is, no method holds.
    """
    changes: dict[str, Any] = {field: getattr(_trowel(inputs), field) for field in methods.NOTCH}
    changes["sides"] = inputs.sides.value
    if inputs.skim.origin == "entered":
        changes["back"] = "keyed" if inputs.skim.value.value else "bare"
    if inputs.setting.origin == "entered":
        changes["seating"] = "vibrated" if inputs.setting.value == "vibrated" else "beaten"
    return area.method.model_copy(update=changes)


def is_in_use(inputs: Inputs, area: Area) -> bool:
    """Whether the area goes on with what the inputs say already."""
    return method_of(inputs, area) == area.method


def use(inputs: Inputs, area: Area) -> Command:
    """How an area goes on with what the inputs say: as it is, or on the foreman's word where it cannot do there."""
    method, own = method_of(inputs, area), area.method
    wish: dict[str, Any] = {
        part: getattr(method, part)
        for part in ("sides", "back", "seating")
        if getattr(method, part) != getattr(own, part)
    }
    if any(getattr(method, field) != getattr(own, field) for field in methods.NOTCH):
        wish["trowel"] = _trowel(inputs)
    kind: type[MethodWish] = cmd.ChangeMethod if methods.stands(area, method) else cmd.VouchMethod
    made: Command = kind(**wish)  # type: ignore[assignment]
    return made


def _trowel_of(step: Neighbour) -> Trowel:
    """The notch that a step leads to."""
    sizes = {"width": step.notch.width_mm, "depth": step.notch.depth_mm, "spacing": step.notch.spacing_mm}
    exact = {field: Quantity(Fraction(repr(float(size))), "mm") for field, size in sizes.items()}
    return Trowel(family=step.notch.family, **exact)


def _trowel(inputs: Inputs) -> Trowel:
    return Trowel(
        family=inputs.family.value,
        width=inputs.width.value,
        depth=inputs.depth.value,
        spacing=inputs.spacing.value,
        angle=float(inputs.angle.value.value),
    )
