"""The tablet's camera, where there is a library for it."""

from __future__ import annotations

import importlib
import importlib.util
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from PIL import Image

from fieldassist.day.photo import Picture
from fieldassist.record.disk import whole_file

_LIBRARY = "cv2"


class NoCamera(Exception):
    """No camera can be opened; the text says why and what to do."""


class Camera(Protocol):
    """Anything that sees: `frame` gives what it sees now, and may take its time; `close` lets go of it."""

    def frame(self) -> Picture:
        """The picture of this moment. NoCamera when there is none any more."""
        ...

    def close(self) -> None:
        """Let go of the camera."""
        ...


class _LibraryCamera:
    """The first camera that the library finds."""

    def __init__(self) -> None:
        self._library = importlib.import_module(_LIBRARY)
        self._capture = self._library.VideoCapture(0)
        if not self._capture.isOpened():
            self._capture.release()
            raise NoCamera("The camera cannot be opened. Close other programs that use it, or pick a photo's file.")

    def frame(self) -> Picture:
        """The picture of this moment."""
        good, image = self._capture.read()
        if not good:
            raise NoCamera("The camera gives no picture any more. Check its plug, or pick a photo's file.")
        image = self._library.cvtColor(image, self._library.COLOR_BGR2RGB)
        return Picture(image.tobytes(), image.shape[1], image.shape[0])

    def close(self) -> None:
        """Let go of the camera."""
        self._capture.release()


def find_camera() -> Callable[[], Camera] | None:
    """How to open the tablet's camera; None where the library for it is not installed."""
    return _LibraryCamera if importlib.util.find_spec(_LIBRARY) is not None else None


class Viewfinder:
    """Looks through a camera in a thread of its own, so that nobody waits for it; `latest` is what it saw last.

    problem: why nothing is seen any more, in words.
    """

    def __init__(self, open_camera: Callable[[], Camera]) -> None:
        self.latest: Picture | None = None
        self.problem = ""
        self._open = open_camera
        self._ended = threading.Event()
        threading.Thread(target=self._look, name="camera", daemon=True).start()

    def close(self) -> None:
        """Stop looking; the camera is let go of soon after."""
        self._ended.set()

    def _look(self) -> None:
        try:
            camera = self._open()
        except NoCamera as problem:
            self.problem = str(problem)
            return
        try:
            while not self._ended.is_set():
                self.latest = camera.frame()
                self._ended.wait(0.05)
        except NoCamera as problem:
            self.problem = str(problem)
        finally:
            camera.close()


def save(picture: Picture, path: Path) -> None:
    """Write a picture as JPEG, whole or not at all. OSError when the disk refuses."""
    path.parent.mkdir(parents=True, exist_ok=True)
    image = Image.frombytes("RGB", (picture.wide, picture.high), picture.pixels)
    with whole_file(path) as file:
        image.save(file, "JPEG", quality=92)


@dataclass
class CameraWish:
    """Another page wants the camera open as soon as the page of photos is seen."""

    wanted: bool = False
