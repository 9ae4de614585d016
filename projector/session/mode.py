"""What a window runs: one mode each for cutting, calibrating and the tape check.

A mode has a state, one frozen value on which everything depends; a reducer, which makes of a state and an action the
next state and what must be kept of it (pure); a scene, what is lit for a state; and words, what is published of it. An
action is the same from a key, a click, a remote, a pedal or another process. What must be kept is on the disk before
anything of it is shown.
"""

from __future__ import annotations

import time
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import field
from typing import Any, Generic, Protocol, TypeVar

import numpy as np
from numpy.typing import NDArray

from calibration.table import Table
from jobs.journal.cannot import CannotRecord
from jobs.model.records import dataclass
from projector.files.write import CannotWrite
from projector.light.raster.canvas import Canvas
from projector.light.styles import STYLES, Style
from projector.light.warp import draw
from projector.papers.drawing import Drawing
from projector.scene.marks import Kind, Scene
from projector.scene.moved import NOTHING_UNDER, MovedScene
from projector.session.actions import Action, AnyAction, Offers, Pointed, written
from projector.session.card import Card, lay_card
from projector.session.keys import keys_for
from projector.session.layout import Lines

Pixels = NDArray[np.uint32]
"""A frame (height, width) of packed 0x00RRGGBB pixels."""
Json = dict[str, Any]

State = TypeVar("State")
Event = TypeVar("Event")


@dataclass(frozen=True, eq=False)
class Lit:
    """What is lit: a scene in inches of the table, what it is seen through, and how each kind of mark looks.

    ``under`` it lies another that is moved as a whole, so that a key that only moves it need not lay it out again.
    """

    over: Scene
    table: Table
    styles: Mapping[Kind, Style] = field(default_factory=lambda: STYLES)
    width_factor: float = 1.0
    under: MovedScene = NOTHING_UNDER

    @property
    def scene(self) -> Scene:
        """Everything that is lit, in one."""
        return Scene((*self.under.marks, *self.over.marks))


class Mode(ABC, Generic[State, Event]):
    """One kind of work at the table, begun; ``state`` is how it stands now."""

    def __init__(self, state: State, size_px: tuple[int, int], gamma: float = 2.2) -> None:
        self.state = state
        self.size_px = size_px
        self._canvas = Canvas(*size_px, gamma)
        self._painted: State | None = None
        self.card: Card = ()

    @property
    @abstractmethod
    def finished(self) -> bool:
        """Whether the window is to be closed."""

    @property
    @abstractmethod
    def keys(self) -> Mapping[str, AnyAction]:
        """What each key asks for as things stand."""

    @property
    @abstractmethod
    def offers(self) -> Offers:
        """What is asked for most as things stand, in few words; the one that goes on first."""

    @abstractmethod
    def reduce(self, action: AnyAction, quiet_s: float) -> tuple[State, tuple[Event, ...]]:
        """What an action makes of the state, and what must be kept before that is shown. Pure."""

    @abstractmethod
    def lit(self) -> Lit:
        """What is lit now. Pure."""

    @abstractmethod
    def publish(self) -> Json:
        """The state as JSON values, for whoever shows it elsewhere. Pure."""

    def pictures(self) -> Callable[[], Mapping[str, Drawing]]:
        """What draws the pictures that go with the state as it is now, by name; called in another thread."""
        return dict

    @abstractmethod
    def keep(self, event: Event, state: State) -> State:
        """Bring an event to the disk; the state, in which more may be said.

        Raises CannotRecord, CannotWrite, OSError.
        """

    @abstractmethod
    def refused(self, fault: CannotRecord | CannotWrite | OSError) -> State:
        """The state as it was, with what kept the change from being kept. Pure."""

    def act(self, action: AnyAction, quiet_s: float) -> bool:
        """Take one action, ``quiet_s`` after the last change of the light or action; tell whether to paint anew."""
        was = self.state
        state, events = self.reduce(action, quiet_s)
        try:
            for event in events:
                state = self.keep(event, state)
        except (CannotRecord, CannotWrite, OSError) as fault:
            state = self.refused(fault)
        if state == was:
            return False
        self.state = state
        return True

    def told(self, work: str, page: str, text: Lines, *, dark: bool) -> Json:
        """What every mode publishes: its name, what is lit, the words there, what is offered, whether it is over."""
        return {
            "work": work,
            "page": page,
            "dark": dark,
            "over": self.finished,
            "text": [{"says": said, "size": size} for said, size in text],
            "offers": [
                {"action": written(action), "says": says, "keys": list(keys_for(action, self.keys))}
                for says, action in self.offers
            ],
        }

    def interrupted(self, why: str) -> bool:
        """The computer slept, or the projector was away; tell whether to paint anew."""
        return False

    def action_for(self, key: str) -> AnyAction:
        """What a key asks for; one without a meaning still counts as "any key"."""
        return self.keys.get(key, Action.ANY_OTHER)

    def action_at(self, pixel: tuple[int, int]) -> AnyAction | None:
        """What a click on a pixel of the frame asks for."""
        return Pointed((pixel[0] + 0.5, pixel[1] + 0.5))

    @property
    def mode(self) -> Mode[State, Event]:
        """Itself: on a whole screen a mode is shown as it is."""
        return self

    def paint(self, pixels: Pixels) -> None:
        """Write the frame into (height, width) pixels; drawn anew only when the state is another."""
        if self.state is not self._painted:
            lit = self.lit()
            draw(lit.over, lit.table, self._canvas, styles=lit.styles, width_factor=lit.width_factor, under=lit.under)
            self._painted = self.state
        self._canvas.into(pixels)
        # What is dark stays dark, whoever asks for light.
        if self.card and pixels.any():
            lay_card(pixels, self.card, self.lit().table)


class Showing(Protocol):
    """How a mode is seen in a window: as it is, or on the simulated table."""

    @property
    def mode(self) -> Mode[Any, Any]: ...

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height of what it paints."""

    def action_at(self, pixel: tuple[int, int]) -> AnyAction | None:
        """What a click on a pixel asks for; None: nothing."""

    def paint(self, pixels: Pixels) -> None:
        """Write the picture into (height, width) pixels."""


OnFrame = Callable[[Pixels], None]
"""Sees each frame that was shown."""


class Link(Protocol):
    """Others beside the person at the keyboard: a page, a phone. One order of actions holds, and all see each state.

    None of it may keep the light waiting.
    """

    def open(self, ask: Callable[[str, int | None], None]) -> None:
        """Work begins: ``ask``, called from any thread, asks for an action by its name, and raises UnknownAction.

        With the number of the place that the asker saw, the action is taken only while the light is still there.
        ``card ROWS`` lights a code for a phone beside all else, ``card`` alone takes it away.
        """

    def tell(self, state: Json, draw: Callable[[], Mapping[str, Drawing]]) -> None:
        """What is so now, after each change: as the mode publishes it; ``projector``: words while it is away; ``seen``:
        the number of the place, another one as soon as something else is asked or lit; ``late``: an action was asked
        for a place that is left. ``draw`` draws the pictures that go with it.
        """

    def close(self) -> None:
        """Work has ended."""


@dataclass(frozen=True)
class Rim:
    """Where and how a mode is run: on which screen, with sound or without, who else is told and may ask.

    ``display`` is a number from 1 or a name (None: the last). ``on_frame`` sees every frame as it is shown,
    ``on_light`` what a simulated projector throws, of which the window shows the table; ``clock`` tells the time,
    seconds.
    """

    display: int | str | None = None
    sound: bool = False
    link: Link | None = None
    on_frame: OnFrame | None = None
    on_light: OnFrame | None = None
    clock: Callable[[], float] = time.monotonic


USUAL = Rim()
