"""What the process of the light shares: its state after each change, its pictures after a rest, actions taken in turn.

It listens on a socket of this computer alone and says where in a file that only its owner can read, with a secret of
its own. Everything goes as lines of JSON. To the light: ``{"key"}`` first, then ``{"ask", "seen"}`` for an action, with
the number of the place the asker had before it, ``{"view"}`` for a picture of what is seen or ``{"frame"}`` for what a
simulated projector throws, pixel for pixel. From it: ``{"state"}``, ``{"pictures"}``, ``{"view"}``, ``{"frame"}`` and,
at the end, ``{"over"}``.
"""

from __future__ import annotations

import base64
import contextlib
import hmac
import io
import json
import os
import secrets
import socket
import threading
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from projector.files.write import CannotWrite, make_folder
from projector.page.kept import state_folder
from projector.page.light.found import LIGHTS
from projector.papers.drawing import Drawing
from projector.papers.svg import svg_text
from projector.session.actions import UnknownAction
from projector.session.mode import Pixels

REST_S = 0.08
"""Pictures are drawn after a rest of this length: the light is never kept waiting for them."""
FIRST_WORD_S = 5.0
MOST_LISTENERS = 16
LONGEST_LINE = 20_000
Json = dict[str, Any]
Draw = Callable[[], Mapping[str, Drawing]]


class SharedLight:
    """The link of one run of the light; ``about`` is told with the file that says where it listens."""

    def __init__(self, about: Json) -> None:
        self._about = about
        self._key = secrets.token_urlsafe(16)
        self._file = state_folder() / LIGHTS / f"{os.getpid()}-{secrets.token_hex(4)}.json"
        self._ask: Callable[..., None] | None = None
        self._changed = threading.Condition()
        self._number, self._state = 0, ""
        self._pictures, self._drawn = "", 0
        self._draw: Draw | None = None
        self._frame: Pixels | None = None
        self._thrown: Pixels | None = None
        self._over = False
        self._listeners = 0
        self._socket: socket.socket | None = None

    # Called by the light.

    def open(self, ask: Callable[..., None]) -> None:
        """Begin to listen; where that cannot be, the light works without listeners."""
        self._ask = ask
        made = socket.create_server(("127.0.0.1", 0))
        try:
            where = {**self._about, "port": made.getsockname()[1], "key": self._key, "pid": os.getpid()}
            make_folder(self._file.parent)
            handle = os.open(self._file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with open(handle, "w", encoding="utf-8") as file:
                json.dump(where, file)
        except (OSError, CannotWrite):
            made.close()
            return
        self._socket = made
        threading.Thread(target=self._listen, args=(made,), daemon=True).start()
        threading.Thread(target=self._draw_after_a_rest, daemon=True).start()

    def tell(self, state: Json, draw: Draw) -> None:
        """The state is another; ``draw`` makes the pictures of it, in another thread."""
        with self._changed:
            self._number += 1
            self._state, self._draw = json.dumps({"state": state, "number": self._number}), draw
            self._changed.notify_all()

    def frame(self, pixels: Pixels) -> None:
        """What is seen in the window now."""
        self._frame = pixels

    def thrown(self, pixels: Pixels) -> None:
        """What a simulated projector throws now."""
        self._thrown = pixels

    def close(self) -> None:
        """The work has ended: say so, and be found no more."""
        with self._changed:
            self._over = True
            self._changed.notify_all()
        with contextlib.suppress(OSError):
            self._file.unlink(missing_ok=True)
        if self._socket is not None:
            self._socket.close()

    # In threads of its own.

    def _draw_after_a_rest(self) -> None:
        while not self._over:
            with self._changed:
                while not self._over and (self._drawn == self._number or not self._listeners):
                    self._changed.wait()
                wanted, draw = self._number, self._draw
                self._changed.wait(REST_S)
                if self._over or self._number != wanted or draw is None:
                    continue
            drawn = json.dumps({"pictures": {name: svg_text(one) for name, one in draw().items()}})
            with self._changed:
                self._pictures, self._drawn = drawn, wanted
                self._changed.notify_all()

    def _listen(self, made: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while True:
                talk, _ = made.accept()
                if self._listeners >= MOST_LISTENERS:
                    talk.close()
                    continue
                threading.Thread(target=self._talk, args=(talk,), daemon=True).start()

    def _talk(self, talk: socket.socket) -> None:
        """One listener: tells in one thread, hears in this one."""
        with contextlib.suppress(OSError, ValueError, KeyError, TypeError), talk:
            talk.settimeout(FIRST_WORD_S)
            lines = talk.makefile("r", encoding="utf-8")
            key = json.loads(lines.readline(LONGEST_LINE))["key"]
            if not hmac.compare_digest(str(key).encode(), self._key.encode()):
                return
            talk.settimeout(None)
            with self._changed:
                self._listeners += 1
                self._changed.notify_all()
            gone = threading.Event()
            lock = threading.Lock()
            threading.Thread(target=self._tell_all, args=(talk, lock, gone), daemon=True).start()
            card = False
            try:
                while line := lines.readline(LONGEST_LINE):
                    asked = json.loads(line)
                    if str(asked.get("ask")).startswith("card"):
                        card = asked["ask"] != "card"
                    self._take(asked, talk, lock)
            finally:
                gone.set()
                if card and self._ask is not None and not self._over:
                    # Nobody is left to say when the code is not good any more.
                    self._ask("card", None)
                with self._changed:
                    self._listeners -= 1
                    self._changed.notify_all()

    def _tell_all(self, talk: socket.socket, lock: threading.Lock, gone: threading.Event) -> None:
        """Tell the newest state and the newest pictures; what was overtaken is left out."""
        told, drawn = 0, 0
        with contextlib.suppress(OSError):
            while not gone.is_set():
                with self._changed:
                    while not self._over and not gone.is_set() and (told, drawn) == (self._number, self._drawn):
                        self._changed.wait()
                    state = self._state if told != self._number else ""
                    pictures = self._pictures if drawn != self._drawn else ""
                    told, drawn, over = self._number, self._drawn, self._over
                for line in filter(None, (state, pictures, json.dumps({"over": True}) if over else "")):
                    _send(talk, lock, line)
                if over:
                    return

    def _take(self, asked: Json, talk: socket.socket, lock: threading.Lock) -> None:
        if asked.get("view"):
            _send(talk, lock, json.dumps({"view": _picture(self._frame, "JPEG", quality=80)}))
        elif asked.get("frame"):
            _send(talk, lock, json.dumps({"frame": _picture(self._thrown, "PNG", compress_level=1)}))
        elif self._ask is not None:
            seen = asked.get("seen")
            with contextlib.suppress(UnknownAction):
                self._ask(str(asked["ask"]), seen if isinstance(seen, int) else None)


def _send(talk: socket.socket, lock: threading.Lock, line: str) -> None:
    with lock:
        talk.sendall(line.encode("utf-8") + b"\n")


def _picture(frame: Pixels | None, kind: str, **how: int) -> str:
    """The frame (height, width) of packed pixels as a picture in base64; empty where there is none."""
    from PIL import Image

    if frame is None:
        return ""

    rgb = np.stack([(frame >> shift & 255).astype(np.uint8) for shift in (16, 8, 0)], axis=-1)
    held = io.BytesIO()
    Image.fromarray(rgb).save(held, kind, **how)
    return base64.b64encode(held.getvalue()).decode("ascii")
