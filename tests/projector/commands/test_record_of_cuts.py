"""What a person is told when the record of cuts cannot be kept: held, in a folder that may not be written, damaged."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from jobs.journal import JournalFile, journal_path, read_journal
from jobs.journal.placed import fingerprint
from projector.commands.shared import screen
from projector.commands.shared.planned import load_plan
from projector.files.table_file import Stored, write_stored
from projector.session.cutting.journal import Done, recording_in
from tests.projector.commands.running import READING_ROOM, Ran, run
from tests.projector.session.tables import table_of


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A job with its table; a screen is taken to be there, and none is reached."""
    monkeypatch.setattr(screen, "screen_for", lambda *given: 1)
    job = tmp_path / "porch.yaml"
    job.write_text(READING_ROOM.read_text(encoding="utf-8"), encoding="utf-8")
    write_stored(tmp_path / "table.yaml", Stored(table_of(1280, 720)))
    return job


def cut(job: Path) -> Ran:
    return run("cut", job, "--table", job.with_name("table.yaml"))


def test_a_second_session_is_told_which_process_has_the_job_and_since_when(job: Path) -> None:
    with JournalFile(journal_path(job)):
        ran = cut(job)
    assert ran.code == 1
    (said,) = ran.err.splitlines()
    assert f"another session is cutting this job (process {os.getpid()} since " in said
    assert "leave that one first (Esc)" in said
    assert "every tick is kept" in said


def test_a_folder_that_may_only_be_read_is_refused_before_anything_is_lit(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # Permissions do not bind every user, so the refusal comes from the call itself.
    real = os.open

    def only_read(path: object, flags: int, mode: int = 0o777) -> int:
        if flags & os.O_CREAT and Path(str(path)).parent == job.parent:
            raise OSError(30, "Read-only file system")
        return real(path, flags, mode)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "open", only_read)
    ran = cut(job)
    assert ran.code == 1
    assert "Read-only file system, so ticks could not be kept; make the folder writable, or copy the job" in ran.err


def ticked(job: Path, count: int = 2) -> Path:
    """The record of the job with so many cuts ticked."""
    plan = load_plan(job)
    with JournalFile(journal_path(job)) as journal:
        for placed in plan.placements[:count]:
            journal.append("done", placed.cut.id, fingerprint(plan))
    return journal_path(job)


def test_all_that_a_damaged_record_tells_is_shown_with_its_damage_and_no_cut_is_lit(job: Path) -> None:
    path = ticked(job)
    first, second = [placed.cut.id for placed in load_plan(job).placements]
    path.write_bytes(path.read_bytes().replace(b'"done"', b'"dome"', 1))
    ran = cut(job)
    assert ran.code == 1
    assert f"{path}:1:1: record of cuts: it was changed or spoilt; see all that is known with" in ran.err
    ran = run("status", job)
    assert ran.code == 1
    assert "1 of 2 cuts done" in ran.out
    assert f"{path}:1:1: record of cuts: it was changed or spoilt, so what it told is not known" in ran.err
    told = json.loads(run("status", job, "--json").out)
    assert (told["done"], told["next"], told["left"]) == ([second], first, [first])
    assert told["damaged"] == [{"line": 1, "what": "it was changed or spoilt"}]


def test_a_damaged_record_is_mended_from_its_other_lines_and_kept_as_it_was(job: Path) -> None:
    path = ticked(job)
    damaged = path.read_bytes().replace(b'"done"', b'"dome"', 1)
    path.write_bytes(damaged)
    ran = run("status", job, "--mend")
    assert ran.code == 0
    assert "1 of 2 cuts done" in ran.out
    (kept,) = path.parent.glob("porch.yaml.cuts.damaged-*")
    assert kept.read_bytes() == damaged
    assert str(kept) in ran.out
    assert [event.number for event in read_journal(path).events] == [1]
    assert not read_journal(path).damaged


def test_a_record_in_use_is_not_mended(job: Path) -> None:
    path = ticked(job)
    with JournalFile(path):
        spoilt = path.read_bytes().replace(b'"done"', b'"dome"', 1)
        path.write_bytes(spoilt)
        ran = run("status", job, "--mend")
    assert ran.code == 1
    assert "another session is cutting this job" in ran.err
    assert path.read_bytes() == spoilt


@pytest.mark.parametrize("along", ["1/0", "1e99999999"])
def test_a_repeat_in_the_record_that_is_no_length_is_a_sentence(job: Path, along: str) -> None:
    with JournalFile(journal_path(job)) as journal:
        journal.append("replanned", None, "plan", along=along)
    for ran in (cut(job), run("status", job)):
        assert (ran.code, ran.err.count("\n")) == (1, 1)
        assert "record of cuts: the measured repeat cannot be read (it is" in ran.err


def test_a_damaged_file_of_the_light_is_one_sentence_and_no_hindrance(job: Path) -> None:
    job.with_name("porch.yaml.light").write_bytes(b"dark: {\x00")
    with JournalFile(journal_path(job)):  # so that the command ends before it opens a window
        ran = cut(job)
    assert f"Note: {job}.light is damaged: all layers are lit" in ran.out
    assert ran.err.count("\n") == 1


def test_status_says_that_the_record_ends_in_a_torn_line(job: Path) -> None:
    plan = load_plan(job)
    with JournalFile(journal_path(job)) as journal:
        for placed in plan.placements[:2]:
            journal.append("done", placed.cut.id, fingerprint(plan))
    whole = run("status", job)
    journal_path(job).write_bytes(journal_path(job).read_bytes()[:-7])
    ran = run("status", job)
    assert "torn line" not in whole.out
    assert "1 of 2 cuts done" in ran.out
    assert "The record ends in a torn line, as after a power cut: look whether the last cut is ticked." in ran.out


def begun(job: Path) -> Path:
    """The left panel ticked by this version."""
    plan = load_plan(job)
    with JournalFile(journal_path(job)) as journal:
        recording_in(journal, plan)(Done("river-window-left"))
    return journal_path(job)


def change(job: Path, old: str, new: str) -> None:
    text = job.read_text(encoding="utf-8")
    assert old in text
    job.write_text(text.replace(old, new), encoding="utf-8")


def test_status_tells_where_each_cut_lies(job: Path) -> None:
    begun(job)
    placed = next(one for one in load_plan(job).placements if one.cut.id == "river-window-left")
    (place,) = json.loads(run("status", job, "--json").out)["places"]
    assert (place["id"], place["piece"]) == ("river-window-left", placed.piece)
    assert (place["start_in"], place["end_in"]) == (float(placed.start), float(placed.end))
    assert "done   River window, left, 1 of 1: piece 1, from " in run("status", job).out


def test_a_job_that_contradicts_a_cut_is_told_what_to_do_by_every_command_and_its_cuts_are_shown(job: Path) -> None:
    change(job, "length: 7 1/2 yd", "length: 12 yd")
    begun(job)
    change(job, "finished_length: 81", "finished_length: 85")
    for ran in (cut(job), run("plan", job), run("status", job)):
        assert ran.code == 1
        assert "River window, left is cut already: it was cut " in ran.err
        assert "put back what was changed; or" in ran.err
        assert "lightchalk status JOB --cut-anew river-window-left" in ran.err
    assert "done   River window, left, 1 of 1: piece 1, from " in run("status", job).out
    told = run("status", job, "--cut-anew", "river-window-left")
    assert (told.code, told.err) == (0, "")
    assert "0 of 2 cuts done" in told.out
    assert "spare  River window (spare), left" in told.out
    assert run("plan", job).code == 0


def test_only_a_cut_that_is_done_can_be_cut_anew(job: Path) -> None:
    begun(job)
    ran = run("status", job, "--cut-anew", "river-window-right")
    assert ran.code == 1
    assert "river-window-right is not among the cuts that are done (river-window-left)" in ran.err


def test_what_is_cut_is_known_without_the_job(job: Path) -> None:
    begun(job)
    job.unlink()
    ran = run("status", job)
    assert ran.code == 1
    assert "porch: 1 cut done\n  done   River window, left, 1 of 1: piece 1, from " in ran.out
    assert "there is no such file" in ran.err


def test_cloth_too_short_for_what_is_to_do_is_said_beside_what_is_cut(job: Path) -> None:
    begun(job)
    change(job, "length: 7 1/2 yd", "length: 110")
    ran = run("status", job)
    assert ran.code == 1
    assert "what is still to be cut does not fit beside what is cut" in ran.err
    assert "write another piece of the cloth under pieces" in ran.err
    assert "buy" not in ran.err
