"""The window driven by mouse and keyboard on a virtual screen, as a person would."""

import re
import time

import numpy as np
import pytest
from PIL import Image

from jobs.io.editing import Edit, edited
from jobs.io.reader import parse_job
from jobs.model.choices import Unit
from projector.page.form.blank import blank_job, examples
from projector.session.buttons.button import GAP_PX, boxes
from projector.session.buttons.calibrating import TYPING
from projector.session.buttons.under import split_for_buttons
from projector.simulated.practice import FIRST_TAPES, TABLE_IN
from projector.simulated.view import Outlook
from tests.jobs.cutting.tilings import settings
from tests.jobs.prints.photographs.pictures import photograph
from tests.projector.desk.hands import READ_S, Hands, before_the_window

SAYS = [button.says for button in TYPING]


def on_the_table(hands: Hands) -> tuple[tuple[int, int, int, int], int]:
    """Where the window of the table is, and how high its strip of buttons."""
    place = hands.window_of_the_table()
    return place, place[3] - split_for_buttons((place[2], place[3]))[0][1]


def first_button(hands: Hands, place: tuple[int, int, int, int], strip: int) -> None:
    """Click the button at the left, which goes on, after reading."""
    time.sleep(READ_S)
    hands.click_at((place[0] + GAP_PX + 20, place[1] + place[3] - strip // 2))


def calibrate_by_clicks(hands: Hands) -> None:
    place, strip = on_the_table(hands)
    left, upper, wide, high = place
    outlook = Outlook.over(*TABLE_IN, wide, high - strip)
    first_button(hands, place, strip)
    time.sleep(READ_S)
    for x_in, y_in in FIRST_TAPES:
        x, y = (x_in - outlook.left) * outlook.px_per_in, (y_in - outlook.near) * outlook.px_per_in
        hands.click_at((left + round(x - 0.5), upper + round(outlook.height_px - y - 0.5)))
        first_button(hands, place, strip)
        for figure in (x_in, y_in):
            for key in (*f"{figure:g}", "Enter"):
                box = boxes(TYPING, wide, strip)[SAYS.index(key)]
                time.sleep(0.1)
                hands.click_at((left + (box[0] + box[2]) // 2, upper + high - strip + (box[1] + box[3]) // 2))
        time.sleep(0.2)
    first_button(hands, place, strip)


LOOKED_AT = (
    Edit(("cloth", "drop"), "0", ("repeat",)),
    Edit(("cloth", "print"), "{top_to_bottom: mirror, side_to_side: none, one_way: no}", ("drop",)),
)
"""What only a look at the cloth tells: until it is answered, nothing is cut."""


def test_a_job_is_changed_calibrated_on_the_simulated_table_and_cut_by_clicks_alone(virtual_screen, tmp_path):
    kept = tmp_path / "landing.yaml"
    kept.write_text(edited(blank_job(Unit.INCH), LOOKED_AT))
    with before_the_window(virtual_screen, tmp_path, kept) as hands:
        # Its numbers are typed over.
        at_first = hands.bought()
        hands.type_into("job", "Boathouse landing")
        hands.type_into("cloth/width", "60")
        hands.click("4 Windows")
        hands.type_into("windows/0/finished_length", "40")
        job = parse_job(hands.wait(lambda: "finished_length: 40 " in hands.job() and hands.job()), "job")
        assert (job.title, job.cloth.width, job.windows[0].finished_length) == ("Boathouse landing", 60, 40)
        # Changed: a wrong length is said beside its field, and Ctrl-Z takes it back.
        hands.type_into("windows/0/finished_length", "fourty")
        hands.wait(lambda: any('"fourty" is not a length' in said for said in hands.ask("said")))
        assert hands.ask("buy")[0].endswith("1 thing to mend")
        hands.keys("ctrl+z")
        hands.wait(lambda: "fourty" not in hands.job())
        hands.type_into("windows/0/finished_length", "40")
        hands.wait(lambda: "finished_length: 40 " in hands.job())
        bought = hands.bought()
        assert re.fullmatch(r"Buy .* yd", bought)
        assert bought != at_first
        # Calibrated on the simulated table.
        hands.click("Calibrate")
        hands.click("Practise on the simulated table")
        calibrate_by_clicks(hands)
        hands.wait(lambda: hands.ask("text Calibration: done"))
        said = " ".join(hands.ask("said"))
        assert "It is the calibration of the simulated table: practice, not for cutting." in said
        hands.click("Close")
        # Cut.
        hands.click("Cut")
        hands.click("Practise on the simulated table")
        place, strip = on_the_table(hands)
        for _ in range(40):
            first_button(hands, place, strip)
            if not hands.ask("busy"):
                break
        hands.wait(lambda: hands.ask("text Practice: done"))
        said = " ".join(hands.ask("said"))
        assert "the pair matches to within" in said
        hands.click("Close")
        hands.click("Save")
        hands.wait(lambda: kept.read_text() == hands.job())


def test_unsaved_work_is_offered_again_after_the_window_was_killed(virtual_screen, tmp_path):
    kept = tmp_path / "mill.yaml"
    kept.write_text(examples()["Mill-race reading room"])
    with before_the_window(virtual_screen, tmp_path, kept) as hands:
        hands.wait(hands.job)
        hands.type_into("cloth/width", "57 1/4")
        hands.wait(lambda: any((tmp_path / "state" / "drafts").glob("*.json")))
        time.sleep(1.0)
        typed = hands.job()
    assert "width: 57 1/4 " in typed
    assert "width: 54 " in kept.read_text()
    with before_the_window(virtual_screen, tmp_path) as hands:
        hands.click("Go on with it")
        assert hands.wait(hands.job) == typed
        hands.click("Save")
        hands.wait(lambda: kept.read_text() == typed)
        hands.wait(lambda: not any((tmp_path / "state" / "drafts").glob("*.json")))


def test_a_window_is_added_copied_and_taken_out_and_pages_turn_by_keys(virtual_screen, tmp_path):
    kept = tmp_path / "lock.yaml"
    kept.write_text(examples()["Lock-keeper's cottage"])
    with before_the_window(virtual_screen, tmp_path, kept) as hands:
        hands.wait(hands.job)
        before = hands.job()
        hands.click("4 Windows")
        hands.wait(lambda: hands.ask("field windows/0/name"))
        hands.click("Copy it")
        job = parse_job(hands.wait(lambda: hands.job() != before and hands.job()), "job")
        assert [window.name for window in job.windows][2] == "Towpath window 2"
        hands.keys("ctrl+z")
        hands.wait(lambda: hands.job() == before)
        hands.keys("ctrl+Next", "ctrl+Next")
        hands.wait(lambda: hands.ask("field table/length"))
        hands.type_into("table/length", "9 ft")
        hands.wait(lambda: "length: 9 ft" in hands.job())
        hands.keys("ctrl+r")
        hands.wait(lambda: hands.job() == before)
        hands.keys("ctrl+z")
        hands.wait(lambda: "length: 9 ft" in hands.job())
        hands.keys("ctrl+plus")
        assert hands.wait(lambda: hands.ask("field table/length"))


def test_a_fault_is_said_in_words_and_the_form_goes_on(virtual_screen, tmp_path):
    with before_the_window(virtual_screen, tmp_path) as hands:
        hands.click("centimetres")
        hands.ask("break")
        hands.wait(lambda: any("lightchalk itself went wrong (ZeroDivisionError" in said for said in hands.ask("said")))
        hands.click("Close")
        hands.type_into("cloth/width", "150")
        assert parse_job(hands.wait(lambda: "150" in hands.job() and hands.job()), "job").unit == "cm"


def test_a_photo_is_measured_by_clicks_seen_and_put_into_the_form(virtual_screen, tmp_path):
    setting = settings()[0]
    picture, per_inch = photograph(setting, 101, size=(330, 400))
    Image.fromarray(np.rint(np.clip(picture, 0, 1) * 255).astype(np.uint8)).save(tmp_path / "sprigs.png")
    kept = tmp_path / "mill.yaml"
    kept.write_text(examples()["Mill-race reading room"])
    with before_the_window(virtual_screen, tmp_path, kept) as hands:
        hands.wait(hands.job)
        before = hands.job()
        hands.click("2 Print")
        hands.click("Measure a photo of the cloth...")
        time.sleep(0.6)
        hands.keys("ctrl+slash")
        hands.typed(str(tmp_path / "sprigs.png"))
        hands.keys("Return")
        hands.click("a tape")
        hands.click("Measure")
        hands.wait(lambda: any("Type a length" in said for said in hands.ask("said")))
        hands.click("a ruler")
        time.sleep(0.3)
        hands.typed("300")
        hands.click("Measure")
        hands.wait(lambda: any("Click 2 more places" in said for said in hands.ask("said")))
        left, upper, _, _ = hands.wait(lambda: hands.ask("canvas"))
        for x in (40, 340):
            hands.click_at((left + x, upper + 100))
        hands.click("Measure")
        hands.click("Show it in pictures of the cloth")
        hands.click("Put it into the form")
        job = parse_job(hands.wait(lambda: hands.job() != before and hands.job()), "job")
        # 300 pixels were said to be 300 in, so an inch of the print is as long as it has pixels.
        assert float(job.cloth.repeat.along) == pytest.approx(setting.lattice.along * per_inch, rel=0.005)
        assert job.cloth.picture == "mill-repeat.png"
        with Image.open(tmp_path / "mill-repeat.png") as tile:
            assert min(tile.size) > 20
        hands.keys("ctrl+z")
        hands.wait(lambda: hands.job() == before)


def test_keys_few_jobs_need_are_ticked_and_typed(virtual_screen, tmp_path):
    with before_the_window(virtual_screen, tmp_path) as hands:
        hands.click("inches")
        hands.click("7 More")
        hands.wait(lambda: hands.ask("field doubled"))
        hands.click("the side hems")
        hands.wait(lambda: "doubled: [side hem]" in hands.job())
        hands.type_into("cloth/motif_colours", "#112233, #445566")
        job = parse_job(hands.wait(lambda: "445566" in hands.job() and hands.job()), "job")
        assert job.cloth.motif_colours == ("#112233", "#445566")
        hands.type_into("light/room", "450")
        hands.wait(lambda: "room: 450" in hands.job())


def test_what_cannot_be_cut_leaves_no_order_and_no_picture_of_before(virtual_screen, tmp_path):
    kept = tmp_path / "mill.yaml"
    drop, _ = LOOKED_AT
    turned = Edit(
        ("cloth", "print"), "{top_to_bottom: none, side_to_side: none, half_turn: yes, one_way: no}", ("drop",)
    )
    kept.write_text(edited(blank_job(Unit.INCH), (drop, turned)))
    with before_the_window(virtual_screen, tmp_path, kept) as hands:
        hands.wait(
            lambda: any("choose \u201cThe two panels: hang the same\u201d" in said for said in hands.ask("said"))
        )
        assert hands.ask("hung") == "It is drawn as soon as the job can be cut."
        hands.click("Copy order")
        hands.wait(lambda: any("There is no order yet" in said for said in hands.ask("said")))
        hands.click("4 Windows")
        hands.click("hang the same")
        assert hands.bought().startswith("Buy")
        hands.wait(lambda: hands.ask("hung") == "")
