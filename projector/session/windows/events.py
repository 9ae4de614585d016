"""What pygame reports, as names of keys: from the keyboard, a remote, a pedal or a game controller."""

from __future__ import annotations

from collections.abc import Mapping

import pygame

from projector.session.keys import button_name, cross_name, key_name

PRESSED = frozenset((pygame.KEYDOWN, pygame.JOYBUTTONDOWN, pygame.JOYHATMOTION))
LET_GO = frozenset((pygame.KEYUP, pygame.JOYBUTTONUP, pygame.WINDOWFOCUSLOST))
CLOSED = frozenset((pygame.QUIT, pygame.WINDOWCLOSE))
REPAINT = frozenset(
    (pygame.WINDOWEXPOSED, pygame.WINDOWSHOWN, pygame.WINDOWRESTORED, pygame.WINDOWSIZECHANGED, pygame.VIDEOEXPOSE)
)
ASKED = pygame.event.custom_type()
"""An ``action`` asked for by another process."""
MOVED = frozenset((pygame.WINDOWMOVED, pygame.WINDOWDISPLAYCHANGED, pygame.WINDOWSIZECHANGED))
"""What a window reports when its screen is unplugged, comes back or is set otherwise."""


def pressed_name(event: pygame.Event, pads: Mapping[str, str]) -> str | None:
    """The name of the key that an event presses, a controller's as ``pads`` says; None when it presses none."""
    if event.type == pygame.JOYBUTTONDOWN:
        name: str | None = button_name(event.button)
    elif event.type == pygame.JOYHATMOTION:
        name = cross_name(*event.value)
    else:
        name = _keyboard_name(event)
    return None if name is None else pads.get(name, name)


def _keyboard_name(event: pygame.Event) -> str | None:
    mods = getattr(event, "mod", 0)
    return key_name(
        pygame.key.name(event.key),
        getattr(event, "unicode", ""),
        shift=bool(mods & pygame.KMOD_SHIFT),
        ctrl=bool(mods & pygame.KMOD_CTRL),
        alt=bool(mods & (pygame.KMOD_LALT | pygame.KMOD_META)),
    )


class Controllers:
    """The game controllers that are plugged in, opened as they come; none and no complaint where there can be none."""

    def __init__(self) -> None:
        self._open: dict[int, pygame.joystick.JoystickType] = {}
        try:
            pygame.joystick.init()
        except pygame.error:
            return
        for index in range(pygame.joystick.get_count()):
            self._opened(index)

    def notice(self, event: pygame.Event) -> None:
        """Open a controller that was plugged in, let go one that was pulled out."""
        if event.type == pygame.JOYDEVICEADDED:
            self._opened(event.device_index)
        elif event.type == pygame.JOYDEVICEREMOVED:
            self._open.pop(event.instance_id, None)

    def _opened(self, index: int) -> None:
        try:
            stick = pygame.joystick.Joystick(index)
        except pygame.error:
            return
        self._open[stick.get_instance_id()] = stick

    def close(self) -> None:
        """Let all go."""
        self._open.clear()
        pygame.joystick.quit()
