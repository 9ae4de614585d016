import json
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.journal import BadLine, Event, Journal, fingerprint, parse_journal, progress
from jobs.journal.events import measured_repeat, to_line
from jobs.model.choices import Panels
from jobs.planning.planner import plan_job
from tests.jobs.made import cloth, job, window


def event(number: int, kind: str = "done", cut: str | None = "bay-left", **more: object) -> Event:
    return Event(number, kind, cut, "2031-05-04T10:00:00+00:00", "0123456789abcdef", more)


EVENTS = (
    event(1, "laid", None, turn_deg=0.25, shift_in=[1, 2]),
    event(2),
    event(3, "done", "küche-rechts"),
    event(4, "undone"),
)
BYTES = b"".join(map(to_line, EVENTS))


def test_what_was_written_is_read_back():
    assert parse_journal(BYTES) == Journal(EVENTS, torn=False, sound_bytes=len(BYTES))


def test_an_empty_journal_has_no_events():
    assert parse_journal(b"") == Journal()


def test_a_line_is_json_a_person_can_read():
    fields = json.loads(to_line(EVENTS[2]))
    assert (fields["n"], fields["event"], fields["cut"]) == (3, "done", "küche-rechts")
    assert "küche-rechts" in to_line(EVENTS[2]).decode()


@pytest.mark.parametrize("length", range(len(BYTES)))
def test_a_journal_cut_at_any_byte_loses_at_most_its_last_event(length):
    whole = BYTES[:length].count(b"\n")
    journal = parse_journal(BYTES[:length])
    assert journal.events == EVENTS[:whole]
    assert journal.torn is not BYTES[:length].endswith(b"\n") or length == 0
    assert journal.sound_bytes == sum(len(to_line(one)) for one in EVENTS[:whole])


@pytest.mark.parametrize(
    "tail",
    [
        to_line(EVENTS[0]).replace(b"0.25", b"NaN"),
        to_line(EVENTS[0]).replace(b"0.25", b"1e999"),
        to_line(EVENTS[0]).replace(b"0.25", b"[" * 900 + b"]" * 900),
        to_line(EVENTS[0]).replace(b'"n":1', b'"n":' + b"9" * 5000),
        b"\0" * 40,
        b"{}\n",
        b"\xff\xfe\n",
        b"[1]\n",
        b"[" * 50_000 + b"\n",
        b"\r\n",
        b'{"n":5}\n',
    ],
)
def test_a_spoilt_last_line_is_dropped_and_reported(tail):
    journal = parse_journal(BYTES + tail)
    assert (journal.events, journal.torn, journal.sound_bytes) == (EVENTS, True, len(BYTES))


@settings(max_examples=200)
@given(st.integers(0, len(BYTES) - len(to_line(EVENTS[-1])) - 2), st.integers(1, 255))
def test_a_changed_byte_in_an_earlier_line_is_an_error_with_its_line(at, change):
    # The last line end but one is left out: without it the last two lines are one spoilt last line.
    spoilt = bytearray(BYTES)
    spoilt[at] ^= change
    journal = parse_journal(bytes(spoilt))
    assert journal.damaged[0].line in (BYTES[: at + 1].count(b"\n") + 1, BYTES[:at].count(b"\n") + 1)
    assert not journal.torn


@pytest.mark.parametrize("line", [0, 1, 2])
def test_all_other_lines_are_read_where_one_in_the_middle_is_damaged(line):
    lines = BYTES.splitlines(keepends=True)
    lines[line] = lines[line].replace(b"2031", b"2030")
    journal = parse_journal(b"".join(lines))
    assert journal.events == EVENTS[:line] + EVENTS[line + 1 :]
    assert [(bad.line, bad.what) for bad in journal.damaged] == [(line + 1, "it was changed or spoilt")]


def test_a_line_taken_out_or_doubled_is_noticed_and_no_event_counts_twice():
    gap = parse_journal(to_line(EVENTS[0]) + to_line(EVENTS[2]))
    assert gap.events == (EVENTS[0], EVENTS[2])
    assert [str(bad) for bad in gap.damaged] == ["line 2: it is event 3, out of turn"]
    doubled = parse_journal(to_line(EVENTS[0]) + to_line(EVENTS[1]) * 2 + to_line(EVENTS[2]))
    assert doubled.events == EVENTS[:3]
    assert [str(bad) for bad in doubled.damaged] == ["line 3: it is event 2, out of turn"]


@pytest.mark.parametrize("data", [b"hello", b"Dear Sir,\nplease\n", b"\x89PNG\r\n\x1a\n", b"{}\n", b"\n"])
def test_a_file_that_never_was_a_record_is_refused(data):
    with pytest.raises(BadLine, match="not a record of cuts that was written by this program") as refused:
        parse_journal(data)
    assert not refused.value.is_of_a_record


FIRST = to_line(event(1, "planned", None, called={}, along="3"))


@pytest.mark.parametrize(
    "data",
    [
        FIRST[:9],
        FIRST[:40],
        b'{"along":"3","crc":"01',
        b'{"cr',
        to_line(EVENTS[0])[:-1],
        b"\0" * 40,
        to_line(EVENTS[0])[:30] + b"\0" * 9,
    ],
)
def test_a_first_line_that_a_power_cut_spoilt_is_torn(data):
    assert parse_journal(data) == Journal(torn=True)


@pytest.mark.parametrize("along", ["1/0", "1e99999999", "0", "-3", "9" * 90, "1" * 5000, None, 18.5, "nan", "1/9" * 50])
def test_a_measured_repeat_is_bounded_like_one_in_a_job(along):
    with pytest.raises(ValueError, match="it is"):
        measured_repeat([event(1, "replanned", None, along=along)])


def test_a_measured_repeat_is_read_exactly():
    assert measured_repeat([event(1, "replanned", None, along="303/16")]) == Fraction(303, 16)


def test_progress_keeps_the_order_of_cutting_and_takes_back_what_was_undone():
    steps = [("done", "a"), ("done", "b"), ("done", "a"), ("laid", None), ("undone", "a"), ("done", "c"), ("done", "a")]
    events = [event(number, kind, cut) for number, (kind, cut) in enumerate(steps, 1)]
    assert progress(events) == ("b", "c", "a")
    assert progress(events[:4]) == ("a", "b")
    assert progress([]) == ()


def test_undoing_what_was_never_done_changes_nothing():
    assert progress([event(1, "undone", "a"), event(2, "done", "b")]) == ("b",)


def test_an_event_may_not_pose_as_the_lines_own_keys():
    with pytest.raises(ValueError, match="may not carry the keys crc"):
        to_line(event(1, crc="0"))


def test_the_fingerprint_changes_with_what_moves_a_cut_and_with_nothing_else():
    made = job(cloth(10), window("Bay", 90, Panels.WHOLE), squaring=1)
    first = fingerprint(plan_job(made))
    assert fingerprint(plan_job(replace(made, title="Another name", notices=("a notice",)))) == first
    assert fingerprint(plan_job(replace(made, allowances=replace(made.allowances, squaring=Fraction(21, 2))))) != first
    assert fingerprint(plan_job(replace(made, allowances=replace(made.allowances, hem=Fraction(1))))) != first
