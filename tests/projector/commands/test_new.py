"""The talk end to end, driven through standard input and through a real terminal."""

import io
import os
import pty
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from jobs.io.reader import read_job
from tests.projector.commands.running import run
from tests.projector.questions.scripts import INCHES, METRIC, plain, without_notices
from tests.projector.questions.test_walk import HARBOUR, LOFT
from tests.waiting import HUNG_S, wait_until


def said_to(monkeypatch, path, *typed):
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in typed)))
    return run("new", path)


@pytest.mark.parametrize(("typed", "job"), [(INCHES, HARBOUR), (METRIC, LOFT)], ids=["inches", "metric"])
def test_the_file_is_what_was_said(tmp_path, monkeypatch, typed, job):
    path = tmp_path / "job.yaml"
    ran = said_to(monkeypatch, path, *typed, "")
    assert ran.code == 0, ran.err
    assert without_notices(read_job(path)) == job
    assert list(tmp_path.iterdir()) == [path]
    assert run("check", path).code == 0
    assert run("order", path).code == 0


def test_slips_questions_for_more_and_steps_back_change_nothing_but_what_was_meant(tmp_path, monkeypatch):
    typed = list(METRIC)
    # Wide by a slip, asked again; more about it; then one back to mend the name.
    typed[3:4] = ["wide", "?", "13 cm", "back", "back", "Plain linen", "140 cm"]
    typed[1:2] = ["", "Quay loft"]
    path = tmp_path / "job.yaml"
    typed[3] = "Plane linen"
    ran = said_to(monkeypatch, path, *typed, "back", "no", "")
    assert ran.code == 0, ran.err
    assert without_notices(read_job(path)) == LOFT
    assert '"wide" is not a length' in ran.out
    assert "This one needs an answer." in ran.out
    assert "The ticket is often out by half an inch" in ran.out


def test_gone_back_enter_gives_what_was_said_before_unless_the_unit_has_changed(tmp_path, monkeypatch):
    path = tmp_path / "job.yaml"
    # Two back from the patterned question, Enter at both: the same as typed.
    typed = [*METRIC[:5], "back", "back", "", "", *METRIC[5:]]
    assert said_to(monkeypatch, path, *typed, "").code == 0
    assert without_notices(read_job(path)) == LOFT
    # All the way back and inches instead: Enter at the width gives the usual 54 in, never 137 of another unit.
    again = ["yes", "cm", "Loft", "Linen", "137", "back", "back", "back", "back", "in", "Loft", "Linen", ""]
    ran = said_to(monkeypatch, path, *again)
    assert "edge to selvedge edge? [54]" in " ".join(ran.out.split())
    assert '[["cloth", "width"], "54"]' in (tmp_path / "job.yaml.draft").read_text()


def test_the_pair_and_the_order_are_shown_as_it_goes(tmp_path, monkeypatch):
    out = said_to(monkeypatch, tmp_path / "job.yaml", *INCHES, "").out
    assert "| >-  >-  >- |   | -<  -<  -< |" in out
    assert out.count("To buy so far: ") == 2


def test_a_term_is_explained_for_the_first_window_and_for_the_next_when_asked(tmp_path, monkeypatch):
    out = " ".join(said_to(monkeypatch, tmp_path / "job.yaml", *INCHES, "").out.split())
    assert out.count("What hangs there: pair, left, right or whole?") == 2
    assert out.count("pair: two panels that meet in the middle") == 1
    asked = list(INCHES)
    at = asked.index("left")
    asked[at:at] = ["?"]
    out = " ".join(said_to(monkeypatch, tmp_path / "second.yaml", *asked, "").out.split())
    assert out.count("pair: two panels that meet in the middle") == 2


@pytest.mark.parametrize("count", [1, 7, 20, len(INCHES)])
def test_left_half_way_nothing_is_lost_and_the_next_start_goes_on(tmp_path, monkeypatch, count):
    path = tmp_path / "job.yaml"
    left = said_to(monkeypatch, path, *INCHES[:count])
    assert left.code == 130
    assert str(tmp_path / "job.yaml.draft") in left.err
    assert not path.exists()
    ran = said_to(monkeypatch, path, "yes", *INCHES[count:], "")
    assert ran.code == 0, ran.err
    assert f"{count} answers are kept" in ran.out
    assert without_notices(read_job(path)) == HARBOUR
    assert list(tmp_path.iterdir()) == [path]


def test_who_starts_anew_keeps_the_old_answers_beside(tmp_path, monkeypatch):
    path = tmp_path / "job.yaml"
    said_to(monkeypatch, path, *INCHES[:9])
    ran = said_to(monkeypatch, path, "no", *METRIC, "")
    assert ran.code == 0, ran.err
    assert without_notices(read_job(path)) == LOFT
    assert "Harbour office" in (tmp_path / "job.yaml.draft.old").read_text()


def test_answers_that_do_not_fit_any_more_are_asked_again_and_stay_beside(tmp_path, monkeypatch):
    # As the answers were kept before they were named by their places in the job.
    draft = tmp_path / "job.yaml.draft"
    draft.write_text(
        '# Answers of lightchalk new, kept until the job file is written.\n["units", "in"]\n["title", "A"]\n'
    )
    ran = said_to(monkeypatch, tmp_path / "job.yaml", "yes", *INCHES[1:], "")
    assert ran.code == 0, ran.err
    assert "From answer 2 on they do not fit any more" in ran.out
    assert '["title", "A"]' in (tmp_path / "job.yaml.draft.old").read_text()


def test_a_file_that_is_there_is_not_written_over_unasked(tmp_path, monkeypatch):
    path = tmp_path / "job.yaml"
    path.write_text("mine")
    assert said_to(monkeypatch, path, "").code == 1
    assert path.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [path]
    assert said_to(monkeypatch, path, "yes", *METRIC, "").code == 0
    assert without_notices(read_job(path)) == LOFT


def test_a_file_that_came_meanwhile_is_asked_about_before_it_is_written_over(tmp_path, monkeypatch):
    path = tmp_path / "job.yaml"
    said_to(monkeypatch, path, *METRIC)
    path.write_text("mine")
    ran = said_to(monkeypatch, path, "yes", "", "no")
    assert ran.code == 1
    assert path.read_text() == "mine"
    assert (tmp_path / "job.yaml.draft").exists()


def test_a_strange_file_in_the_place_of_the_draft_is_left_alone(tmp_path, monkeypatch):
    strange = tmp_path / "job.yaml.draft"
    strange.write_text("a letter\n")
    ran = said_to(monkeypatch, tmp_path / "job.yaml", *METRIC)
    assert ran.code == 1
    assert "these are not kept answers" in ran.err
    assert strange.read_text() == "a letter\n"


def test_a_folder_that_is_not_there_is_told_before_the_first_question(tmp_path, monkeypatch):
    ran = said_to(monkeypatch, tmp_path / "nowhere" / "job.yaml", *METRIC)
    assert ran.code == 1
    assert "cannot be written" in ran.err
    assert "Inches" not in ran.out


LOOKS_ASLEEP = 200
"""So many looks on end a program sleeps only where it waits for somebody."""


class Terminal:
    """A real terminal with ``lightchalk new`` in it."""

    def __init__(self, path):
        self.master, slave = pty.openpty()
        program = "from projector.commands.main import run; run()"
        words = [sys.executable, "-c", program, "new", str(path)]
        surroundings = {**os.environ, "TERM": "xterm"}
        surroundings.pop("NO_COLOR", None)
        # A shell has what it runs in the background ignore interrupts, and that is handed down.
        before = signal.signal(signal.SIGINT, signal.SIG_DFL)
        self.process = subprocess.Popen(
            words, stdin=slave, stdout=slave, stderr=slave, env=surroundings, start_new_session=True
        )
        signal.signal(signal.SIGINT, before)
        os.close(slave)
        self.shown = ""

    def wait_for(self, words):
        """Read until these words were shown since the last time, and no further; fails where that hangs."""
        import select

        while words not in plain(self.shown):
            ready = select.select([self.master], [], [], HUNG_S)[0]
            assert ready, (words, self.shown)
            try:
                self.shown += os.read(self.master, 4096).decode()
            except OSError:  # a Linux terminal whose program has ended
                break
        before, self.shown = self.shown, plain(self.shown).partition(words)[2]
        return before

    def type(self, line):
        os.write(self.master, line.encode() + b"\n")

    def interrupt(self, end):
        """Send the signal once the program sleeps in its reading, and, as a person would, again where it sleeps on: a
        signal that comes just before it reads is not seen there."""
        stat = Path(f"/proc/{self.process.pid}/stat")
        asleep = 0

        def ended():
            nonlocal asleep
            asleep = asleep + 1 if stat.read_text().rpartition(")")[2].split()[0] == "S" else 0
            if asleep % LOOKS_ASLEEP == 1:
                self.process.send_signal(end)
            return self.process.poll() is not None

        if stat.exists():
            wait_until(ended)
        else:
            self.process.send_signal(end)

    def end(self):
        code = self.process.wait(HUNG_S)
        os.close(self.master)
        return code


def test_in_a_real_terminal_killed_or_interrupted_it_goes_on_where_it_was(tmp_path):
    path = tmp_path / "job.yaml"
    for end, code in ((signal.SIGKILL, -signal.SIGKILL), (signal.SIGINT, 130)):
        terminal = Terminal(path)
        if code == 130:
            terminal.wait_for("2 answers are kept")
            terminal.type("")
        else:
            shown = terminal.wait_for("Inches")
            terminal.type("cm")
            assert "\x1b[1mThe job" in shown
            terminal.wait_for("called?")
            terminal.type("Quay loft")
        terminal.wait_for("call the cloth?")
        terminal.wait_for("> ")
        terminal.interrupt(end)
        assert terminal.end() == code
    terminal = Terminal(path)
    terminal.wait_for("2 answers are kept")
    terminal.type("yes")
    for typed in [*METRIC[2:], ""]:
        terminal.wait_for("> ")
        terminal.type(typed)
    terminal.wait_for("Written: ")
    assert terminal.end() == 0
    assert without_notices(read_job(path)) == LOFT
