"""Photos: picked from files or taken with the camera, seen large, kept with the current step; those kept today."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from fieldassist.day.desk import View
from fieldassist.day.photo import NoPhoto, Picture, attach, look_at, read
from fieldassist.day.session import Answer
from fieldassist.language import Words
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content import camera
from fieldassist.ui.content.camera import Viewfinder
from fieldassist.ui.content.jobs import LongWork
from fieldassist.ui.content.names import person
from fieldassist.ui.content.photo_words import (
    KeptPhoto,
    PhotoListing,
    at_what,
    find_photos,
    kept_photos,
    places,
    short_time,
)
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.parts import Choices, Panel, Scroll, Target, TextLabel, Upright, blank, gap
from fieldassist.ui.widgets.picture import Seen, Shown, Thumb

from kivy.clock import Clock  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.gridlayout import GridLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

A_PAGE = 6
_SMALL, _LARGE = 480, 1600  # the longest side of what is shown, in pixels
_REMEMBERED = 60
_FRAMES_A_SECOND = 10

FileKey = tuple[Path, str]  # a photo's file, and when it was last changed or kept


@dataclass
class PhotosMemory:
    """What is looked at here.

    finder: what the camera sees, while it is open; large: the photo that is seen large, and what the day says of it
    where it was kept; seen: that picture, once it was made; small: small pictures; said: what became of the last photo,
    and whether that is good; keeping: a photo is being kept; listing: the photos that were found.
    """

    page: int = 0
    kept_today: bool = False
    finder: Viewfinder | None = None
    large: tuple[FileKey, KeptPhoto | None] | None = None
    seen: tuple[FileKey, Seen] | None = None
    small: dict[FileKey, Seen] = field(default_factory=dict)
    said: tuple[bool, str] | None = None
    keeping: bool = False
    listing: PhotoListing | None = None


class Photos(Screen):
    """Pages of photos, one of them large, or what the camera sees."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._kept = tablet.memory.of(PhotosMemory)
        self._small = self._kept.small
        self._thumbs: dict[FileKey, Thumb] = {}
        self._job: LongWork | None = None
        self._large: Shown | None = None
        self._frames = Clock.schedule_interval(self._next_frame, 1 / _FRAMES_A_SECOND)
        self.bind(parent=self._left)
        if self._kept.listing is None:
            self._list()

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        view, kept = self.tablet.view, self._kept
        if view is None or view.state.plan is None:
            if self.changed("what", None):
                self.clear_widgets()
                self.add_widget(TextLabel(self.look, "No day is open. Open or begin one on the first screen.", "large"))
                self.add_widget(blank())
            return
        words = self.tablet.words
        photos = kept_photos(view.state, view.events, view.path, words)
        # Each of the three is made anew only for what it shows: nothing is replaced under a finger for anything else.
        what: tuple[object, ...] = (kept.finder, kept.large, kept.said, at_what(view.state, words))
        if kept.finder is None and kept.large is not None:
            what += (kept.keeping, isinstance(self._seen(kept.large[0]), str))
        elif kept.finder is None:
            what += (kept.listing, photos, kept.page, kept.kept_today)
        if not self.changed("what", what):
            return
        self.clear_widgets()
        self._thumbs, self._large = {}, None
        side = Upright()
        if kept.finder is not None:
            main = self._camera(side)
        elif kept.large is not None:
            main = self._one(view, side, *kept.large)
        else:
            main = self._pages(view, photos, side)
        upright = self.tablet.upright
        both = BoxLayout(orientation="vertical" if upright else "horizontal", spacing=2 * gap())
        scroll = Scroll(side)
        if upright:
            main.size_hint_y, scroll.size_hint_y = 0.6, 0.4
        else:
            main.size_hint_x, scroll.size_hint_x = 0.68, 0.32
        both.add_widget(main)
        both.add_widget(scroll)
        self.add_widget(both)

    def _pages(self, view: View, photos: Sequence[KeptPhoto], side: Upright) -> Widget:
        """Six photos a page: those that may be kept, or those that were."""
        look, kept, today = self.look, self._kept, view.at.wall[:10]
        listing = kept.listing
        entries: list[tuple[FileKey, str, KeptPhoto | None]]
        if kept.kept_today:
            entries = [
                ((p.path, p.when), f"{'TAKEN BACK ' if p.withdrawn else ''}{short_time(p.when, today)}\n{p.where}", p)
                for p in photos
            ]
        else:
            entries = [
                ((p.path, p.when), f"Photo {n}\n{short_time(p.when, today)}", None)
                for n, p in enumerate(listing.photos if listing is not None else (), 1)
            ]
        pages = max(1, -(-len(entries) // A_PAGE))
        page = kept.page = min(kept.page, pages - 1)
        self._tell(side, view)
        targets = []
        if page > 0:
            targets.append(Target(look, "Newer", partial(self._turn, page - 1), size="plain"))
        if page < pages - 1:
            targets.append(Target(look, "Older", partial(self._turn, page + 1), size="plain"))
        if kept.kept_today:
            to_pick = partial(self._set, kept_today=False, page=0)
            targets.append(Target(look, "Photos to pick", to_pick, size="plain"))
        else:
            words, kept_ones = f"Kept today: {len(photos)}", partial(self._set, kept_today=True, page=0)
            targets.append(Target(look, words, kept_ones, size="plain"))
            targets.append(Target(look, "Look again", self._look_again, size="plain"))
            if self.tablet.open_camera is not None:
                targets.append(Target(look, "Camera", self._start_camera, size="plain"))
        side.add_widget(TextLabel(look, f"Page {page + 1} of {pages}", "plain"))
        side.add_widget(Choices(targets, 2))
        self._explain(side, listing)
        shown = entries[page * A_PAGE : (page + 1) * A_PAGE]
        if not shown:
            return self._nothing(listing)
        grid = GridLayout(cols=2 if self.tablet.upright else 3, rows=3 if self.tablet.upright else 2, spacing=gap())
        for key, caption, photo in shown:
            self._thumbs[key] = thumb = Thumb(look, caption, partial(self._set, large=(key, photo), said=None))
            grid.add_widget(thumb)
        for _ in range(A_PAGE - len(shown)):
            grid.add_widget(blank())
        self._load([key for key, _, _ in shown])
        return grid

    def _nothing(self, listing: PhotoListing | None) -> Widget:
        if self._kept.kept_today:
            words = "No photo was kept today."
        elif listing is None:
            words = "Looking for photos."
        else:
            folders = "\n".join(str(folder) for folder in places(self.tablet.data))
            words = f"No photo was found in\n{folders}\n\nPut photos (JPEG or PNG) there, then press “Look again”."
        column = Upright()
        column.add_widget(TextLabel(self.look, words, "large"))
        return Scroll(column)

    def _explain(self, side: Upright, listing: PhotoListing | None) -> None:
        look = self.look
        if self.tablet.open_camera is None:
            words = (
                "The camera cannot be used from here. Take photos with the tablet's own camera program; it puts them "
            )
            side.add_widget(
                TextLabel(look, words + "among the pictures. Then press “Look again”.", "small", quiet=True)
            )
        if listing is not None and listing.other_kinds:
            words = f"{listing.other_kinds} pictures of other kinds are not shown. Set the camera to JPEG."
            side.add_widget(TextLabel(look, words, "small", quiet=True))

    def _tell(self, side: Upright, view: View) -> None:
        """What became of the last photo, and to what the next one will belong."""
        if self._kept.said is not None:
            good, words = self._kept.said
            panel = Panel(self.look, role="good" if good else "alarm")
            panel.add_widget(TextLabel(self.look, words, "plain", role="good" if good else "alarm", bold=True))
            side.add_widget(panel)
        if not self._kept.kept_today:
            side.add_widget(TextLabel(self.look, "A photo kept now belongs to", "plain", quiet=True))
            side.add_widget(TextLabel(self.look, at_what(view.state, self.tablet.words), "large"))

    # --- one photo ------------------------------------------------------------------------------------------------

    def _one(self, view: View, side: Upright, key: FileKey, photo: KeptPhoto | None) -> Widget:
        look, kept = self.look, self._kept
        seen, small = self._seen(key), self._small.get(key)
        self._large = Shown()
        if isinstance(seen, Picture):
            self._large.show(seen)
        elif isinstance(small, Picture):
            self._large.show(small)
        back = Target(look, "Back to all photos", partial(self._set, large=None, keeping=False, said=None))
        if photo is not None:
            side.add_widget(TextLabel(look, f"{'TAKEN BACK. ' if photo.withdrawn else ''}{photo.where}", "large"))
            time = short_time(photo.when, view.at.wall[:10])
            side.add_widget(TextLabel(look, f"Kept by {person(photo.who) or 'nobody named'} at {time}", "plain"))
            if isinstance(seen, str):
                words = "The tablet's copy is missing or was changed. The log still names it: look for it in a bundle."
                side.add_widget(TextLabel(look, words, "plain", bold=True))
            side.add_widget(back)
            side.add_widget(TextLabel(look, f"{photo.path.name}\nSHA-256 {photo.sha256}", "small", quiet=True))
        else:
            self._tell(side, view)
            if isinstance(seen, str):
                panel = Panel(look, role="alarm")
                panel.add_widget(TextLabel(look, seen, "plain", role="alarm", bold=True))
                side.add_widget(panel)
            elif kept.keeping:
                side.add_widget(TextLabel(look, "It is being kept.", "large"))
            elif kept.said is None or not kept.said[0]:
                side.add_widget(Target(look, "Keep this photo", partial(self._keep, key[0]), role="first"))
            side.add_widget(back)
            side.add_widget(TextLabel(look, f"{key[0]}\n{key[1][:16].replace('T', ' ')}", "small", quiet=True))
        if seen is None:
            self._see_large(key)
        return self._large

    def _seen(self, key: FileKey) -> Seen | None:
        """The large picture, where it was made already."""
        seen = self._kept.seen
        return seen[1] if seen is not None and seen[0] == key else None

    def _keep(self, path: Path) -> None:
        self._set(keeping=True, said=None)

        def told(answer: Answer | None) -> None:
            said = (answer.taken, self.tablet.words(answer.say)) if answer is not None else None
            self._set(keeping=False, said=said)
            # The screen may have been made anew meanwhile.
            self.tablet.refresh()

        self.tablet.ask(lambda day: attach(day, path), told)

    # --- the camera -----------------------------------------------------------------------------------------------

    def _start_camera(self) -> None:
        opens = self.tablet.open_camera
        if opens is not None:
            self._set(finder=Viewfinder(opens), said=None)

    def _camera(self, side: Upright) -> Widget:
        self._large = Shown()
        view = self.tablet.view
        if view is not None:
            self._tell(side, view)
        side.add_widget(Target(self.look, "Take the photo", self._take, role="first"))
        side.add_widget(Target(self.look, "Back to all photos", self._stop_camera))
        return self._large

    def _next_frame(self, _dt: float) -> None:
        finder = self._kept.finder
        if finder is None or self._large is None:
            return
        if finder.problem:
            self._stop_camera((False, finder.problem))
        elif finder.latest is not None:
            self._large.show(finder.latest)

    def _take(self) -> None:
        finder = self._kept.finder
        picture = finder.latest if finder is not None else None
        if picture is None:
            self._set(said=(False, "The camera shows nothing yet. Wait until you see the picture, then take it."))
            return
        when = datetime.fromisoformat(self.tablet.clock.now().wall)
        path = _free(self.tablet.data / "photos" / f"{when:%Y-%m-%d %H-%M-%S}.jpg")

        def saved(_none: None) -> None:
            self._stop_camera()
            self._set(large=((path, when.isoformat(timespec="seconds")), None))
            self._list()

        def failed(problem: Exception) -> None:
            why = getattr(problem, "strerror", None) or problem
            words = f"The photo could not be saved ({why}). Free some space, then take it again. The day is safe."
            self._stop_camera((False, words))

        run_in_background(lambda: camera.save(picture, path), saved, failed)

    def _stop_camera(self, said: tuple[bool, str] | None = None) -> None:
        finder = self._kept.finder
        if finder is not None:
            finder.close()
        self._set(finder=None, said=said)

    # --- beside the screen ----------------------------------------------------------------------------------------

    def _set(self, **changes: Any) -> None:
        for name, value in changes.items():
            setattr(self._kept, name, value)
        self.refresh()

    def _turn(self, page: int) -> None:
        self._set(page=page)

    def _look_again(self) -> None:
        self._set(listing=None, page=0, said=None)
        self._list()

    def _list(self) -> None:
        """Look for photos."""
        folders = places(self.tablet.data)

        def found(listing: PhotoListing) -> None:
            self._kept.listing = listing
            self.tablet.refresh()

        run_in_background(lambda: find_photos(folders), found, lambda _problem: found(PhotoListing()))

    def _load(self, keys: Sequence[FileKey]) -> None:
        """Show the small pictures that were made, and have the others made."""
        if self._job is not None:
            self._job.stop()
        missing = []
        for key in keys:
            if key in self._small:
                self._thumbs[key].show(self._small[key])
            else:
                missing.append(key)
        if not missing:
            return
        for old in list(self._small)[: max(0, len(self._small) + len(missing) - _REMEMBERED)]:
            del self._small[old]

        words = self.tablet.words

        def work(job: LongWork) -> None:
            for number, key in enumerate(missing):
                job.progress(number, len(missing))
                made = _see(key[0], _SMALL, words)
                Clock.schedule_once(partial(self._made, key, made), 0)

        self._job = LongWork(work, lambda then: Clock.schedule_once(lambda _dt: then(), 0), done=lambda _problem: None)
        self._job.start()

    def _made(self, key: FileKey, seen: Seen, _dt: float) -> None:
        self._small[key] = seen
        if key in self._thumbs:
            self._thumbs[key].show(seen)

    def _see_large(self, key: FileKey) -> None:
        words = self.tablet.words

        def made(seen: Seen) -> None:
            large = self._kept.large
            if large is None or large[0] != key:
                return
            self._kept.seen = (key, seen)
            if isinstance(seen, Picture) and self._large is not None:
                self._large.show(seen)
            self.tablet.refresh()

        run_in_background(lambda: _see(key[0], _LARGE, words), made)

    def _left(self, _widget: Widget, parent: Widget | None) -> None:
        """The screen was left or made anew; only the first lets go of the camera."""
        if parent is not None:
            return
        self._frames.cancel()
        if self._job is not None:
            self._job.stop()
        finder = self._kept.finder
        if finder is not None and self.tablet.at != "photos":
            finder.close()
            self._kept.finder = None


def _see(path: Path, longest: int, words: Words) -> Seen:
    """A photo made small, or why it cannot be."""
    try:
        return look_at(read(path), path.name, longest)
    except NoPhoto as problem:
        return words(problem.told)


def _free(path: Path) -> Path:
    number, found = 1, path
    while found.exists():
        number += 1
        found = path.with_name(f"{path.stem} {number}{path.suffix}")
    return found
