"""What is heard: each thing its own sound, nothing unless asked for, and no complaint where there is no loudspeaker."""

from __future__ import annotations

import os
from itertools import combinations

import numpy as np
import pytest

from projector.session.actions import Action
from projector.session.cutting.journal import Event
from projector.session.sounds import LOUD, NOTES, RATE_HZ, Sound, samples_of
from projector.session.windows.speaker import Speaker, speaking
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import cutting_of
from tests.projector.session.tables import table_of


def heard_by(*presses: Action, quiet_s: float = 2.0, full_disk: bool = False) -> list[Sound]:
    def record(event: Event) -> None:
        if full_disk:
            raise OSError(28, "No space left on device")

    table = table_of(960, 540)
    cutting = cutting_of(plan_of(1, 1), table, record)
    heard: list[Sound] = []
    cutting.heard = heard.append
    cutting.act(Action.NEXT_STOP, 2.0)
    for action in presses:
        cutting.act(action, quiet_s)
    return heard


def test_a_tick_and_one_taken_back_are_heard_and_nothing_else_of_an_ordinary_job() -> None:
    assert heard_by(Action.NEXT_STOP, Action.PREVIOUS_STOP, Action.ROWS, Action.LIGHT_LEFT, Action.HELP) == []
    assert heard_by(Action.NEXT_STOP, Action.NEXT_STOP) == [Sound.DONE]
    assert heard_by(Action.CUT_DONE, Action.PREVIOUS_STOP, Action.UNDO) == [Sound.DONE, Sound.TAKEN_BACK]
    assert heard_by(Action.LIGHT_LEFT, Action.UNDO) == [Sound.TAKEN_BACK]


def test_what_is_refused_is_heard() -> None:
    assert heard_by(Action.UNDO) == [Sound.REFUSED]
    # Too quick after the question came up.
    assert heard_by(Action.NEXT_STOP, Action.NEXT_STOP, quiet_s=0.1) == [Sound.REFUSED]
    assert heard_by(Action.CUT_DONE, full_disk=True) == [Sound.REFUSED]


@pytest.mark.parametrize("sound", list(Sound))
def test_a_sound_is_short_never_too_loud_and_ends_without_a_click(sound: Sound) -> None:
    samples = samples_of(sound).astype(float)
    assert 0.1 <= len(samples) / RATE_HZ <= 0.5
    assert abs(len(samples) / RATE_HZ - sum(length for _, length in NOTES[sound])) < 0.001
    assert np.abs(samples).max() <= LOUD * 32767
    assert np.abs(samples).max() > 0.9 * LOUD * 32767
    assert abs(samples[0]) < 50
    assert abs(samples[-1]) < 50


@pytest.mark.parametrize("sound", list(Sound))
def test_each_note_has_its_pitch(sound: Sound) -> None:
    at = 0
    for pitch, length in NOTES[sound]:
        note = samples_of(sound)[at : at + round(length * RATE_HZ)].astype(float)
        at += len(note)
        if pitch:
            # The strongest frequency of a note of length t is told to within 1 / t.
            strongest = np.argmax(np.abs(np.fft.rfft(note))) / length
            assert abs(strongest - pitch) <= 1 / length


def test_no_two_sounds_are_alike() -> None:
    for one, other in combinations(Sound, 2):
        assert not np.array_equal(samples_of(one), samples_of(other))


def test_where_there_is_no_loudspeaker_nothing_is_heard_and_nothing_fails(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("SDL_AUDIODRIVER", "no such driver")
    speaker = Speaker()
    assert not speaker.works
    speaker.play(Sound.DONE)
    speaker.close()
    os.write(2, b"heard again\n")
    assert capfd.readouterr().err == "heard again\n"


def test_a_loudspeaker_plays_each_sound(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    speaker = Speaker()
    assert speaker.works
    for sound in Sound:
        speaker.play(sound)
    speaker.close()


def test_no_sound_is_made_unless_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_AUDIODRIVER", "dummy")
    with speaking(wanted=False) as heard:
        assert heard is None
    with speaking(wanted=True) as heard:
        assert heard is not None
        heard(Sound.DONE)
