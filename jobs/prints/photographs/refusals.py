"""What keeps a print from being measured, in words for the person."""

from __future__ import annotations


class PhotoRefused(Exception):  # noqa: N818 - says what happened
    """The picture cannot be used; ``what`` is wrong and ``advice`` on what to do instead."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}; {advice}")
        self.what = what
        self.advice = advice


class NoPrint(PhotoRefused):
    """The picture is sound but shows no print that comes again often enough."""
