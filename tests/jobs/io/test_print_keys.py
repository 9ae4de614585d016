"""The print: stated, named as a plane group, or inferred where that is certain.

Groups: International Tables for Crystallography, vol. A, the 17 plane groups; their mirror and glide lines from memory.
"""

from __future__ import annotations

import pytest

from jobs.model.choices import Symmetry
from jobs.model.groups import GROUPS
from jobs.model.print import Print
from jobs.model.problems import Code
from tests.jobs.io.texts import changed, job_of, only_problem_of

NONE, MIRROR, GLIDE = Symmetry.NONE, Symmetry.MIRROR, Symmetry.GLIDE


def with_print(keys: str) -> str:
    return changed("{top_to_bottom: mirror, mirror_offset: 2}", "{" + keys + "}")


def read(keys: str) -> tuple[Symmetry, Symmetry, bool]:
    sheet: Print = job_of(with_print(keys)).cloth.print
    return sheet.top_to_bottom, sheet.side_to_side, sheet.half_turn


@pytest.mark.parametrize(
    ("keys", "meant"),
    [
        ("", (NONE, NONE, False)),
        ("half_turn: yes", (NONE, NONE, True)),
        ("top_to_bottom: mirror", (MIRROR, NONE, False)),
        ("side_to_side: glide", (NONE, GLIDE, False)),
        ("top_to_bottom: mirror, side_to_side: mirror", (MIRROR, MIRROR, True)),
        ("top_to_bottom: glide, side_to_side: mirror", (GLIDE, MIRROR, True)),
        ("top_to_bottom: mirror, half_turn: yes", (MIRROR, MIRROR, True)),
        ("top_to_bottom: mirror, side_to_side: glide, half_turn: yes", (MIRROR, GLIDE, True)),
        ("group: p1", (NONE, NONE, False)),
        ("group: p3", (NONE, NONE, False)),
        ("group: p2", (NONE, NONE, True)),
        ("group: p4", (NONE, NONE, True)),
        ("group: p6", (NONE, NONE, True)),
        ("group: pm, top_to_bottom: mirror", (MIRROR, NONE, False)),
        ("group: pm, top_to_bottom: none", (NONE, MIRROR, False)),
        ("group: pm, side_to_side: mirror", (NONE, MIRROR, False)),
        ("group: pg, side_to_side: none", (GLIDE, NONE, False)),
        ("group: cm, top_to_bottom: mirror", (MIRROR, NONE, False)),
        ("group: cm, top_to_bottom: glide", (MIRROR, NONE, False)),
        ("group: cm, side_to_side: mirror", (NONE, MIRROR, False)),
        ("group: pmm", (MIRROR, MIRROR, True)),
        ("group: CMM", (MIRROR, MIRROR, True)),
        ("group: p4m", (MIRROR, MIRROR, True)),
        ("group: p6mm", (MIRROR, MIRROR, True)),
        ("group: pmg, top_to_bottom: glide", (GLIDE, MIRROR, True)),
        ("group: pmg, side_to_side: glide, half_turn: yes", (MIRROR, GLIDE, True)),
        ("group: pgg", (GLIDE, GLIDE, True)),
        ("group: p4g", (GLIDE, GLIDE, True)),
        ("group: p3m1, top_to_bottom: mirror", (MIRROR, NONE, False)),
        ("group: p31m, top_to_bottom: none", (NONE, MIRROR, False)),
    ],
)
def test_a_print_has_the_symmetry_that_is_stated_or_follows(keys: str, meant: tuple[Symmetry, Symmetry, bool]) -> None:
    assert read(keys) == meant


def test_there_are_seventeen_groups() -> None:
    assert len(GROUPS) == 17


@pytest.mark.parametrize("group", sorted(GROUPS))
def test_two_of_the_three_symmetries_bring_the_third_in_every_group(group: str) -> None:
    for setting in GROUPS[group]:
        has = [setting.top_to_bottom is not NONE, setting.side_to_side is not NONE, setting.half_turn]
        assert sum(has) != 2


@pytest.mark.parametrize(
    ("keys", "code", "key"),
    [
        (
            "top_to_bottom: mirror, side_to_side: mirror, half_turn: no",
            Code.HALF_TURN_CONTRADICTS,
            "half_turn",
        ),
        (
            "top_to_bottom: mirror, side_to_side: none, half_turn: yes",
            Code.THIRD_CONTRADICTS,
            "side_to_side",
        ),
        (
            "top_to_bottom: none, side_to_side: glide, half_turn: yes",
            Code.THIRD_CONTRADICTS,
            "top_to_bottom",
        ),
        ("side_to_side: mirror, half_turn: yes", Code.THIRD_NOT_KNOWN, "half_turn"),
        ("top_to_bottom: glide, half_turn: yes", Code.THIRD_NOT_KNOWN, "half_turn"),
        ("top_to_bottom: mirror, half_turn: yes, one_way: yes", Code.THIRD_NOT_KNOWN, "half_turn"),
        ("group: pm", Code.GROUP_LIES_TWO_WAYS, "group"),
        ("group: pmg", Code.GROUP_LIES_TWO_WAYS, "group"),
        ("group: pmm, half_turn: no", Code.GROUP_CONTRADICTS, "group"),
        ("group: p2, top_to_bottom: mirror", Code.GROUP_CONTRADICTS, "group"),
        ("group: pm, top_to_bottom: mirror, side_to_side: mirror", Code.GROUP_CONTRADICTS, "group"),
        ("group: pgg, top_to_bottom: mirror", Code.GROUP_CONTRADICTS, "group"),
        ("group: p5", Code.NOT_A_GROUP, "group"),
    ],
)
def test_a_print_that_contradicts_itself_or_leaves_a_choice_is_refused(keys: str, code: Code, key: str) -> None:
    found = only_problem_of(with_print(keys))
    assert (found.code, found.path) == (code, ("cloth", "print", key))


def test_what_a_print_may_be_instead_is_told() -> None:
    assert only_problem_of(with_print("group: pm")).value("ways") == ("mirror", "none")
    assert only_problem_of(with_print("group: pmg")).value("ways") == ("glide", "mirror")
    assert only_problem_of(with_print("side_to_side: mirror, half_turn: yes")).value("key") == "top_to_bottom"
    assert only_problem_of(with_print("top_to_bottom: glide, half_turn: yes")).value("key") == "side_to_side"


def test_the_name_of_the_group_is_kept() -> None:
    assert job_of(with_print("group: p2mm")).cloth.print.group == "pmm"


def test_a_mirror_that_was_inferred_is_said() -> None:
    def said(keys: str) -> bool:
        return any(notice.code is Code.MIRROR_FOLLOWS for notice in job_of(with_print(keys)).notices)

    assert said("top_to_bottom: mirror, half_turn: yes")
    assert not said("group: pmm")
    assert not said("top_to_bottom: mirror, side_to_side: mirror")
