"""The strip on top of every screen: who speaks, what was heard and how it was taken, the level, time left."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from kivy.graphics import Color, Rectangle
from kivy.metrics import mm
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldassist.checklist.prompt import RunningClock
from fieldassist.day.desk import Report
from fieldassist.day.ear import Fate
from fieldassist.day.listening import Manner
from fieldassist.ui.parts import Column, Panel, Row, Target, Words, gap
from fieldassist.ui.theme import rgb

if TYPE_CHECKING:
    from fieldassist.ui.app import Tablet

_LEADING = 1.25  # of a line's height to its letters
_TAKEN = {
    Fate.TAKEN: "taken",
    Fate.REFUSED: "refused",
    Fate.ASKED: "asked again",
    Fate.IGNORED: "not for the tablet",
    Fate.CALLED: "listening to you",
    Fate.DICTATED: "into the note",
}


class Level(Widget):
    """How loud it is: a bar that grows to the right, with a mark where it is too loud."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(size_hint=(None, None), size=(mm(16), mm(4)), pos_hint={"center_y": 0.5})
        self._tablet = tablet
        self.share = 0.0
        self.bind(pos=self.draw)

    def draw(self, *_: object) -> None:
        """Show the level of this moment."""
        theme = self._tablet.look.theme
        level = self._tablet.desk.level() if self._tablet.desk is not None else None
        self.share = 0.0 if level is None else min(1.0, max(0.0, 1 + level.rms_dbfs / 54))
        self.canvas.clear()
        with self.canvas:
            Color(*rgb(theme.line))
            Rectangle(pos=(self.x, self.center_y - mm(0.4)), size=(self.width, mm(0.8)))
            Color(*rgb(theme.ground.ink))
            Rectangle(pos=(self.x, self.y), size=(self.width * self.share, self.height))


class Strip(Panel):
    """The strip. Its height stays the same whatever it has to say, so that nothing moves under a finger.

    Only long work, which somebody has just asked for, adds a line with its stop.
    """

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet.look, role="panel", spacing=0, padding=(2 * gap(), gap()))
        self._tablet = tablet
        self._level = Level(tablet)
        look, upright = tablet.look, tablet.upright
        self._who = Words(look, "", "plain", role="panel", bold=True, size_hint_x=0.4)
        self._clocks = Words(look, "", "large", role="panel", halign="left" if upright else "right")
        self._ears = Words(look, "", "small", role="panel", quiet=True, size_hint_x=0.4, halign="right")
        self._heard = Words(look, "", "plain", role="panel")
        rows: tuple[tuple[Widget, ...], ...] = (
            ((self._who, self._ears, self._level), (self._clocks,), (self._heard,))
            if upright
            else ((self._who, self._clocks), (self._heard, self._ears, self._level))
        )
        for widgets in rows:
            large = self._clocks in widgets
            lines = 2 if self._heard in widgets else 1
            row = BoxLayout(size_hint_y=None, spacing=mm(3))
            row.height = lines * look.font("large" if large else "plain") * _LEADING
            for widget in widgets:
                if isinstance(widget, Words):
                    widget.fill(lines if widget is self._heard else 1)
                row.add_widget(widget)
            self.add_widget(row)
        self._job = Column()
        self.add_widget(self._job)
        self._job_for: object = None

    def meter(self) -> None:
        """Show the level; called several times a second."""
        self._level.draw()

    def refresh(self) -> None:
        """Show what has changed."""
        tablet, view = self._tablet, self._tablet.view
        if view is None or view.state.plan is None:
            self._who.text = tablet.problem or ("The day is being opened." if tablet.desk else "No day is open.")
        else:
            speaker = view.state.speaker
            who = f"{speaker.name.title()}, {speaker.role.value}" if speaker else "nobody speaks yet"
            if speaker is not None and tablet.upright and tablet.look.text > 1.2:
                who = speaker.name.title()
            self._who.text = f"{view.at.wall[11:16]} · {who}"
        self._ears.text = self._how_it_hears()
        self._heard.text = self._last()
        running = view.prompt.clocks if view is not None and not view.state.closed else ()
        self._clocks.text = clocks_in_words(running, 1 if tablet.look.text > 1.2 else 2)
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
        if tablet.choices.manner is Manner.HELD:
            held = tablet.desk is not None and tablet.desk.held
            return "HEARING YOU" if held else f"hold {tablet.choices.key} and speak"
        return f"say “{tablet.choices.attention}”" if tablet.choices.manner is Manner.CALLED else "listening"

    def _last(self) -> str:
        report = next((r for r in reversed(self._tablet.reports) if r.fate is not Fate.IGNORED), None)
        return "" if report is None else told(report)

    def _show_job(self) -> None:
        job = self._tablet.job
        if job is not self._job_for:
            self._job_for = job
            self._job.clear_widgets()
            if job is not None:
                row = Row()
                self._share = Words(self._tablet.look, "", "plain", role="panel")
                row.add_widget(self._share)
                row.add_widget(Target(self._tablet.look, "Stop", job.stop, size_hint_x=0.2, size="plain"))
                self._job.add_widget(row)
        if job is not None:
            self._share.text = f"{job.what}: {100 * job.share:.0f} %"


def clocks_in_words(running: Sequence[RunningClock], most: int) -> str:
    """The clocks as time left, the next to run out first, and how many there are beside `most` of them."""
    soonest = sorted(running, key=lambda clock: clock.left_minutes)
    words = [time_left(clock.title, clock.left_minutes) for clock in soonest[:most]]
    return "   ".join(words) + (f"   +{len(soonest) - most}" if len(soonest) > most else "")


def told(report: Report) -> str:
    """What happened, in a line."""
    how = _TAKEN[report.fate] if report.fate is not None else ("Attention" if report.problem else "")
    words = f"“{report.words}” {how}" if report.words else how
    what = report.said or report.why
    return f"{words[:1].upper()}{words[1:]}: {what}" if words and what else words or what


def time_left(title: str, minutes: float) -> str:
    """A clock in words.

    >>> time_left("Open time", 6.4), time_left("Pot life", 0.5), time_left("Open time", -1.2)
    ('Open time: 6 min left', 'Pot life: under 1 min left', 'Open time: UP since 1 min')
    """
    if minutes <= 0:
        return f"{title}: UP since {-minutes:.0f} min"
    return f"{title}: {int(minutes)} min left" if minutes >= 1 else f"{title}: under 1 min left"
