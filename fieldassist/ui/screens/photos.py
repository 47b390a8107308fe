"""Photos: picked from files or taken with the camera, seen large, kept with the current step; those kept today."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from fieldassist.checklist.events import PhotoAttached
from fieldassist.day.desk import View
from fieldassist.day.photo import NoPhoto, Picture, attach, look_at, read
from fieldassist.day.session import Answer
from fieldassist.language import Words
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.ui.background import run_in_background
from fieldassist.ui.content import camera
from fieldassist.ui.content.back_work import hints_of
from fieldassist.ui.content.camera import CameraWish, Viewfinder
from fieldassist.ui.content.jobs import LongWork
from fieldassist.ui.content.measuring import MeasuredOf, MeasureDrafts, may_be_measured, photographed, size_of
from fieldassist.ui.content.photo_words import (
    KeptPhoto,
    PhotoListing,
    at_what,
    find_photos,
    kept_photos,
    places,
    short_time,
)
from fieldassist.ui.content.typescale import SizeName
from fieldassist.ui.screens.base import Screen
from fieldassist.ui.tablet import Tablet
from fieldassist.ui.widgets.boxes import RowBox
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.look import GAP
from fieldassist.ui.widgets.picture import FramedView, Seen, Shown, Thumb
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.ui.widgets.verdict_field import Plate

from kivy.clock import Clock  # isort: skip
from kivy.uix.gridlayout import GridLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

A_PAGE = 6
_LARGE_TEXT = 1.2
_SMALL, _LARGE = 480, 1600  # the longest side of what is shown, in pixels
_REMEMBERED = 60
_FRAMES_A_SECOND = 10

FileKey = tuple[Path, str]  # a photo's file, and when it was last changed or kept


@dataclass
class PhotosMemory:
    """What is looked at here.

    finder: what the camera sees, while it is open; large: the photo that is seen large, and what the day says of it
    where it was kept; seen: that picture, once it was made; small: small pictures; said: what became of the last photo,
    and whether that is good; keeping: a photo is being kept; attached: the one that was kept last; listing: the photos
    that were found.
    """

    page: int = 0
    kept_today: bool = False
    finder: Viewfinder | None = None
    large: tuple[FileKey, KeptPhoto | None] | None = None
    seen: tuple[FileKey, Seen] | None = None
    small: dict[FileKey, Seen] = field(default_factory=dict)
    said: tuple[bool, str] | None = None
    keeping: bool = False
    attached: PhotoAttached | None = None
    listing: PhotoListing | None = None


class Photos(Screen):
    """Pages of photos, one of them large, or what the camera sees."""

    place = "work"

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._kept = tablet.memory.of(PhotosMemory)
        self._small = self._kept.small
        self._thumbs: dict[FileKey, Thumb] = {}
        self._job: LongWork | None = None
        self._large: Shown | None = None
        self._framed: FramedView | None = None
        self._hints: TextLabel | None = None
        self._frames_seen = 0
        self._frames: Any = None
        wish = tablet.memory.of(CameraWish)
        if wish.wanted and self._kept.finder is None:
            self._kept.large, self._kept.kept_today = None, False
            self._start_camera()
        wish.wanted = False
        if self._kept.finder is not None:
            self._look_on()
        if self._kept.listing is None:
            self._list()

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        view, kept = self.tablet.view, self._kept
        if view is None or view.state.plan is None:
            if self.changed("what", None):
                self.page.clear_widgets()
                self.page.add_widget(TextLabel(self.look, self._say("photo-page-no-day"), "far"))
                self.page.add_widget(Widget())
                self.act(self._key("photo-page-to-day", partial(self.tablet.go, "day"), kind="action"))
            return
        photos = kept_photos(view.state, view.events, view.path)
        # Each of the three is made anew only for what it shows: nothing is replaced under a finger for anything else.
        what: tuple[object, ...] = (kept.finder, kept.large, kept.said, at_what(view.state), self.tablet.words)
        if kept.finder is None and kept.large is not None:
            what += (kept.keeping, isinstance(self._seen(kept.large[0]), str))
        elif kept.finder is None:
            what += (kept.listing, photos, kept.page, kept.kept_today)
        if not self.changed("what", what):
            return
        self.page.clear_widgets()
        self._thumbs, self._large, self._framed, self._hints = {}, None, None, None
        if kept.finder is not None:
            self._camera(view)
        elif kept.large is not None:
            self._one(view, *kept.large)
        else:
            self._pages(view, photos)

    def title(self) -> tuple[str, str]:
        """What is seen here."""
        return self._say("photo-page-title"), ""

    def _say(self, code: str, **figures: Figure) -> str:
        return self.tablet.words(message(code, **figures))

    def _key(self, code: str, press: Callable[[], object], **rest: Any) -> Key:
        return Key(self.look, self._say(code), press, **rest)

    def _line(self, words: str, size: SizeName = "near", **rest: Any) -> TextLabel:
        return TextLabel(self.look, words, size, **rest)

    def _head(self, view: View) -> None:
        """What became of the last photo, and to what the next one will belong."""
        look, kept = self.look, self._kept
        if kept.said is not None:
            good, words = kept.said
            plate = Plate(look, "passed" if good else "failed", 56, pos_hint={"center_y": 0.5})
            told = TextLabel(look, words, "near", bold=True, role="pass_" if good else "fail", fit=True)
            self.page.add_widget(RowBox(look, plate, told, gap=14, high=96))
        if not kept.kept_today:
            where = self._say("photo-page-belongs", where=at_what(view.state))
            told = TextLabel(look, where, "near", bold=True, fit=True)
            self.page.add_widget(RowBox(look, told, high=48 if look.text <= _LARGE_TEXT else 84))

    def _pages(self, view: View, photos: Sequence[KeptPhoto]) -> None:
        """Six photos a page: those that may be kept, or those that were."""
        look, kept, today = self.look, self._kept, view.at.wall[:10]
        listing = kept.listing
        entries: list[tuple[FileKey, str, KeptPhoto | None]]
        if kept.kept_today:
            entries = [((p.shown, p.when), self._caption(p, today), p) for p in photos]
        else:
            entries = [
                ((p.path, p.when), self._say("photo-page-photo", number=str(n), when=short_time(p.when, today)), None)
                for n, p in enumerate(listing.photos if listing is not None else (), 1)
            ]
        pages = max(1, -(-len(entries) // A_PAGE))
        page = kept.page = min(kept.page, pages - 1)
        self._head(view)
        if pages > 1 and look.text <= _LARGE_TEXT:
            self.page.add_widget(
                self._line(self._say("photo-page-page", page=str(page + 1), pages=str(pages)), role="quiet")
            )
        shown = entries[page * A_PAGE : (page + 1) * A_PAGE]
        if shown:
            columns = 2 if self.tablet.upright else 3
            grid = GridLayout(cols=columns, rows=A_PAGE // columns, spacing=look.dots(GAP))
            for key, caption, photo in shown:
                self._thumbs[key] = thumb = Thumb(look, caption, partial(self._set, large=(key, photo), said=None))
                grid.add_widget(thumb)
            for _ in range(A_PAGE - len(shown)):
                grid.add_widget(Widget())
            self.page.add_widget(grid)
            self._load([key for key, _, _ in shown])
        else:
            self._nothing(listing)
        if not shown or look.text <= _LARGE_TEXT:  # captions give way to pictures
            self._explain(listing)
        self._act_pages(photos, page, pages)

    def _caption(self, photo: KeptPhoto, today: str) -> str:
        code = "photo-page-taken-back" if photo.withdrawn else "photo-page-kept"
        return self._say(code, when=short_time(photo.when, today), where=photo.where)

    def _act_pages(self, photos: Sequence[KeptPhoto], page: int, pages: int) -> None:
        kept = self._kept
        keys: list[Key] = []
        if kept.kept_today:
            to_pick = partial(self._set, kept_today=False, page=0)
            keys.append(self._key("photo-page-to-pick", to_pick, kind="action"))
        else:
            if self.tablet.open_camera is not None:
                keys.append(self._key("photo-page-camera", self._start_camera, kind="action", sign="photo"))
            again = self._key("photo-page-look-again", self._look_again, size="near")
            if not keys:
                again = self._key("photo-page-look-again", self._look_again, kind="action")
            keys.append(again)
            words = self._say("photo-page-kept-today", count=str(len(photos)))
            keys.append(Key(self.look, words, partial(self._set, kept_today=True, page=0), size="near"))
        if page > 0:
            keys.append(self._key("photo-page-newer", partial(self._turn, page - 1), size="near"))
        if page < pages - 1:
            keys.append(self._key("photo-page-older", partial(self._turn, page + 1), size="near"))
        keys.append(self._key("photo-page-back", self.tablet.back, size="near"))
        self.act(*keys)

    def _nothing(self, listing: PhotoListing | None) -> None:
        if self._kept.kept_today:
            words = self._say("photo-page-none-kept")
        elif listing is None:
            words = self._say("photo-page-looking")
        else:
            # The end of each is enough to find it by; a whole path has no place to break at.
            ends = ("/".join(folder.parts[-2:]) for folder in places(self.tablet.data))
            folders = Several(tuple(ends), "lines")
            words = self._say("photo-page-none-found", folders=folders)
        self.page.add_widget(self._line(words))
        self.page.add_widget(Widget())

    def _explain(self, listing: PhotoListing | None) -> None:
        if self.tablet.open_camera is None and not self._kept.kept_today:
            self.page.add_widget(self._line(self._say("photo-page-no-camera"), "small", role="quiet"))
        if listing is not None and listing.other_kinds:
            words = self._say("photo-page-other-kinds", count=listing.other_kinds)
            self.page.add_widget(self._line(words, "small", role="quiet"))

    # --- one photo ------------------------------------------------------------------------------------------------

    def _one(self, view: View, key: FileKey, photo: KeptPhoto | None) -> None:
        kept = self._kept
        seen, small = self._seen(key), self._small.get(key)
        self._large = Shown()
        if isinstance(seen, Picture):
            self._large.show(seen)
        elif isinstance(small, Picture):
            self._large.show(small)
        to_all = partial(self._set, large=None, keeping=False, said=None)
        keys = [self._key("photo-page-all", to_all, size="near")]
        if photo is not None:
            self._tell_kept(view, photo, damaged=isinstance(seen, str))
            if not photo.withdrawn and may_be_measured(view.state, photo.of):
                measure = partial(self._measure, photo.of, photo.sha256)
                keys.insert(0, self._key("measuring-here", measure, kind="action"))
        else:
            self._head(view)
            if isinstance(seen, str):
                self.page.add_widget(self._line(seen, bold=True, role="fail"))
            elif kept.keeping:
                self.page.add_widget(self._line(self._say("photo-page-keeping"), bold=True))
            elif kept.said is None or not kept.said[0]:
                keys.insert(0, self._key("photo-page-keep", partial(self._keep, key[0]), kind="action"))
            elif kept.attached is not None:
                of = MeasuredOf(kept.attached.area, kept.attached.section, kept.attached.round)
                if may_be_measured(view.state, of):
                    measure = partial(self._measure, of, kept.attached.sha256)
                    keys.insert(0, self._key("measuring-here", measure, kind="action"))
        self.page.add_widget(self._large)
        if len(keys) == 1:
            keys = [
                self._key("photo-page-all", partial(self._set, large=None, keeping=False, said=None), kind="action")
            ]
        self.act(*keys)
        if seen is None:
            self._see_large(key)

    def _tell_kept(self, view: View, photo: KeptPhoto, *, damaged: bool) -> None:
        """Where a photo belongs, who kept it, and the name and digest of its file."""
        time = short_time(photo.when, view.at.wall[:10])
        where = self._say(
            "photo-page-taken-back" if photo.withdrawn else "photo-page-kept", when=time, where=photo.where
        )
        self.page.add_widget(self._line(where, bold=True))
        who = self._say("photo-page-kept-by", name=photo.who) if photo.who else self._say("photo-page-kept-by-nobody")
        self.page.add_widget(self._line(who))
        if damaged:
            self.page.add_widget(self._line(self._say("photo-page-missing"), bold=True, role="fail"))
        self.page.add_widget(self._line(f"{photo.path.name}\nSHA-256 {photo.sha256}", "small", role="quiet"))

    def _seen(self, key: FileKey) -> Seen | None:
        """The large picture, where it was made already."""
        seen = self._kept.seen
        return seen[1] if seen is not None and seen[0] == key else None

    def _keep(self, path: Path) -> None:
        self._set(keeping=True, said=None)

        measured = self._measured

        def told(answer: Answer | None) -> None:
            events = answer.events if answer is not None else ()
            attached = next((event.body for event in events if isinstance(event.body, PhotoAttached)), None)
            if attached is not None and measured is not None:
                self._set(keeping=False, large=None, said=None)
                self._measure(measured, attached.sha256)
                return
            said = (answer.taken, self.tablet.words(answer.say)) if answer is not None else None
            self._set(keeping=False, said=said, attached=attached)
            # The screen may have been made anew meanwhile.
            self.tablet.refresh()

        keep_places = self.tablet.preferences.keep_places
        self.tablet.ask(lambda day: attach(day, path, keep_places=keep_places), told)

    @property
    def _measured(self) -> MeasuredOf | None:
        """Whose back the next photo is measured of, where another page asked for it."""
        found = self.tablet.at_what.get("measure")
        return found if isinstance(found, MeasuredOf) else None

    def _measure(self, what: MeasuredOf, sha256: str) -> None:
        view = self.tablet.view
        if view is None:
            return
        self.tablet.memory.of(MeasureDrafts).of(view.path, what, view.state.areas[what.area]).take_photo(sha256)
        self.tablet.go("measuring", area=what.area, section=what.section, round=what.round)

    # --- the camera -----------------------------------------------------------------------------------------------

    def _start_camera(self) -> None:
        opens = self.tablet.open_camera
        if opens is not None:
            self._set(finder=Viewfinder(opens), said=None)
            self._look_on()

    def _camera(self, view: View) -> None:
        self._large = Shown()
        what = self._measured or photographed(view.state)
        if what is None or self._kept.said is not None:
            self._head(view)
        if what is not None:
            # The back of a piece is photographed: a frame of its proportions helps to hold the tablet straight.
            size = size_of(view.state.areas[what.area])
            self._large = self._framed = FramedView(self.look, size)
            self._hints = TextLabel(self.look, "", "near", role="fail", fit=True)
            self.page.add_widget(RowBox(self.look, self._hints, high=48 if self.look.text <= _LARGE_TEXT else 84))
        self.page.add_widget(self._large)
        self.act(
            self._key("photo-page-take", self._take, kind="action", sign="photo"),
            self._key("photo-page-all", self._stop_camera, size="near"),
        )

    def _next_frame(self, _dt: float) -> None:
        if self.get_parent_window() is None:
            self._leave()
            return
        finder = self._kept.finder
        if finder is None or self._large is None:
            return
        if finder.problem:
            self._stop_camera((False, finder.problem))
        elif finder.latest is not None:
            self._large.show(finder.latest)
            self._hint(finder.latest)

    def _hint(self, picture: Picture) -> None:
        """What to mend before the shutter, looked for beside the screen, once a second."""
        self._frames_seen += 1
        framed = self._framed
        if framed is None or self._frames_seen % _FRAMES_A_SECOND != 1:
            return

        def found(told: tuple[Message, ...]) -> None:
            if self._hints is not None:
                self._hints.words = self.tablet.words(Several(told, "sentences")) if told else ""

        run_in_background(lambda: hints_of(picture, framed.size_mm), found)

    def _take(self) -> None:
        finder = self._kept.finder
        picture = finder.latest if finder is not None else None
        if picture is None:
            self._set(said=(False, self._say("photo-page-camera-dark")))
            return
        when = datetime.fromisoformat(self.tablet.clock.now().wall)
        path = _free(self.tablet.data / "photos" / f"{when:%Y-%m-%d %H-%M-%S}.jpg")

        def saved(_none: None) -> None:
            self._stop_camera()
            self._set(large=((path, when.isoformat(timespec="seconds")), None))
            self._list()

        def failed(problem: Exception) -> None:
            why = getattr(problem, "strerror", None) or problem
            self._stop_camera((False, self._say("photo-page-not-saved", why=str(why))))

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

    def _look_on(self) -> None:
        """Look at what the camera sees, for as long as this page is seen."""
        if self._frames is None:
            self._frames = Clock.schedule_interval(self._next_frame, 1 / _FRAMES_A_SECOND)

    def _leave(self) -> None:
        """The page was left or made anew; only who leaves it lets go of the camera."""
        if self._frames is not None:
            self._frames.cancel()
            self._frames = None
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
