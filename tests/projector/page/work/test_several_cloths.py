"""A job of several cloths beside the form: what is answered tells of all of them."""

from __future__ import annotations

from jobs.io.reader import parse_job
from projector.page.form.changes import with_value
from projector.page.form.document import Document, elsewhere
from projector.page.form.open_job import OpenJob
from projector.page.form.pages import fields_shown
from projector.page.form.values import values_of
from projector.page.work.answers import answers
from projector.page.work.asked import HOUSE, Asked
from tests.projector.commands.test_several_cloths import JOB


def answered(text: str, **more: object) -> list[dict]:
    return list(answers(Asked(1, text, **more)))


def test_the_order_tells_of_every_cloth() -> None:
    order, *_ = answered(JOB)
    assert "5 1/4 yd of Plain sateen" in order["buy"]
    assert "4 3/4 yd of Domette" in order["buy"]
    assert order["of"] == "3 cloths"
    heads = [line for line in order["lines"] if ": buy " in line]
    assert heads[1] == "Plain sateen, 54 in wide: buy 5 1/4 yd."
    plan = next(one for one in answered(JOB) if one["stage"] == "plan")
    assert "Domette: 2 cuts use" in plan["words"]


def test_every_cloth_is_drawn_and_what_hangs_is_the_face() -> None:
    found = answered(JOB, windows=(0, HOUSE))
    cloth = next(one for one in found if one.get("of") == "cloth")
    assert cloth["svg"].count("<svg") == 3
    hung = {one["window"]: one["svg"] for one in found if one.get("of") == "hung"}
    assert hung[HOUSE].count("<svg") == 1
    assert "East bay" in hung[0]


def test_what_stands_in_the_way_of_one_cloth_names_it() -> None:
    wide = JOB.replace("seam: 1/2", "seam: 27")
    refused = answered(wide)[-1]
    assert refused["stage"] == "refused"
    assert any("East bay lining" in line for line in refused["lines"])
    # Without the repeat across it can be ordered, and not be planned.
    narrow = JOB.replace("width: 54, selvedge: 1/2", "width: 54, selvedge: 1/2, repeat: {along: 9}, drop: 0")
    order, plan, *_ = answered(narrow)
    assert order["stage"] == "order"
    assert plan["words"].startswith("Not planned yet. ")
    assert "East bay lining" in plan["words"]


def test_the_form_shows_a_lining_and_its_cloth_once_they_are_there() -> None:
    shown = fields_shown(values_of(JOB))
    assert {("windows", 0, "lining", "cloth"), ("cloths", 1, "name"), ("windows", 0, "cloth")} <= set(shown)
    assert ("cloths", 0, "repeat", "along") not in shown
    bare = (
        JOB[: JOB.index("    lining:")]
        .replace("cloths:", "# cloths:")
        .replace("  - {name: P", "#")
        .replace("  - {name: D", "#")
    )
    assert ("windows", 0, "lining", "cloth") not in fields_shown(values_of(bare))


def test_a_renamed_cloth_is_named_anew_by_its_linings() -> None:
    document = Document(JOB).typed(("cloths", 0, "name"), "Cream sateen")
    assert parse_job(document.text, "a").windows[0].lining.cloth == "Cream sateen"  # type: ignore[union-attr]


def test_a_switch_lines_a_window() -> None:
    one = OpenJob("a", Document(JOB[: JOB.index("    lining:")]))
    one.take("a", {"do": "switch", "path": "windows/0", "name": "lined", "value": "yes"})
    assert one.values.text(("windows", 0, "lining", "cloth")) == ""
    one.take("a", {"do": "type", "path": "windows/0/lining/cloth", "value": "Domette", "saw": ""})
    assert one.cloths == ("Kites on grey", "Domette")


def test_a_further_cloth_is_made_patterned_and_plain_again() -> None:
    one = OpenJob("a", Document(JOB))
    one.take("a", {"do": "switch", "path": "cloths/0", "name": "patterned", "value": "yes"})
    assert ("cloths", 0, "repeat", "along") in fields_shown(one.values)
    one.take("a", {"do": "switch", "path": "cloths/0", "name": "patterned", "value": "no"})
    assert parse_job(one.document.text, "a") == parse_job(JOB, "a")


def test_pictures_of_every_print_are_found_from_another_folder(tmp_path) -> None:
    text = with_value(with_value(JOB, ("cloth", "picture"), "a.png"), ("cloths", 0, "picture"), "b.png")
    values = values_of(elsewhere(Document(text, tmp_path / "bay.yaml")))
    assert values.text(("cloth", "picture")) == str(tmp_path / "a.png")
    assert values.text(("cloths", 0, "picture")) == str(tmp_path / "b.png")
