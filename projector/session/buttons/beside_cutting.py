"""The bench screen beside the table: list, piece, pair and numbers of the session, with buttons at its foot."""

from __future__ import annotations

from datetime import date

from projector.session.actions import Action, AnyAction
from projector.session.bench.drawing import bench_screen
from projector.session.buttons.button import Button, button_at, buttons_of, strip_height
from projector.session.buttons.painted import strip_pixels
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from projector.session.cutting.pictures import PAPER
from projector.session.mode import Pixels

LEAST_PX = (160, 120)
"""In a smaller window nothing could be read; it stays dark."""


class BenchBeside:
    """What stands on the laptop's own screen while a session lights the table."""

    def __init__(self, cutting: Cutting) -> None:
        self.cutting = cutting
        cutting.bench_is_beside = True
        self._words = ""

    def shows(self) -> object:
        """Not where the light was moved to, nor its colours: with these the bench screen does not change."""
        session = self.cutting.state
        points = None if session.marking is None else len(session.marking.points)
        state = (
            session.at,
            session.done,
            session.page,
            session.answered,
            session.dark,
            session.trouble,
            points,
            len(session.registered),
            session.cut_lines_are_dark,
        )
        return state, session.setup, date.today(), self._words, self._buttons()

    def tell(self, words: str) -> None:
        self._words = words

    def paint(self, pixels: Pixels, light: Pixels) -> None:
        height, width = pixels.shape
        pixels[:] = int(PAPER[1:], 16)
        if width < LEAST_PX[0] or height < LEAST_PX[1]:
            return
        strip = strip_height(height)
        pixels[: height - strip] = bench_screen(
            self.cutting.state, (width, height - strip), with_keys=False, alert=self._words
        )
        pixels[height - strip :] = strip_pixels(self._buttons(), width, strip)

    def action_at(self, pixel: tuple[int, int], size_px: tuple[int, int]) -> AnyAction | None:
        width, height = size_px
        strip = strip_height(height)
        pressed = button_at(self._buttons(), width, strip, (pixel[0], pixel[1] - (height - strip)))
        return self.cutting.action_for(pressed.key) if pressed else None

    def _buttons(self) -> tuple[Button, ...]:
        """While the projector is away only leaving can be asked for: nobody would see what the others do."""
        found = buttons_of(self.cutting)
        if self._words and self.cutting.state.page is not Page.LEAVE:
            return tuple(button for button in found if self.cutting.action_for(button.key) is Action.LEAVE)
        return found
