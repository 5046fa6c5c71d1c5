"""A headless Chromium spoken to through its debugging pipe: NUL-ended JSON on descriptors 3 and 4."""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome")
FLAGS = (
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--remote-debugging-pipe",
)
PHONE = (360, 740)
DESK = (1280, 900)


def find_chromium() -> str | None:
    """Return the browser's program, or None."""
    return next((path for name in NAMES if (path := shutil.which(name))), None)


class Browser:
    """One browser with one tab."""

    def __init__(self, program: str, profile: Path) -> None:
        ours_in, theirs_out = os.pipe()
        theirs_in, ours_out = os.pipe()
        # the shell puts the pipe's ends where the browser looks for them
        script = f'exec "$0" "$@" 3<&{theirs_in} 4>&{theirs_out}'
        command = ["bash", "-c", script, program, *FLAGS, f"--user-data-dir={profile}"]
        self._process = subprocess.Popen(
            command,
            pass_fds=(theirs_in, theirs_out),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(theirs_in)
        os.close(theirs_out)
        self._to = os.fdopen(ours_out, "wb")
        self._from = os.fdopen(ours_in, "rb")
        self._number = 0
        self._rest = b""
        self._session: str | None = None
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        attached = self.call("Target.attachToTarget", targetId=target, flatten=True)
        self._session = attached["sessionId"]
        self.call("Page.enable")

    def call(self, method: str, **params: Any) -> dict[str, Any]:
        """Call a method of the protocol and return its result."""
        self._number += 1
        message: dict[str, Any] = {"id": self._number, "method": method, "params": params}
        if self._session:
            message["sessionId"] = self._session
        self._to.write(json.dumps(message).encode() + b"\0")
        self._to.flush()
        answer = self._until(lambda m: m.get("id") == message["id"])
        assert "error" not in answer, answer
        result: dict[str, Any] = answer["result"]
        return result

    def open(self, page: Path, size: tuple[int, int] = DESK) -> None:
        """Open a file in a window of a size and wait until it is laid out."""
        width, height = size
        self.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=width < 500,
        )
        self.call("Page.navigate", url=page.resolve().as_uri())
        self._until(lambda m: m.get("method") == "Page.loadEventFired")

    def value(self, expression: str) -> Any:
        """Return what a script's expression is worth on the page."""
        result = self.call("Runtime.evaluate", expression=expression, returnByValue=True)
        assert "exceptionDetails" not in result, result
        return result["result"].get("value")

    def tree(self) -> list[dict[str, Any]]:
        """Return the accessibility tree, as a screen reader is given it."""
        nodes: list[dict[str, Any]] = self.call("Accessibility.getFullAXTree")["nodes"]
        return [node for node in nodes if not node["ignored"]]

    def pdf(self) -> bytes:
        """Return the page as it prints, on the paper that its style sheet names."""
        printed = self.call("Page.printToPDF", preferCSSPageSize=True, printBackground=True)
        return base64.b64decode(printed["data"])

    def picture(self) -> bytes:
        """Return a PNG of the whole page."""
        shot = self.call("Page.captureScreenshot", captureBeyondViewport=True)
        return base64.b64decode(shot["data"])

    def close(self) -> None:
        """End the browser."""
        try:
            self._session = None
            self.call("Browser.close")
        finally:
            self._to.close()
            self._from.close()
            self._process.wait(timeout=20)

    def _until(self, wanted: Any) -> dict[str, Any]:
        while True:
            message = self._next()
            if wanted(message):
                return message

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self._rest:
            chunk = os.read(self._from.fileno(), 1 << 16)
            assert chunk, "the browser has ended"
            self._rest += chunk
        text, _, self._rest = self._rest.partition(b"\0")
        message: dict[str, Any] = json.loads(text)
        return message
