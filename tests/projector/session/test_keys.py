"""Keys, remotes, pedals and controllers by name, and what a keys file makes of them."""

from __future__ import annotations

import re
from pathlib import Path

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.io.log import FileRefused
from projector.session.actions import Action
from projector.session.keys import (
    DEFAULT_KEYS,
    MOST_BUTTONS,
    NAMED,
    NEEDED,
    PAD_KEYS,
    PAD_NAMES,
    WRITTEN,
    button_name,
    cross_name,
    key_name,
    key_of,
    keys_for,
    keys_from,
    pad_keys,
    written,
)
from projector.session.windows.events import pressed_name
from projector.words.wording import file_lines
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import cutting_of

DOCUMENT = (Path(__file__).parents[3] / "docs" / "at-the-table.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("reported", "typed", "shift", "ctrl", "name"),
    [
        ("page down", "", False, False, "PageDown"),
        ("return", "\r", False, False, "Enter"),
        ("enter", "\r", False, False, "Enter"),
        ("space", " ", False, False, "Space"),
        ("left", "", True, False, "Shift+Left"),
        ("left", "", False, True, "Ctrl+Left"),
        ("u", "u", False, False, "U"),
        ("u", "U", True, False, "U"),
        ("=", "+", True, False, "+"),
        ("7", "/", True, False, "/"),  # where the slash is typed with Shift, as on many European keyboards
        ("c", "\x03", False, True, "Ctrl+C"),
        ("b", "", False, False, "B"),
        ("f5", "", False, False, "F5"),
        ("left shift", "", True, False, None),
    ],
)
def test_keys_are_named_by_what_they_say(reported: str, typed: str, shift: bool, ctrl: bool, name: str | None) -> None:
    assert key_name(reported, typed, shift, ctrl) == name


def test_a_key_without_a_meaning_counts_as_any_key() -> None:
    assert cutting_of(plan_of()).action_for("F5") is Action.ANY_OTHER


def test_a_remote_sends_only_next_previous_and_dark() -> None:
    remote = [DEFAULT_KEYS[key] for key in ("PageDown", "PageUp", "B", ".")]
    assert remote == [Action.NEXT_STOP, Action.PREVIOUS_STOP, Action.DARK, Action.DARK]


def test_every_key_that_a_button_stands_for_means_something() -> None:
    assert set(PAD_KEYS) <= set(PAD_NAMES)
    asked = {pad: DEFAULT_KEYS[key] for pad, key in PAD_KEYS.items()}
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


def remapped(tmp_path: Path, text: str) -> dict[str, Action]:
    file = tmp_path / "keys.yaml"
    file.write_text(text, encoding="utf-8")
    return dict(keys_from(file))


def problems(tmp_path: Path, text: str) -> list[str]:
    with pytest.raises(FileRefused) as refused:
        remapped(tmp_path, text)
    return [line.removeprefix(str(tmp_path / "keys.yaml")) for line in file_lines(refused.value)]


def test_an_action_that_is_named_has_the_keys_of_the_file_and_no_others(tmp_path: Path) -> None:
    keys = remapped(tmp_path, "keys:\n  next stop: [F5, page down]\n")
    assert keys_for(Action.NEXT_STOP, keys) == ("F5", "Page Down")
    assert {k: v for k, v in keys.items() if v is not Action.NEXT_STOP} == {
        k: v for k, v in DEFAULT_KEYS.items() if v is not Action.NEXT_STOP
    }


def test_the_file_that_writes_out_the_usual_keys_changes_nothing(tmp_path: Path) -> None:
    lines = [
        f"  {word}: [{', '.join(_quoted(k) for k, a in DEFAULT_KEYS.items() if a is action)}]\n"
        for word, action in WRITTEN.items()
    ]
    assert remapped(tmp_path, "keys:\n" + "".join(lines)) == DEFAULT_KEYS


def _quoted(key: str) -> str:
    return f'"{key}"'


def test_two_actions_may_change_keys_with_each_other(tmp_path: Path) -> None:
    keys = remapped(tmp_path, "keys:\n  undo: [N]\n  next cut: [U]\n")
    assert (keys["N"], keys["U"]) == (Action.UNDO, Action.NEXT_CUT)


def test_an_action_may_be_put_out_of_use(tmp_path: Path) -> None:
    assert Action.COLOURS not in remapped(tmp_path, "keys: {colours: []}").values()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("keys: {next step: [U]}", ':1:8: keys, "next step": this key is not known; write next stop if that is meant'),
        ("keys: {undo: [Uu]}", ':1:15: keys, undo 1: "Uu" is no key that is known here'),
        ("keys: {undo: [F2, F2]}", "the key F2 is given twice for the same action"),
        ("keys: {undo: [F2], help: [f2]}", 'the key F2 is given for "undo" as well'),
        (
            "keys: {help: [U]}",
            'keys, help: U was the only key for "undo"; give "undo" another key, or give it [ ] to do without',
        ),
        ("keys: {next stop: []}", 'keys, "next stop": without a key for this a session cannot be run safely'),
        ("keys: {help: [Esc]}", 'keys, help: Esc was the only key for "leave"; give "leave" another key'),
        ("keys: {undo: U}", "keys, undo"),
        ("keys: [undo]", "keys: keys with values belong here"),
        ("kees: {undo: [F2]}", "write keys if that is meant"),
        ("", "the file is empty"),
        ("keys: {undo: [Shift+A]}", "is no key that is known here"),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(tmp_path: Path, text: str, said: str) -> None:
    found = problems(tmp_path, text)
    assert any(said in line for line in found), found
    assert all(re.match(r":\d+:\d+: .+; .+", line) for line in found)


def test_every_problem_is_told_at_once(tmp_path: Path) -> None:
    found = problems(tmp_path, "keys:\n  undo: [Uu]\n  dance: [D]\n  next stop: []\n")
    assert [line.split(":")[1] for line in found] == ["2", "3", "4"]


def test_a_needed_action_cannot_be_left_without_a_key_by_writing_so(tmp_path: Path) -> None:
    for action in NEEDED:
        assert problems(tmp_path, f"keys: {{{written(action)}: []}}")


@given(
    st.dictionaries(
        st.sampled_from(sorted(WRITTEN)), st.lists(st.sampled_from(["F2", "F3", "U", "Esc", "."]), max_size=2)
    )
)
def test_whatever_is_read_can_run_a_session(tmp_path_factory: pytest.TempPathFactory, given: dict) -> None:
    text = "keys:\n" + "".join(f"  {word}: [{', '.join(map(_quoted, keys))}]\n" for word, keys in given.items())
    try:
        keys = remapped(tmp_path_factory.getbasetemp(), text if given else "keys: {}")
    except FileRefused:
        return
    assert set(NEEDED) <= set(keys.values())
    for word, named in given.items():
        assert {key for key, action in keys.items() if action is WRITTEN[word]} == set(named)
    silent = {action for action in WRITTEN.values() if action not in keys.values()}
    assert silent == {WRITTEN[word] for word, named in given.items() if not named}


@pytest.mark.parametrize("key", DEFAULT_KEYS)
def test_every_usual_key_can_be_written(key: str) -> None:
    assert key_of(key) == key_of(f" {key.lower()} ") == key


@pytest.mark.parametrize("reported", sorted(NAMED))
def test_keys_are_called_in_a_file_as_the_window_calls_them(reported: str) -> None:
    for shift, ctrl, alt in ((0, 0, 0), (1, 0, 0), (0, 1, 0), (1, 1, 1)):
        name = key_name(reported, "", bool(shift), bool(ctrl), bool(alt))
        assert name is not None
        assert key_of(name) == name


@pytest.mark.parametrize("name", ["F5", "f 5", "F13", "Ctrl+F5", "Page Up", "ctrl + u", "Full stop", "Volume Up"])
def test_keys_may_be_written_as_a_person_would(name: str) -> None:
    assert key_of(name) is not None


@pytest.mark.parametrize(
    "name", ["", " ", "Shift+", "Shift+U", "Ctrl", "F25", "F0", "PageSideways", "Shift+full stop", "\x07"]
)
def test_what_is_no_key_has_no_name(name: str) -> None:
    assert key_of(name) is None


def test_the_example_of_the_document_is_read(tmp_path: Path) -> None:
    (example,) = re.findall(r"```yaml\n(keys:.*?)```", DOCUMENT, re.S)
    keys = remapped(tmp_path, example)
    assert keys_for(Action.NEXT_STOP, keys) == ("Page Down", "Space bar", "F5")
    assert Action.COLOURS not in keys.values()


def test_the_refusal_of_the_document_is_the_one_that_is_given(tmp_path: Path) -> None:
    (said,) = problems(tmp_path, "keys:\n  undo: [U]\n  next stop: [U, PageDown]\n")
    (shown,) = re.findall(r"^keys\.yaml(:.*)$", DOCUMENT, re.M)
    assert shown == said


def test_the_table_of_the_document_tells_the_usual_keys() -> None:
    rows = re.findall(r"^\| `([a-z ]+)` \| (.*?) \| (.*) \|$", DOCUMENT, re.M)
    assert len(rows) > 25
    for word, asks, usual in rows:
        assert asks == WRITTEN[word]
        assert re.findall("`(.*?)`", usual) == [key for key, action in DEFAULT_KEYS.items() if action is WRITTEN[word]]


@pytest.mark.parametrize("text", ["Ctrl+Alt+F5", "alt + ctrl + f5", "CTRL+ALT+F5"])
def test_keys_held_together_may_be_written_in_any_order(text: str) -> None:
    assert key_of(text) == "Alt+Ctrl+F5"
    assert key_of("Shift+Alt+Left") == "Alt+Shift+Left"
    assert key_of("Ctrl+Ctrl+F5") is None
