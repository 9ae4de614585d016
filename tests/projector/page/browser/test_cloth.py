"""A cut on the cloth says what it is, is dragged to another place, and is moved by keys as well."""

from itertools import pairwise

from playwright.sync_api import Page, expect

from projector.page.form.blank import examples
from tests.projector.page.browser.conftest import opened
from tests.projector.page.browser.test_places import violations


def on_the_cloth(page: Page, home: str) -> None:
    page.goto(f"{home}/open/mill.yaml")
    page.get_by_role("tab", name="On the cloth").click()
    expect(page.locator("#cloth .cut-at")).to_have_count(2)


def middle(page: Page, number: int) -> tuple[float, float]:
    box = page.locator("#cloth .cut-at").nth(number).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_cut_is_clicked_dragged_along_the_piece_and_the_step_is_undone(browser, served):
    context, page = opened(browser, served)
    on_the_cloth(page, served.home)
    page.locator("#cloth .cut-at").first.click()
    about = page.locator("#about-cut")
    expect(about).to_contain_text("1. River window, left")
    expect(about).to_contain_text("A row of the print 10 1/2 in below TOP")
    x, y = middle(page, 0)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(*middle(page, 1), steps=4)
    expect(about).to_contain_text("Tried at 1")
    expect(page.locator("#cloth .ghost")).to_have_count(1)
    page.mouse.up()
    expect(page.locator("#buy")).to_contain_text("Where you placed them they take")
    expect(about).to_contain_text("It lies where you placed it")
    assert violations(page) == []
    page.keyboard.press("Control+z")
    expect(page.locator("#buy")).to_contain_text("no other order is shorter")
    expect(page.locator("#bar")).to_contain_text("mill.yaml")
    assert "faults" not in page.__dict__
    context.close()


def test_the_same_is_done_by_keys_alone(browser, served):
    context, page = opened(browser, served, "laptop")
    on_the_cloth(page, served.home)
    button = page.locator("#cloth-cuts").get_by_role("button", name="River window, left")
    button.focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#about-cut")).to_contain_text("Tried at 118 in")
    page.keyboard.press("Escape")
    expect(page.locator("#about-cut")).to_contain_text("From 6 5/8 in")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.locator("#buy")).to_contain_text("10 1/8 in more than they must")
    page.get_by_role("button", name="Let it lie anywhere").click()
    expect(page.locator("#buy")).to_contain_text("no other order is shorter")
    expect(page.locator("#bar .state")).to_contain_text("saved")
    context.close()


def test_why_a_job_cannot_be_cut_leads_to_the_answer_that_mends_it(browser, served):
    context, page = opened(browser, served)
    page.get_by_role("button", name="inches").click()
    for name in ("top_to_bottom", "side_to_side"):
        page.locator(f'input[data-path="cloth/print/{name}"][value="none"]').check()
    page.locator('input[data-path="cloth/print/one_way"][value="yes"]').check()
    page.locator("#buy a").click()
    expect(page.locator('input[data-path="windows/0/hang"]').first).to_be_focused()
    page.locator('input[data-path="windows/0/hang"][value="same"]').check()
    expect(page.locator("#buy .big")).to_contain_text("Buy")
    context.close()


def test_of_several_cloths_each_picture_is_seen_and_drawn_anew(browser, served):
    (served.folder / "jobs" / "weir.yaml").write_text(examples()["Bay over the weir"])
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/weir.yaml")
    page.get_by_role("tab", name="On the cloth").click()
    pictures = page.locator("#cloth figure > svg")
    expect(pictures).to_have_count(3)
    page.locator('input[data-path="windows/0/name"]').fill("Sluice light")
    for number in range(3):
        expect(pictures.nth(number)).to_contain_text("Sluice light")
    # None lies on another.
    boxes = [figure.bounding_box() for figure in page.locator("#cloth figure").all()]
    assert all(one["y"] + one["height"] <= other["y"] for one, other in pairwise(boxes))
    context.close()


def test_the_cuts_of_every_cloth_are_clicked_and_those_of_a_lining_moved(browser, served):
    """Faces lie on the first cloth, linings on the second, bands and tie-backs on the third: each has its drawing."""
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/bay.yaml")
    page.get_by_role("tab", name="On the cloth").click()
    expect(page.locator("#cloth svg")).to_have_count(3)
    for number in range(3):
        expect(page.locator("#cloth svg").nth(number).locator(".cut-at").first).to_be_attached()
    boxes = [page.locator("#cloth figure > svg").nth(number).bounding_box() for number in range(3)]
    assert all(above["y"] + above["height"] <= below["y"] + 1 for above, below in pairwise(boxes)), (
        "none covers another"
    )
    about = page.locator("#about-cut")
    page.locator("#cloth-cuts").get_by_role("button", name="leading band, left, Teal linen").first.click()
    expect(about).to_contain_text("Teal linen")
    band = page.locator("#cloth-cuts").get_by_role("button", name="leading band, left, Teal linen").first
    band.focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#cloth svg").nth(2).locator(".ghost")).not_to_have_count(0)
    page.keyboard.press("Enter")
    expect(about).to_contain_text("It lies where you placed it")
    expect(page.locator("#cloth svg").nth(2).locator(".wished").first).to_be_attached()
    button = page.locator("#cloth-cuts").get_by_role("button", name="Left light lining, left, Cream sateen")
    button.focus()
    page.keyboard.press("ArrowRight")
    expect(about).to_contain_text("Tried at")
    expect(page.locator("#cloth svg").nth(1).locator(".ghost")).not_to_have_count(0)
    expect(page.locator("#cloth svg").nth(0).locator(".ghost")).to_have_count(0)
    page.keyboard.press("Enter")
    expect(about).to_contain_text("It lies where you placed it")
    expect(page.locator("#cloth svg").nth(1).locator(".wished").first).to_be_attached()
    assert violations(page) == []
    assert "faults" not in page.__dict__
    context.close()
