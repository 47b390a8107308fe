"""Two browsers, driven by their own protocols over a pipe and a socket: nothing else has to be installed."""

from __future__ import annotations

import itertools
import json
import os
import shutil
import socket
import subprocess
import time
from abc import ABC, abstractmethod
from collections.abc import Sequence
from pathlib import Path
from typing import Any

_PATIENCE_S = 60.0


class Browser(ABC):
    """A browser that runs without a window. Errors: RuntimeError with what it answered, TimeoutError."""

    name: str

    @abstractmethod
    def open(self, url: str) -> None:
        """Load a page anew."""

    @abstractmethod
    def ask(self, expression: str) -> Any:
        """What an expression of JavaScript comes to in the page."""

    @abstractmethod
    def give(self, selector: str, files: Sequence[Path]) -> None:
        """Choose files in a file picker of the page."""

    @abstractmethod
    def close(self) -> None:
        """End it."""

    def until(self, expression: str) -> None:
        """Wait until an expression is true in the page."""
        ends = time.monotonic() + _PATIENCE_S
        while not self.ask(expression):
            if time.monotonic() > ends:
                raise TimeoutError(f"{self.name}: {expression}")
            time.sleep(0.02)

    def version(self) -> str:
        """What it calls itself."""
        return str(self.ask("navigator.userAgent"))


class Chromium(Browser):
    """Chromium by the DevTools protocol: JSON between NUL bytes, over the file descriptors 3 and 4."""

    name = "chromium"

    def __init__(self, program: str, folder: Path) -> None:
        theirs_in, ours_out = os.pipe()
        ours_in, theirs_out = os.pipe()

        def place() -> None:
            # Moved out of the way first: either may be 3 or 4 already.
            high = [os.dup(one) for one in (theirs_in, theirs_out)]
            high = [one if one > 4 else os.dup2(one, one + 20) for one in high]
            os.dup2(high[0], 3)
            os.dup2(high[1], 4)

        command = [
            program, "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
            "--remote-debugging-pipe", f"--user-data-dir={folder}", "about:blank",
        ]  # fmt: skip
        quiet = subprocess.DEVNULL
        self._process = subprocess.Popen(
            command, stdin=quiet, stdout=quiet, stderr=quiet, close_fds=False, preexec_fn=place
        )
        os.close(theirs_in)
        os.close(theirs_out)
        self._out, self._in, self._rest = ours_out, ours_in, b""
        self._numbers = itertools.count(1)
        targets = self._call("Target.getTargets")["targetInfos"]
        page = next(target["targetId"] for target in targets if target["type"] == "page")
        self._session = self._call("Target.attachToTarget", targetId=page, flatten=True)["sessionId"]

    def _call(self, method: str, **parameters: Any) -> Any:
        number = next(self._numbers)
        message = {"id": number, "method": method, "params": parameters}
        if session := getattr(self, "_session", None):
            message["sessionId"] = session
        os.write(self._out, json.dumps(message).encode() + b"\0")
        while True:
            while b"\0" not in self._rest:
                piece = os.read(self._in, 1 << 20)
                if not piece:
                    raise RuntimeError("chromium ended")
                self._rest += piece
            text, _, self._rest = self._rest.partition(b"\0")
            answer = json.loads(text)
            if answer.get("id") == number:
                if "error" in answer:
                    raise RuntimeError(answer["error"])
                return answer["result"]

    def open(self, url: str) -> None:
        self._call("Page.navigate", url="about:blank")
        self._call("Page.navigate", url=url)

    def ask(self, expression: str) -> Any:
        answer = self._call("Runtime.evaluate", expression=expression, returnByValue=True)
        if "exceptionDetails" in answer:
            raise RuntimeError(answer["exceptionDetails"])
        return answer["result"].get("value")

    def give(self, selector: str, files: Sequence[Path]) -> None:
        root = self._call("DOM.getDocument")["root"]["nodeId"]
        node = self._call("DOM.querySelector", nodeId=root, selector=selector)["nodeId"]
        self._call("DOM.setFileInputFiles", nodeId=node, files=[str(file) for file in files])

    def close(self) -> None:
        self._process.kill()
        self._process.wait()
        os.close(self._out)
        os.close(self._in)


class Firefox(Browser):
    """Firefox by Marionette: JSON behind its length, over a socket."""

    name = "firefox"

    def __init__(self, program: str, folder: Path) -> None:
        folder.mkdir()
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        (folder / "user.js").write_text(f'user_pref("marionette.port", {port});\n')
        quiet = subprocess.DEVNULL
        command = [program, "--headless", "--marionette", "--no-remote", "--profile", str(folder)]
        self._process = subprocess.Popen(command, stdin=quiet, stdout=quiet, stderr=quiet)
        self._socket = _connected(port)
        self._numbers = itertools.count(1)
        self._answer()
        self._call("WebDriver:NewSession", capabilities={})

    def _answer(self) -> Any:
        size = b""
        while not size.endswith(b":"):
            size += self._socket.recv(1)
        wanted, text = int(size[:-1]), b""
        while len(text) < wanted:
            text += self._socket.recv(wanted - len(text))
        return json.loads(text)

    def _call(self, command: str, **parameters: Any) -> Any:
        text = json.dumps([0, next(self._numbers), command, parameters]).encode()
        self._socket.sendall(b"%d:%s" % (len(text), text))
        _, _, error, result = self._answer()
        if error:
            raise RuntimeError(error)
        return result.get("value") if isinstance(result, dict) else result

    def open(self, url: str) -> None:
        self._call("WebDriver:Navigate", url="about:blank")
        self._call("WebDriver:Navigate", url=url)

    def ask(self, expression: str) -> Any:
        return self._call("WebDriver:ExecuteScript", script=f"return ({expression});", args=[])

    def give(self, selector: str, files: Sequence[Path]) -> None:
        found = self._call("WebDriver:FindElement", using="css selector", value=selector)
        self._call("WebDriver:ElementSendKeys", id=next(iter(found.values())), text="\n".join(map(str, files)))

    def close(self) -> None:
        self._socket.close()
        self._process.kill()
        self._process.wait()


def _connected(port: int) -> socket.socket:
    ends = time.monotonic() + _PATIENCE_S
    while True:
        try:
            return socket.create_connection(("127.0.0.1", port), timeout=_PATIENCE_S)
        except OSError:
            if time.monotonic() > ends:
                raise
            time.sleep(0.1)


def installed() -> list[tuple[type[Browser], str]]:
    """The browsers that are here, with their programs."""
    named = ((Chromium, ("chromium", "chromium-browser")), (Firefox, ("firefox-esr", "firefox")))
    found = ((kind, next(filter(None, map(shutil.which, names)), None)) for kind, names in named)
    return [(kind, program) for kind, program in found if program is not None]
