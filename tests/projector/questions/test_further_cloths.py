"""A second cloth, a lining, a contrast band and tie-backs, reached by one word and passed by with none."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from jobs.io.reader import parse_job
from jobs.io.writer import job_text
from jobs.model.choices import BandEdge
from jobs.model.trimmings import Band, Lining, TieBacks
from projector.questions.answers import job_of
from projector.questions.walk import next_question, replayed
from tests.projector.commands.test_new import said_to
from tests.projector.questions.scripts import after, reason

FACE = ["in", "Weir bay", "Dragonflies", "54", "1/2", "no", "no", "0", "", "1/4 yd", "no", "4", "8", "2", "1/2", "1"]
WINDOW = ["Left light", "pair", "", "90", "rod", "30", "0", "0", "2"]
SATEEN = ["yes", "Cream sateen", "54", "1/2", "no", "", "0", "cream", "1/4 yd"]
LINEN = ["yes", "Teal linen", "56", "3/8", "yes", "12", "9", "0", "no", "0", "", "10 cm"]
LINED = ["yes", "Cream sateen", "", "", "4"]
BANDED = ["yes", "foot", "3", "Teal linen", "no"]
TIED = ["yes", "", "4", "Teal linen"]
MORE = [*FACE, *WINDOW, "more", *SATEEN, *LINEN, "no", *LINED, "no", *BANDED, *TIED]
F = Fraction


def test_further_cloths_and_what_is_cut_from_them_are_in_the_job() -> None:
    job = job_of(after(*MORE, "no", "no"))
    assert [(one.name, one.width, one.sold_by) for one in job.cloths] == [
        ("Cream sateen", 54, 9),
        ("Teal linen", 56, F(500, 127)),
    ]
    assert job.cloths[0].repeat is None
    assert (job.cloths[1].repeat.along, job.cloths[1].repeat.across, job.cloths[1].drop) == (12, 9, 0)
    (window,) = job.windows
    assert window.lining == Lining("Cream sateen", hem=F(4))
    assert window.interlining is None
    assert window.bands == (Band(BandEdge.FOOT, F(3), "Teal linen"),)
    assert window.tie_backs == TieBacks(F(22), F(4), "Teal linen")
    assert parse_job(job_text(job), "job").cloths == job.cloths
    assert parse_job(job_text(job), "job").windows == job.windows


def test_what_goes_with_a_window_is_passed_by_with_one_answer() -> None:
    assert next_question(after(*FACE, *WINDOW)).path == ("windows", 0, "another")
    assert next_question(after(*FACE, *WINDOW, "no")).path == ("table", "known")
    assert next_question(after(*FACE, *WINDOW, "yes")).path == ("windows", 1, "name")


def test_the_next_window_has_the_same_cloths_and_the_same_with_it_unless_told_otherwise() -> None:
    second = [*MORE, "yes", "Right light", *WINDOW[1:], "more"]
    asked = next_question(after(*second))
    assert (asked.ask, asked.enter(after(*second))) == ("Is there another cloth for it (lining, contrast)?", "no")
    said = after(*second, "no", *LINED, "no", "no", "no", "no", "no")
    job = job_of(said)
    assert [one.name for one in job.cloths] == ["Cream sateen", "Teal linen"]
    assert [window.lining.cloth for window in job.windows] == ["Cream sateen", "Cream sateen"]
    assert (job.windows[1].bands, job.windows[1].tie_backs) == ((), None)
    # Enter gives what the window before has.
    lined = next_question(after(*second, "no"))
    assert (lined.path, lined.enter(after(*second, "no"))) == (("windows", 1, "lined"), "yes")
    assert replayed(said.pairs) == said


def test_a_name_that_no_cloth_has_or_another_has_is_refused() -> None:
    asks = [*FACE, *WINDOW, "more", *SATEEN, "no", "yes"]
    assert next_question(after(*asks)).path == ("windows", 0, "lining", "cloth")
    assert "Velvet" in reason("Velvet", *asks)
    assert "cream SATEEN" in reason("cream SATEEN", *FACE, *WINDOW, "more", *SATEEN, "yes")


@pytest.mark.parametrize("with_more", [False, True])
def test_the_talk_shows_what_is_bought_of_each_cloth(tmp_path: Path, monkeypatch, with_more: bool) -> None:
    typed = [*MORE, "no", "no"] if with_more else [*FACE, *WINDOW, "no", "no"]
    ran = said_to(monkeypatch, tmp_path / "bay.yaml", *typed, "")
    assert ran.code == 0, ran.err
    for name in ("Dragonflies", "Cream sateen", "Teal linen"):
        assert (f" of {name}" in ran.out) is with_more
    assert (tmp_path / "bay.yaml").exists()
