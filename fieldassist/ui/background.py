"""Short work in a thread of its own that has no place in the strip: a list of folders, files to read."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from fieldassist.ui import start_kivy  # noqa: F401  (before kivy)

from kivy.clock import Clock  # isort: skip

from fieldassist.ui.content.jobs import LongWork

_Found = TypeVar("_Found")


def in_screen(call: Callable[[], None]) -> None:
    """Have something done in the screen's own thread, soon; may be called in any."""
    Clock.schedule_once(lambda _dt: call(), 0)


def run_in_background(
    work: Callable[[], _Found], then: Callable[[_Found], None], failed: Callable[[Exception], None] | None = None
) -> None:
    """Have `work` done beside the screen; what it found is given to `then` in the screen's thread.

    failed: given what went wrong, there too; without it nothing is shown of that.
    """
    found: list[_Found] = []

    def done(problem: Exception | None) -> None:
        if problem is None:
            then(found[0])
        elif failed is not None:
            failed(problem)

    LongWork(lambda _job: found.append(work()), in_screen, done=done).start()
