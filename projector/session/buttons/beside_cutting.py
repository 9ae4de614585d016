"""The bench screen beside the table: list, piece, pair and numbers of the session, with buttons at its foot."""

from __future__ import annotations

from datetime import date

from projector.session.bench.parts import PAPER
from projector.session.buttons.button import Button, button_at, strip_height
from projector.session.buttons.cutting import cutting_buttons
from projector.session.buttons.painted import strip_pixels
from projector.session.cutting.host import Cutting
from projector.session.host import Pixels
from projector.session.state.pages import Layer, Page

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
        session = self.cutting.session
        points = None if session.marking is None else len(session.marking.points)
        state = (
            session.at,
            session.done,
            session.page,
            session.answered,
            session.dark,
            session.trouble,
            points,
            len(session.layings),
            Layer.CUT_LINES in session.hidden,
        )
        return state, self.cutting.table, date.today(), self._words, self._buttons()

    def tell(self, words: str) -> None:
        self._words = words

    def paint(self, pixels: Pixels, light: Pixels) -> None:
        height, width = pixels.shape
        pixels[:] = int(PAPER[1:], 16)
        if width < LEAST_PX[0] or height < LEAST_PX[1]:
            return
        strip = strip_height(height)
        pixels[: height - strip] = self.cutting.bench_screen(
            (width, height - strip), with_keys=False, alert=self._words
        )
        pixels[height - strip :] = strip_pixels(self._buttons(), width, strip)

    def click(self, pixel: tuple[int, int], size_px: tuple[int, int], quiet_s: float) -> bool:
        width, height = size_px
        strip = strip_height(height)
        pressed = button_at(self._buttons(), width, strip, (pixel[0], pixel[1] - (height - strip)))
        return self.cutting.key(pressed.key, quiet_s) if pressed else False

    def _buttons(self) -> tuple[Button, ...]:
        """While the projector is away only leaving can be asked for: nobody would see what the others do."""
        found = cutting_buttons(self.cutting.session, self.cutting.bench.keys)
        if self._words and self.cutting.session.page is not Page.LEAVE:
            return tuple(button for button in found if button.says == "leave")
        return found
