"""One value of a job file changed: nothing else of the text may move."""

from __future__ import annotations

from copy import deepcopy
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.io.editing import CannotEdit, Edit, edited, written
from jobs.io.log import FileRefused
from jobs.io.reader import parse_job

EXAMPLES = sorted((Path(__file__).parents[3] / "jobs" / "examples").glob("*.yaml"))

MILL = """\
# Mill-race, measured in May
job: Mill-race   # the one by the weir
units: in

cloth:
    width: 54      # flat
    repeat: {along: 12 3/8,   across: 13}   # by tape
    print:   # seen at the window

      # the foot of the cloth
      top_to_bottom: mirror
      one_way: no
    motif_colours:
    - "#e8dcc0"   # oat
    - "#d9825b"

    # none yet
    pieces:
windows:
  - name: River   # left of the wheel
    panels: pair
    finished_length: 58
  # the far one
  - {name: Wheel, panels: whole, finished_length: 49 1/2}
"""


def test_a_number_changes_and_every_remark_and_blank_stays():
    new = edited(MILL, [Edit(("cloth", "width"), "137 cm"), Edit(("cloth", "repeat", "along"), "11 1/4")])
    assert new == MILL.replace("54 ", "137 cm ").replace("12 3/8", "11 1/4")


def test_a_new_key_stands_after_the_one_named_and_keeps_the_indent():
    new = edited(MILL, [Edit(("cloth", "drop"), "1/2", ("repeat",))])
    assert new == MILL.replace("# by tape\n", "# by tape\n    drop: 1/2\n")
    new = edited(MILL, [Edit(("cloth", "print", "half_turn"), "no", ("top_to_bottom",))])
    assert new == MILL.replace("mirror\n", "mirror\n      half_turn: no\n")
    new = edited(MILL, [Edit(("cloth", "repeat", "x"), "1")])
    assert new == MILL.replace("across: 13}", "across: 13, x: 1}")


def test_a_block_gives_way_to_a_value_on_the_line_of_its_key():
    new = edited(MILL, [Edit(("cloth", "motif_colours"), '["#101010"]')])
    assert new == MILL.replace(':\n    - "#e8dcc0"   # oat\n    - "#d9825b"\n', ': ["#101010"]\n')
    new = edited(MILL, [Edit(("cloth", "print"), "{group: pm}")])
    assert "print: {group: pm}   # seen at the window\n    motif_colours" in new


def test_a_key_without_a_value_is_filled():
    new = edited(MILL, [Edit(("cloth", "pieces", 0, "length"), "9 yd")])
    assert new == MILL.replace("pieces:", "pieces: [{length: 9 yd}]")


def test_list_items_are_added_changed_and_taken_out():
    new = edited(MILL, [Edit(("windows", 2), "name: Door\npanels: left\nfinished_length: 80")])
    assert new == MILL + "  - name: Door\n    panels: left\n    finished_length: 80\n"
    new = edited(MILL, [Edit(("cloth", "motif_colours", 0), None)])
    assert new == MILL.replace('    - "#e8dcc0"   # oat\n', "")
    new = edited(MILL, [Edit(("windows", 1, "panels"), None), Edit(("windows", 0, "name"), None)])
    assert new == MILL.replace(", panels: whole", "").replace("name: River   # left of the wheel\n    ", "")
    new = edited(MILL, [Edit(("cloth", "repeat"), None)])
    assert new == MILL.replace("    repeat: {along: 12 3/8,   across: 13}   # by tape\n", "")


def test_mappings_on_the_way_are_made():
    new = edited(MILL, [Edit(("allowances", "hem"), "8", ("cloth",)), Edit(("allowances", "heading"), "4")])
    assert new == MILL.replace("windows:", "allowances: {hem: 8, heading: 4}\nwindows:")


def test_the_line_ends_and_an_unended_last_line_are_kept():
    text = MILL.replace("\n", "\r\n").rstrip()
    new = edited(text, [Edit(("table",), "{length: 96, width: 60}")])
    assert new == text + "\r\ntable: {length: 96, width: 60}"


def test_letters_beyond_the_usual_do_not_shift_places():
    text = "job: Müller’s 🏠 Wehr\ncloth: {name: 织物, width: 54}  # ü\n"
    assert edited(text, [Edit(("cloth", "width"), "55")]) == text.replace("54", "55")


def test_what_stands_there_is_told_as_written():
    assert written(MILL, ("cloth", "repeat", "along")) == "12 3/8"
    assert written(MILL, ("cloth", "print", "half_turn")) is None
    assert written(MILL, ("windows", 1, "name")) == "Wheel"


def test_taking_out_what_is_not_there_changes_nothing():
    assert edited(MILL, [Edit(("cloth", "drop"), None), Edit(("windows", 7), None)]) == MILL


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("cloth", "width"), "54, 3: 4"),
        (("cloth", "repeat", "along"), "12, across: 3"),
        (("cloth", "width", "x"), "1"),
        (("windows", 5), "x"),
        (("cloth", "width"), "[5"),
        (("cloth", "width"), ""),
    ],
)
def test_an_edit_that_would_do_something_else_is_refused(path, value):
    with pytest.raises(CannotEdit, match="by hand"):
        edited(MILL, [Edit(path, value)])


def test_a_text_that_is_no_yaml_is_refused_with_its_place():
    with pytest.raises(FileRefused, match="layout broken"):
        edited("cloth: {width: 3", [Edit(("cloth", "width"), "4")])


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda one: one.stem)
def test_the_example_jobs_can_be_edited(path):
    text = path.read_text()
    new = edited(text, [Edit(("cloth", "colour"), '"#123456"', ("name",)), Edit(("cloth", "print", "one_way"), "yes")])
    job = parse_job(new, "x")
    assert job.cloth.colour == "#123456"
    assert job.cloth.print.one_way
    assert all(line in new.splitlines() for line in text.splitlines() if line.strip().startswith("#"))


KEYS = st.sampled_from(["a", "b c", "len", "no", "x1"])
WORDS = st.text("abc 1/é🏠#:'\"-", min_size=1, max_size=8)
TREES = st.recursive(
    WORDS,
    lambda inner: st.lists(inner, min_size=1, max_size=3) | st.dictionaries(KEYS, inner, min_size=1, max_size=3),
    max_leaves=8,
)


@settings(max_examples=150)
@given(st.dictionaries(KEYS, TREES, min_size=1), st.data(), st.sampled_from([True, False, None]), st.booleans())
def test_any_value_of_any_layout_changes_alone(tree, data, flow, windows_ends):
    text = yaml.safe_dump(tree, default_flow_style=flow, allow_unicode=True, width=40, sort_keys=False)
    text = text.replace("\n", "\r\n") if windows_ends else text
    path, inner = [], tree
    while isinstance(inner, dict | list) and (not path or data.draw(st.booleans())):
        key = data.draw(st.sampled_from(sorted(inner) if isinstance(inner, dict) else range(len(inner))))
        path.append(key)
        inner = inner[key]
    new = edited(text, [Edit(tuple(path), "'new one'")])
    wanted = deepcopy(tree)
    holder = wanted
    for key in path[:-1]:
        holder = holder[key]
    holder[path[-1]] = "new one"
    assert yaml.load(new, yaml.BaseLoader) == wanted
