"""Photos: picked from files or taken with the camera, seen large, kept with the step at hand; those kept today."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fieldassist.day.photo import NoPhoto, Picture, attach, look_at, read
from fieldassist.ui import camera
from fieldassist.ui.camera import Viewfinder
from fieldassist.ui.jobs import Job
from fieldassist.ui.parts import Choices, Column, Look, Panel, Scroll, Target, Words, blank, gap
from fieldassist.ui.photo_words import Kept, Listing, at_what, find_photos, kept_photos, places, short_time
from fieldassist.ui.screen import Screen

from kivy.clock import Clock  # isort: skip
from kivy.graphics import Color, Rectangle  # isort: skip
from kivy.graphics.texture import Texture  # isort: skip
from kivy.uix.boxlayout import BoxLayout  # isort: skip
from kivy.uix.gridlayout import GridLayout  # isort: skip
from kivy.uix.widget import Widget  # isort: skip

if TYPE_CHECKING:
    from fieldassist.day.desk import View
    from fieldassist.day.session import Answer
    from fieldassist.ui.app import Tablet

A_PAGE = 6
_SMALL, _LARGE = 480, 1600  # the longest side of what is shown, in pixels
_REMEMBERED = 60
_FRAMES_A_SECOND = 10

Seen = Picture | str  # a picture, or why there is none


class Shown(Widget):
    """A picture, as large as there is room for."""

    def __init__(self, **rest: Any) -> None:
        super().__init__(**rest)
        self._texture: Texture | None = None
        with self.canvas:
            Color(1, 1, 1, 1)
            self._box = Rectangle(size=(0, 0))
        self.bind(pos=self._fit, size=self._fit)

    def show(self, picture: Picture) -> None:
        """Show this picture from now on."""
        if self._texture is None or self._texture.size != (picture.wide, picture.high):
            self._texture = Texture.create(size=(picture.wide, picture.high), colorfmt="rgb")
            self._texture.flip_vertical()
        self._texture.blit_buffer(picture.pixels, colorfmt="rgb", bufferfmt="ubyte")
        self._box.texture = self._texture
        self._fit()

    def _fit(self, *_: Any) -> None:
        if self._texture is None:
            return
        wide, high = self._texture.size
        scale = min(self.width / wide, self.height / high)
        self._box.size = (wide * scale, high * scale)
        self._box.pos = (self.center_x - wide * scale / 2, self.center_y - high * scale / 2)


class Thumb(Target):
    """A small picture to press, with its caption under it."""

    def __init__(self, look: Look, caption: str, press: Callable[[], None]) -> None:
        super().__init__(look, caption, press, size="small")
        self.size_hint_y = 1
        self.valign = "bottom"
        self._caption = caption
        self._picture = Shown()
        self.add_widget(self._picture)
        self.bind(pos=self._place, size=self._place, height=self._wrap)

    def show(self, seen: Seen) -> None:
        """Show the picture, or why there is none."""
        if isinstance(seen, Picture):
            self._picture.show(seen)
        else:
            self._caption = self.text = f"{self._caption}\nNO PHOTO"

    def _wrap(self, *_: Any) -> None:
        room: tuple[float, float] = (max(1.0, self.width - 2 * gap()), max(1.0, self.height - gap()))
        self.text_size = room  # type: ignore[assignment]  # Target has no height in it

    def _grow(self, *_: Any) -> None:
        """Its height is its share of the page, whatever it says."""

    def _place(self, *_: Any) -> None:
        caption = (1 + self._caption.count("\n")) * 1.25 * self.look.font("small") + gap()
        self._picture.pos = (self.x + gap(), self.y + caption + gap())
        self._picture.size = (max(1.0, self.width - 2 * gap()), max(1.0, self.height - caption - 2 * gap()))


class Photos(Screen):
    """Pages of photos, one of them large, or what the camera sees."""

    def __init__(self, tablet: Tablet) -> None:
        super().__init__(tablet)
        self._kept: dict[str, Any] = tablet.memory.setdefault("photos", {})
        self._small: dict[tuple[Path, str], Seen] = self._kept.setdefault("small", {})
        self._thumbs: dict[tuple[Path, str], Thumb] = {}
        self._job: Job | None = None
        self._large: Shown | None = None
        self._frames = Clock.schedule_interval(self._next_frame, 1 / _FRAMES_A_SECOND)
        self.bind(parent=self._left)
        if "listing" not in self._kept:
            self._list()

    # --- what is shown --------------------------------------------------------------------------------------------

    def refresh(self) -> None:
        """Show what has changed."""
        view, kept = self.tablet.view, self._kept
        if view is None or view.state.plan is None:
            if self.changed("what", None):
                self.clear_widgets()
                self.add_widget(Words(self.look, "No day is open. Open or begin one on the first screen.", "large"))
                self.add_widget(blank())
            return
        photos = kept_photos(view.state, view.events, view.path)
        # Each of the three is made anew only for what it shows: nothing is replaced under a finger for anything else.
        what: tuple[object, ...] = (kept.get("finder"), kept.get("large"), kept.get("said"), at_what(view.state))
        if kept.get("finder") is None and kept.get("large") is not None:
            what += (kept.get("keeping", False), isinstance(self._seen(kept["large"][0]), str))
        elif kept.get("finder") is None:
            what += (kept.get("listing"), photos, kept.get("page", 0), kept.get("kept today", False))
        if not self.changed("what", what):
            return
        self.clear_widgets()
        self._thumbs, self._large = {}, None
        side = Column()
        if kept.get("finder") is not None:
            main = self._camera(side)
        elif kept.get("large") is not None:
            main = self._one(view, side)
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

    def _pages(self, view: View, photos: Sequence[Kept], side: Column) -> Widget:
        """Six photos a page: those that may be kept, or those that were."""
        look, kept, today = self.look, self._kept, view.at.wall[:10]
        listing: Listing | None = kept.get("listing")
        entries: list[tuple[tuple[Path, str], str, Kept | None]]
        if kept.get("kept today", False):
            entries = [
                ((p.path, p.when), f"{'TAKEN BACK ' if p.struck else ''}{short_time(p.when, today)}\n{p.where}", p)
                for p in photos
            ]
        else:
            entries = [
                ((p.path, p.when), f"Photo {n}\n{short_time(p.when, today)}", None)
                for n, p in enumerate(listing.photos if listing is not None else (), 1)
            ]
        pages = max(1, -(-len(entries) // A_PAGE))
        page = kept["page"] = min(kept.get("page", 0), pages - 1)
        self._tell(side, view)
        targets = []
        if page > 0:
            targets.append(Target(look, "Newer", partial(self._turn, page - 1), size="plain"))
        if page < pages - 1:
            targets.append(Target(look, "Older", partial(self._turn, page + 1), size="plain"))
        if kept.get("kept today", False):
            targets.append(
                Target(look, "Photos to pick", partial(self._set, **{"kept today": False, "page": 0}), size="plain")
            )
        else:
            words = f"Kept today: {len(photos)}"
            targets.append(Target(look, words, partial(self._set, **{"kept today": True, "page": 0}), size="plain"))
            targets.append(Target(look, "Look again", self._look_again, size="plain"))
            if self._open_camera() is not None:
                targets.append(Target(look, "Camera", self._start_camera, size="plain"))
        side.add_widget(Words(look, f"Page {page + 1} of {pages}", "plain"))
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

    def _nothing(self, listing: Listing | None) -> Widget:
        if self._kept.get("kept today", False):
            words = "No photo was kept today."
        elif listing is None:
            words = "Looking for photos."
        else:
            folders = "\n".join(str(folder) for folder in places(self.tablet.data))
            words = f"No photo was found in\n{folders}\n\nPut photos (JPEG or PNG) there, then press “Look again”."
        column = Column()
        column.add_widget(Words(self.look, words, "large"))
        return Scroll(column)

    def _explain(self, side: Column, listing: Listing | None) -> None:
        look = self.look
        if self._open_camera() is None:
            words = (
                "The camera cannot be used from here. Take photos with the tablet's own camera program; it puts them "
            )
            side.add_widget(Words(look, words + "among the pictures. Then press “Look again”.", "small", quiet=True))
        if listing is not None and listing.other_kinds:
            words = f"{listing.other_kinds} pictures of other kinds are not shown. Set the camera to JPEG."
            side.add_widget(Words(look, words, "small", quiet=True))

    def _tell(self, side: Column, view: View) -> None:
        """What became of the last photo, and to what the next one will belong."""
        said: tuple[bool, str] | None = self._kept.get("said")
        if said is not None:
            good, words = said
            panel = Panel(self.look, role="good" if good else "alarm")
            panel.add_widget(Words(self.look, words, "plain", role="good" if good else "alarm", bold=True))
            side.add_widget(panel)
        if not self._kept.get("kept today", False):
            side.add_widget(Words(self.look, "A photo kept now belongs to", "plain", quiet=True))
            side.add_widget(Words(self.look, at_what(view.state), "large"))

    # --- one photo ------------------------------------------------------------------------------------------------

    def _one(self, view: View, side: Column) -> Widget:
        look = self.look
        key, photo = self._kept["large"]
        seen = self._seen(key)
        self._large = Shown()
        if isinstance(seen, Picture):
            self._large.show(seen)
        elif isinstance(self._small.get(key), Picture):
            self._large.show(self._small[key])  # type: ignore[arg-type]
        back = Target(look, "Back to all photos", partial(self._set, large=None, keeping=False, said=None))
        if photo is not None:
            side.add_widget(Words(look, f"{'TAKEN BACK. ' if photo.struck else ''}{photo.where}", "large"))
            time = short_time(photo.when, view.at.wall[:10])
            side.add_widget(Words(look, f"Kept by {photo.who.title() or 'nobody named'} at {time}", "plain"))
            if isinstance(seen, str):
                words = "The tablet's copy is missing or was changed. The log still names it: look for it in a bundle."
                side.add_widget(Words(look, words, "plain", bold=True))
            side.add_widget(back)
            side.add_widget(Words(look, f"{photo.path.name}\nSHA-256 {photo.sha256}", "small", quiet=True))
        else:
            self._tell(side, view)
            if isinstance(seen, str):
                panel = Panel(look, role="alarm")
                panel.add_widget(Words(look, seen, "plain", role="alarm", bold=True))
                side.add_widget(panel)
            elif self._kept.get("keeping", False):
                side.add_widget(Words(look, "It is being kept.", "large"))
            elif self._kept.get("said") is None or not self._kept["said"][0]:
                side.add_widget(Target(look, "Keep this photo", partial(self._keep, key[0]), role="first"))
            side.add_widget(back)
            side.add_widget(Words(look, f"{key[0]}\n{key[1][:16].replace('T', ' ')}", "small", quiet=True))
        if seen is None:
            self._see_large(key)
        return self._large

    def _seen(self, key: tuple[Path, str]) -> Seen | None:
        """The large picture, where it was made already."""
        held_for, seen = self._kept.get("seen", (None, None))
        return seen if held_for == key else None

    def _keep(self, path: Path) -> None:
        self._set(keeping=True, said=None)

        def told(answer: Answer | None) -> None:
            said = (answer.taken, answer.say) if answer is not None else None
            self._set(keeping=False, said=said)
            # The screen may have been made anew meanwhile.
            self.tablet.refresh()

        self.tablet.ask(lambda day: attach(day, path), told)

    # --- the camera -----------------------------------------------------------------------------------------------

    def _open_camera(self) -> Callable[[], camera.Camera] | None:
        given: Callable[[], camera.Camera] | None = self.tablet.memory.get("camera")
        return given or camera.find_camera()

    def _start_camera(self) -> None:
        opens = self._open_camera()
        if opens is not None:
            self._set(finder=Viewfinder(opens), said=None)

    def _camera(self, side: Column) -> Widget:
        self._large = Shown()
        view = self.tablet.view
        if view is not None:
            self._tell(side, view)
        side.add_widget(Target(self.look, "Take the photo", self._take, role="first"))
        side.add_widget(Target(self.look, "Back to all photos", self._stop_camera))
        return self._large

    def _next_frame(self, _dt: float) -> None:
        finder: Viewfinder | None = self._kept.get("finder")
        if finder is None or self._large is None:
            return
        if finder.problem:
            self._stop_camera((False, finder.problem))
        elif finder.latest is not None:
            self._large.show(finder.latest)

    def _take(self) -> None:
        finder: Viewfinder | None = self._kept.get("finder")
        picture = finder.latest if finder is not None else None
        if picture is None:
            self._set(said=(False, "The camera shows nothing yet. Wait until you see the picture, then take it."))
            return
        when = datetime.fromisoformat(self.tablet.clock.now().wall)
        path = _free(self.tablet.data / "photos" / f"{when:%Y-%m-%d %H-%M-%S}.jpg")

        def saved(problem: Exception | None) -> None:
            if problem is not None:
                why = getattr(problem, "strerror", None) or problem
                words = f"The photo could not be saved ({why}). Free some space, then take it again. The day is safe."
                self._stop_camera((False, words))
                return
            self._stop_camera()
            self._set(large=((path, when.isoformat(timespec="seconds")), None))
            self._list()

        self._start(lambda _job: camera.save(picture, path), saved)

    def _stop_camera(self, said: tuple[bool, str] | None = None) -> None:
        finder: Viewfinder | None = self._kept.get("finder")
        if finder is not None:
            finder.close()
        self._set(finder=None, said=said)

    # --- beside the screen ----------------------------------------------------------------------------------------

    def _set(self, **changes: Any) -> None:
        self._kept.update(changes)
        self.refresh()

    def _turn(self, page: int) -> None:
        self._set(page=page)

    def _start(self, work: Callable[[Job], None], done: Callable[[Exception | None], None]) -> None:
        Job(work, lambda then: Clock.schedule_once(lambda _dt: then(), 0), done=done).start()

    def _look_again(self) -> None:
        self._kept.pop("listing", None)
        self._set(page=0, said=None)
        self._list()

    def _list(self) -> None:
        """Look for photos."""
        folders = places(self.tablet.data)
        found: list[Listing] = []

        def done(problem: Exception | None) -> None:
            self._kept["listing"] = found[0] if problem is None else Listing()
            self.tablet.refresh()

        self._start(lambda _job: found.append(find_photos(folders)), done)

    def _load(self, keys: Sequence[tuple[Path, str]]) -> None:
        """Show the small pictures that are at hand, and have the others made."""
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

        def work(job: Job) -> None:
            for number, key in enumerate(missing):
                job.progress(number, len(missing))
                made = _see(key[0], _SMALL)
                Clock.schedule_once(partial(self._made, key, made), 0)

        self._job = Job(work, lambda then: Clock.schedule_once(lambda _dt: then(), 0), done=lambda _problem: None)
        self._job.start()

    def _made(self, key: tuple[Path, str], seen: Seen, _dt: float) -> None:
        self._small[key] = seen
        if key in self._thumbs:
            self._thumbs[key].show(seen)

    def _see_large(self, key: tuple[Path, str]) -> None:
        made: list[Seen] = []

        def done(_problem: Exception | None) -> None:
            large = self._kept.get("large")
            if large is None or large[0] != key or not made:
                return
            self._kept["seen"] = (key, made[0])
            if isinstance(made[0], Picture) and self._large is not None:
                self._large.show(made[0])
            self.tablet.refresh()

        self._start(lambda _job: made.append(_see(key[0], _LARGE)), done)

    def _left(self, _widget: Widget, parent: Widget | None) -> None:
        """The screen was left or made anew; only the first lets go of the camera."""
        if parent is not None:
            return
        self._frames.cancel()
        if self._job is not None:
            self._job.stop()
        finder: Viewfinder | None = self._kept.get("finder")
        if finder is not None and self.tablet.at != "photos":
            finder.close()
            self._kept["finder"] = None


def _see(path: Path, longest: int) -> Seen:
    """A photo made small, or why it cannot be."""
    try:
        return look_at(read(path), path.name, longest)
    except NoPhoto as problem:
        return str(problem)


def _free(path: Path) -> Path:
    number, found = 1, path
    while found.exists():
        number += 1
        found = path.with_name(f"{path.stem} {number}{path.suffix}")
    return found
