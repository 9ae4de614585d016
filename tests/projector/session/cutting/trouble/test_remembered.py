"""The light as a person set it is there for the next session on the same job; cut lines always begin lit."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest

from projector.files.settings import light_or_usual, light_path, read_light
from projector.files.write import CannotWrite
from projector.scene.marks import Kind, Text
from projector.session.actions import Action
from projector.session.cutting import light as light_module
from projector.session.cutting.light import LAYER_NAMES, WIDEST, Layer, Light, Motion, keep_light, light_of, settings_of
from projector.session.cutting.mode import Cutting
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, at_work, begun, cutting_of, lit, setup
from tests.projector.session.tables import table_of

REST_S = 9.0


def cutting_beside(job: Path) -> Cutting:
    settings, said = light_or_usual(light_path(job), LAYER_NAMES)
    assert said == ""
    keep = partial(keep_light, light_path(job))
    return cutting_of(plan_of(3, 1), keep_light=keep, light=light_of(settings))


def test_layers_widths_and_colours_are_there_for_the_next_session_and_said(tmp_path: Path) -> None:
    job = tmp_path / "den.yaml"
    first = cutting_beside(job)
    for action in (Action.ANY_OTHER, Action.ROWS, Action.LETTERS, Action.CUT_LINES, Action.WIDER, Action.COLOURS):
        first.act(action, REST_S)
    first.act(Action.LIGHT_RIGHT, REST_S)
    again = cutting_beside(job)
    assert again.state.light == Light(Motion(), frozenset({Layer.ROWS, Layer.LETTERS}), 1, 1)
    again.act(Action.ANY_OTHER, REST_S)
    assert again.state.status == "dark as you left them: rows and columns, letters"
    assert again.lit().scene.of(Kind.CUT, Kind.CUT_DOUBTFUL)
    again.act(Action.ROWS, REST_S)
    assert read_light(light_path(job), LAYER_NAMES).dark == ("letters",)


def test_undo_is_remembered_too(tmp_path: Path) -> None:
    job = tmp_path / "den.yaml"
    cutting = cutting_beside(job)
    for action in (Action.ANY_OTHER, Action.ROWS, Action.UNDO):
        cutting.act(action, REST_S)
    assert read_light(light_path(job), LAYER_NAMES).dark == ()


def test_moving_the_light_writes_nothing(tmp_path: Path) -> None:
    job = tmp_path / "den.yaml"
    cutting = cutting_beside(job)
    for action in (Action.ANY_OTHER, Action.LIGHT_RIGHT, Action.CUT_LINES, Action.CUT_DONE):
        cutting.act(action, REST_S)
    assert not light_path(job).exists()


def test_where_it_cannot_be_written_work_goes_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(path: Path, settings: object) -> None:
        raise CannotWrite(path, "full", "make room")

    monkeypatch.setattr(light_module, "write_light", refuse)
    cutting = cutting_beside(tmp_path / "den.yaml")
    for action in (Action.ANY_OTHER, Action.ROWS):
        cutting.act(action, REST_S)
    assert cutting.state.light.hidden == {Layer.ROWS}


def test_a_session_never_begins_with_its_cut_lines_dark() -> None:
    light = Light(hidden=frozenset({Layer.CUT_LINES, Layer.PINS}))
    assert begun(plan_of(), light=light).light.hidden == {Layer.PINS}
    assert "cut lines" not in LAYER_NAMES


def test_widths_beyond_the_keys_are_brought_within() -> None:
    settings = replace(settings_of(Light()), wider=900)
    assert light_of(settings).width_step == WIDEST


def test_every_layer_has_a_switch_in_the_scene() -> None:
    for layer in Layer:
        assert Light(hidden=frozenset({layer})).layers != Light().layers


def test_while_cut_lines_are_dark_the_light_says_so_in_large_letters() -> None:
    table = table_of(960, 540)
    cutting = cutting_of(plan_of(3, 1), table)
    for action in (Action.ANY_OTHER, Action.CUT_LINES, Action.NEXT_CUT, Action.NEXT_CUT):
        cutting.act(action, REST_S)
    assert not cutting.lit().scene.of(Kind.CUT, Kind.CUT_DOUBTFUL)
    said = [mark for mark in cutting.lit().scene.marks if isinstance(mark, Text) and mark.height > 0.5]
    joined = " ".join(mark.text for mark in said)
    assert "CUT LINES ARE DARK: C lights them" in " ".join(joined.split())
    cutting.act(Action.CUT_LINES, REST_S)
    assert cutting.lit().scene.of(Kind.CUT, Kind.CUT_DOUBTFUL)


def test_on_however_small_a_light_it_is_said_too() -> None:
    plan, area = plan_of(3, 1), ((0.0, 0.0), (9.0, 0.0), (9.0, 6.0), (0.0, 6.0))
    session = after(at_work(3, 1), Action.CUT_LINES)[0]
    said = " ".join(
        mark.text for mark in lit(replace(session, setup=setup(plan, area))).marks if isinstance(mark, Text)
    )
    assert "CUT LINES ARE DARK" in said
