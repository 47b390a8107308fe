"""A photo is found, seen, and kept by touch; what is none is refused, and nothing of the day is lost."""

from __future__ import annotations

import hashlib
import io
import os
import struct
import zlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import CommandRefused, PhotoAttached, Withdrawn
from fieldassist.day.photo import NoPhoto, Picture, attach, look_at, without_places
from fieldassist.day.session import Day
from fieldassist.record import attachments
from fieldassist.record.log import DayLog
from fieldassist.trade.message import Figure, Message, message
from fieldassist.ui.content import photo_words
from fieldassist.ui.content.camera import NoCamera
from fieldassist.ui.screens.photos import PhotosMemory
from fieldassist.ui.widgets.picture import Shown
from tests.conftest import Crew
from tests.ui.conftest import Hands, resize
from tests.ui.test_glove_and_eye import check


def jpeg(size: tuple[int, int] = (640, 481), orientation: int = 1) -> bytes:
    """A photo whose left half is red, as its sensor saw it."""
    image = Image.new("RGB", size, "navy")
    image.paste("red", (0, 0, size[0] // 2, size[1]))
    exif = Image.Exif()
    exif[274] = orientation
    paper = io.BytesIO()
    image.save(paper, "JPEG", quality=95, exif=exif)
    return paper.getvalue()


def put(folder: Path, name: str, data: bytes, age: int) -> Path:
    """A file that was last changed `age` seconds before noon."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / name
    path.write_bytes(data)
    os.utime(path, (1_773_745_200 - age,) * 2)
    return path


@pytest.fixture
def folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    pictures = tmp_path / "pictures"
    monkeypatch.setattr(photo_words.platformdirs, "user_pictures_dir", lambda: str(pictures))
    return pictures


def loaded(hands: Hands) -> None:
    """Wait for the pictures of the page."""
    kept = hands.tablet.memory.of(PhotosMemory)
    hands.wait(lambda: kept.listing is not None, "the list of photos")
    hands.wait(lambda: kept.listing and len(kept.small) >= min(6, len(kept.listing.photos)), "the pictures")


def test_a_photo_is_kept_by_touch_with_the_step_at_hand_and_is_there_after_reopening(
    hands: Hands, folder: Path, tmp_path: Path
) -> None:
    hands.say("this is rosa", "start area shower wall")
    hands.go("photos")
    hands.wait(lambda: "No photo was found" in hands.seen(), "an empty list")
    assert "/".join(folder.parts[-2:]) in hands.seen()
    photo = put(folder / "camera", "newest.jpg", jpeg(), 0)
    for age in range(1, 8):
        put(folder, f"old {age}.jpg", jpeg((64, 48 + age)), age)
    put(hands.tablet.data / "photos", "no photo.jpg", b"GIF89a", 9)
    put(folder, "drawing.webp", b"", 0)
    hands.press("Look again")
    loaded(hands)
    assert "Page 1 of 2" in hands.seen()
    assert "One picture of another kind" in hands.seen()
    assert "shower wall, Conditions: Air temperature" in hands.seen()
    hands.press("Older")
    hands.press("Photo 9,")
    hands.wait(lambda: "no JPEG, PNG or HEIC" in hands.seen(), "why it is none")
    assert not any(key.text == "Keep this photo" for key in list(hands.every_key()))
    hands.press("All photos")
    hands.press("Newer")
    hands.press("Photo 1,")
    hands.press("Keep this photo")
    hands.wait(lambda: "Photo kept." in hands.seen(), "that it is kept")
    hands.press("All photos")
    hands.press("Kept today: 1")
    assert "shower wall, Conditions: Air temperature" in hands.seen()
    hands.tablet.close_day()
    with DayLog.open(tmp_path / "day.db") as log:
        [body] = [event.body for event in log.events if isinstance(event.body, PhotoAttached)]
    bare = without_places(photo.read_bytes(), photo.name)
    digest = hashlib.sha256(bare).hexdigest()
    assert (body.area, body.step, body.sha256, body.bare) == ("shower wall", "air-temperature", digest, True)
    assert (attachments.folder_of(tmp_path / "day.db") / body.file).read_bytes() == bare


class Seeing:
    """A camera that sees one picture, or fails."""

    def __init__(self, problem: str = "") -> None:
        self.problem, self.closed = problem, False

    def frame(self) -> Picture:
        if self.problem:
            raise NoCamera(self.problem)
        return Picture(bytes((0, 200, 0)) * 33 * 21, 33, 21)

    def close(self) -> None:
        self.closed = True


def test_a_photo_is_taken_with_the_camera_which_is_let_go_of(hands: Hands, folder: Path) -> None:  # noqa: ARG001
    opened: list[Seeing] = []

    def opens(problem: str = "") -> Seeing:
        opened.append(Seeing(problem))
        return opened[-1]

    hands.tablet.open_camera = opens
    hands.go("photos")
    hands.press("Camera")
    kept = hands.tablet.memory.of(PhotosMemory)
    hands.wait(lambda: kept.finder is not None and kept.finder.latest, "a picture")
    hands.tablet.choose(theme="dark")  # the screen is made anew and sees on
    hands.frames()
    assert len(opened) == 1
    hands.press("Take the photo")
    hands.wait(lambda: "Keep this photo" in hands.seen(), "the photo")
    hands.press("Keep this photo")
    hands.wait(lambda: "Photo kept." in hands.seen(), "that it is kept")
    [body] = hands.events(PhotoAttached)
    [taken] = (hands.tablet.data / "photos").iterdir()
    assert body.sha256 == hashlib.sha256(taken.read_bytes()).hexdigest()
    hands.wait(lambda: opened[0].closed, "the camera let go of")
    hands.press("All photos")
    hands.press("Camera")
    hands.press("Day")
    hands.wait(lambda: opened[1].closed, "the camera let go of when the screen was left")
    hands.tablet.open_camera = lambda: opens("The camera gives no picture any more. Check its plug.")
    hands.go("photos")
    hands.press("Camera")
    hands.wait(lambda: "Check its plug" in hands.seen() and "Look again" in hands.seen(), "what to do instead")


def test_a_photo_that_was_taken_back_is_told_as_that(crew: Crew, tmp_path: Path) -> None:
    crew.day.do(cmd.SpeakAs(name="rosa"))
    assert attach(crew.day, put(tmp_path, "one.jpg", jpeg(), 0)).taken
    assert attach(crew.day, put(tmp_path, "two.jpg", jpeg((64, 48)), 0)).taken
    events = crew.day.log.events
    [_, second] = [event for event in events if isinstance(event.body, PhotoAttached)]
    back = Withdrawn(area="shower wall", target=second.seq, reason="scratched")
    told = [*events, second.model_copy(update={"seq": second.seq + 1, "body": back})]
    photos = photo_words.kept_photos(crew.day.state, told, crew.day.log.path)
    assert [(photo.sha256 == second.body.sha256, photo.withdrawn) for photo in photos] == [(True, True), (False, False)]


@pytest.mark.parametrize(("orientation", "red"), [(1, "left"), (3, "right"), (6, "top"), (8, "bottom")])
def test_a_photo_is_seen_as_its_camera_was_held(orientation: int, red: str) -> None:
    """EXIF 2.32, 4.6.4, tag 274."""
    picture = look_at(jpeg(orientation=orientation), "photo.jpg", 120)
    dots = np.frombuffer(picture.pixels, np.uint8).reshape(picture.high, picture.wide, 3)
    assert max(picture.wide, picture.high) == 120
    half = {
        "left": dots[:, : picture.wide // 2 - 2],
        "right": dots[:, picture.wide // 2 + 2 :],
        "top": dots[: picture.high // 2 - 2],
        "bottom": dots[picture.high // 2 + 2 :],
    }[red]
    assert half[..., 0].min() > 200


def test_what_cannot_be_kept_is_refused_with_what_to_do_and_leaves_nothing(
    crew: Crew, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    day: Day = crew.day

    def refused(path: Path) -> Figure:
        answer = attach(day, path)
        assert not answer.taken
        assert not crew.events(PhotoAttached)
        folder = attachments.folder_of(day.log.path)
        assert not folder.exists() or not list(folder.iterdir())
        return answer.say

    def code(path: Path) -> str:
        told = refused(path)
        assert isinstance(told, Message)
        why = told.figures.get("why")
        return why.code if isinstance(why, Message) else told.code

    assert code(put(tmp_path, "text.jpg", b"not a picture", 0)) == "photo-no-picture"
    assert code(put(tmp_path, "torn.jpg", jpeg()[:3000], 0)) == "photo-damaged"
    assert code(tmp_path / "gone.jpg") == "file-missing"
    os.mkfifo(tmp_path / "pipe.jpg")
    assert code(tmp_path / "pipe.jpg") == "file-not-regular"
    assert code(Path("/dev/zero")) == "file-not-regular"
    good = put(tmp_path, "good.jpg", jpeg(), 0)
    with monkeypatch.context() as patch:
        patch.setattr(attachments, "LARGEST_BYTES", 1000)
        assert code(good) == "photo-too-large"
    with monkeypatch.context() as patch:

        def full(*_: Any, **__: Any) -> Any:
            raise OSError(28, "No space left on device")

        patch.setattr(attachments, "whole_file", full)
        assert "free some space" in day.words(refused(good))
    huge = io.BytesIO()
    Image.new("1", (8_000, 7_000)).save(huge, "PNG")
    with pytest.raises(NoPhoto) as many:
        look_at(huge.getvalue(), "huge.png", 100)
    assert many.value.told == message("photo-too-many-dots", file="huge.png", millions=56)
    # A header that claims 20,000 by 20,000 (ISO/IEC 15948, 11.2.2): beyond what the library opens at all.
    claims = bytearray(huge.getvalue())
    claims[16:24] = struct.pack(">2L", 20_000, 20_000)
    claims[29:33] = struct.pack(">L", zlib.crc32(claims[12:29]))
    with pytest.raises(NoPhoto) as claimed:
        look_at(bytes(claims), "claims.png", 100)
    assert claimed.value.told.code == "photo-too-many-dots"
    crew.say("this is edwin")
    day.do(cmd.SignDay(accept_open=True))
    assert code(good) == "engine-day-signed"
    assert not crew.events(CommandRefused)


def test_a_picture_fills_its_room_in_its_own_proportions(hands: Hands) -> None:  # noqa: ARG001
    shown = Shown(size_hint=(None, None), size=(300, 300))
    shown.show(Picture(bytes(3 * 33 * 21), 33, 21))
    assert shown._box.size == pytest.approx((300, 300 * 21 / 33))


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_the_page_of_photos_fits_glove_and_eye(hands: Hands, folder: Path, size: tuple[int, int]) -> None:
    resize(*size)
    hands.say("this is rosa", "start area shower wall")
    for age in range(8):
        put(folder, f"old {age}.jpg", jpeg((64, 48 + age)), age)
    hands.go("photos")
    loaded(hands)
    for text in (1.0, 1.5):
        hands.tablet.choose(text=text)
        loaded(hands)
        hands.frames(6)
        check(hands, f"photos, {size}, text {text}")
    hands.tablet.choose(text=1.0)
    loaded(hands)
    hands.press("Photo 1,")
    check(hands, f"a photo, {size}")
