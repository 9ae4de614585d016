"""The place Cut: what a person at the table looks up to see, whatever is lit."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from projector.page.places.light import PARTS, light_parts
from projector.session.actions import Action
from projector.session.cutting.journal import not_kept
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from projector.session.cutting.state import Session
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, at_work, begun

REAL = {"work": "cutting", "simulated": False}
LOOP = {"projector": "", "seen": 1, "late": False}
"""What the loop tells besides what the mode publishes."""


def parts(session: Session, about: dict[str, Any] = REAL, **more: Any) -> dict[str, str]:
    return light_parts(about, Cutting(session, not_kept).publish() | LOOP | more, {}, "")


def words(html: str) -> str:
    return " ".join(re.sub(r"<[^>]*>", " ", html).split())


def test_window_and_hand_stand_largest_then_number_length_and_where_top_lies() -> None:
    now = parts(at_work())["now"]
    assert '<h1 class="huge">Window 1, left</h1>' in now
    assert "1 of 1 &middot; <b>80 in</b> &middot; TOP left &middot; row at 5 in" in now
    assert "Stop 1 of 6, 1 of 2 of this cut: top lit. 3 cuts to do. Next: Window 1, right, 1 of 1." in words(now)


def test_the_list_tells_done_now_next_and_later() -> None:
    listed = parts(begun(plan_of(cuts=4), ["cut-1"]))["todo"]
    assert re.findall(r"<b>(\w+)</b><span>([^<]*)", listed) == [
        ("done", "Window 1, left, 1 of 1"),
        ("now", "Window 1, right, 1 of 1"),
        ("next", "Window 2, left, 1 of 1"),
        ("later", "Window 2, right, 1 of 1"),
    ]


def test_a_cut_that_is_done_or_not_in_turn_is_told() -> None:
    done = replace(at_work(done=("cut-1",)), at=0, page=Page.STOP)
    assert "It is cut already." in words(parts(done)["now"])
    early = replace(at_work(), at=4)
    assert "Not in turn: Window 1, left, 1 of 1 comes first." in words(parts(early)["now"])


def test_the_distance_to_pull_stands_there_until_it_is_done() -> None:
    pulled, _ = after(at_work(), Action.NEXT_STOP)
    assert "Pull the cloth 38 in to the left" in words(parts(pulled)["now"])
    assert "Pull" not in words(parts(after(pulled, Action.PULLED)[0])["now"])


def test_cut_lines_that_are_dark_are_told_until_they_are_lit() -> None:
    dark, _ = after(at_work(), Action.CUT_LINES)
    assert "The cut lines are dark." in words(parts(dark)["now"])
    assert "dark" not in words(parts(after(dark, Action.CUT_LINES)[0])["now"]).replace("dark to", "")


def test_what_is_well_and_what_to_look_at_are_told_apart_by_a_word() -> None:
    # The table of tests has no date, and its cut lines are not doubted.
    checks = parts(at_work())["checks"]
    assert re.findall(r'class="check (\w+)"><b>(\w+):</b> (\w+ ?\w*)', checks) == [
        ("look", "Look", "Calibration of"),
        ("good", "Well", "Cut lines"),
        ("look", "Look", "Cloth not"),
    ]


def test_a_projector_that_is_away_is_told_first() -> None:
    away = "The projector (lamp) is gone. See to its cable and switch it on. What is ticked is kept."
    now = parts(at_work(), projector=away)["now"]
    assert now.strip().startswith(f'<p class="alarm" role="alert">{away}</p>')


def test_each_part_has_its_place_with_a_light_or_without() -> None:
    assert set(parts(at_work())) == set(light_parts(None, {}, {}, "none is on")) == {*PARTS, "idle"}


def test_a_light_that_is_moved_by_pointing_is_shown_to_be_pointed_at() -> None:
    state = {"work": "calibrating", "offers": [], "text": [], "typing": "", "page": "pointing", "dark": False}
    seen = light_parts({"work": "calibrating", "simulated": False}, state | LOOP, {}, "")["view"]
    assert 'id="seen"' in seen
    assert "click where the cross of light shall go" in seen
    assert 'id="seen"' not in parts(at_work())["view"]
