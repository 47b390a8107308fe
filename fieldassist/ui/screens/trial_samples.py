"""Every sample of a trial, and what its readers' eyes are worth."""

from __future__ import annotations

from functools import partial

from fieldassist.trade.message import Figure, message
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.theme import ColourName
from fieldassist.ui.content.trial_live import TrialMemory, trial_named
from fieldassist.ui.content.trial_samples import SampleTold, readers_told, sample_lines
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.widgets.boxes import ColumnBox, Divider, RowBox, Scroll
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.text import TextLabel

from kivy.uix.widget import Widget  # isort: skip


class TrialSamplesScreen(Screen):
    """One trial's samples. `area`: its name; else the one at hand."""

    place = "day"

    def _tell(self, told: Figure) -> str:
        return self.tablet.words(told)

    def title(self) -> tuple[str, str]:
        """The trial."""
        view = self.tablet.view
        planned = trial_named(view.state, self.tablet.at_what.get("area")) if view is not None else None
        return self._tell(message("mockup-pieces")), capital(planned.name) if planned is not None else ""

    def refresh(self) -> None:
        """Show what has changed."""
        view = self.tablet.view
        planned = trial_named(view.state, self.tablet.at_what.get("area")) if view is not None else None
        said = None
        if view is not None and planned is not None:
            said = self.tablet.memory.of(TrialMemory, view.path).said.get(planned.name)
        speaker = view.state.speaker.name if view is not None and view.state.speaker is not None else None
        if not self.changed("page", (planned, said, speaker, self.tablet.words)):
            return
        self.page.clear_widgets()
        inside = ColumnBox(self.look, gap=6, rises=True)
        if said is None or not said.samples:
            inside.add_widget(TextLabel(self.look, self._tell(message("mockup-head-none")), "key"))
        else:
            trial = planned.trial if planned is not None else None
            for told in readers_told(said.samples, trial.readers if trial is not None else (), speaker):
                inside.add_widget(TextLabel(self.look, self._tell(told), "near", bold=True))
            for line in sample_lines(said.samples):
                inside.add_widget(Divider(self.look))
                inside.add_widget(self._line(line))
        self.page.add_widget(Scroll(self.look, inside))
        name = planned.name if planned is not None else ""
        back = partial(self.tablet.go, "trial", area=name)
        self.act(Key(self.look, self._tell(message("mockup-to-ranking")), back, kind="action"))

    def _line(self, line: SampleTold) -> Widget:
        look = self.look
        wide = look.dots(120 if look.text <= 1.2 else 150)
        which = TextLabel(look, f"{line.number} · {line.letter}", "near", bold=True, size_hint_x=None, width=wide)
        which.pos_hint = {"top": 1}
        words = ColumnBox(look, gap=0, rises=True)
        role: ColourName = "ink" if line.counts else "quiet"
        words.add_widget(TextLabel(look, capital(self._tell(line.head)), "near", bold=line.counts, role=role))
        words.add_widget(TextLabel(look, self._tell(line.rest), "small", role="quiet"))
        parts = (which, words)
        return RowBox(look, *(reversed(parts) if look.left_hand else parts), gap=14, rises=True)
