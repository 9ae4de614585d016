"""Phones that are let in: a second address on the local network, a secret good once for five minutes, out again."""

from __future__ import annotations

import secrets
import socket
import time
from collections.abc import Awaitable, Callable

import segno

from jobs.model.records import dataclass
from projector.page.places.templates import rendered
from projector.page.server.entrance.guard import Doors, cookie_name, new_secret

GOOD_FOR_S = 300.0
MOST_PHONES = 8


@dataclass(frozen=True)
class Phone:
    """A phone that is in: what it called itself, and its secret."""

    name: str
    secret: str
    number: int


class Phones:
    """Who is in. ``reach`` opens the second address and gives its host with port, or raises OSError."""

    def __init__(
        self,
        doors: Doors,
        reach: Callable[[], Awaitable[str]],
        close: Callable[[], None],
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._doors, self._reach, self._close, self._clock = doors, reach, close, clock
        self.host = ""
        self.wrong = ""
        self._invitation, self._until = "", 0.0
        self.inside: dict[str, Phone] = {}

    async def invite(self) -> None:
        """Let the next phone in that shows the new secret within five minutes."""
        self.wrong = ""
        if not self.host:
            try:
                self.host = await self._reach()
            except OSError:
                self.wrong = "No network was found by which a phone could reach this computer. Join the workroom's."
                return
            self._doors.hosts.add(self.host)
        self._invitation, self._until = new_secret(), self._clock() + GOOD_FOR_S

    @property
    def invitation(self) -> str:
        """The address to be opened on the phone; empty while none is invited."""
        good = self._invitation and self._clock() < self._until
        return f"http://{self.host}/enter?key={self._invitation}" if good else ""

    @property
    def card(self) -> str:
        """The same as rows of a code, 0 for light and 1 for dark, parted by strokes; empty while none is invited."""
        address = self.invitation
        return (
            "/".join("".join(str(one) for one in row) for row in segno.make(address, error="m").matrix)
            if address
            else ""
        )

    def enter(self, key: str, name: str) -> str | None:
        """The secret of a phone that shows the invitation; None for a wrong or old one. An invitation is good once."""
        good = (
            self._invitation
            and self._clock() < self._until
            and secrets.compare_digest(key.encode("utf-8", "replace"), self._invitation.encode("ascii"))
        )
        if not good or len(self.inside) >= MOST_PHONES:
            return None
        self._invitation = ""
        secret = new_secret()
        numbers = [phone.number for phone in self.inside.values()]
        self.inside[secret] = Phone(name[:60] or "a phone", secret, max(numbers, default=0) + 1)
        self._doors.phones.add(secret)
        return secret

    async def slow(self) -> None:
        """Hold up the answer to a wrong key."""
        await self._doors.slow()

    @property
    def cookie(self) -> str:
        """The name of the cookie that holds a phone's secret."""
        return cookie_name(self._doors)

    def put_out(self, number: int) -> None:
        """Put one phone out."""
        for secret, phone in list(self.inside.items()):
            if phone.number == number:
                del self.inside[secret]
                self._doors.phones.discard(secret)

    def end(self) -> None:
        """Put all out and close the second address."""
        for phone in list(self.inside.values()):
            self.put_out(phone.number)
        self._invitation = ""
        if self.host:
            self._doors.hosts.discard(self.host)
            self._close()
            self.host = ""

    def part(self) -> str:
        """What the page shows of it."""
        address = self.invitation
        code = segno.make(address, error="m").svg_inline(scale=5, dark="#000", light="#fff") if address else ""
        return rendered(
            "parts/phones.html", code=code, address=address, phones=list(self.inside.values()),
            is_open=bool(self.host), wrong=self.wrong,
        )  # fmt: skip


def own_address() -> str:
    """The address of this computer on the local network. Raises OSError where there is none.

    Nothing is sent: the system only tells by which of its addresses it would reach the outside.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        asked.connect(("192.0.2.1", 9))  # RFC 5737: an address for documentation, which nobody has
        found = str(asked.getsockname()[0])
    if found.startswith("127.") or found == "0.0.0.0":
        raise OSError("no network")
    return found
