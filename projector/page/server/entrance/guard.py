"""Who may come in: the page of this program and, when the person lets it in, a phone. Nobody else.

A browser sends requests to this computer for any page it has open. So a request must carry the secret that the address
given at the start carried, must name the address it thinks it speaks to (a name that was bent to this computer is none
of ours), and whatever changes something must come from a page of this server.
"""

from __future__ import annotations

import asyncio
import hmac
import re
import secrets
from dataclasses import field

from starlette.datastructures import Headers
from starlette.requests import HTTPConnection
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from jobs.model.records import dataclass

SECRET_BYTES = 16
MOST_WRONG_AT_ONCE = 8
"""So many wrong secrets wait at once; further ones are turned away without being looked at."""
FIRST_WAIT_S, LONGEST_WAIT_S = 0.5, 8.0

_PATH = re.compile(r"/(?:[a-z0-9_-]+/?)*")

HEADERS = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}
"""No script or style inside a page, nothing from elsewhere, and the page in no other page's frame."""


def new_secret() -> str:
    """A secret of 128 bits."""
    return secrets.token_urlsafe(SECRET_BYTES)


@dataclass
class Doors:
    """The addresses that this server answers to, and the secrets that open it.

    ``hosts`` are names with their port as a browser sends them; ``secret`` is that of this computer's own page,
    ``once`` are keys that open it one time, ``phones`` are the secrets of the phones that were let in. ``wait_s`` is
    how long a wrong secret waits for its answer.
    """

    hosts: set[str]
    port: int = 0
    secret: str = field(default_factory=new_secret)
    once: set[str] = field(default_factory=set)
    phones: set[str] = field(default_factory=set)
    wait_s: float = FIRST_WAIT_S
    wrong: int = 0
    waiting: int = 0

    def opens(self, given: str) -> str | None:
        """Whose secret this is: ``page`` or ``phone``; None for a wrong one. Every secret is compared in full."""
        found = None
        for secret, whose in ((self.secret, "page"), *((one, "phone") for one in tuple(self.phones))):
            if hmac.compare_digest(given.encode("utf-8", "replace"), secret.encode("ascii")):
                found = whose
        return found

    async def slow(self) -> bool:
        """Hold up the answer to a wrong secret, longer each time; False where too many are held up already."""
        self.wrong += 1
        if self.waiting >= MOST_WRONG_AT_ONCE:
            return False
        self.waiting += 1
        try:
            await asyncio.sleep(min(LONGEST_WAIT_S, self.wait_s * 2 ** min(self.wrong - 1, 6)))
        finally:
            self.waiting -= 1
        return True

    def forgive(self) -> None:
        """The right secret came: the next slip waits no longer than the first one."""
        self.wrong = 0


PHONE_PATHS = ("/cut", "/table", "/live", "/static", "/enter", "/photo")
"""What a phone may ask for: the light, the table and the camera."""


def phone_may(path: str) -> bool:
    """Whether a phone that was let in may ask for this."""
    return any(path == one or path.startswith(f"{one}/") for one in PHONE_PATHS)


class Guard:
    """Wraps the application: turns strangers away and puts the headers on every answer."""

    def __init__(self, app: ASGIApp, doors: Doors) -> None:
        self._app, self._doors = app, doors

    @property
    def cookie(self) -> str:
        """The name of the cookie; cookies know no ports, so that two servers on one computer need two names."""
        return cookie_name(self._doors)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        refused = await self._refusal(scope)
        if refused is not None:
            if scope["type"] == "websocket":
                await send({"type": "websocket.close", "code": 1008})
            else:
                await _with_headers(refused, scope, receive, send)
            return
        await _with_headers(self._app, scope, receive, send)

    async def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if headers.get("host", "").lower() not in self._doors.hosts:
            return PlainTextResponse("This is not an address of this program.", 421)
        origin = headers.get("origin")
        changes = scope["type"] == "websocket" or scope["method"] not in ("GET", "HEAD")
        if (changes or origin is not None) and not self._is_own(origin):
            return PlainTextResponse("This was asked by another page.", 403)
        return await self._who(scope)

    def _is_own(self, origin: str | None) -> bool:
        return origin is not None and origin.lower() in {f"http://{host}" for host in self._doors.hosts}

    async def _who(self, scope: Scope) -> Response | None:
        """Ask for the secret: in the cookie or, once, in the address, from where it moves into the cookie."""
        asked = HTTPConnection(scope)
        key = asked.query_params.get("key") if scope["type"] == "http" and scope["path"] == "/" else None
        given = key if key is not None else asked.cookies.get(self.cookie, "")
        if key is not None and key in self._doors.once:
            self._doors.once.discard(key)
            given = self._doors.secret
        whose = self._doors.opens(given)
        if whose is None and scope["path"] in ("/enter", "/static/page.css", "/static/enter.css"):
            return None
        if whose is None:
            if given and not await self._doors.slow():
                return PlainTextResponse("Too many wrong keys. Wait a little.", 429)
            return PlainTextResponse(NO_KEY, 403)
        self._doors.forgive()
        if key is not None:
            answer = RedirectResponse(_inside(asked.query_params.get("to", "/")), 303)
            answer.set_cookie(self.cookie, given, httponly=True, samesite="strict", path="/")
            return answer
        scope["whose"], scope["secret"] = whose, given
        if whose == "phone" and not phone_may(scope["path"]):
            return RedirectResponse("/cut", 303)
        return None


def _inside(path: str) -> str:
    """The path where it is one of this server, else that of the list."""
    return path if _PATH.fullmatch(path) else "/"


NO_KEY = (
    "This page belongs to somebody else's session of lightchalk, or its program was started anew.\n"
    "Open the whole address that the program printed, or start it again: lightchalk open\n"
)


def cookie_name(doors: Doors) -> str:
    """The name of the cookie of a server, by the port of its own address."""
    return f"lightchalk-{doors.port}"


async def _with_headers(app: ASGIApp, scope: Scope, receive: Receive, send: Send) -> None:
    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            present = {name.lower() for name, _ in message["headers"]}
            more = [(name.encode(), value.encode()) for name, value in HEADERS.items() if name.encode() not in present]
            message = {**message, "headers": [*message["headers"], *more]}
        await send(message)

    await app(scope, receive, sent)
