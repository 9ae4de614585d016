"""The light as pages and phones see it: found wherever it was started, followed while it works, asked in turn."""

from __future__ import annotations

import asyncio
import base64
import contextlib
import json
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, Protocol

from projector.page.light.found import lights
from projector.page.places.light import light_parts
from projector.page.server.live import Asked, Listener, Message

LOOK_EVERY_S = 0.7
MOST_LINE = 8_000_000
VIEW_PATIENCE_S: float | None = 10.0


class Beside(Protocol):
    """What else belongs to a place while its light is on."""

    def parts(self, about: dict[str, Any] | None, state: dict[str, Any]) -> dict[str, str]:
        """Its parts of the page as they are now."""

    def take(self, asked: Mapping[str, Any]) -> Message | None:
        """Do what a page asks; None where it asks for something else."""


class LightTopic:
    """The newest light of some kinds of ``works``; ``idle`` gives the part that is shown while there is none."""

    def __init__(self, works: Sequence[str], folder: Path, idle: Callable[[], str]) -> None:
        self.works, self.folder, self._idle = works, folder, idle
        self.listeners: list[Listener] = []
        self.asked = Asked()
        self.about: dict[str, Any] | None = None
        self.state: dict[str, Any] = {}
        self.pictures: dict[str, str] = {}
        self._task: asyncio.Task[None] | None = None
        self._writer: asyncio.StreamWriter | None = None
        self._card = ""
        self.beside: Beside | None = None
        self._pictured: dict[str, list[asyncio.Future[str]]] = {"view": [], "frame": []}
        self._version = 0

    @property
    def is_on(self) -> bool:
        """Whether a light is on and followed."""
        return self.about is not None

    def joined(self, listener: Listener) -> None:
        self.begin()
        listener.tell_parts(self._version, self.parts())

    def begin(self) -> None:
        """Follow the light from now on."""
        if self._task is None or self._task.done():
            self._task = asyncio.get_running_loop().create_task(self._follow())

    def gone(self, listener: Listener) -> None:
        if not self.listeners:
            self.close()

    def close(self) -> None:
        """Follow it no more; the light goes on without."""
        if self._task is not None:
            self._task.cancel()
            self._task = None

    def parts(self) -> dict[str, str]:
        """The parts of the page as they are now."""
        parts = light_parts(self.about, self.state, self.pictures, "" if self.is_on else self._idle())
        return parts | (self.beside.parts(self.about, self.state) if self.beside is not None else {})

    def show(self) -> None:
        """Tell all pages what is different."""
        self._version += 1
        parts = self.parts()
        for listener in self.listeners:
            listener.tell_parts(self._version, parts)

    def take(self, listener: Listener, asked: Mapping[str, Any]) -> Message:
        if asked.get("do") != "press":
            return (self.beside.take(asked) if self.beside is not None else None) or {}
        seen, action = asked.get("seen"), str(asked.get("action", ""))[:200]
        if action.startswith("card"):
            return {}
        if self._writer is None:
            return {"say": "No light is on.", "bad": True}
        wanted = {"ask": action, "seen": int(seen) if seen not in (None, "") else None}
        self._send(wanted)
        return {}

    def light_card(self, rows: str) -> None:
        """Have the code of an invitation lit beside all else while there is one; ``rows`` as the light reads them."""
        if rows != self._card:
            self._card = rows
            self._send({"ask": f"card {rows}".strip()})

    async def view(self) -> bytes:
        """A picture of what is seen in the window of the light, as JPEG; nothing where there is none."""
        return base64.b64decode(await self._picture("view"))

    async def frame(self) -> bytes:
        """What a simulated projector throws, pixel for pixel, as PNG; nothing where there is none."""
        return base64.b64decode(await self._picture("frame"))

    def ask(self, action: str) -> None:
        """Ask the light for an action, wherever it is."""
        self._send({"ask": action})

    async def _picture(self, kind: str) -> str:
        if self._writer is None:
            return ""
        waiting: asyncio.Future[str] = asyncio.get_running_loop().create_future()
        self._pictured[kind].append(waiting)
        if len(self._pictured[kind]) == 1:
            self._send({kind: True})
        with contextlib.suppress(TimeoutError):
            return await asyncio.wait_for(waiting, VIEW_PATIENCE_S)
        return ""

    def _send(self, message: Mapping[str, Any]) -> None:
        if self._writer is not None:
            self._writer.write(json.dumps(message).encode() + b"\n")

    async def _follow(self) -> None:
        """Look for a light and follow it to its end, again and again."""
        while True:
            found = await asyncio.to_thread(lights, self.folder)
            about = next((one for one in found if one.get("work") in self.works), None)
            if about is None:
                # How a light that was started here has ended is known a little after it has gone.
                self.show()
                await asyncio.sleep(LOOK_EVERY_S)
                continue
            try:
                with contextlib.suppress(OSError, ValueError, KeyError, asyncio.IncompleteReadError):
                    await self._listen(about)
            finally:
                self.about, self.state, self.pictures, self._writer = None, {}, {}, None
                for kind in self._pictured:
                    self._seen(kind, "")
            self.show()

    async def _listen(self, about: dict[str, Any]) -> None:
        reader, writer = await asyncio.open_connection("127.0.0.1", int(about["port"]), limit=MOST_LINE)
        try:
            writer.write(json.dumps({"key": about["key"]}).encode() + b"\n")
            self.about, self._writer = about, writer
            if self._card:
                self._send({"ask": f"card {self._card}"})
            while line := await reader.readline():
                message = json.loads(line)
                if message.get("over"):
                    return
                kind = next((kind for kind in self._pictured if kind in message), None)
                if kind is not None:
                    self._seen(kind, message[kind])
                    continue
                self.state = message.get("state", self.state)
                self.pictures = message.get("pictures", self.pictures)
                self.show()
        finally:
            writer.close()

    def _seen(self, kind: str, picture: str) -> None:
        for one in self._pictured[kind]:
            if not one.done():
                one.set_result(picture)
        self._pictured[kind].clear()
