"""What helps anybody at the tablet, whatever the page: hardware keys, words read aloud, the lock, a page's first word.

Each is a thing of its own (`focus_keys`, `press_to_hear`, `content.locked`, `content.explain`); here they meet.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from typing import Any

from fieldassist.checklist.commands import Command
from fieldassist.trade.message import Message
from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)
from fieldassist.ui.content.explain import to_explain
from fieldassist.ui.content.locked import IdleLock, keeps_back
from fieldassist.ui.content.tour import GUIDED, tour_of
from fieldassist.ui.focus_keys import FocusKeys
from fieldassist.ui.press_to_hear import PressToHear
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.explained import ExplainStrip
from fieldassist.ui.widgets.sheets import Overlay

from kivy.clock import Clock  # isort: skip
from kivy.uix.widget import Widget  # isort: skip


# How long a page's first word stands where nobody presses: hands are full, and two lines are read twice in it. Ours.
SHOWN_S = 15.0


class Aids:
    """The aids of one tablet.

    frame: all that is on the window; escape: goes back, or closes what lies over the page; foot: how far above the
    window's lower edge the keys of the page end [pixels], negative where nothing may be laid over it; page: where the
    page begins and how wide it is [pixels]; told: keeps that a screen has explained itself, and draws nothing;
    ask_to_open: asks for a PIN and calls what it is given once that was right.
    """

    def __init__(
        self,
        tablet: Tablet,
        frame: Widget,
        *,
        escape: Callable[[], None],
        foot: Callable[[], float],
        page: Callable[[], tuple[float, float]],
        told: Callable[[str], None],
        ask_to_open: Callable[[Callable[[], None]], None],
    ) -> None:
        self._tablet, self._frame, self._foot, self._page, self._told = tablet, frame, foot, page, told
        self._ask_to_open = ask_to_open
        self._focus = FocusKeys(frame, escape, lambda: tablet.look.left_hand)
        self._hear = PressToHear(frame, self._say)
        self._lock = IdleLock(time.monotonic)
        self._explaining = ""
        self._guided: Message | None = None
        self._strip: ExplainStrip | None = None
        self._closing: Any = None
        self._going: Any = None

    # --- the lock -------------------------------------------------------------------------------------------------

    @property
    def locked(self) -> bool:
        """Whether the lock is closed. Where nobody has a PIN it never is: nobody could open it."""
        return self._lock.locked(self._tablet.preferences.lock_minutes) and bool(self._tablet.keys.people())

    def kept_back(self, asked: Command | str, then: Callable[[], None]) -> bool:
        """Whether the closed lock keeps a press back; then a PIN is asked for, and `then` called once it was right."""
        if not (self.locked and keeps_back(asked)):
            return False
        self._open(then)
        return True

    def _open(self, then: Callable[[], None]) -> None:
        def opened() -> None:
            self._lock.open_up()
            self._wait()
            self._tablet.refresh()
            then()

        self._ask_to_open(opened)

    def _wait(self) -> None:
        """Show that the lock closes when it does, and look at nothing before."""
        minutes = self._tablet.preferences.lock_minutes
        if self._closing is not None:
            self._closing.cancel()
            self._closing = None
        if minutes:
            self._closing = Clock.schedule_once(lambda _dt: self._tablet.refresh(), 60 * minutes + 1)

    # --- fingers --------------------------------------------------------------------------------------------------

    def touch_down(self, _window: Any, touch: Any) -> bool:
        """Kivy calls it before anything else is touched."""
        if getattr(touch, "is_mouse_scrolling", False):
            return False
        self._explained()
        over = any(isinstance(layer, Overlay) for layer in self._frame.children)
        if self.locked and keeps_back(self._tablet.at) and not over:
            self._open(lambda: None)
            return True
        self._lock.pressed(self._tablet.preferences.lock_minutes)
        self._wait()
        if self._tablet.preferences.press_to_hear:
            self._hear.down(*touch.pos)
        return False

    def touch_up(self, _window: Any, _touch: Any) -> bool:
        """Kivy calls it when a finger is lifted."""
        self._hear.up()
        return False

    def _say(self, words: str) -> None:
        if self._tablet.desk is not None:
            self._tablet.desk.say(words)

    # --- keys of a keyboard ---------------------------------------------------------------------------------------

    def key(self, code: int, text: str | None, modifiers: Sequence[str]) -> bool:
        """Take a key, where no letters are typed; False where it is none of ours."""
        self._lock.pressed(self._tablet.preferences.lock_minutes)
        taken = self._focus.pressed(code, text, modifiers)
        if taken:
            self._explained()
        return taken

    # --- a page's first word --------------------------------------------------------------------------------------

    def explain(self) -> None:
        """Lay what the page says of itself over its upper edge, where it was never shown; to be called when a page was
        drawn."""
        if self._strip is not None:
            self._frame.remove_widget(self._strip)
        self._strip = None
        self._guided = None
        self._stays()
        if self._tour() is not None:
            self.guide()
            return
        told = to_explain(self._tablet.at, self._tablet.preferences.explained)
        if told is not None:
            self._explaining = self._tablet.at
            self._lay(self._tablet.words(told))
            self._going = Clock.schedule_once(lambda _dt: self._explained(), SHOWN_S)

    def guide(self) -> None:
        """On a day of practice, lay the tour's next step over the page once it has come to that."""
        self._place()
        told = self._tour()
        if told == self._guided:
            return
        self._guided = told
        if self._strip is not None:
            self._frame.remove_widget(self._strip)
            self._strip = None
        if told is not None:
            self._explaining = ""
            self._lay(self._tablet.words(told))

    def note(self, words: str) -> None:
        """Say something at the foot of the page that hinders nothing; it goes with the next press or by itself."""
        self._explained()
        self._lay(words)
        self._going = Clock.schedule_once(lambda _dt: self._explained(), SHOWN_S)

    def _tour(self) -> Message | None:
        view = self._tablet.view
        if view is None or view.state.kind != "practice" or self._tablet.at not in GUIDED:
            return None
        return tour_of(view.events).told

    def _lay(self, words: str) -> None:
        strip = self._strip = ExplainStrip(self._tablet.look, words)

        self._frame.bind(size=self._place)
        self._frame.add_widget(strip)
        self._place()

    def _place(self, *_: Any) -> None:
        """Over what is quieter: question, limit and clocks lie above, the keys that go on below."""
        if self._strip is not None:
            left, wide = self._page()
            self._strip.width = wide
            foot = self._foot()
            self._strip.pos = left, max(0.0, foot)
            self._strip.opacity = 1.0 if foot >= 0 else 0.0

    def _stays(self) -> None:
        """Let nothing go by itself any more."""
        if self._going is not None:
            self._going.cancel()
            self._going = None

    def _explained(self) -> None:
        self._stays()
        if self._strip is not None:
            self._frame.remove_widget(self._strip)
            self._strip = None
            if self._explaining:
                self._told(self._explaining)
