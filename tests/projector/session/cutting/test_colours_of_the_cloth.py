"""The session lights the cloth in the colours that show best on it, and the colour key steps to the next best."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from projector.light.choosing import ranked_choices
from projector.light.styles import WHITE, letter_colour
from projector.scene.marks import Kind
from projector.session.actions import Action
from projector.session.cutting.doubts import room_of_job
from projector.session.cutting.light import choice_at
from projector.session.cutting.mode import Cutting
from projector.session.cutting.state import setup_of
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import cutting_of
from tests.projector.session.tables import table_of

SIZE = (640, 360)
REST_S = 2.0


def session_on(ground: str) -> Cutting:
    plan = plan_of(2, 1)
    cloth = replace(plan.job.cloth, colour=ground)
    plan = plan.with_job(replace(plan.job, cloth=cloth))
    table = table_of(*SIZE)
    # No line is doubted here, or none would be lit as a cut line.
    cutting = cutting_of(replace(setup_of(plan, table), doubt=None))
    cutting.act(Action.NEXT_STOP, REST_S)
    return cutting


def frame(cutting: Cutting) -> np.ndarray:
    pixels = np.zeros(SIZE[::-1], np.uint32)
    cutting.paint(pixels)
    return pixels


def lit_in(pixels: np.ndarray, colour: int) -> np.ndarray:
    """Where pixels are lit in a colour, at whatever share of its full value: a thin line seldom has all of it."""
    wanted = np.array([colour >> shift & 255 for shift in (16, 8, 0)], float)
    held = np.stack([pixels >> shift & 255 for shift in (16, 8, 0)], axis=-1).astype(float)
    share = held.max(axis=-1) / wanted.max()
    return (share > 0.3) & (np.abs(held - share[..., None] * wanted) <= 1.0).all(axis=-1)


def test_the_first_colours_are_the_best_for_the_cloth_and_the_key_steps_to_the_next() -> None:
    job = session_on("#5a6672").state.setup.plan.job
    ranked = ranked_choices("#5a6672")
    assert [choice_at(job, presses) for presses in range(len(ranked) + 1)] == [*ranked, ranked[0]]


def test_the_cut_line_is_lit_in_the_chosen_colour_on_every_cloth() -> None:
    for ground in ("#f4efe6", "#202428", "#7a1f2b"):
        cutting = session_on(ground)
        choice = choice_at(cutting.state.setup.plan.job, 0)
        assert lit_in(frame(cutting), choice.styles[Kind.CUT].colour).any()


def test_letters_are_lit_in_what_reads_best_whatever_they_belong_to() -> None:
    for ground in ("#5d2f4f", "#f4efe6", "#7a1f2b"):
        job = session_on(ground).state.setup.plan.job
        for presses in range(3):
            styles = choice_at(job, presses).styles
            assert letter_colour(styles) == styles[Kind.TOP].colour == WHITE


def test_dark_is_dark() -> None:
    cutting = session_on("#5a6672")
    assert frame(cutting).any()
    cutting.act(Action.DARK, REST_S)
    assert not frame(cutting).any()
    cutting.act(Action.DARK, REST_S)
    assert frame(cutting).any()


def test_a_cloth_that_swallows_light_is_told_how_dark_the_room_must_be() -> None:
    assert room_of_job(session_on("#5a6672").state.setup.plan.job) == ""
    said = room_of_job(session_on("#202428").state.setup.plan.job)
    # Reckoned 175 lx: told in whole tens, rounded down.
    assert said.endswith("Darken the room to 170 lx or less (now 300), or widen the lines (+).")


def test_the_colour_key_says_which_set_is_lit_until_the_next_key() -> None:
    cutting = session_on("#5a6672")
    count = len(ranked_choices("#5a6672"))
    cutting.act(Action.COLOURS, REST_S)
    assert cutting.state.status.startswith(f"colours 2 of {count}: cut lines ")
    assert cutting.state.status.endswith(" times as bright as the cloth beside them")
    cutting.act(Action.UNDO, REST_S)
    assert cutting.state.status == "taken back: the colours"
    cutting.act(Action.ANY_OTHER, REST_S)
    assert cutting.state.status == ""
