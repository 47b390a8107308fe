"""Whether the copy of a photo shows what the photo shows, since pages show the copy.

The program makes one from the other; somebody who seals his own record could lay another beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PIL import Image, ImageChops

from fieldassist.checklist.events import Event
from fieldassist.proof.verdict import DAMAGED, Findings, some
from fieldassist.record.manifest import attached, copies, first_named
from fieldassist.record.picture import small_picture

# Both are looked at as so many squares a side, each as light and as coloured as the mean of its dots, of 255. Packing
# anew moves a square by up to 6, a void of one percent of the picture that was painted over by tens. Ours, tried on
# smooth, drawn and noisy pictures.
_SQUARES, _ALIKE = 48, 16
_LOOKED_AT = 480
# A copy is as wide to its height as the photo, but for whole dots.
_SHAPE = 0.02


def check_copies(events: Sequence[Event], content: Callable[[str], bytes | None], found: Findings) -> None:
    """Say which copies show something else than their photos, and of how many that was not looked at.

    content: the bytes of an attachment by name, None where they are not here whole.
    """
    spoken_of = attached(events)
    unseen: list[str] = []
    apart = 0
    for name, copy in copies(events).items():
        if name not in spoken_of or copy not in spoken_of:
            continue
        photo, printed = content(name), content(copy)
        if printed is None:
            continue  # no page shows it
        if photo is None:
            apart += 1
            continue
        alike = look_alike(photo, printed)
        if alike is None:
            unseen.append(name)
        elif not alike:
            found.say("copy-shows-other", DAMAGED, file=copy, of=name, event=str(first_named(events)[copy]))
    if apart:
        found.say("copies-not-compared", count=apart)
    if unseen:
        found.say("copies-unseen", files=some(sorted(unseen)))


def look_alike(photo: bytes, copy: bytes) -> bool | None:
    """Whether the two show the same; None where one of them cannot be opened here."""
    try:
        one, other = (small_picture(data, (_LOOKED_AT, _LOOKED_AT), _LOOKED_AT) for data in (photo, copy))
    except MemoryError:
        raise
    except Exception:
        # The library does not tell what it raises on a damaged picture.
        return None
    shapes = [picture.width / picture.height for picture in (one, other)]
    if abs(shapes[0] / shapes[1] - 1) > _SHAPE + 1 / min(*one.size, *other.size):
        return False
    return alike_in_squares(one, other, _SQUARES, _ALIKE)


def alike_in_squares(one: Image.Image, other: Image.Image, squares: int, within: int) -> bool:
    """Whether two pictures, looked at as so many squares a side, differ nowhere by more than so much, of 255."""
    small = [picture.resize((squares, squares), Image.Resampling.BOX) for picture in (one, other)]
    return max(ImageChops.difference(*small).tobytes()) <= within
