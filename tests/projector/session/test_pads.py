"""A game controller's cross and buttons, each by its name, as the keys they stand for."""

from __future__ import annotations

import pygame
import pytest

from projector.session.actions import Action
from projector.session.keys import (
    DEFAULT_KEYS,
    MOST_BUTTONS,
    PAD_KEYS,
    PAD_NAMES,
    action_for,
    button_name,
    cross_name,
    key_of,
    pad_keys,
)
from projector.session.windows.events import pressed_name


def test_every_key_that_a_button_stands_for_means_something() -> None:
    assert set(PAD_KEYS) <= set(PAD_NAMES)
    asked = {pad: action_for(key) for pad, key in PAD_KEYS.items()}
    assert Action.ANY_OTHER not in asked.values()
    assert (asked["Pad1"], asked["Pad2"], asked["Pad3"]) == (Action.NEXT_STOP, Action.PREVIOUS_STOP, Action.DARK)
    # No button ticks a cut at one press.
    assert Action.CUT_DONE not in asked.values()


@pytest.mark.parametrize("name", PAD_NAMES)
def test_every_button_can_be_written_in_a_keys_file(name: str) -> None:
    assert key_of(name) == name
    assert key_of(name.lower().replace("pad", "pad ")) == name


def test_a_button_that_a_keys_file_names_no_longer_stands_for_its_key() -> None:
    keys = {**DEFAULT_KEYS, "Pad1": Action.UNDO}
    assert "Pad1" not in pad_keys(keys)
    assert pad_keys(keys)["Pad2"] == "PageUp"
    assert pad_keys(DEFAULT_KEYS) == PAD_KEYS


@pytest.mark.parametrize(
    ("value", "name"),
    [
        ((-1, 0), "PadLeft"),
        ((1, 0), "PadRight"),
        ((0, 1), "PadUp"),
        ((0, -1), "PadDown"),
        ((0, 0), None),
        ((1, 1), None),
    ],
)
def test_the_cross_has_four_ways_and_none_aslant(value: tuple[int, int], name: str | None) -> None:
    assert cross_name(*value) == name
    event = pygame.Event(pygame.JOYHATMOTION, value=value, hat=0, instance_id=0)
    assert pressed_name(event, {}) == name
    assert pressed_name(event, PAD_KEYS) == (PAD_KEYS[name] if name else None)


def test_buttons_are_counted_from_one() -> None:
    assert [button_name(number) for number in (0, MOST_BUTTONS - 1)] == ["Pad1", f"Pad{MOST_BUTTONS}"]
    event = pygame.Event(pygame.JOYBUTTONDOWN, button=0, instance_id=0)
    assert (pressed_name(event, PAD_KEYS), pressed_name(event, {})) == ("PageDown", "Pad1")
