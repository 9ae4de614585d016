"""A job of several cloths through the commands: each ordered in turn, planned and recorded for itself."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from jobs.journal import read_journal
from projector.commands.shared import cloths as module
from projector.commands.shared.cloths import chosen, every_cloth, record_path, with_cloth
from projector.commands.shared.planned import load_going_on
from projector.commands.shared.recording import open_record
from projector.session.cutting.journal import Done, recording_in
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run

JOB = """\
job: Bay at the weir
units: in
cloth: {name: Kites on grey, width: 55, selvedge: 1/2, repeat: {along: 25, across: 27}, drop: 0, print: {one_way: yes}}
cloths:
  - {name: Plain sateen, width: 54, selvedge: 1/2}
  - {name: Domette, width: 60, selvedge: 0, print: {one_way: no}}
allowances: {heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 1}
windows:
  - name: East bay
    panels: whole
    finished_length: 84
    rod: 40
    returns: 0
    overlap: 0
    fullness: 2
    row: {below_top: 0}
    lining: {cloth: Plain sateen, narrower: 2, hem: 4}
    interlining: {cloth: domette, shorter: 0, hem: 0, side_hem: 0, heading: 0}
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "bay.yaml"
    path.write_text(JOB, encoding="utf-8")
    return path


def test_each_cloth_is_ordered_in_turn(job: Path) -> None:
    """Sateen: 80 - 2 + 6 = 84 flat, two cuts of 53 joined; 83 + 4 + 4 = 91 each, 182 + 1 = 183: 21 x 9 = 189 = 5 1/4
    yd. Domette: 80 flat of 60, 1 1/2 cuts joined give 60 + 30 - 1 = 89; 84 each, 168 + 1: 19 x 9 = 171 = 4 3/4 yd."""
    said = run("order", job).out
    heads = ["Bay at the weir: Kites on grey", "Bay at the weir: Plain sateen", "Bay at the weir: Domette"]
    assert [said.index(head) for head in heads] == sorted(said.index(head) for head in heads)
    assert "To buy: 5 1/4 yd" in said
    assert "To buy: 4 3/4 yd" in said
    assert (
        "78 in flat for the panel, as the face of East bay is wide; with 2 side hems of 3 in a panel takes 84" in said
    )


def test_json_lists_the_orders_of_all_cloths(job: Path) -> None:
    found = json.loads(run("order", job, "--json").out)
    assert set(found) == {"job", "cloths"}
    assert [(one["cloth"], one["buy_in"]) for one in found["cloths"]][1:] == [("Plain sateen", 189), ("Domette", 171)]
    assert [cut["window"] for cut in found["cloths"][1]["cuts"]] == ["East bay lining"] * 2


def test_json_of_a_job_of_one_cloth_keeps_its_keys_and_lists_it_too() -> None:
    found = json.loads(run("order", READING_ROOM, "--json").out)
    (alone,) = found["cloths"]
    assert {key: found[key] for key in found if key != "cloths"} == {k: alone[k] for k in alone if k != "cloth"}
    assert {"job", "handbook_in", "guaranteed_in", "buy_in", "buy", "cuts", "steps"} <= set(found)


def test_one_cloth_alone_can_be_ordered_and_planned(job: Path) -> None:
    assert "Kites" not in run("order", job, "--cloth", "domette").out
    plan = json.loads(run("plan", job, "--json", "--cloth", "Plain sateen").out)
    assert [cut["id"] for cut in plan["cuts"]] == ["east-bay-lining-whole-1", "east-bay-lining-whole-2"]


@pytest.mark.parametrize("command", [("plan",), ("status",), ("picture", "--of", "cloth", "--out", "a.svg")])
def test_where_there_are_several_the_command_must_be_told_which(job: Path, command: tuple[str, ...]) -> None:
    ran = run(command[0], job, *command[1:])
    assert ran.code == 1
    assert ran.err.strip() == (
        f'{job}: cloths: this job has several; say which with --cloth: "Kites on grey" or "Plain sateen" or Domette'
    )


def test_a_cloth_that_is_not_there_is_refused_with_those_that_are(job: Path) -> None:
    ran = run("plan", job, "--cloth", "Velvet")
    assert ran.code == 1
    assert 'nothing is cut from "Velvet"; give "Kites on grey" or "Plain sateen" or Domette' in ran.err


def test_a_problem_of_a_lining_is_said_at_its_place(job: Path) -> None:
    # Two seams of 27 in take all of the 53 in between the selvedges.
    job.write_text(JOB.replace("seam: 1/2", "seam: 27"), encoding="utf-8")
    ran = run("order", job, "--cloth", "Plain sateen")
    assert ran.code == 1
    assert ran.err.startswith(f"{job}:17:13: East bay lining")


def test_check_tells_of_every_cloth_and_of_one_that_serves_for_nothing(job: Path) -> None:
    job.write_text(JOB.replace("    interlining: {cloth: domette", "    #"), encoding="utf-8")
    said = run("check", job).out
    assert "Cloth: Kites on grey" in said
    assert "Cloth: Plain sateen" in said
    assert "its own: heading 4 in, hem 4 in, side hem 3 in" in said
    assert "Note: nothing is cut from Domette." in said


def test_each_cloth_has_a_record_of_its_own(job: Path) -> None:
    """One cut of the lining is made: status of the lining tells it, status of the face knows of none."""
    sateen = chosen(job, "plain sateen")
    with open_record(sateen) as journal:
        begun = load_going_on(sateen, journal.events)
        recording_in(journal, begun.plan, begun)(Done("east-bay-lining-whole-1"))
    assert record_path(sateen) == job.with_name("bay.yaml.plain-sateen.cuts")
    assert [event.cut for event in read_journal(record_path(sateen)).events if event.event == "done"]
    assert json.loads(run("status", job, "--json", "--cloth", "Plain sateen").out)["done"] == [
        "east-bay-lining-whole-1"
    ]
    face = json.loads(run("status", job, "--json", "--cloth", "Kites on grey").out)
    assert face["done"] == []
    first, *_ = every_cloth(job)
    assert record_path(first) == job.with_name("bay.yaml.cuts")
    assert with_cloth(sateen) == f'{job} --cloth "Plain sateen"'


def test_cut_asks_which_cloth_lies_on_the_table(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a terminal nobody can be asked, and the names are told instead."""
    ran = run("cut", job, "--simulated")
    assert ran.code == 1
    assert "say which with --cloth" in ran.err
    assert module.one_cloth(chosen(job, "DOMETTE")).name == "Domette"


def test_a_bay_of_three_lined_and_banded_by_hand() -> None:
    """The example of a bay.

    Face: each cut is 90 + 4 + 8 = 102. A light of 30 twice as full is 60, 30 to a panel, 34 with two side hems of 2:
    one cut. The middle one: (54 + 3) x 2 = 114, 57, 61: 1 1/2 cuts; halves of a turned pair do not share. 2 + 4 + 2 = 8
    lengths; of 18: 102 is 5 2/3 repeats, 6 = 108: 8 x 108 + 18 = 882.
    Lining: 1 in shorter, heading 4, hem 4: 89 + 8 = 97; widths 29 + 4 = 33 and 56 + 4 = 60, 1 1/2 cuts of plain cloth,
    whose halves share: 2 + 3 + 2 = 7 x 97 = 679, + 1 squaring = 680: 19 yd are 684.
    Bands: six of 102 x 4 side by side are 24 of 55 1/4; four tie-backs, 23 x 5, are 20 and lie beside them: 44 in all,
    102 + 1 = 103, and 3 yd are 108.
    """
    found = json.loads(run("order", EXAMPLES / "weir_bay.yaml", "--json").out)["cloths"]
    # The two bands of a pair are one for each panel, not two widths joined.
    assert not any("joined" in step for step in found[2]["steps"])
    assert (found[0]["cloth"], found[0]["handbook_in"]) == ("Dragonflies on straw", 882)
    assert [(one["handbook_in"], one["buy_in"], one["buy"]) for one in found[1:]] == [
        (679, 684, "19 yd"),
        (102, 108, "3 yd"),
    ]


def test_the_sheet_of_cushions_and_shades_says_nothing_of_pins_and_folds_that_are_none(tmp_path: Path) -> None:
    from jobs.model.choices import Unit
    from jobs.planning.planner import plan_job
    from projector.commands.shared.loading import load_job
    from projector.papers.sheet.lengths import LengthFormat
    from projector.papers.sheet.sewing import fold_words

    file = tmp_path / "orangery.yaml"
    text = (EXAMPLES / "orangery.yaml").read_text(encoding="utf-8")
    file.write_text(text + "pins: {spacing: 5}\nstiffener: 5/8\ndoubled: [hem, side hem]\n", encoding="utf-8")
    plan = plan_job(load_job(file))
    said = "\n".join(fold_words(plan, LengthFormat(Unit.INCH)))
    assert "Seams of Cushion 1, Cushion 2, Cushion 3 and 5 more: 1/2 in inside each edge." in said
    assert said.count("Pins along the finished top") == 1
    assert "fold 1/2" not in said
