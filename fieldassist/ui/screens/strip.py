"""The strip on top of every screen: who speaks, what was heard and how it was taken, the level, time left."""

from __future__ import annotations

import time

from fieldassist.day.ear import Fate
from fieldassist.day.listening import Manner
from fieldassist.ui.content.names import person
from fieldassist.ui.content.strip_words import MARKS, clocks_in_words, not_taken, report_words
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.level_meter import LevelMeter
from fieldassist.ui.widgets.parts import Abreast, Panel, Target, TextLabel, Upright, gap

from kivy.metrics import mm  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

_LEADING = 1.25  # of a line's height to its letters


class Strip(Panel):
    """The strip. Its height stays the same whatever it has to say, so that nothing moves under a finger.

    Only long work, which somebody has just asked for, adds a line with its stop.
    """

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet.look, role="panel", spacing=0, padding=(2 * gap(), gap()))
        self._tablet = tablet
        look, upright = tablet.look, tablet.upright
        self._level = LevelMeter(look, size_hint=(None, None), size=(mm(16), mm(4)), pos_hint={"center_y": 0.5})
        self._who = TextLabel(look, "", "plain", role="panel", bold=True, size_hint_x=0.4)
        self._clocks = TextLabel(look, "", "large", role="panel", halign="left" if upright else "right")
        self._ears = TextLabel(look, "", "small", role="panel", quiet=True, size_hint_x=0.4, halign="right")
        self._heard = TextLabel(look, "", "plain", role="panel")
        # Without a microphone there is no level to show.
        level: tuple[Widget, ...] = (self._level,) if tablet.listens else ()
        rows: tuple[tuple[Widget, ...], ...] = (
            ((self._who, self._ears, *level), (self._clocks,), (self._heard,))
            if upright
            else ((self._who, self._clocks), (self._heard, self._ears, *level))
        )
        for widgets in rows:
            large = self._clocks in widgets
            lines = 2 if self._heard in widgets else 1
            row = BoxLayout(size_hint_y=None, spacing=mm(3))
            row.height = lines * look.font("large" if large else "plain") * _LEADING
            for widget in widgets:
                if isinstance(widget, TextLabel):
                    widget.fill(lines if widget is self._heard else 1)
                row.add_widget(widget)
            self.add_widget(row)
        self._job = Upright()
        self.add_widget(self._job)
        self._job_for: object = None

    def meter(self) -> None:
        """Show the level of this moment."""
        desk = self._tablet.desk
        self._level.show(desk.level() if desk is not None else None)

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, view = self._tablet, self._tablet.view
        if view is None or view.state.plan is None:
            self._who.text = tablet.problem or ("The day is being opened." if tablet.desk else "No day is open.")
        else:
            speaker = view.state.speaker
            who = f"{person(speaker.name)}, {speaker.role.value}" if speaker else "nobody speaks yet"
            if speaker is not None and tablet.upright and tablet.look.text > 1.2:
                who = person(speaker.name)
            self._who.text = f"{MARKS[view.state.kind]}{view.at.wall[11:16]} · {who}"
        self._ears.text = self._how_it_hears()
        self._heard.text = self._last()
        running = view.prompt.clocks if view is not None and not view.state.closed else ()
        self._clocks.text = clocks_in_words(running, 1 if tablet.look.text > 1.2 else 2, tablet.words)
        self._show_job()

    def _how_it_hears(self) -> str:
        tablet = self._tablet
        if not tablet.listens:
            return "by touch only"
        if tablet.deaf:
            return f"by touch: {tablet.deaf}"
        level = tablet.desk.level() if tablet.desk is not None else None
        if level is None:
            return "not listening"
        if level.dead:
            return "NO SOUND from the microphone"
        if tablet.view is not None and tablet.view.dictating:
            return "TAKING YOUR NOTE"
        dropped = not_taken(tablet.reports, time.monotonic())
        if dropped:
            return dropped
        if tablet.preferences.manner is Manner.HELD:
            held = tablet.desk is not None and tablet.desk.held
            return "HEARING YOU" if held else f"hold {tablet.preferences.key} and speak"
        return f"say “{tablet.preferences.attention}”" if tablet.preferences.manner is Manner.CALLED else "listening"

    def _last(self) -> str:
        report = next((r for r in reversed(self._tablet.reports) if r.fate is not Fate.IGNORED), None)
        return "" if report is None else report_words(report)

    def _show_job(self) -> None:
        job = self._tablet.job
        if job is not self._job_for:
            self._job_for = job
            self._job.clear_widgets()
            if job is not None:
                row = Abreast()
                self._share = TextLabel(self._tablet.look, "", "plain", role="panel")
                row.add_widget(self._share)
                row.add_widget(Target(self._tablet.look, "Stop", job.stop, size_hint_x=0.2, size="plain"))
                self._job.add_widget(row)
        if job is not None:
            self._share.text = f"{job.what}: {100 * job.share:.0f} %"
