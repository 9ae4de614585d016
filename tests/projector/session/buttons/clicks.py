"""Hands that have nothing but a mouse: they click buttons by what these say, and places in the picture."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from projector.session.buttons.button import Button, boxes
from projector.session.buttons.under import WithButtons


@dataclass(frozen=True)
class Mouse:
    """A mouse over a host with buttons; ``buttons`` gives those that it shows now."""

    host: WithButtons
    buttons: Callable[[], Sequence[Button]]

    def on(self, says: str, quiet_s: float = 2.0) -> bool:
        """Click the button that says this; whether anything changed."""
        width, height = self.host.size_px
        above = self.host.inner.size_px[1]
        shown = self.buttons()
        assert says in [button.says for button in shown], f"no button says {says}: {[b.says for b in shown]}"
        number = [button.says for button in shown].index(says)
        left, upper, right, lower = boxes(shown, width, height - above)[number]
        return self.host.click(((left + right) // 2, above + (upper + lower) // 2), quiet_s)
