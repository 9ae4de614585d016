import asyncio
import html
import json
import re
from itertools import islice

import pytest

from jobs.io.reader import parse_job
from jobs.journal import History, JournalFile, journal_path
from jobs.journal.history import tick_values
from jobs.planning.going_on import go_on, note_plan
from projector.page.form.blank import examples
from projector.page.work import reckoner as module
from projector.page.work.answers import answers
from projector.page.work.asked import HOUSE, Asked
from projector.page.work.hung_window import hung_window
from projector.page.work.reckoner import Reckoner

MILL = examples()["Mill-race reading room"]
SHORT = MILL.replace("length: 7 1/2 yd", "length: 4 yd")

# What the command order prints for this job.
BUY = "5 3/4 yd"


def answered(text: str, **more: object) -> dict[str, dict]:
    found = {}
    for answer in answers(Asked(1, text, **more)):
        found[answer["stage"] + str(answer.get("of", "")) * (answer["stage"] == "picture")] = answer
    return found


def test_the_order_comes_first_and_the_pictures_are_of_the_job():
    found = answered(MILL)
    assert list(found) == ["order", "picturehung", "looks", "plan", "picturecloth", "savings"]
    assert found["order"]["buy"] == BUY
    assert found["order"]["cuts"] == 2
    assert found["plan"]["words"].startswith("2 cuts use ")
    assert "River window" in found["picturehung"]["svg"]
    assert found["picturecloth"]["svg"].count("<polygon") > 20


def test_a_pair_that_may_look_either_way_is_drawn_with_either_answer_whichever_is_chosen():
    looks = answered(MILL)["looks"]
    assert looks["window"] == 0
    assert list(looks["svgs"]) == ["left as it lies", "right as it lies"]
    chosen = MILL.replace("hang: mirrored", "facing: right as it lies")
    assert answered(chosen)["looks"] == looks
    assert "looks" not in answered(MILL.replace("hang: mirrored", "hang: same"))
    assert "looks" not in answered(MILL.replace("top_to_bottom: mirror ", "top_to_bottom: none "))


def test_pieces_that_are_too_short_still_show_what_would_hang_and_say_what_helps():
    found = answered(SHORT)
    assert found["plan"]["short"]
    assert "is missing" in found["plan"]["words"]
    assert any("buy one more piece" in way["sentence"] for way in found["savings"]["ways"])
    assert "picturehung" in found


def test_what_a_change_saves_is_said_as_the_cloth_is_sold():
    assert "sold_by: 1/4 yd" in MILL
    saved = {way["saves"] for way in answered(MILL)["savings"]["ways"]}
    assert saved
    assert all(re.fullmatch(r"\d[\d /]* yd", words) for words in saved), saved


def test_what_cannot_be_cut_says_why():
    found = answered(MILL.replace("top_to_bottom: mirror ", "top_to_bottom: none ").replace("mirror_offset: 0 ", ""))
    assert list(found)[-1] == "refused"
    assert any("no mirrored pair" in line for line in found["refused"]["lines"])
    assert ["windows", 0, "hang"] in found["refused"]["paths"]


def test_without_the_repeat_across_there_is_an_order_and_words_why_there_is_no_plan():
    text = MILL.replace(", across: 13 1/4", "").replace("cuts_per_panel: 1", "rod: 60\n    returns: 3")
    found = answered(text)
    assert list(found) == ["order", "plan", "picturecloth", "savings"]
    assert any("whole columns fill the print" in notice for notice in found["order"]["notices"])
    assert found["plan"]["words"].startswith("Not planned yet. River window, rod: ")
    assert "needed to plan and to cut, not to order" in found["plan"]["words"]
    assert found["picturecloth"]["svg"] == ""


def test_what_is_only_taken_for_a_print_is_never_written_into_the_file():
    text = MILL.replace("  drop: 0\n", "").replace("side_to_side: none", "half_turn: no")
    assert text != MILL
    edits = [edit for way in answered(text)["savings"]["ways"] for edit in way["edits"]]
    assert edits
    assert not [path for path, *_ in edits if path[0] == "cloth" and path[1] in ("drop", "print", "repeat")]


def test_one_window_or_all_of_them_are_seen_as_they_hang():
    house = examples()["Nine Ferry Lane"]
    found = list(answers(Asked(1, house, (2, HOUSE, 99), "look")))
    assert [answer["window"] for answer in found] == [2, HOUSE]
    names = re.findall(r"- name: (.*)", house)
    assert names[2].strip() in found[0]["svg"].replace("&amp;", "&")


def cloth_of(text: str) -> dict:
    svg = answered(text)["picturecloth"]["svg"]
    return json.loads(html.unescape(re.search("<metadata>(.*)</metadata>", svg).group(1)))


def test_the_cloth_tells_of_each_cut_what_it_is_and_where_else_its_rows_let_it_begin():
    known = cloth_of(MILL)
    left, right = known["cuts"]
    assert (left["name"], left["path"], left["panel"], left["cut"]) == ("1. River window, left", "windows/0", "left", 1)
    assert left["what"][0] == "From 6 5/8 in to 99 5/8 in: 93 in long"
    # Rows lie 12 3/8 in apart, so do the places; a flaw from 105 to 107 1/2 keeps 93 in from beginning between 12 in
    # and 107 1/2 in, and 270 in of cloth from beginning after 177 in.
    assert [place[2] for place in left["places"]] == ["6 5/8", "118", "130 3/8", "142 3/4", "155 1/8", "167 1/2"]
    assert {piece for piece, *_ in right["places"]} == {1}
    assert [tier["piece"] for tier in known["tiers"]] == [1, 1]
    assert known["tiers"][0]["to"] == known["tiers"][1]["from"]


ONE = """\
job: One
cloth: {width: 54, pieces: [{length: %s}]}
windows: [{name: Bay, panels: left, finished_length: 80, rod: 20, tie_backs: {length: 20, width: 4, pieces: 1}}]
flat_panels: [{name: Shade, width: 90, finished_length: 20}]
"""


def test_whatever_can_be_placed_tells_its_places_and_what_cannot_why():
    """The left panel takes 80 in, the shade three widths of 20 in, the tie-back 20 in."""
    known = {cut["name"].split(". ")[1]: cut for cut in cloth_of(ONE % 200)["cuts"]}
    tie, first, second = (known[name] for name in ("Bay tie-back", "Shade, 1 of 3", "Shade, 2 of 3"))
    assert (tie["path"], tie["panel"], tie["cut"], tie["held"]) == ("windows/0/tie_backs", "whole", 1, "")
    assert (first["path"], first["cut"], first["held"]) == ("flat_panels/0", 1, "")
    # It lies beside the left panel in a length of 80 in, of which 200 - 80 is the last place.
    assert tie["places"][-1][2] == "120"
    assert second["places"] == []
    assert second["held"] == "It is not dragged: of several joined it lies where least cloth is used"


def test_a_cut_that_can_lie_nowhere_else_and_one_on_cloth_without_end_are_not_dragged():
    alone = ONE[: ONE.index("flat_panels")].replace(", tie_backs: {length: 20, width: 4, pieces: 1}", "")
    (cut,) = cloth_of(alone % 80)["cuts"]
    assert (len(cut["places"]), cut["held"]) == (1, "It is not dragged, for it can lie nowhere else")
    (cut,) = cloth_of(alone % 4000)["cuts"]
    assert (cut["places"], cut["held"]) == (
        [],
        "It is not dragged, for there are too many places: type one under Place",
    )


def test_what_a_wish_costs_is_told_and_a_wish_that_cannot_be_met_says_why():
    placed = MILL.replace("    panels: pair", "    panels: pair\n    places: [{panel: left, near: 120}]")
    found = answered(placed)
    # The left one ends at 118 + 93 = 211, 10 1/8 in after the 200 7/8 in of the shortest plan.
    assert found["plan"]["words"].endswith("Where you placed them they take 10 1/8 in more than they must.")
    assert [cut["wished"] for cut in cloth_of(placed)["cuts"]] == [False, True]
    free = answered(MILL.replace("    panels: pair", "    panels: pair\n    places: [{panel: left, near: 7}]"))
    assert free["plan"]["words"].endswith("no more cloth than need be.")
    unmet = answered(placed.replace("near: 120", "near: 120, piece: 2"))["plan"]
    assert unmet["unmet"] == ["River window, left: it cannot lie near 120 in, for there is no piece 2."]


def many_pieces(count: int = 10) -> str:
    """A job of twice so many cuts on pieces with flaws, over whose order the search goes on and on."""
    windows = "".join(
        f"  - {{name: W{i}, panels: pair, finished_length: {61 + 7 * i % 41}, row: {{below_top: {i % 9}}}}}\n"
        for i in range(count)
    )
    pieces = "".join(
        f"    - {{length: {18 + 5 * i} yd, first_row: {i}, flaws: [{{from: {50 + i}, to: {52 + i}}}]}}\n"
        for i in range(2 + count // 5)
    )
    head = MILL[: MILL.index("  pieces:")]
    return f"{head}  pieces:\n{pieces}allowances: {{heading: 4, hem: 8}}\nwindows:\n{windows}"


def test_what_hangs_does_not_wait_for_a_search_over_several_pieces():
    stages = [answer["stage"] for answer in islice(answers(Asked(1, many_pieces())), 2)]
    assert stages == ["order", "picture"]


@pytest.mark.parametrize("number", range(3))
def test_the_pair_is_drawn_whole_whatever_the_room(number):
    from jobs.io.reader import parse_job
    from jobs.planning.planner import plan_job

    plan = plan_job(parse_job(examples()["Lock-keeper's cottage"], "a"))
    width, height = [(4.8, 3.6), (9.0, 2.0), (2.0, 7.0)][number]
    for window in range(2):
        drawing = hung_window(plan, window, width, height)
        assert drawing.width >= width
        assert drawing.height >= height
        for words in drawing.words:
            left, upper, right, lower = words.box
            assert 0 <= upper < lower <= drawing.height
            assert words.height >= 0.085
            assert right - left <= drawing.width or words.height == 0.085


def test_a_picture_of_the_print_that_is_missing_is_said(tmp_path):
    text = MILL.replace("  drop: 0", "  picture: red.png\n  drop: 0")
    found = answered(text, folder=str(tmp_path))
    assert any("a plain sign is drawn" in notice for notice in found["order"]["notices"])


# The process that works jobs out.


class Heard:
    """Answers as they come, and waiting for one of them."""

    def __init__(self) -> None:
        self.all: list[dict] = []
        self.new = asyncio.Event()
        self.reckoner = Reckoner(self.take)

    def take(self, answer: dict) -> None:
        self.all.append(answer)
        self.new.set()

    async def until(self, *stages: str) -> dict:
        while not (found := [answer for answer in self.all if answer["stage"] in stages]):
            self.new.clear()
            await self.new.wait()
        return found[-1]


def run(talk) -> None:
    async def whole() -> None:
        heard = Heard()
        try:
            await talk(heard)
        finally:
            heard.reckoner.close()

    asyncio.run(whole())


def test_a_process_answers_and_only_the_newest_job_counts():
    async def talk(heard: Heard) -> None:
        heard.reckoner.ask(Asked(0, SHORT))
        heard.reckoner.ask(Asked(0, MILL))
        assert heard.reckoner.busy
        await heard.until("done")
        assert not heard.reckoner.busy
        assert {answer["number"] for answer in heard.all} == {2}
        assert [answer["buy"] for answer in heard.all if answer["stage"] == "order"] == [BUY]

    run(talk)


def test_a_newer_job_does_not_wait_for_a_long_search_of_an_older_one():
    async def talk(heard: Heard) -> None:
        def plans() -> list[int]:
            return [answer["number"] for answer in heard.all if answer["stage"] == "plan"]

        heard.reckoner.ask(Asked(0, many_pieces(190)))
        await heard.until("progress", "plan")
        # On a busy machine the long search may be over by now; none of it comes once another job was asked.
        before = plans()
        heard.reckoner.ask(Asked(0, MILL))
        while (await heard.until("done"))["number"] != 2:
            heard.all = [answer for answer in heard.all if answer["stage"] != "done"]
        assert plans() == [*before, 2]

    run(talk)


def test_a_process_that_dies_is_replaced_and_the_job_is_worked_out_all_the_same():
    async def talk(heard: Heard) -> None:
        heard.reckoner.ask(Asked(0, MILL))
        heard.reckoner.__dict__["_process"].kill()
        assert (await heard.until("done"))["number"] == 1

    run(talk)


def test_a_long_search_tells_how_it_goes_and_ends_with_the_best_so_far_when_asked():
    async def talk(heard: Heard) -> None:
        heard.reckoner.ask(Asked(0, many_pieces(190)))
        await heard.until("progress", "plan")
        told = [answer["words"] for answer in heard.all if answer["stage"] == "progress"]
        assert all("none under" in words for words in told)
        heard.reckoner.stop()
        plan = await heard.until("plan")
        # On a busy machine the search may be over before it hears that.
        assert plan["stopped"] == ("The search was stopped" in plan["words"])

    run(talk)


def test_a_process_that_ends_again_and_again_is_given_up_with_a_word_and_tried_again_for_the_next_job(monkeypatch):
    good = module.program

    async def talk(heard: Heard) -> None:
        monkeypatch.setattr(module, "program", lambda _: good("this.module.is.not.there"))
        heard.reckoner.ask(Asked(0, MILL))
        assert "ended again and again" in (await heard.until("fault"))["words"]
        assert not heard.reckoner.busy
        monkeypatch.setattr(module, "program", good)
        heard.reckoner.ask(Asked(0, MILL, part="look"))
        await heard.until("done")

    run(talk)


def test_what_becomes_of_a_pair_that_is_cut_and_shall_look_the_other_way_is_told(tmp_path):
    file = tmp_path / "mill.yaml"
    file.write_text(MILL)
    begun = go_on(parse_job(MILL, "mill"), History())
    with JournalFile(journal_path(file)) as journal:
        note_plan(journal, begun)
        journal.append("done", "river-window-left", "", **tick_values(begun.plan, "river-window-left"))
    more = {"folder": str(tmp_path), "file": file.name}
    assert answered(MILL, **more)["cuts"] == {"stage": "cuts", "done": 1, "of": 2, "wrong": "", "notes": []}
    told = answered(MILL.replace("hang: mirrored", "facing: right as it lies"), **more)["cuts"]
    assert (told["done"], told["wrong"]) == (1, "")
    assert told["notes"][0].startswith("River window looks the other way now: what was cut as its left panel hangs")
    halves = MILL.replace("hang: mirrored", "facing: right as it lies").replace(
        "finished_length: 81", "finished_length: 84"
    )
    assert "The job does not go with what is cut" in answered(halves, **more)["cuts"]["wrong"]
