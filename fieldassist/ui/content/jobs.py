"""Long work beside the screen: its progress is told, and it can be stopped."""

from __future__ import annotations

import threading
from collections.abc import Callable


class Stopped(Exception):
    """The work was stopped by whoever waited for it."""


class LongWork:
    """Work in a thread of its own.

    Parameters: work, given this job, whose `progress` it calls; later, which has something done in the screen's thread;
    done, called there with None or what went wrong; told, called there when progress moved; what it is, in words.
    """

    def __init__(
        self,
        work: Callable[[LongWork], None],
        later: Callable[[Callable[[], None]], None],
        *,
        done: Callable[[Exception | None], None],
        told: Callable[[], None] | None = None,
        what: str = "",
    ) -> None:
        self.what = what
        self.share = 0.0
        self.running = True
        self._work, self._later, self._done, self._told = work, later, done, told
        self._stop = threading.Event()
        self._shown = 0.0

    def start(self) -> None:
        """Begin."""
        threading.Thread(target=self._run, name=self.what or "job", daemon=True).start()

    def stop(self) -> None:
        """Have it end at its next step of progress; what it had not finished is not there."""
        self._stop.set()

    def progress(self, done: int, total: int) -> None:
        """To be called by the work, often. Stopped when it was stopped."""
        self.goes_on()
        self.share = done / total if total else 0.0
        if self._told is not None and self.share - self._shown >= 0.01:
            self._shown = self.share
            self._later(self._told)

    def goes_on(self) -> None:
        """To be called by work that does not know how much there is to do. Stopped when it was stopped."""
        if self._stop.is_set():
            raise Stopped("Stopped. Nothing was written.")

    def look(self) -> None:
        """Have what it found so far be shown."""
        if self._told is not None:
            self._later(self._told)

    def _run(self) -> None:
        problem: Exception | None = None
        try:
            self._work(self)
        except Exception as error:
            problem = error
        self.running = False
        self._later(lambda: self._done(problem))
