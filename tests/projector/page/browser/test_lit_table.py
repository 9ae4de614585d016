"""A table is calibrated by photographs alone: with the virtual camera on the page, and from a phone."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image
from playwright.sync_api import Page, expect

from projector.demo.practice import practice
from projector.files.table_file import read_stored
from tests.projector.page.browser.conftest import opened
from tests.projector.page.browser.test_phone import let_in
from tests.projector.page.browser.test_places import violations

PHOTOGRAPHS = 5


class Counted:
    """Whatever a person does on the page, one after another."""

    def __init__(self, page: Page) -> None:
        self.page, self.actions = page, 0

    def click(self, selector: str) -> None:
        self.page.locator(selector).click()
        self.actions += 1

    def press(self, name: str) -> None:
        self.page.get_by_role("button", name=name).click()
        self.actions += 1

    def type(self, selector: str, text: str) -> None:
        self.page.locator(selector).fill(text)
        self.actions += 1


def test_the_simulated_table_is_calibrated_by_its_virtual_camera_in_ten_actions(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/table")
    person = Counted(page)
    person.press("Photograph the simulated table")
    go = page.locator("#presses button.main")
    expect(go).to_contain_text("read: go on")
    person.click("#presses button.main")
    expect(page.locator("#far-words")).to_contain_text("None yet")
    for number in range(1, PHOTOGRAPHS + 1):
        # The place that is advised is the one that is offered first.
        person.click("[data-shoot].main")
        expect(page.locator(".shots li")).to_have_count(number)
        expect(page.locator("#far-words")).to_contain_text(f"{number} ")
    expect(page.locator(".shots img.over")).to_have_count(PHOTOGRAPHS)
    # Each picture comes when it comes; one that cannot be had never does.
    page.wait_for_function("() => [...document.querySelectorAll('.shots img')].every(one => one.naturalWidth > 0)")
    assert violations(page) == []
    page.locator("#tape-0").fill("63 of")
    expect(page.locator("#tape-0-w")).to_contain_text("not a length")
    person.type("#tape-0", page.locator("#tape-says").inner_text())
    expect(page.locator("#h-made")).to_be_visible()
    expect(page.locator(".result svg")).to_be_visible()
    expect(page.locator("#tape-0")).to_have_value(page.locator("#tape-says").inner_text())
    assert violations(page) == []
    page.set_viewport_size({"width": 390, "height": 844})
    assert page.evaluate("document.documentElement.scrollWidth <= 390")
    person.press("Use this calibration")
    expect(page.locator("#idle")).to_contain_text("There the truth is known")
    assert person.actions == PHOTOGRAPHS + 4
    table = read_stored(served.folder / "state" / "practice-table.yaml").table
    assert practice().true_error_in(table) < 1 / 16
    # The light is knocked, and one photograph of it shows that.
    page.set_viewport_size({"width": 1440, "height": 900})
    person.press("Photograph the simulated table")
    person.click("#presses button.main")
    person.press("Knock the projector")
    expect(page.get_by_role("button", name="Hang the projector as it was")).to_be_visible()
    person.click("[data-shoot].main")
    person.press("Has anything moved since it was calibrated?")
    expect(page.locator("#moved-words")).to_contain_text("The light has moved by about")
    expect(page.locator("#moved-picture svg")).to_be_visible()
    assert violations(page) == []
    person.press("Begin anew")
    page.get_by_role("button", name="leave").first.click()
    expect(page.locator("#idle")).to_contain_text("Practice: done")
    assert "faults" not in page.__dict__
    context.close()


def test_a_phone_is_told_at_once_what_a_photograph_is_worth(browser, served, tmp_path):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/table")
    phone, hand = let_in(page, browser)
    hand.goto(f"{hand.url.rpartition('/')[0]}/table")
    hand.get_by_role("button", name="Photograph the simulated table").tap()
    expect(hand.locator("#presses button.main")).to_contain_text("read: go on")
    hand.locator("#presses button.main").tap()
    expect(hand.locator("#lit-camera")).to_be_visible()
    assert hand.locator("#lit-camera").get_attribute("capture") == "environment"
    held = io.BytesIO()
    Image.fromarray(np.full((600, 800), 9, np.uint8)).save(held, "JPEG")
    hand.set_input_files("#lit-camera", {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": held.getvalue()})
    expect(hand.locator(".shots .wrong")).to_contain_text("It is too dark")
    expect(page.locator(".shots .wrong")).to_contain_text("It is too dark")
    assert violations(hand) == []
    assert hand.evaluate("document.documentElement.scrollWidth <= innerWidth")
    hand.get_by_role("button", name="Begin anew").tap()
    expect(page.locator(".shots")).to_have_count(0)
    hand.get_by_role("button", name="leave").first.tap()
    expect(hand.locator("#idle")).to_contain_text("Practice: done")
    page.get_by_role("button", name="Put it out").click()
    assert "faults" not in hand.__dict__
    phone.close()
    context.close()
