"""Which way a pair looks is chosen by looking: both pictures stand in the form, and a click on one chooses it."""

from playwright.sync_api import expect

from tests.projector.page.browser.conftest import opened

FACING = '[data-path="windows/0/facing"]'


def test_the_picture_that_is_clicked_is_chosen_and_hangs_beside_the_form(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/mill.yaml")
    looks = page.locator("#f-windows-0-facing .look svg")
    expect(looks).to_have_count(2)
    as_it_lies, other = (looks.nth(at).inner_html() for at in (0, 1))
    assert as_it_lies != other
    hung = page.locator("#hung svg").first
    before = hung.inner_html()
    expect(page.locator(f"{FACING}:checked")).to_have_value("left as it lies")
    looks.nth(1).click()
    expect(page.locator(f"{FACING}:checked")).to_have_value("right as it lies")
    expect(page.locator("#bar")).to_contain_text("not saved")
    # It is taken away while it is worked out anew.
    other_hangs = "before => (document.querySelector('#hung svg')?.innerHTML ?? before) !== before"
    page.wait_for_function(other_hangs, arg=before)
    # The two pictures are of the answers, not of what is chosen.
    assert [looks.nth(at).inner_html() for at in (0, 1)] == [as_it_lies, other]
    page.locator('[data-do="undo"]').click()
    expect(page.locator(f"{FACING}:checked")).to_have_value("left as it lies")
    # Keys alone do it too.
    page.locator(f"{FACING}:checked").focus()
    page.keyboard.press("ArrowDown")
    expect(page.locator(f"{FACING}:checked")).to_have_value("right as it lies")
    expect(page.locator("#bar")).to_contain_text("not saved")
    page.locator('[data-do="undo"]').click()
    expect(page.locator(f"{FACING}:checked")).to_have_value("left as it lies")
    assert "faults" not in page.__dict__
    context.close()


def test_a_print_without_a_mirror_is_not_asked_which_way_it_looks(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/mill.yaml")
    expect(page.locator(FACING)).to_have_count(2)
    page.locator('[data-path="cloth/print/top_to_bottom"][value="none"]').check()
    expect(page.locator(FACING)).to_have_count(0)
    page.locator('[data-do="undo"]').click()
    expect(page.locator(FACING)).to_have_count(2)
    context.close()
