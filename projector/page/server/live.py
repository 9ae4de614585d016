"""What is told to pages as it changes, and what they ask: one connection a page, one order of events for all."""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections.abc import Mapping
from typing import Any, Protocol

from starlette.websockets import WebSocket, WebSocketDisconnect

MOST_WAITING = 64
"""A page that has not taken so many messages is let go; it comes back and gets the whole."""
LONGEST_MESSAGE = 20_000
MOST_PAGES = 100
MOST_REMEMBERED = 200

Message = dict[str, Any]


class Listener:
    """One page that listens.

    ``page`` is the name it gave itself, ``window`` the one it sees as it hangs, ``told`` the parts it was told last.
    """

    def __init__(self, page: str, whose: str, secret: str = "") -> None:
        self.page, self.whose, self.secret = page, whose, secret
        self.window = 0
        self.told: dict[str, str] = {}
        self.waiting: asyncio.Queue[str | None] = asyncio.Queue(MOST_WAITING)

    def tell(self, message: Message) -> None:
        """Tell the page something, in its turn."""
        try:
            self.waiting.put_nowait(json.dumps(message, ensure_ascii=False))
        except asyncio.QueueFull:
            self.let_go()

    def tell_parts(self, version: int, parts: dict[str, str], **more: Any) -> None:
        """Tell the page which named parts of it are different from what it was told last."""
        different = {name: html for name, html in parts.items() if self.told.get(name) != html}
        self.told = parts
        if different:
            self.tell({"v": version, "parts": different, **more})

    def let_go(self) -> None:
        """End the connection."""
        while not self.waiting.empty():
            self.waiting.get_nowait()
        self.waiting.put_nowait(None)


class Topic(Protocol):
    """Something that pages look at: a job, the light, the list of jobs."""

    listeners: list[Listener]

    def joined(self, listener: Listener) -> None:
        """A page looks at it from now on: tell it how things stand."""

    def gone(self, listener: Listener) -> None:
        """A page looks at it no more."""

    def take(self, listener: Listener, asked: Mapping[str, Any]) -> Message:
        """Do what a page asks; the answer for this page alone."""


class Asked:
    """What each page has asked last, so that what is sent again after the network was lost is done once."""

    def __init__(self) -> None:
        self._last: dict[str, tuple[int, Message]] = {}

    def answer(self, page: str, number: int) -> Message | None:
        """What was answered to this or a later request of the page; None where it is new."""
        last = self._last.get(page)
        if last is None or number > last[0]:
            return None
        return last[1] if number == last[0] else {}

    def keep(self, page: str, number: int, answer: Message) -> None:
        """Remember the answer to the newest request of a page."""
        self._last.pop(page, None)
        self._last[page] = number, answer
        while len(self._last) > MOST_REMEMBERED:
            self._last.pop(next(iter(self._last)))


async def talk(socket: WebSocket, topic: Topic, asked: Asked, whose: str, secret: str) -> None:
    """Serve one page until it leaves."""
    await socket.accept()
    listener: Listener | None = None
    telling: asyncio.Task[None] | None = None
    try:
        hello = _message(await _heard(socket))
        listener = Listener(str(hello.get("page", ""))[:40], whose, secret)
        telling = asyncio.create_task(_tell(socket, listener))
        topic.listeners.append(listener)
        topic.joined(listener)
        while True:
            message = _message(await _heard(socket))
            number = int(message.get("n", 0))
            answer = asked.answer(listener.page, number)
            if answer is None:
                answer = topic.take(listener, message)
                asked.keep(listener.page, number, answer)
            listener.tell({"ack": number, **answer})
    except (WebSocketDisconnect, ValueError, TypeError):
        pass
    finally:
        if listener is not None and listener in topic.listeners:
            topic.listeners.remove(listener)
            topic.gone(listener)
        if telling is not None:
            telling.cancel()
        with contextlib.suppress(RuntimeError, WebSocketDisconnect):
            await socket.close()


async def _heard(socket: WebSocket) -> str:
    """The next message. Raises WebSocketDisconnect for a page that has gone, whoever noticed it first."""
    try:
        return await socket.receive_text()
    except RuntimeError:
        # Telling it something failed, or let it go for not reading: the connection is closed already.
        raise WebSocketDisconnect from None


def _message(text: str) -> Mapping[str, Any]:
    if len(text) > LONGEST_MESSAGE:
        raise ValueError("too long")
    found = json.loads(text)
    if not isinstance(found, dict):
        raise ValueError("no message")
    return found


async def _tell(socket: WebSocket, listener: Listener) -> None:
    with contextlib.suppress(WebSocketDisconnect, RuntimeError):
        while (text := await listener.waiting.get()) is not None:
            await socket.send_text(text)
        await socket.close()
