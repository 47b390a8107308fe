"""What every screen is: a page, and a row of keys under it, of which the large one goes on."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any, ClassVar, Literal

from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.rules import notch_of
from fieldassist.trade.message import message
from fieldassist.ui.content.names import capital
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import ColumnBox, RowBox, lay_ground
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import MARGIN, Look
from fieldassist.ui.widgets.rank_chart import EdgesPicture
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

PlaceName = Literal["wall", "work", "plan", "day", ""]

ACTION_HIGH = 128  # dots
_SECOND, _FAR = 250, 150  # how wide the second key and those at the far end are
# From this size of text on what lies at the far end goes behind one key.
_LARGE = 1.25


class Screen(BoxLayout):
    """One screen. `refresh` is called whenever the day, a report, a job or a preference has changed.

    What is drawn is only made anew when what it depends on has changed, so that a finger on its way to a key does not
    find another one there. place: which of the four places is shown as open.
    """

    place: ClassVar[PlaceName] = ""

    def __init__(self, tablet: Tablet, **rest: Any) -> None:
        super().__init__(orientation="vertical", **rest)
        self.tablet, self.look = tablet, tablet.look
        self._drawn: dict[str, object] = {}
        margin = self.look.dots(MARGIN)
        self.padding = (1.5 * margin, 0.75 * margin, margin, 0.75 * margin)
        self.spacing = self.look.dots(8)
        self.page = ColumnBox(self.look)
        self._acts = BoxLayout(orientation="vertical", size_hint_y=None, height=0)
        self.add_widget(self.page)
        self.add_widget(self._acts)

    @property
    def acts_high(self) -> float:
        """How high the row of keys under the page is [pixels], 0 where there is none."""
        return float(self._acts.height)

    def refresh(self) -> None:
        """Show what has changed."""

    def title(self) -> tuple[str, str]:
        """What the band says where no clock runs: the page's name, and what stands beside it."""
        return "", ""

    def changed(self, what: str, by: object) -> bool:
        """Whether `by`, on which the part called `what` depends, is another than at the last call."""
        if what in self._drawn and self._drawn[what] == by:
            return False
        self._drawn[what] = by
        return True

    def act(self, *keys: Key, second: float = _SECOND) -> None:
        """Put keys into the action row: the big one, the quieter second, and others at the far end.

        second: how wide the second one is [dots] where the tablet lies on its long side.
        """
        self._acts.clear_widgets()
        if keys:
            row = action_row(self.tablet, keys, second=second)
            self._acts.height = row.height
            self._acts.add_widget(row)
        else:
            self._acts.height = 0


def action_row(tablet: Tablet, keys: Sequence[Key], *, second: float = _SECOND) -> Widget:
    """The row: mirrored for a left hand; upright the big key lies alone, over the whole width, under the others."""
    look = tablet.look
    big, others = keys[0], list(keys[1:])
    quieter, far = others[:1], others[1:]
    if len(far) > 1 and (look.text > _LARGE or (tablet.upright and len(far) > 2)):
        far = [_more(tablet, far)]
    for key in keys:
        key.size_hint_y, key.size_hint_x = 1, 1
    if tablet.upright:
        rows: list[Widget] = []
        if quieter or far:
            for key in far:
                key.size_hint_x = 0.45
            rows.append(_abreast(look, [*far, *quieter], high=106))
        rows.append(_abreast(look, [big], high=ACTION_HIGH - 16))
        column = ColumnBox(look, *rows, gap=10, rises=True)
        column.height = sum(row.height for row in rows) + look.dots(10) * (len(rows) - 1)
        return column
    for key, wide in ((k, second) for k in quieter):
        key.size_hint_x, key.width = None, look.dots(wide)
    for key in far:
        key.size_hint_x, key.width = None, look.dots(_FAR)
    return _abreast(look, [*far, *quieter, big], high=ACTION_HIGH)


def _abreast(look: Look, keys: Sequence[Widget], *, high: float) -> RowBox:
    return RowBox(look, *(reversed(keys) if look.left_hand else keys), gap=14, high=high)


def _more(tablet: Tablet, keys: Sequence[Key]) -> Key:
    """One key behind which the others lie."""
    return Key(
        tablet.look,
        tablet.words(message("frame-more")),
        partial(show_keys, tablet, keys),
        sign="more",
        over=not tablet.upright,
        size="near",
        high=None,
    )


def show_tried(screen: Screen, planned: AreaPlan, told: str, *others: Key) -> None:
    """Where methods are tried stands no wall, and no method is planned: which trowels are tried, how far that is, and
    the way to its page."""
    look, tablet = screen.look, screen.tablet
    trial = planned.trial
    assert trial is not None  # else a wall stands there
    screen.page.clear_widgets()
    screen.page.add_widget(TextLabel(look, capital(planned.name), "far"))
    screen.page.add_widget(TextLabel(look, told, "near", bold=False, role="quiet"))
    screen.page.add_widget(EdgesPicture(look, [notch_of(one) for one in trial.combinations]))
    see = partial(tablet.go, "trial", area=planned.name)
    screen.act(Key(look, tablet.words(message("mockup-see")), see, kind="action"), *others)


def show_keys(tablet: Tablet, keys: Sequence[Key], *, title: str = "", lines: Sequence[str] = ()) -> None:
    """Lay keys over the page, each over the whole width; one that is pressed closes them first. title, lines: what is
    told over them."""
    look = tablet.look
    column = ColumnBox(look, gap=12, padding=look.dots(MARGIN))
    lay_ground(look, column, "ground")
    if title:
        column.add_widget(TextLabel(look, title, "far"))
    for line in lines:
        column.add_widget(TextLabel(look, line, "near", bold=False, lines=1))
    column.add_widget(Widget())
    for key in keys:
        if key.parent is not None:
            key.parent.remove_widget(key)
        key.size_hint, key.height = (1, None), look.dots(ACTION_HIGH)
        key.bind(on_press=lambda *_: tablet.close_sheet())
        column.add_widget(key)
    close = Key(look, tablet.words(message("frame-close")), tablet.close_sheet, high=ACTION_HIGH)
    column.add_widget(close)
    tablet.sheet(column)
