"""The pair is cut by a phone alone, let in by its code: a screen of 390 x 844, touched with a finger."""

from playwright.sync_api import Page, expect

from tests.projector.page.browser.conftest import opened
from tests.projector.page.browser.test_places import violations
from tests.projector.page.server.test_photographs import cloth
from tests.waiting import HUNG_S


def let_in(page: Page, browser, *, scheme: str = "light"):
    """A phone that was let in: its browser and its page."""
    page.get_by_role("button", name="Let a phone in").click()
    address = page.locator("#phones .address").inner_text()
    phone = browser.new_context(
        viewport={"width": 390, "height": 844},
        has_touch=True,
        is_mobile=True,
        device_scale_factor=3,
        color_scheme=scheme,
    )
    phone.set_default_timeout(HUNG_S * 1000)
    hand = phone.new_page()
    hand.on("pageerror", lambda fault: hand.__dict__.setdefault("faults", []).append(str(fault)))
    hand.goto(address)
    return phone, hand


def test_a_pair_is_cut_by_a_phone_alone(browser, served, tmp_path):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/mill.yaml")
    job = page.url
    page.goto(f"{served.home}/cut")
    phone, hand = let_in(page, browser)
    expect(page.locator("#phones")).to_contain_text("a phone")
    expect(page.locator("#phones .code")).to_have_count(0)
    assert hand.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert violations(hand) == []
    hand.get_by_label("Job").select_option(label="Mill-race reading room")
    hand.get_by_role("button", name="Practise on the simulated table").tap()
    go, heading = hand.locator("#presses button.main"), hand.locator("#now h1")
    expect(go).to_contain_text("read: go on")
    go.tap()
    expect(heading).to_have_text("River window, left")
    assert violations(hand) == []
    assert hand.evaluate("document.documentElement.scrollWidth <= innerWidth")
    go.tap()
    expect(hand.locator("#now .pull")).to_contain_text("Pull the cloth")
    hand.locator("#presses").get_by_role("button", name="done").tap()
    expect(hand.locator(".todo .done")).to_contain_text("River window, left")
    hand.get_by_role("button", name="undo").first.tap()
    expect(hand.locator(".todo .done")).to_have_count(0)

    cloth(tmp_path / "cloth.jpg")
    page.goto(f"{job}/print")
    hand.set_input_files("#camera", tmp_path / "cloth.jpg")
    expect(hand.locator("#say")).to_contain_text("It is on the place Print of Mill-race reading room")
    expect(page.locator("#shot img")).to_have_js_property("complete", True)

    hand.get_by_role("button", name="leave").first.tap()
    expect(heading).to_have_text("Leave the table?")
    hand.get_by_role("button", name="leave").first.tap()
    expect(hand.locator("#idle")).to_contain_text("Practice: done")
    page.goto(f"{served.home}/cut")
    page.get_by_role("button", name="Put it out").click()
    expect(hand.locator("#net")).to_contain_text("Not connected")
    assert "faults" not in hand.__dict__
    phone.close()
    context.close()
