"""A trial's ranking: every sample, the interval of each mean against what is needed, and what may be said."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import partial

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import trying
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.state import Area, State
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.model import whole_percent
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.trial_live import (
    TrialMemory,
    TrialSaid,
    depends_on,
    read_by,
    release_told,
    released_told,
    requirement_of,
    samples_left,
    trial_named,
    who_releases,
    work_out_trial,
)
from fieldassist.ui.content.trial_rank import RankRow, TrialRanking, not_begun, ranking
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.boxes import ColumnBox, Divider, RowBox, Scroll
from fieldassist.ui.widgets.key import Key, KeyKind
from fieldassist.ui.widgets.look import GAP
from fieldassist.ui.widgets.rank_chart import EdgePicture, RankChart, RankScale
from fieldassist.ui.widgets.text import LINE, TextLabel, fits

from kivy.uix.widget import Widget  # isort: skip

# From this size of text on trowels' edges give way.
_LARGE = 1.2
# With more contenders than these nobody makes one more of each: they are chosen among by other things.
_MOST_MORE = 4
# How wide a letter and an edge are drawn, how high a chart upright, and what lies between [dots].
_LETTER, _EDGE, _CHART_HIGH, _APART = 48, 120, 62, 14


class TrialScreen(Screen):
    """One trial. `area`: its name; else the one at hand."""

    place = "day"

    def title(self) -> tuple[str, str]:
        """How much was read, and by whom."""
        view = self.tablet.view
        planned = trial_named(view.state, self.tablet.at_what.get("area")) if view is not None else None
        read = read_by(planned, self._said(planned.name)) if planned is not None else None
        narrow = self.tablet.upright and self.look.text > _LARGE
        return self._tell(message("mockup-title")), self._tell(read) if read is not None and not narrow else ""

    def refresh(self) -> None:
        """Show what has changed; what the samples say is worked out beside the screen."""
        view = self.tablet.view
        planned = trial_named(view.state, self.tablet.at_what.get("area")) if view is not None else None
        if view is None or planned is None or planned.trial is None:
            if self.changed("page", ("none", self.tablet.words)):
                self._show_none()
            return
        area = view.state.areas.get(planned.name)
        said = self._said(planned.name)
        if area is not None and (said is None or said.of != depends_on(area)):
            self._work_out(planned.name, area)
        if self.changed("page", (planned, area, said, view.state.active, self.tablet.words)):
            self._show(view.state, planned, area, said)

    def _said(self, name: str) -> TrialSaid | None:
        view = self.tablet.view
        return self.tablet.memory.of(TrialMemory, view.path).said.get(name) if view is not None else None

    def _work_out(self, name: str, area: Area) -> None:
        view = self.tablet.view
        assert view is not None  # there is an area
        memory = self.tablet.memory.of(TrialMemory, view.path)
        if memory.under_way.get(name) == depends_on(area):
            return
        memory.under_way[name] = depends_on(area)

        def found(said: TrialSaid) -> None:
            memory.said[name] = said
            self.tablet.refresh()

        run_in_background(partial(work_out_trial, area), found)

    def _show_none(self) -> None:
        self.page.clear_widgets()
        self.page.add_widget(TextLabel(self.look, self._tell(message("mockup-none")), "far"))
        self.page.add_widget(Widget())
        to_day = partial(self.tablet.go, "day")
        self.act(Key(self.look, self._tell(message("mockup-to-day")), to_day, kind="action"))

    def _show(self, state: State, planned: AreaPlan, area: Area | None, said: TrialSaid | None) -> None:
        trial = planned.trial
        assert trial is not None  # else there is no page
        if area is None or said is None:
            checklist = state.checklists.get(planned.checklist)
            run = trying.letters_run(planned, checklist) if checklist is not None else trial.letters
            self._compose(not_begun(trial, run, requirement_of(planned)), ())
        else:
            names = {one.key: one.name for one in (state.plan.areas if state.plan is not None else ())}
            made = ranking(trial, said.analysis, said.samples, said.needed)
            self._compose(made, released_told(area, names))
        self._act(state, planned, area, said)

    # --- what comes next ------------------------------------------------------------------------------------------

    def _act(self, state: State, planned: AreaPlan, area: Area | None, said: TrialSaid | None) -> None:
        look, tablet, name = self.look, self.tablet, planned.name
        left = samples_left(area) if area is not None else None
        samples = Key(
            look, self._tell(message("mockup-pieces")), partial(tablet.go, "trial samples", area=name), size="near"
        )
        best = said.analysis.best if said is not None else None
        others: list[Key] = []
        if area is not None and said is not None and left == 0 and not state.closed:
            letters = said.analysis.contenders
            if 1 < len(letters) <= _MOST_MORE and said.analysis.claim != "pictures":
                told = message("mockup-one-more", letters=Several(letters, "and"))
                more = partial(self._here, state, name, partial(tablet.send, cmd.MoreSamples(letters=letters)))
                others.append(Key(look, self._tell(told), more, size="near"))
        if area is not None:
            others.append(samples)
        if left or area is None:
            at_it = message("mockup-go-on", left=left or 0) if area is not None else message("mockup-begin")
            big = Key(look, self._tell(at_it), partial(self._enter, state, name), kind="action")
            if best is not None:
                others.append(self._release_key(state, name, best, kind="plain"))
        elif best is not None:
            big = self._release_key(state, name, best, kind="action")
        else:
            big = Key(look, self._tell(message("mockup-nothing-to-release")), partial(tablet.go, "day"), off=True)
        if state.closed and not (left == 0 and best is not None):
            big = Key(look, self._tell(message("mockup-to-day")), partial(tablet.go, "day"))
        self.act(big, *others, second=236)

    def _release_key(self, state: State, name: str, best: str, *, kind: KeyKind) -> Key:
        who = who_releases(state)
        told = release_told(best, who)
        go = partial(self.tablet.go, "release", area=name)
        press = partial(self._here, state, name, go)
        large = kind == "action" and self.look.text <= _LARGE
        return Key(
            self.look,
            self._tell(told),
            press,
            kind=kind,
            sign="sign" if large else None,
            size="key" if kind == "action" else "near",
        )

    def _here(self, state: State, name: str, then: Callable[[], object]) -> None:
        """Do it where the trial is the area that is worked at; else that is a key away."""
        if state.closed:
            self.tablet.refuse(self._tell(message("mockup-day-signed")))
        elif state.active == name:
            then()
        else:
            enter = Key(
                self.look,
                self._tell(message("site-next", what="go-on", area=name)),
                partial(self.tablet.send, cmd.StartArea(area=name)),
                size="near",
                high=None,
            )
            self.tablet.refuse(self._tell(message("mockup-not-here")), enter)

    def _enter(self, state: State, name: str) -> None:
        if state.active != name:
            self.tablet.send(cmd.StartArea(area=name))
        self.tablet.go("work")

    # --- the drawing ----------------------------------------------------------------------------------------------

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def _compose(self, made: TrialRanking, released: Sequence[Message]) -> None:
        look = self.look
        self.page.clear_widgets()
        self.page.add_widget(self._headline(self._tell(made.headline)))
        rows: list[Widget] = []
        for row in made.rows:
            rows += [self._row(row, made), Divider(look)]
        said = [(self._tell(told), True) for told in released]
        said += [(capital(self._tell(told)), bool(found)) for told, found in made.gains]
        said += [(self._tell(told), False) for told in (*made.beds, *made.notes)]
        lines = [TextLabel(look, told, "small", bold=bold) for told, bold in said]
        inside = ColumnBox(look, *rows, *lines, gap=3, rises=True)
        self.page.add_widget(Scroll(look, inside))
        self.page.add_widget(self._scale(made))

    def _headline(self, told: str) -> TextLabel:
        look = self.look
        wide = look.dots(760 if self.tablet.upright else 1128)
        sizes: tuple[SizeName, ...] = ("far", "key", "near")
        high = look.dots(84)
        goes_in = (size for size in sizes if fits(told, 0.8 * look.font(size), wide, high, bold=True))
        size: SizeName = next(goes_in, "near")
        return TextLabel(look, told, size, bold=True, fit=True, size_hint_y=None, height=high)

    def _row(self, row: RankRow, made: TrialRanking) -> Widget:
        look, upright, large = self.look, self.tablet.upright, self.look.text > _LARGE
        near, small = look.font("near") * LINE / look.dots(1), look.font("small") * LINE / look.dots(1)
        letter = TextLabel(look, row.letter, "key", bold=True, fit=True, size_hint_x=None, width=look.dots(_LETTER))
        name = TextLabel(look, self._tell(row.name), "near", bold=True, fit=True)
        share = small / near
        way = TextLabel(look, self._tell(row.way), "small", role="quiet", fit=True, size_hint_y=share)
        mean = str(whole_percent(row.mean)) if row.mean is not None else "–"
        figure = TextLabel(look, mean, "key", bold=True, align="right", fit=True)
        said = TextLabel(look, self._tell(row.said), "small", role="quiet", align="right", fit=True, size_hint_y=share)
        words = ColumnBox(look, name, way, gap=0)
        figures = ColumnBox(look, figure, said, gap=0, size_hint_x=None, width=look.dots(self._figures_wide))
        chart = RankChart(look, row, made.start, made.needed)
        edge = [] if large else [EdgePicture(look, row.notch, size_hint_x=None, width=look.dots(_EDGE))]
        high = max(72, near + small + 4)
        if upright:  # the chart lies under its words
            top = self._mirrored([letter, *edge, words, figures], high)
            return ColumnBox(look, top, RowBox(look, chart, high=_CHART_HIGH), gap=0, rises=True)
        words.size_hint_x, words.width = None, look.dots(self._names_wide)
        return self._mirrored([letter, *edge, words, chart, figures], high)

    def _mirrored(self, parts: list[Widget], high: float) -> RowBox:
        return RowBox(self.look, *(reversed(parts) if self.look.left_hand else parts), gap=_APART, high=high)

    @property
    def _names_wide(self) -> float:
        return 320 if self.look.text > _LARGE else 250

    @property
    def _figures_wide(self) -> float:
        return 250 if self.look.text > _LARGE else 220 if self.tablet.upright else 190

    def _scale(self, made: TrialRanking) -> Widget:
        """Under the rows, where it stays: what the drawing means, and the scale."""
        look, upright = self.look, self.tablet.upright
        needed = self._tell(Quantity(Fraction(repr(made.needed)), "percent"))
        scale = RankScale(look, made.start, made.needed, (needed, self._tell(message("mockup-needed"))))
        means = TextLabel(look, self._tell(made.legend), "small", role="quiet", fit=True)
        chance = TextLabel(look, self._tell(message("mockup-next-one")), "small", role="quiet", align="right", fit=True)
        chance.size_hint_x, chance.width = None, look.dots(self._figures_wide)
        lines = 2 * look.font("small") * 1.25 / look.dots(1) + 4
        # The bar that says that there is more takes its room beside the rows, not here.
        beside = (0, 0, look.dots(12 + GAP), 0)
        if upright:
            scaled, under = RowBox(look, scale, high=lines), self._mirrored([means, chance], lines)
            scaled.padding = under.padding = beside
            return ColumnBox(look, scaled, under, gap=0, rises=True)
        wide = _LETTER + _APART + self._names_wide + (_EDGE + _APART if look.text <= _LARGE else 0)
        means.size_hint_x, means.width = None, look.dots(wide)
        row = self._mirrored([means, scale, chance], lines)
        row.padding = beside
        return row
