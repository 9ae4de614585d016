"""The line that tells how a long search goes."""

import io

from jobs.planning.planner import Progress
from projector.commands.shared.terminal import searching
from tests.jobs.made import cloth, job, window


class Terminal(io.StringIO):
    def isatty(self):
        return True


def told(monkeypatch, columns, *progress):
    terminal = Terminal()
    monkeypatch.setattr("sys.stderr", terminal)
    monkeypatch.setenv("COLUMNS", str(columns))
    with searching(job(cloth(), window("Bay", 50))) as tell:
        for one in progress:
            tell(one)
    return terminal.getvalue().split("\r\033[K")


def test_the_line_says_what_is_found_what_is_in_work_and_is_taken_away_at_the_end(monkeypatch):
    first, second, third, last = told(monkeypatch, 120, Progress(812.5, 790, 0), Progress(812.5, 790, 0, 0.25))
    assert (first, last) == ("", "")
    assert second == "Planning: 812 1/2 in so far, none under 790 in can be; Ctrl-C takes the best so far"
    assert "the next is 25% laid; Ctrl-C takes" in third


def test_a_narrow_terminal_gets_one_line_that_does_not_wrap(monkeypatch):
    _, line, _ = told(monkeypatch, 40, Progress(812.5, 790, 0, 0.25))
    assert len(line) == 39


def test_nothing_is_said_where_nobody_looks(monkeypatch):
    monkeypatch.setattr("sys.stderr", io.StringIO())
    with searching(job(cloth(), window("Bay", 50))) as tell:
        assert tell is None
