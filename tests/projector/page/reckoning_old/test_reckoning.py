import base64
import io
from itertools import islice

import pytest
from PIL import Image

from projector.desk.reckoning.answers import Asked, answers
from projector.desk.reckoning.reckoner import Reckoner
from projector.page.form.blank import examples
from tests.waiting import wait_until

MILL = examples()["Mill-race reading room"]
SHORT = MILL.replace("length: 7 1/2 yd", "length: 4 yd")

# What the command order prints for this job.
BUY = "5 3/4 yd"


def answered(text: str) -> dict[str, dict]:
    found = {}
    for answer in answers(Asked(1, text)):
        found[answer["stage"] + answer.get("of", "") * (answer["stage"] == "picture")] = answer
    return found


def size_of(answer: dict) -> tuple[int, int]:
    return Image.open(io.BytesIO(base64.b64decode(answer["png"]))).size


def test_the_order_comes_first_and_the_pictures_are_of_the_job():
    found = answered(MILL)
    assert list(found) == ["order", "picturehung", "plan", "picturecloth", "savings"]
    assert found["order"]["buy"] == BUY
    assert found["order"]["cuts"] == 2
    assert found["plan"]["words"].startswith("2 cuts use ")
    assert min(*size_of(found["picturehung"]), *size_of(found["picturecloth"])) > 200


def test_pieces_that_are_too_short_still_show_what_would_hang_and_say_what_helps():
    found = answered(SHORT)
    assert found["plan"]["short"]
    assert "is missing" in found["plan"]["words"]
    assert any("buy one more piece" in line for line in found["short"]["lines"])
    assert "picturehung" in found


def test_what_cannot_be_cut_says_why():
    found = answered(MILL.replace("top_to_bottom: mirror ", "top_to_bottom: none ").replace("mirror_offset: 0 ", ""))
    assert list(found) == ["refused"] or list(found)[-1] == "refused"
    assert any("no mirrored pair" in line for line in found["refused"]["lines"])


def heard(reckoner: Reckoner, until: str) -> list[dict]:
    found = []

    def has_come() -> bool:
        found.extend(reckoner.heard())
        return any(answer["stage"] == until for answer in found)

    wait_until(has_come, lambda: f"no {until} came: {[answer['stage'] for answer in found]}")
    return found


def test_a_process_answers_and_only_the_newest_job_counts():
    reckoner = Reckoner()
    try:
        reckoner.ask(Asked(0, SHORT))
        reckoner.ask(Asked(0, MILL))
        assert reckoner.busy
        found = heard(reckoner, "done")
        assert not reckoner.busy
        assert {answer["number"] for answer in found} == {2}
        assert [answer["buy"] for answer in found if answer["stage"] == "order"] == [BUY]
        reckoner.ask(Asked(0, MILL))
        reckoner.forget()
        assert reckoner.heard() == []
    finally:
        reckoner.close()


def test_a_process_that_dies_is_replaced_and_the_job_is_reckoned_all_the_same():
    reckoner = Reckoner()
    try:
        reckoner._process.kill()
        reckoner.ask(Asked(0, MILL))
        assert heard(reckoner, "done")[0]["stage"] == "order"
    finally:
        reckoner.close()


def test_an_older_job_that_does_not_make_way_is_ended():
    now = [0.0]
    reckoner = Reckoner(lambda: now[0])
    try:
        first = reckoner._process
        reckoner.ask(Asked(0, MILL))
        reckoner.ask(Asked(0, SHORT))
        now[0] = 2.0
        reckoner.heard()
        assert first.poll() is not None
        assert heard(reckoner, "done")
    finally:
        reckoner.close()


def many_pieces(windows: int = 10) -> str:
    """A job of so many pairs on four pieces with flaws; of hundreds the search takes seconds on any machine."""
    pairs = "".join(
        f"  - {{name: W{i}, panels: pair, finished_length: {61 + 7 * i % 40}, row: {{below_top: {i % 9}}}}}\n"
        for i in range(windows)
    )
    pieces = "".join(
        f"    - {{length: {(18 + 5 * i) * windows // 10} yd, first_row: {i}, flaws: [{{from: 50, to: {52 + i}}}]}}\n"
        for i in range(4)
    )
    head = MILL[: MILL.index("  pieces:")]
    return f"{head}  pieces:\n{pieces}allowances: {{heading: 4, hem: 8}}\nwindows:\n{pairs}"


def test_the_two_parts_can_be_asked_for_apart():
    look = [answer["stage"] for answer in answers(Asked(1, MILL, part="look"))]
    cut = [answer["stage"] for answer in answers(Asked(1, MILL, part="cut"))]
    assert (look, cut) == (["order", "picture"], ["plan", "picture", "savings"])


def test_what_hangs_does_not_wait_for_a_search_over_several_pieces():
    stages = [answer["stage"] for answer in islice(answers(Asked(1, many_pieces())), 2)]
    assert stages == ["order", "picture"]


def test_a_long_search_tells_how_it_goes_and_ends_with_the_best_so_far_when_asked():
    reckoner = Reckoner()
    try:
        reckoner.ask(Asked(0, many_pieces(100), part="cut"))
        progress = heard(reckoner, "progress")
        assert "none under" in progress[-1]["words"]
        reckoner.stop()
        (plan,) = [answer for answer in heard(reckoner, "plan") if answer["stage"] == "plan"]
        assert plan["stopped"]
        assert "The search was stopped" in plan["words"]
    finally:
        reckoner.close()


@pytest.mark.parametrize("number", range(3))
def test_the_pair_is_drawn_whole_whatever_the_room(number):
    from jobs.io.reader import parse_job
    from jobs.planning.planner import plan_job
    from projector.desk.reckoning.hung_window import hung_window

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


def test_a_process_that_ends_again_and_again_is_given_up_with_a_word_and_tried_again_for_the_next_job(monkeypatch):
    from projector.desk.reckoning import reckoner as module

    good = module.program
    monkeypatch.setattr(module, "program", lambda _: good("this.module.is.not.there"))
    reckoner = Reckoner()
    try:
        reckoner.ask(Asked(0, MILL))
        (fault,) = heard(reckoner, "fault")
        assert "ended again and again" in fault["words"]
        assert not reckoner.busy
        monkeypatch.setattr(module, "program", good)
        reckoner.ask(Asked(0, MILL, part="look"))
        assert heard(reckoner, "done")
    finally:
        reckoner.close()


def test_the_print_itself_hangs_in_the_picture_where_the_job_names_one_and_a_missing_one_is_said(tmp_path):
    Image.new("RGB", (132, 124), "#c02020").save(tmp_path / "red.png")
    text = MILL.replace("  drop: 0", "  picture: red.png\n  drop: 0")
    asked = Asked(1, text, part="look", folder=str(tmp_path))
    order, hung = answers(asked)
    pixels = Image.open(io.BytesIO(base64.b64decode(hung["png"]))).convert("RGB")
    assert pixels.getpixel((pixels.width // 3, pixels.height // 2)) == (192, 32, 32)
    assert not any("picture" in notice for notice in order["notices"])
    (tmp_path / "red.png").unlink()
    order, _ = answers(asked)
    assert any("a plain sign is drawn" in notice for notice in order["notices"])
