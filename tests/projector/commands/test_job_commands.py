import json
import re
from fractions import Fraction
from itertools import pairwise

import pytest

from projector.commands.shared.cloths import OneCloth, every_cloth
from tests.jobs.io.texts import SMALL
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run

JOBS = sorted(EXAMPLES.glob("*.yaml"))

PRINT_KEYS = ("top_to_bottom", "side_to_side", "one_way")


@pytest.mark.parametrize("job", JOBS, ids=lambda path: path.stem)
@pytest.mark.parametrize("command", ["check", "order", "plan", "status"])
def test_every_example_job_goes_through_every_command(job, command):
    for cloth in every_cloth(job):
        ran = run(
            command, job, *(("--cloth", cloth.name) if isinstance(cloth, OneCloth) and command != "check" else ())
        )
        assert (ran.code, ran.err) == (0, "")
        assert ran.out


def test_order_as_json_has_the_stable_keys_and_adds_up():
    order = json.loads(run("order", READING_ROOM, "--json").out)
    assert set(order) >= {"job", "handbook_in", "guaranteed_in", "buy_in", "buy", "cuts", "steps"}
    for cut in order["cuts"]:
        assert set(cut) >= {"id", "window", "hand", "length_in", "handbook_in", "count"}
    # 81 finished + 4 heading + 8 hem = 93, in repeats of 12 3/8 that is 8 of them, 99; two of them and one repeat more.
    assert [cut["length_in"] for cut in order["cuts"]] == [93, 93]
    assert order["handbook_in"] == 2 * 99 + 12.375
    assert order["buy_in"] % 9 == 0
    assert order["buy_in"] >= order["guaranteed_in"] + 1


def test_plan_as_json_keeps_rows_ways_and_edges_where_they_are_promised():
    plan = json.loads(run("plan", READING_ROOM, "--json").out)
    assert plan["repeat_in"] == 12.375
    assert plan["short_in"] == 0
    assert plan["proved_shortest"] is True
    assert plan["used_in"] == plan["bound_in"] == max(cut["end_in"] for cut in plan["cuts"])
    repeat, first_row = Fraction(99, 8), Fraction(19, 4)
    ways = {cut["hand"]: cut["way"] for cut in plan["cuts"]}
    assert ways == {"left": "upright", "right": "turned"}
    for cut in plan["cuts"]:
        down = 1 if cut["way"] == "upright" else -1
        row = Fraction(cut["top_in"]) + down * Fraction(cut["row_in"])
        assert (row - first_row) % repeat == 0
        assert {cut["top_in"], cut["foot_in"]} == {cut["start_in"], cut["end_in"]}
    assert {cut["leading_selvedge"] for cut in plan["cuts"]} == {"far"}


def test_every_edge_of_every_cut_is_lit_at_some_stop():
    plan = json.loads(run("plan", READING_ROOM, "--json").out)
    for cut in plan["cuts"]:
        stops = [stop for stop in plan["stops"] if stop["cut"] == cut["id"]]
        assert {edge for stop in stops for edge in stop["shows"]} == {"top", "foot"}
        for stop in stops:
            for edge in stop["shows"]:
                assert stop["lit_from_in"] <= cut[f"{edge}_in"] <= stop["lit_to_in"]
        moved = [b["cloth_at_left_in"] - a["cloth_at_left_in"] for a, b in pairwise(stops)]
        assert all(Fraction(pull) % Fraction(99, 8) == 0 for pull in moved)


def test_cloth_that_is_too_short_is_refused_with_what_is_missing(tmp_path):
    # A 2010 account of a short piece: four cuts of 110 in from 12 yd are 8 in short.
    job = tmp_path / "short.yaml"
    job.write_text(
        "job: Short piece\nunits: in\ncloth: {name: plain, width: 54, pieces: [{length: 12 yd}]}\n"
        "windows:\n  - {name: One, panels: pair, hang: same, finished_length: 110}\n"
        "  - {name: Two, panels: pair, hang: same, finished_length: 110}\n"
    )
    ran = run("plan", job, "--json")
    assert ran.code == 1
    assert json.loads(ran.out)["short_in"] == 8
    assert json.loads(ran.out)["cuts"] == []
    assert "8 in short" in ran.err
    assert run("plan", job).out == ""


@pytest.fixture
def unanswered(tmp_path):
    """The reading room before anybody has looked at its print."""
    text = READING_ROOM.read_text(encoding="utf-8")
    keys = ("drop:", "top_to_bottom:", "side_to_side:", "mirror_offset:", "one_way:")
    job = tmp_path / "unanswered.yaml"
    job.write_text("".join(line for line in text.splitlines(True) if not line.lstrip().startswith(keys)))
    return job


def test_the_order_of_a_print_that_is_not_known_is_the_dearest_case_and_says_so(unanswered):
    ran = run("order", unanswered)
    assert ran.code == 0
    assert "the dearest case: not all is known of the print" in ran.out
    assert "Not known yet: how far the next column" in ran.out
    told = json.loads(run("order", unanswered, "--json").out)
    assert told["not_known"] == ["drop", "top_to_bottom", "side_to_side", "one_way"]
    assert list(told["dearest"]) == told["not_known"]
    assert told["buy_in"] >= told["least_in"] > 0
    known = json.loads(run("order", READING_ROOM, "--json").out)
    assert (known["not_known"], known["dearest"], known["least_in"]) == ([], {}, known["buy_in"])


@pytest.mark.parametrize("how", [("--simulated",), ("--table", "none.yaml")])
def test_nothing_is_cut_before_the_print_is_known(unanswered, how):
    ran = run("cut", unanswered, *how)
    assert ran.code == 1
    lines = ran.err.splitlines()
    assert [line.split(": ")[1] for line in lines] == ["cloth, drop", *["cloth, print, " + key for key in PRINT_KEYS]]
    assert all("write `" in line for line in lines)


def test_the_plan_and_the_check_of_a_print_that_is_not_known_say_so(unanswered):
    # No piece is long enough for the dearest case here, so it is taken as ordered.
    text = unanswered.read_text()
    unanswered.write_text(text[: text.index("  pieces:")] + text[text.index("allowances:") :])
    for command in ("plan", "check"):
        ran = run(command, unanswered)
        assert ran.code == 0, ran.err
        assert "Not known yet" in ran.out


def test_motif_points_are_fitted_only_where_the_drop_is_known(unanswered, tmp_path):
    points = tmp_path / "points.yaml"
    points.write_text("points: [{row: 0, column: 0, table: [3, 5]}, {row: 2, column: 1, table: [28, 18]}]\n")
    ran = run("lay", unanswered, "--points", points)
    assert ran.code == 1
    assert "cloth, drop: how far the next column" in ran.err


def test_every_problem_of_a_job_is_one_line_with_its_place(tmp_path):
    job = tmp_path / "wrong.yaml"
    job.write_text("job: x\nunits: furlong\ncloth: {width: -3, widht: 2}\nwindows: []\n")
    ran = run("check", job)
    assert ran.code == 1
    lines = ran.err.splitlines()
    assert len(lines) >= 4
    assert all(line.startswith(f"{job}:") for line in lines)


def test_pictures_of_the_piece_are_written_whole_or_not_at_all(tmp_path):
    out = tmp_path / "piece.png"
    assert run("plan", READING_ROOM, "--picture", out).code == 0
    assert out.read_bytes().startswith(b"\x89PNG")
    assert run("plan", READING_ROOM, "--picture", tmp_path / "piece.pdf").code == 1
    assert run("plan", READING_ROOM, "--picture", tmp_path / "no" / "piece.svg").code == 1
    assert [path.name for path in tmp_path.iterdir()] == ["piece.png"]


def test_the_plan_shows_the_same_picture_as_the_picture_command(tmp_path):
    run("plan", READING_ROOM, "--picture", tmp_path / "a.svg")
    run("picture", READING_ROOM, "--of", "cloth", "--out", tmp_path / "b.svg")
    assert (tmp_path / "a.svg").read_text() == (tmp_path / "b.svg").read_text()


@pytest.mark.parametrize("what", ["frame", "table", "cloth", "hung"])
@pytest.mark.parametrize("kind", ["png", "svg"])
def test_every_picture_comes_as_png_and_svg(tmp_path, what, kind):
    out = tmp_path / f"{what}.{kind}"
    ran = run("picture", READING_ROOM, "--of", what, "--out", out)
    assert (ran.code, ran.err) == (0, "")
    assert out.read_bytes()[:4] in (b"\x89PNG", b"<svg", b"<?xm")


def test_a_stop_that_is_not_there_is_refused(tmp_path):
    ran = run("picture", READING_ROOM, "--of", "frame", "--stop", 9, "--out", tmp_path / "x.png")
    assert ran.code == 1
    assert "4 stops" in ran.err
    assert list(tmp_path.iterdir()) == []


def test_an_order_ends_with_what_to_buy_and_how_to_buy_less(tmp_path):
    house = (EXAMPLES / "ferry_lane.yaml").read_text()
    whole = tmp_path / "whole.yaml"
    whole.write_text(house)
    lines = run("order", whole).out.splitlines()
    # 1776 in guaranteed and 1 in squaring: 1777 in, rounded up to quarter yards of 9 in: 1782 in
    at = lines.index("To buy: 49 1/2 yd")
    assert lines[at + 1] == "Ways to buy less, each tried by planning with it:"
    assert all(" less: " in line for line in lines[at + 2 :])
    short = tmp_path / "short.yaml"
    short.write_text(house.replace("sold_by: 1/4 yd", "sold_by: 1/4 yd\n  longest_piece: 25 yd"))
    (said,) = [line for line in run("order", short).out.splitlines() if line.startswith("To buy: ")]
    assert re.fullmatch(r"To buy: \S+( \S+)? yd, in 3 pieces of one dye lot: .* yd \+ .* yd \+ .* yd", said)


def test_a_window_longer_than_any_piece_that_is_sold_is_told_to_be_short(tmp_path):
    job = tmp_path / "tall.yaml"
    tall = "windows: [{name: Stair, panels: whole, finished_length: 100, cuts_per_panel: 4}]\n"
    job.write_text(
        f"job: Stair\nunits: in\ncloth: {{width: 54, longest_piece: 150, pieces: [{{length: 120}}]}}\n{tall}"
    )
    # Four cuts of 100 in and a piece of 120.
    ran = run("plan", job)
    assert ran.code == 1
    assert ran.err.endswith("cloth: the cuts do not fit, 280 in short; buy more pieces of one dye lot\n")


def test_the_list_of_stops_says_how_far_the_cloth_is_pulled_before_each():
    lines = run("plan", READING_ROOM).out.splitlines()
    stops = [line for line in lines if re.match(r"[1-4] .*(top|foot)  ", line)]
    # Lit from 3 5/8, 65 1/2, 103 1/4 and 165 1/8 in; a repeat is 12 3/8 in: 61 7/8 is five, 37 3/4 three and 5/8.
    assert [line.rpartition("  ")[2] for line in stops] == [
        "(lay piece 1, first end 3 5/8 in beyond the left end of the light)",
        "61 7/8 in to the left: 5 repeats",
        "37 3/4 in to the left: 3 repeats and 5/8 in",
        "61 7/8 in to the left: 5 repeats",
    ]


def test_the_list_of_stops_says_that_the_cloth_stays_and_when_another_piece_is_laid():
    out = run("plan", EXAMPLES / "ferry_lane.yaml").out
    assert re.findall(r"\(lay piece (\d), first end", out) == ["1", "2", "3"]
    # Two strips lie side by side in one length: the second is cut where the cloth lies.
    assert re.search(r"Kitchen sink, (left|right), 2 of 2 .*\(it stays\)", out)


def test_check_tells_what_is_hardly_meant_and_goes_on(tmp_path):
    path = tmp_path / "porch.yaml"
    path.write_text(SMALL.replace("width: 54", "width: 154").replace("finished_length: 58", "finished_length: 88"))
    ran = run("check", path)
    assert ran.code == 0, ran.err
    looks = [line.partition(";")[0] for line in ran.out.splitlines() if line.startswith("Look: ")]
    assert looks == [
        "Look: cloth, width: 154 in is unusually much, at most 130 in is common",
        "Look: window Landing, finished_length: the panel is 2 in longer than its top is high: it would lie on the "
        "floor",
    ]
