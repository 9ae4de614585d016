"""``lay --back``: a photograph of a panel that is cut, laid back, and what it says of its mate."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from calibration.photographs.pattern import Pattern
from calibration.registration.fit import PrintFit
from jobs.io.reader import read_job
from jobs.journal import JournalFile, journal_path
from jobs.planning.planner import plan_job
from projector.demo.cloth import AsItLies
from projector.demo.cut_panel import panel_laid_back
from projector.demo.match import off_print
from projector.demo.setup import cloth_at, demo_setup
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, backed_off, jpeg_bytes
from projector.files.table_file import Stored, write_stored
from projector.light.pattern import pattern_frame
from projector.scene.print_marks import lattice_of
from projector.session.cutting.journal import Done, recording_in
from tests.calibration.laying.rigs import SETTINGS, random_face
from tests.jobs.prints.photographs.pictures import Blots
from tests.projector.commands.running import READING_ROOM, run

LIES = AsItLies(1.006, 0.01, 0.006, 0.3, (0.3, 0.5))
LEFT, RIGHT = "river-window-left", "river-window-right"
EIGHTH = 1 / 8


def light_at(plan, stop, right_in=0.0):
    """The light that follows the print as it truly lies, moved so far to the right."""
    cloth = cloth_at(plan, stop, LIES)
    lattice = lattice_of(plan.job.cloth, plan.pieces[stop.placement.piece - 1].piece)
    by = cloth.stretch_along
    fit = PrintFit(lattice, (0.0, 0.0), cloth.turn_deg, by, cloth.stretch_across, by * cloth.skew, by * cloth.bow)
    x, y = (cloth.to_table([(0.0, 0.0)])[0] + (right_in, 0.0)).tolist()
    return replace(fit, shift=(x, y))


def photographed(job, panel):
    """A photograph of a panel on the lit table of the job."""
    demo = demo_setup(job, 1920, 1080, date="2026-03-01")
    camera = backed_off(VirtualCamera((36.0, 4.0, 78.0), (36.0, 30.0), 1000.0, 1300, 975, 2.0, 0.03), demo.table_in)
    lit = LitTable(demo.projector, pattern_frame(Pattern(1920, 1080)), panel, demo.table_in)
    return jpeg_bytes(camera, lit, Taking(blur_px=0.7))


@pytest.fixture(scope="module")
def cut(tmp_path_factory):
    """A job whose left panel was cut 1/8 in too far to the right, ticked, laid back and photographed; and its plan.

    The mirror line of the print lies 2 in below its rows, and the right panel is turned.
    """
    folder = tmp_path_factory.mktemp("back")
    setting = next(one for one in SETTINGS if one.group == "pm" and one.top_to_bottom.value == "mirror")
    face = random_face(setting, Blots, 5, 1.0, 54.0)
    Image.fromarray(face.pixels).resize((265, 248), Image.Resampling.BOX).save(folder / "print.png")
    text = READING_ROOM.read_text(encoding="utf-8")
    for old, new in (
        ("cloth:\n", f"cloth:\n  picture: {folder / 'print.png'}\n"),
        ("finished_length: 81", "finished_length: 42"),
        ("mirror_offset: 0 ", "mirror_offset: 2 "),
    ):
        assert old in text
        text = text.replace(old, new, 1)
    (folder / "job.yaml").write_text(text, encoding="utf-8")
    job = read_job(folder / "job.yaml")
    demo = demo_setup(job, 1920, 1080, date="2026-03-01")
    write_stored(folder / "table.yaml", Stored(demo.table))
    plan = plan_job(job, job.table.length)
    with JournalFile(journal_path(folder / "job.yaml")) as journal:
        recording_in(journal, plan)(Done(LEFT))
    stops = {stop.placement.cut.id: stop for stop in plan.stops}
    assert len(stops) == len(plan.stops) == 2
    panel = panel_laid_back(plan, stops[LEFT], light_at(plan, stops[LEFT], EIGHTH), LIES)
    (folder / "seen.jpg").write_bytes(photographed(job, panel))
    return folder, plan, stops


def told(folder, *words):
    return run("lay", folder / "job.yaml", "--table", folder / "table.yaml", "--photo", folder / "seen.jpg", *words)


def test_a_panel_cut_off_its_rows_says_where_its_mate_is_to_be_cut(cut):
    folder, plan, stops = cut
    ran = told(folder, "--back", LEFT, "--json")
    assert (ran.code, ran.err) == (0, "")
    found = json.loads(ran.out)
    (seam,) = found["seams"]
    assert (seam["mate"], seam["edge"], seam["mate_edge"], seam["mate_is_cut"]) == (RIGHT, "leading", "leading", False)
    assert (found["cut"], found["ends"], seam["against"], seam["verdict"]) == (LEFT, ["top", "foot"], "plan", "misses")
    for end in ("top", "foot"):
        # Cut 1/8 too far to the right, its top at the left: its print hangs 1/8 higher.
        assert seam[end]["higher_in"] == pytest.approx(EIGHTH, abs=0.05)
        assert 0 < seam[end]["within_in"] < 0.1
    # The mate lies the other way about: its light goes to the left. So cut it meets the first, by the truth of both.
    assert seam["light_to_right_in"] == -seam["cut_lower_in"]
    by_first = off_print(plan, stops[LEFT].placement, stops[LEFT], LIES, light_at(plan, stops[LEFT], EIGHTH))
    moved = light_at(plan, stops[RIGHT], seam["light_to_right_in"])
    by_second = off_print(plan, stops[RIGHT].placement, stops[RIGHT], LIES, moved)
    as_planned = off_print(plan, stops[RIGHT].placement, stops[RIGHT], LIES, light_at(plan, stops[RIGHT]))
    assert np.abs(by_first - as_planned).max() == pytest.approx(EIGHTH, abs=0.01)
    assert np.abs(by_first - by_second).max() < 1 / 16
    said = told(folder, "--back", LEFT).out
    assert "River window, left, 1 of 1, laid back" in said
    assert "THEY MISS" in said
    assert "Cut River window, right, 1 of 1 with its row moved by" in said
    assert "to the left, towards its foot, and cut there" in said


@pytest.mark.parametrize(
    ("name", "why"),
    [(RIGHT, "is not cut yet"), ("river-window", "there is no cut river-window of this cloth; made are: " + LEFT)],
)
def test_what_is_not_cut_is_not_judged(cut, name, why):
    folder, *_ = cut
    ran = told(folder, "--back", name)
    assert (ran.code, ran.out) == (1, "")
    assert why in ran.err


@pytest.mark.parametrize(
    "words",
    [
        ("--table", "t.yaml", "--back", LEFT),
        ("--points", "a.yaml", "--back", LEFT),
        ("--photo", "a.jpg", "--table", "t.yaml", "--beside", RIGHT, "b.jpg"),
        ("--photo", "a.jpg", "--table", "t.yaml", "--back", LEFT, "--at-left", "3"),
    ],
)
def test_half_of_what_is_needed_is_wrong_usage(words):
    assert run("lay", READING_ROOM, *words).code == 2


def test_plain_cloth_has_nothing_to_match(cut):
    folder, *_ = cut
    plain = folder / "plain.yaml"
    lines = (folder / "job.yaml").read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not any(key in line for key in ("picture:", "repeat:", "drop:", "row:"))]
    text = "\n".join(kept)
    start, end = text.index("  print:"), text.index("  colour:")
    plain.write_text(text[:start] + text[end:], encoding="utf-8")
    ran = run("lay", plain, "--table", folder / "table.yaml", "--photo", folder / "seen.jpg", "--back", LEFT)
    assert ran.code == 1
    assert "plain cloth has no print that could miss its mate's" in ran.err


def test_a_mate_that_is_cut_too_is_held_against_it_by_a_photograph_of_its_own(cut):
    folder, plan, stops = cut
    both = folder / "both.yaml"
    both.write_text((folder / "job.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    with JournalFile(journal_path(both)) as journal:
        record = recording_in(journal, plan)
        for name in (LEFT, RIGHT):
            record(Done(name))
    # Its light lay 1/16 in too far to the left: its top at the right, it was cut as much too low on its print.
    panel = panel_laid_back(plan, stops[RIGHT], light_at(plan, stops[RIGHT], -1 / 16), LIES)
    (folder / "other.jpg").write_bytes(photographed(plan.job, panel))
    words = ("--table", folder / "table.yaml", "--photo", folder / "seen.jpg", "--back", LEFT)
    ran = run("lay", both, *words, "--beside", RIGHT, folder / "other.jpg", "--json")
    assert (ran.code, ran.err) == (0, "")
    (seam,) = json.loads(ran.out)["seams"]
    assert (seam["against"], seam["mate_is_cut"]) == ("photograph", True)
    for end in ("top", "foot"):
        assert seam[end]["higher_in"] == pytest.approx(1 / 8 - 1 / 16, abs=0.06)
        assert seam[end]["within_in"] > 0.03
    ran = run("lay", folder / "job.yaml", *words, "--beside", RIGHT, folder / "other.jpg")
    assert ran.code == 1
    assert f"{RIGHT} is not cut yet" in ran.err


def test_a_photograph_of_something_else_says_how_the_panel_is_to_lie(cut):
    folder, *_ = cut
    Image.new("RGB", (1200, 900), "#777777").save(folder / "grey.jpg")
    words = ("--table", folder / "table.yaml", "--photo", folder / "grey.jpg", "--back", LEFT)
    ran = run("lay", folder / "job.yaml", *words)
    assert (ran.code, ran.out) == (1, "")
    assert "the lit pattern is not to be seen well enough" in ran.err
    assert "Lay the panel of River window, left, 1 of 1 back flat, printed side up, its top at your left" in ran.err
