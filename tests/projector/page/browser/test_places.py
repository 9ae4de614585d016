"""Every place works by page alone, on each screen, for everybody."""

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from projector.page.form.blank import examples
from projector.page.light.found import lights
from tests.projector.page.browser.conftest import Served, is_running, opened
from tests.projector.page.server.test_photographs import cloth

# WCAG 2.2 A and AA, as axe-core checks them.
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}


def violations(page: Page) -> list[str]:
    found = Axe().run(page, options=RULES).response["violations"]
    return [f"{one['id']}: {node['html']}" for one in found for node in one["nodes"]]


@pytest.mark.parametrize(("size", "scheme"), [("desktop", "light"), ("phone", "dark")])
def test_no_place_shuts_anybody_out(browser, served, size, scheme):
    context, page = opened(browser, served, size, color_scheme=scheme)
    assert violations(page) == []
    page.goto(f"{served.home}/open/mill.yaml")
    job = page.url
    page.eval_on_selector_all("details", "all => all.forEach(e => e.open = true)")
    page.locator('input[data-path="cloth/width"]').fill("x")
    expect(page.locator("#mend .bad")).to_be_visible()
    assert violations(page) == []
    page.locator('[data-do="undo"]').click()
    for place in (f"{job}/print", f"{job}/papers", f"{served.home}/cut", f"{served.home}/table"):
        page.goto(place, wait_until="domcontentloaded")
        assert violations(page) == [], place
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), place
    context.close()


def test_a_print_is_measured_and_put_into_the_job_by_keys_alone(browser, served, tmp_path):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/lock.yaml")
    page.goto(f"{page.url}/print")
    cloth(tmp_path / "cloth.jpg")
    page.set_input_files("#photo", tmp_path / "cloth.jpg")
    shot = page.locator("#shot")
    shot.focus()
    for _ in range(8):
        page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("Enter")
    for _ in range(16):
        page.keyboard.press("Shift+ArrowRight")
    page.keyboard.press("Enter")
    expect(page.locator("#clicked")).to_have_text("2 of 2 places marked.")
    # 16 steps of a twentieth of 1800 pixels are 1440, 36 in at 40 to the inch.
    page.locator("[data-way=ruler] input").fill("36")
    page.locator("#measure").click()
    expect(page.locator("#answers")).to_contain_text("4 3/8")
    # A digit that was typed wrong is mended, not typed and marked anew.
    expect(page.locator("[data-way=ruler] input")).to_have_value("36")
    expect(page.locator("#clicked")).to_have_text("2 of 2 places marked.")
    page.locator("[data-way=ruler] input").fill("72")
    page.locator("#measure").click()
    expect(page.locator("#answers")).to_contain_text("8 3/4")
    page.locator("[data-way=ruler] input").fill("36")
    page.locator("#measure").click()
    expect(page.locator("#answers")).to_contain_text("4 3/8")
    page.locator("#answers button.main").click()
    along = page.locator('input[data-path="cloth/repeat/along"]')
    expect(along).to_have_value("4 3/8")
    page.locator('[data-do="undo"]').click()
    expect(along).not_to_have_value("4 3/8")
    context.close()


def test_a_pair_is_practised_on_the_page_left_and_told(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/mill.yaml")
    page.get_by_role("link", name="Cut", exact=True).click()
    page.get_by_role("button", name="Practise on the simulated table").click()
    presses = page.locator("#presses")
    go = presses.locator("button.main")
    expect(go).to_contain_text("read: go on")
    assert violations(page) == []
    go.click()
    expect(page.locator("#now h1")).to_have_text("River window, left")
    expect(page.locator("#seen")).to_have_js_property("complete", True)
    go.click()
    expect(page.locator("#now .pull")).to_contain_text("Pull the cloth")
    other = context.new_page()
    other.goto(page.url)
    other.get_by_role("button", name="done").click()
    expect(page.locator(".todo .done")).to_contain_text("River window, left")
    expect(page.locator("#now h1")).to_contain_text("TURNED")
    page.get_by_role("button", name="undo").first.click()
    expect(page.locator(".todo .done")).to_have_count(0)
    page.get_by_role("button", name="leave").first.click()
    page.get_by_role("button", name="leave").first.click()
    expect(page.locator("#idle")).to_contain_text("Practice: done")
    expect(page.locator("#idle")).to_contain_text("no cut was recorded")
    context.close()


def test_papers_that_cannot_be_made_yet_say_so_in_place_of_a_broken_picture(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/mill.yaml")
    page.locator('input[data-path="cloth/pieces/0/length"]').fill("3 yd")
    expect(page.locator("#bar .state")).to_contain_text("not saved")
    job = page.url
    page.goto(f"{job}/papers")
    page.eval_on_selector_all(".papers img", "all => all.forEach(e => e.loading = 'eager')")
    expect(page.locator(".papers .none")).to_have_count(page.locator(".papers img").count())
    expect(page.locator(".papers .none").first).to_contain_text("cannot be drawn of the job as it is")
    page.goto(f"{job}/paper/hung.svg")
    expect(page.locator("main")).to_contain_text("the cuts do not fit")
    page.get_by_role("link", name="Back to the job").click()
    page.locator('[data-do="undo"]').click()
    expect(page.locator("#bar .state")).not_to_contain_text("not saved")
    context.close()


def test_the_simulated_table_is_calibrated_by_page_alone(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/table")
    page.get_by_role("button", name="Four marks on the simulated table").click()
    heading, go = page.locator("#now h1"), page.locator("#presses button.main")
    expect(heading).to_have_text("Before you calibrate")
    assert violations(page) == []
    go.click()
    expect(heading).not_to_have_text("Before you calibrate")
    expect(page.locator("#seen")).to_have_js_property("complete", True)
    for _ in range(6):
        page.get_by_role("button", name="Light right").click()
    page.get_by_role("button", name="Let a phone in").click()
    expect(page.locator("#phones")).to_contain_text("phone")
    page.get_by_role("button", name="leave").first.click()
    expect(page.locator("#idle")).to_contain_text("Practice: done")
    context.close()


def test_a_light_that_a_test_leaves_on_does_not_outlive_it(browser, tmp_path):
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "mill.yaml").write_text(examples()["Mill-race reading room"])
    program = Served(tmp_path)
    context, page = opened(browser, program)
    page.goto(f"{program.home}/open/mill.yaml")
    page.get_by_role("link", name="Cut", exact=True).click()
    page.get_by_role("button", name="Practise on the simulated table").click()
    expect(page.locator("#presses button.main")).to_contain_text("read: go on")
    (about,) = lights(tmp_path / "state")
    assert is_running(about["pid"])
    program.end()
    assert not is_running(about["pid"])
    context.close()
