"""What `pip install fieldassist` leaves out: the libraries of the tablet, which who only checks a day has no use for.

They come with `pip install 'fieldassist[tablet]'`. What needs one imports it where it is used, and says so where it is
missing.
"""

from __future__ import annotations

# Window, speech, sound, pictures of pages, photos of phones, camera, what a photo tells, and the numbers of mock-up
# trials, by the names that are imported.
TABLET = frozenset({"cv2", "kivy", "numpy", "pi_heif", "pypdfium2", "sounddevice", "soundfile", "soxr", "vosk"})


def lacking(error: BaseException | None) -> str | None:
    """The tablet's library whose lack raised this error, at first or behind others; None where it is something else.

    >>> lacking(ModuleNotFoundError("No module named 'vosk'", name="vosk")), lacking(ValueError("vosk"))
    ('vosk', None)
    """
    while error is not None:
        if isinstance(error, ModuleNotFoundError):
            library = (error.name or "").partition(".")[0]
            return library if library in TABLET else None
        error = error.__cause__ or error.__context__
    return None
