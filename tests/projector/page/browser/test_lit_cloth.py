"""Cloth thrown on askew is laid by photographs and cut by a phone alone; the pair that comes of it is compared."""

from __future__ import annotations

import re

from playwright.sync_api import Page, expect

from tests.projector.page.browser.conftest import opened
from tests.projector.page.browser.test_phone import let_in
from tests.projector.page.browser.test_places import violations

TOLERANCE_IN = 1 / 16
LOOKED_MS = 900
"""A question is read before it is answered: a quicker press is not taken for an answer."""


def tap(hand: Page, name: str) -> None:
    hand.get_by_role("button", name=name).first.tap()


def lay_by_photograph(hand: Page) -> None:
    """The pattern lit, photographed, what it shows kept."""
    heading = hand.locator("#now h1")
    if heading.inner_text() != "Photograph the cloth":
        if hand.locator("#presses").get_by_role("button", name="photograph it instead").count() == 0:
            hand.locator("#presses").get_by_role("button", name="lay").tap()
        tap(hand, "photograph it instead")
    expect(heading).to_have_text("Photograph the cloth")
    assert violations(hand) == []
    # One camera at a time: a photograph for the place Print would go astray.
    expect(hand.locator("#lit-camera")).to_be_visible()
    expect(hand.locator("#camera")).to_be_hidden()
    tap(hand, "Photograph the simulated table")
    expect(heading).to_have_text("How the cloth lies")
    expect(hand.locator("#cloth-shot")).to_have_js_property("complete", True)
    assert hand.evaluate("document.documentElement.scrollWidth <= innerWidth")
    hand.wait_for_timeout(LOOKED_MS)
    tap(hand, "keep it")
    expect(hand.locator("#checks")).to_contain_text("Cloth laid by its print")


def held_against_its_mate(hand: Page) -> None:
    """The panel that is cut laid back and photographed, before its mate is cut."""
    heading, presses = hand.locator("#now h1"), hand.locator("#presses")
    presses.get_by_role("button", name="back").tap()
    expect(hand.locator("#now")).to_contain_text("It is cut already")
    hand.wait_for_timeout(LOOKED_MS)
    tap(hand, "will its mate match?")
    expect(heading).to_have_text("Photograph the panel that is cut")
    tap(hand, "Photograph the simulated table")
    said = hand.locator("section.taken")
    expect(said).to_contain_text("its print hangs")
    expect(hand.locator("#cloth-shot")).to_have_js_property("complete", True)
    expect(said).to_contain_text("they match")
    assert violations(hand) == []
    presses.get_by_role("button", name="do without").tap()
    expect(hand.locator("#now")).to_contain_text("It is cut already")


def test_cloth_thrown_on_askew_is_photographed_cut_pulled_and_compared_by_phone_alone(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/mill.yaml")
    page.goto(f"{served.home}/cut")
    phone, hand = let_in(page, browser)
    hand.get_by_label("Job").select_option(label="Mill-race reading room")
    hand.get_by_label("The cloth lies askew").check()
    tap(hand, "Practise on the simulated table")
    go, heading = hand.locator("#presses button.main"), hand.locator("#now h1")
    expect(go).to_contain_text("read: go on")
    go.tap()
    expect(heading).to_have_text("River window, left")
    lay_by_photograph(hand)
    go.tap()
    expect(hand.locator("#now .pull")).to_contain_text("Pull the cloth")
    hand.locator("#presses").get_by_role("button", name="done").tap()
    expect(hand.locator(".todo .done")).to_contain_text("River window, left")
    held_against_its_mate(hand)
    while heading.inner_text() != "River window, right":
        # The second panel is turned: which way it lies is looked at first.
        said = hand.locator("#now").inner_text()
        hand.wait_for_timeout(LOOKED_MS)
        go.tap()
        expect(hand.locator("#now")).not_to_have_text(said, use_inner_text=True)
    lay_by_photograph(hand)
    go.tap()
    expect(hand.locator("#now")).to_contain_text("Stop 4 of 4")
    hand.locator("#presses").get_by_role("button", name="done").tap()
    expect(heading).to_have_text("All cuts are done")
    tap(hand, "leave")
    expect(heading).to_have_text("Leave the table?")
    tap(hand, "leave")
    outcome = hand.locator("#idle")
    expect(outcome).to_contain_text("the pair matches to within")
    told = re.search(r"to within (?:(\d+)/(\d+)|(0)) in", outcome.inner_text())
    assert told, outcome.inner_text()
    assert told[3] or int(told[1]) / int(told[2]) <= TOLERANCE_IN
    assert "faults" not in hand.__dict__
    phone.close()
    context.close()
