"""Fields that are entered, on any page: each a key that shows what stands in it, and what is wrong beside it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import partial

from fieldassist.checklist.schema import Checklist
from fieldassist.trade.message import message
from fieldassist.trade.quantities import convert_exact, parse_quantity
from fieldassist.ui.content.entry import LastValue, NumberQuestion
from fieldassist.ui.content.site_draft import FieldAsked, PlanDraft, option_told, shown, written
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import ColumnBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.picks import PickSheet
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip

Put = Callable[[FieldAsked, str], None]


def field_keys(
    tablet: Tablet, draft: PlanDraft, fields: Sequence[FieldAsked], checklists: Mapping[str, Checklist], put: Put
) -> list[Widget]:
    """A key for each field. put: called with the field and what a file would have there."""
    return [field_key(tablet, draft, asked, checklists, put) for asked in fields]


def field_key(
    tablet: Tablet, draft: PlanDraft, asked: FieldAsked, checklists: Mapping[str, Checklist], put: Put
) -> Widget:
    """One of them: dashed while it lacks, and with what is wrong under it."""
    look, words = tablet.look, tablet.words
    told = shown(draft, asked, checklists)
    label = words(message("site-field", field=asked.name))
    key = Key(
        look,
        words(told) if told is not None else words(message("site-to-be-said" if asked.needed else "site-left-open")),
        partial(ask_field, tablet, draft, asked, checklists, put),
        caption=label,
        off=told is None,
        size="near",
        named=label,
    )
    wrong = draft.wrong.get(asked.at)
    if wrong is None:
        return key
    return ColumnBox(look, key, TextLabel(look, words(wrong), "small", role="fail"), gap=4, rises=True)


def ask_field(
    tablet: Tablet, draft: PlanDraft, asked: FieldAsked, checklists: Mapping[str, Checklist], put: Put
) -> None:
    """Ask for what stands in a field, by letters, the one pad, or keys."""
    words = tablet.words
    label = words(message("site-field", field=asked.name))
    if asked.asks == "words":
        tablet.ask_words(label, str(draft.get(*asked.at) or ""), partial(put, asked))
    elif asked.asks == "number":
        tablet.ask_number(_question(draft, asked), lambda value, unit: put(asked, written(value, unit)))
    else:
        options = [(words(option_told(asked, option, checklists)), option) for option in asked.options]
        pick(tablet, label, options, _chosen(draft, asked), partial(put, asked))


def _chosen(draft: PlanDraft, asked: FieldAsked) -> str | None:
    value = draft.get(*asked.at)
    return value if isinstance(value, str) else None


def _question(draft: PlanDraft, asked: FieldAsked) -> NumberQuestion:
    stands = draft.get(*asked.at)
    last: tuple[LastValue, ...] = ()
    if isinstance(stands, str):
        given = parse_quantity(stands)
        unit = given.unit if given.unit in asked.units else asked.units[0]
        value = Fraction(convert_exact(given.value, given.unit, unit))
        last = (LastValue(value, unit),)
    return NumberQuestion(message("site-field", field=asked.name), asked.units, last=last)


def pick(
    tablet: Tablet,
    question: str,
    options: Sequence[tuple[str, str]],
    chosen: str | None,
    then: Callable[[str], None],
) -> None:
    """Lay keys over the page, one an option; then: called with what was chosen once the sheet is closed."""

    def taken(option: str) -> None:
        tablet.close_sheet()
        then(option)

    back = (tablet.words(message("frame-close")), tablet.close_sheet)
    columns = 1 if tablet.upright else 2
    tablet.sheet(
        PickSheet(
            tablet.look,
            question,
            [(given, said) for said, given in options],
            chosen or "",
            taken,
            back,
            columns=columns,
        )
    )
