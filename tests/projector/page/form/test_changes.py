import random

import pytest

from jobs.io.reader import parse_job
from jobs.model.choices import Unit
from projector.page.form.blank import blank_job, examples
from projector.page.form.changes import other_name, scalar, switched, with_copy, with_item, with_value, without
from projector.page.form.complaints import NEEDED, complaints
from projector.page.form.field import Switch
from projector.page.form.layout import FLAWS, PIECES, WINDOWS
from projector.page.form.pages import PAGES, fields_shown
from projector.page.form.plainness import made_patterned, made_plain
from projector.page.form.values import values_of

EXAMPLES = examples()
MILL = EXAMPLES["Mill-race reading room"]
TOWPATH = EXAMPLES["Lock-keeper's cottage"]
SWITCHES = {item.name: item for item in WINDOWS.items if isinstance(item, Switch)}


def remarks(text: str) -> list[str]:
    return [line.partition(" #")[2] for line in (f" {line}" for line in text.splitlines()) if " #" in line]


def test_a_changed_number_leaves_every_other_character_alone():
    assert with_value(MILL, ("cloth", "width"), " 137 cm ") == MILL.replace("width: 54 ", "width: 137 cm ")


@pytest.mark.parametrize(
    "typed", ["5' 6\"", "{", "# no", "- x", "yes: no", "2 %", "*a", "Küche 'Süd'", "a, b]", "\\", "|"]
)
def test_whatever_is_typed_reads_back_as_it_was_typed(typed):
    for path in (("job",), ("cloth", "repeat", "along"), ("cloth", "pieces", 0, "flaws", 0, "note")):
        assert values_of(with_value(MILL, path, typed)).text(path) == typed


def test_hidden_characters_become_blanks():
    assert scalar("a\tb\x00c\n") == "a b c"


def test_an_emptied_field_takes_its_key_out_and_what_that_leaves_empty():
    text = with_value(MILL, ("windows", 0, "row", "below_top"), "")
    assert text == MILL.replace("    row: {below_top: 6 1/2}\n", "")
    text = with_value(MILL, ("cloth", "width"), "", needed=True)
    assert complaints(text).beside == {("cloth", "width"): NEEDED}


def test_both_ends_of_a_flaw_across_come_and_go_together():
    path = ("cloth", "pieces", 0, "flaws", 0, "across")
    text = with_value(MILL, (*path, 0), "")
    assert complaints(text).beside == {(*path, 0): NEEDED}
    text = with_value(text, (*path, 1), "")
    assert not values_of(text).has(path)
    text = with_value(text, (*path, 1), "14")
    assert values_of(text).text((*path, 1)) == "14"


def test_a_value_where_keys_belong_makes_way_for_them():
    text = MILL.replace("{below_top: 6 1/2}", "5")
    assert "row: {above_foot: 7}" in with_value(text, ("windows", 0, "row", "above_foot"), "7")


def test_windows_pieces_and_flaws_are_added_copied_and_taken_out():
    for title, text in EXAMPLES.items():
        grown = with_item(text, WINDOWS, ("windows",), "Porch")
        grown = with_item(grown, PIECES, ("cloth", "pieces"))
        piece = values_of(grown).count(("cloth", "pieces")) - 1
        grown = with_item(grown, FLAWS, ("cloth", "pieces", piece, "flaws"))
        window = values_of(grown).count(("windows",)) - 1
        wanted = {
            ("windows", window, "finished_length"),
            ("cloth", "pieces", piece, "length"),
            ("cloth", "pieces", piece, "flaws", 0, "from"),
            ("cloth", "pieces", piece, "flaws", 0, "to"),
        }
        assert complaints(grown).beside == dict.fromkeys(wanted, NEEDED), title
        assert remarks(grown) == remarks(text)
        back = without(without(grown, ("windows", window)), ("cloth", "pieces", piece))
        assert back == text


def test_a_copy_of_a_window_differs_in_its_name_alone():
    text = with_copy(TOWPATH, ("windows", 0), "Weir window")
    before, after = parse_job(TOWPATH, "a"), parse_job(text, "b")
    assert [window.name for window in after.windows] == ["Towpath window", "Sluice hatch", "Weir window"]
    assert after.windows[2].rod == before.windows[0].rod
    assert text.startswith(TOWPATH.split("\ntable")[0])


def test_a_new_name_is_taken_by_no_other_window():
    assert other_name(values_of(blank_job(Unit.INCH)), "Window") == "Window 2"
    assert other_name(values_of(with_copy(TOWPATH, ("windows", 0), "window 2")), "Window") == "Window 3"
    assert other_name(values_of(blank_job(Unit.INCH)), "Window 1") == "Window 2"
    assert other_name(values_of(blank_job(Unit.INCH)), "1") == "1 2"


def test_a_switch_thrown_and_thrown_back_says_what_it_said():
    aside = {}
    text = switched(TOWPATH, ("windows", 0), SWITCHES["how"], "cuts", aside)
    assert parse_job(text, "a").windows[0].cuts_per_panel == 1
    assert values_of(text).text(("windows", 0, "cuts_per_panel")) == "1"
    text = switched(text, ("windows", 0), SWITCHES["how"], "rod", aside)
    assert parse_job(text, "a") == parse_job(TOWPATH, "a")
    text = switched(text, ("windows", 1), SWITCHES["rule"], "above_foot", aside)
    text = switched(text, ("windows", 1), SWITCHES["rule"], "level_with", aside)
    assert parse_job(text, "a") == parse_job(TOWPATH, "a")


def test_a_rod_that_was_not_measured_yet_is_asked_for():
    text = switched(MILL, ("windows", 0), SWITCHES["how"], "rod", {})
    assert complaints(text).beside == {("windows", 0, "rod"): NEEDED}


@pytest.mark.parametrize("title", EXAMPLES)
def test_plain_cloth_and_back_loses_nothing(title):
    text, aside = EXAMPLES[title], {}
    plain = made_plain(text, aside)
    assert complaints(plain).job.cloth.repeat is None
    back = made_patterned(plain, aside)
    if values_of(text).patterned:
        assert parse_job(back, "a") == parse_job(text, "a")
    else:
        assert complaints(back).beside == {("cloth", "repeat", "along"): NEEDED}


def test_a_key_that_no_field_shows_keeps_its_complaint_with_its_line():
    found = complaints(MILL + "wanted: 3\n")
    assert found.beside == {}
    (one,) = found.elsewhere
    assert one.words.startswith("Line 38, wanted: A list belongs here; write each thing on its own line")
    assert without(MILL + "wanted: 3\n", one.path) == MILL


def test_a_problem_of_a_group_stands_beside_a_field_of_it():
    found = complaints(MILL.replace("{below_top: 6 1/2}", "{below_top: 3, above_foot: 4}"))
    assert list(found.beside) == [("windows", 0, "row", "below_top")]
    found = complaints(MILL.replace("mirror_offset: 0 ", "mirror_offset: 13"))
    assert list(found.beside) == [("cloth", "print", "mirror_offset")]


def test_random_typing_in_random_fields_keeps_every_remark_and_can_be_read_back():
    drawn = random.Random(7)
    for title, text in EXAMPLES.items():
        now = text
        for _ in range(12):
            path, (_, field) = drawn.choice(list(fields_shown(values_of(now)).items()))
            typed = drawn.choice(["12", "5 ft 6 in", "mirror", "none", "x: y", "Weir", '"', "3 %", "#aabbcc"])
            now = with_value(now, path, typed, needed=field.needed)
            assert values_of(now).text(path) == typed
        assert remarks(now)[:2] == remarks(text)[:2], title


def test_every_page_shows_something_for_every_example():
    for text in EXAMPLES.values():
        sections = {section.key for section, _ in fields_shown(values_of(text)).values()}
        assert sections >= {section.key for section in PAGES} - {"pieces", "cloths", "flat"}
