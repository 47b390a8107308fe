"""To a back measured on its photo, for the tests of the screens that show it."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from fieldassist.day.photo import Picture
from fieldassist.photo.picture import RGB
from fieldassist.photo.square import to_back
from fieldassist.ui.content.measuring import MeasureDraft, MeasureDrafts
from fieldassist.ui.screens.photos import PhotosMemory
from fieldassist.ui.widgets.corner_setting import CornerSetting
from fieldassist.ui.widgets.photo_back import PhotoPainting
from tests.photo.rendering import render, taps
from tests.photo.rendering.scene import Rendered
from tests.ui.conftest import Hands
from tests.ui.lifting import until_lift


@cache
def lifted_back(seed: int) -> Rendered:
    """The computed photo of a piece of the shower wall, 1200 x 600 mm."""
    made = render(seed, "ordinary")
    assert made.size_mm == (1200.0, 600.0)
    return made


class SeeingBack:
    """A camera that sees one picture."""

    def __init__(self, photo: RGB) -> None:
        self.picture = Picture(photo.tobytes(), photo.shape[1], photo.shape[0])

    def frame(self) -> Picture:
        """The picture of this moment."""
        return self.picture

    def close(self) -> None:
        """Let go of it."""


def one(hands: Hands, kind: type) -> object:
    """The only widget of a kind on the window."""
    [found] = [widget for widget in hands.widgets() if type(widget) is kind]
    return found


def draft_of(hands: Hands) -> MeasureDraft:
    """What is set and painted of the only back that was begun."""
    [found] = hands.tablet.memory.of(MeasureDrafts).by_round.values()
    return found


def lift_off(hands: Hands) -> None:
    """The first piece of the shower wall is off, its back lies before the eyes."""
    until_lift(hands)
    hands.go("lift")
    hands.press("Lift piece 1")


def photograph(hands: Hands, back: Rendered) -> None:
    """From the question for a photo to the one that was taken."""
    hands.tablet.open_camera = lambda: SeeingBack(back.photo)
    hands.press("Photograph")
    kept = hands.tablet.memory.of(PhotosMemory)
    hands.wait(lambda: kept.finder is not None and kept.finder.latest, "a picture")
    hands.press("Take the photo")
    hands.wait(lambda: "Keep this photo" in hands.seen(), "the photo")
    hands.press("Keep this photo")
    hands.wait(lambda: hands.tablet.at == "measuring", "the page of measuring")
    draft = draft_of(hands)
    hands.wait(lambda: draft.seen is not None and draft.busy is None, "the photo opened")


def set_corners(hands: Hands, back: Rendered) -> None:
    """Drag each corner to where it is, and say that they are right."""
    setting = one(hands, CornerSetting)
    assert isinstance(setting, CornerSetting)
    high, wide = back.photo.shape[:2]
    draft = draft_of(hands)
    # Whatever was proposed, whoever sets corners sets them so.
    draft.snapped.update(range(4))
    x, y, w, h = setting.shown
    for number, (at, corner) in enumerate(zip(list(draft.corners), back.corners, strict=True)):
        to = (corner[0] / wide, corner[1] / high)
        setting.chosen = number
        shares = [
            ((x + a * w - setting.x) / setting.width, (y + h - b * h - setting.y) / setting.height) for a, b in (at, to)
        ]
        hands.draw(setting, *shares)
    hands.press("Corners are right")
    hands.wait(lambda: draft.busy is None, "the plan")


def tap_points(back: Rendered) -> tuple[Sequence[tuple[float, float]], Sequence[tuple[float, float]]]:
    """Where an installer would tap, on mortar that touched and on bare back [mm]."""
    mortar, bare = taps(back)
    return (
        [to_back(back.corners, back.size_mm, at) for at in mortar],
        [to_back(back.corners, back.size_mm, at) for at in bare],
    )


def touch_mm(hands: Hands, picture: PhotoPainting, at_mm: tuple[float, float]) -> None:
    """Touch a point of the back."""
    x, y = picture.place(at_mm)
    hands.touch(picture, (x - picture.x) / picture.width, (y - picture.y) / picture.height)


def painted(hands: Hands) -> PhotoPainting:
    """The picture under the finger."""
    found = one(hands, PhotoPainting)
    assert isinstance(found, PhotoPainting)
    return found


def tap_all(hands: Hands, back: Rendered) -> None:
    """Three taps on mortar that touched, three on bare back."""
    for at_mm in (*tap_points(back)[0], *tap_points(back)[1]):
        touch_mm(hands, painted(hands), at_mm)
