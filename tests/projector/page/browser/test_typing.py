"""Typing is never disturbed, and nothing that was typed is lost."""

import random

import pytest
from playwright.sync_api import expect

from projector.page.form.blank import examples
from tests.projector.page.browser.conftest import Served, opened
from tests.waiting import wait_until

TYPED = ("84 1/2", "92", "13 1/4", "28.6 cm", "Weir side", "1/2")


def every_field(page) -> dict[str, str]:
    return dict(
        page.eval_on_selector_all("input[type=text][data-path]", "all => all.map(e => [e.dataset.path, e.value])")
    )


def test_what_is_typed_into_every_field_after_a_window_was_renamed_stays_what_was_typed(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/lock.yaml")
    page.eval_on_selector_all("details", "all => all.forEach(e => e.open = true)")
    name = page.locator('input[data-path="windows/0/name"]')
    name.fill("")
    name.press_sequentially("Towpath side", delay=30)
    chance = random.Random(7)
    typed = {}
    for path in every_field(page):
        field = page.locator(f'input[data-path="{path}"]')
        if not field.count():
            continue  # what another field said made it go
        text = chance.choice(TYPED)
        field.click()
        page.keyboard.press("Control+A")
        page.keyboard.type(text, delay=chance.choice((12, 12, 12, 25, 60)))
        assert field.input_value() == text
        typed[path] = text
    page.locator('input[data-path="job"]').click()
    page.keyboard.press("Control+A")
    page.keyboard.type("92", delay=300)
    typed["job"] = "92"
    for path, text in typed.items():
        if page.locator(f'input[data-path="{path}"]').count():
            assert page.locator(f'input[data-path="{path}"]').input_value() == text, path
    page.wait_for_function("() => document.querySelectorAll('[aria-busy]').length === 0")
    shown = every_field(page)
    expect(page.locator("#bar h1")).to_have_text("92")
    page.reload()
    assert every_field(page) == shown
    assert "faults" not in page.__dict__
    context.close()


def test_two_pages_on_one_job_see_each_other_and_never_write_over_each_other(browser, served):
    context, one = opened(browser, served)
    one.goto(f"{served.home}/open/mill.yaml")
    other = context.new_page()
    other.goto(one.url)
    mine, theirs = (page.locator('input[data-path="cloth/name"]') for page in (one, other))
    mine.fill("Eels on sand")
    expect(theirs).to_have_value("Eels on sand")
    theirs.click()
    mine.fill("Newts")
    note = other.locator('[data-clash="cloth/name"]')
    expect(note).to_contain_text("Newts")
    assert theirs.input_value() == "Eels on sand"
    note.get_by_role("button", name="Take that").click()
    expect(theirs).to_have_value("Newts")
    one.locator("body").press("Control+z")
    expect(other.locator("#bar")).to_contain_text("Redo")
    context.close()


def test_a_choice_that_another_page_made_is_changed_like_any_other(browser, served):
    context, one = opened(browser, served)
    one.goto(f"{served.home}/open/bay.yaml")
    radio, listed = '[data-path="windows/0/facing"]', 'select[data-path="windows/0/lining/cloth"]'
    one.locator(radio).last.check()
    cloths = one.locator(f"{listed} option").evaluate_all("all => all.map(one => one.value).filter(Boolean)")
    first = one.locator(listed).input_value()
    second = next(cloth for cloth in cloths if cloth != first)
    one.locator(listed).select_option(second)
    one.wait_for_function("() => document.querySelectorAll('[aria-busy]').length === 0")
    # Loaded anew it is another page to the program.
    one.reload()
    expect(one.locator(listed)).to_have_value(second)
    one.locator(radio).first.check()
    one.locator(listed).select_option(first)
    expect(one.locator("[data-clash]:visible")).to_have_count(0)
    one.reload()
    expect(one.locator(f"{radio}:checked")).to_have_value("left as it lies")
    expect(one.locator(listed)).to_have_value(first)
    context.close()


def test_what_is_typed_and_pressed_before_the_scripts_have_come_is_done_once_they_are_there(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/mill.yaml")
    fields = page.locator("input[type=text][data-path]")
    before = fields.count()
    held = []
    page.route("**/static/page.js", lambda route: held.append(route))
    page.reload(wait_until="commit")
    page.locator('input[data-path="cloth/name"]').fill("Teasels on rust")
    page.locator('button[data-do="add"]').first.click()
    assert fields.count() == before
    wait_until(lambda: held or page.wait_for_timeout(20))
    for route in held:
        route.continue_()
    page.wait_for_function("n => document.querySelectorAll('input[type=text][data-path]').length > n", arg=before)
    page.wait_for_function("() => document.querySelectorAll('[aria-busy]').length === 0")
    page.unroute("**/static/page.js")
    page.reload()
    expect(page.locator('input[data-path="cloth/name"]')).to_have_value("Teasels on rust")
    context.close()


def test_nothing_moves_under_a_finger_until_it_is_up(browser, served):
    context, one = opened(browser, served)
    heard = []
    one.on("websocket", lambda socket: socket.on("framereceived", lambda text: heard.append(str(text))))
    one.goto(f"{served.home}/open/mill.yaml")
    other = context.new_page()
    other.goto(one.url)
    answer = one.locator('input[data-path="cloth/print/one_way"]').last
    answer.scroll_into_view_if_needed()
    box = answer.bounding_box()
    one.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    one.mouse.down()
    other.locator('input[data-path="job"]').fill("Moved while a finger was down")
    wait_until(lambda: any("finger was down" in text for text in heard) or one.wait_for_timeout(20))
    assert "finger was down" not in one.locator("#bar h1").inner_text()
    one.mouse.up()
    assert answer.is_checked()
    expect(one.locator("#bar h1")).to_have_text("Moved while a finger was down")
    context.close()


def test_nothing_is_lost_when_the_server_is_killed_while_somebody_types(browser, tmp_path):
    first = Served(tmp_path)
    context, page = opened(browser, first)
    page.get_by_role("button", name="inches").click()
    job = page.url
    page.locator('input[data-path="job"]').fill("Aunt's parlour")
    expect(page.locator("#bar h1")).to_have_text("Aunt's parlour")
    first.process.kill()
    page.locator('input[data-path="cloth/width"]').fill("55")
    expect(page.locator("#net")).to_contain_text("Not connected")
    first.end()
    port = first.home.rpartition(":")[2]
    second = Served(tmp_path, port=port)
    page.context.request.get(second.url)
    expect(page.locator("#net")).to_have_text("")
    expect(page.locator("#bar .state")).to_contain_text("not saved")
    page.goto(job)
    assert page.locator('input[data-path="cloth/width"]').input_value() == "55"
    assert page.locator('input[data-path="job"]').input_value() == "Aunt's parlour"
    context.close()
    second.end()


@pytest.mark.parametrize("size", ["laptop", "phone"])
def test_a_job_is_made_misspelt_mended_and_saved_by_page_alone(browser, served, size):
    context, page = opened(browser, served, size)
    page.get_by_role("button", name="inches").click()
    title = f"Parlour {size}"
    page.locator('input[data-path="job"]').fill(title)
    page.locator('input[data-path="windows/0/finished_length"]').fill("9x")
    link = page.locator("#mend a").first
    expect(link).to_contain_text("Finished length")
    link.click()
    field = page.locator('input[data-path="windows/0/finished_length"]')
    expect(field).to_be_focused()
    page.keyboard.type("92")
    expect(page.locator("#mend .bad")).to_have_count(0)
    page.locator('#r-f-cloth-print-one_way input[value="no"]').check()
    for name in ("top_to_bottom", "side_to_side"):
        page.locator(f'#r-f-cloth-print-{name} input[value="mirror"]').check()
    expect(page.locator("#buy .big")).to_contain_text("Buy")
    page.keyboard.press("Control+s")
    page.locator("#save-yes").click()
    expect(page.locator("#say")).to_contain_text("Saved in")
    assert f"job: {title}" in (served.folder / "jobs" / f"parlour-{size}.yaml").read_text()
    context.close()


def test_windows_are_added_copied_and_taken_out_by_their_buttons(browser, served):
    context, page = opened(browser, served)
    page.goto(f"{served.home}/open/lock.yaml")
    names = page.locator('#s-windows input[data-path$="/name"]')
    before = [one.input_value() for one in names.all()]
    page.get_by_role("button", name="Add a window").click()
    expect(names).to_have_count(len(before) + 1)
    page.get_by_role("button", name="Copy it").first.click()
    expect(names).to_have_count(len(before) + 2)
    for more in (1, 0):
        page.get_by_role("button", name="Take this window out").last.click()
        expect(names).to_have_count(len(before) + more)
    assert [one.input_value() for one in names.all()] == before
    expect(page.locator("#say")).to_have_text("")
    context.close()


def test_what_names_a_cloth_that_is_renamed_shows_its_new_name_on_every_page(browser, served):
    # A file of its own: what another test has changed in an open job and not saved stays changed.
    (served.folder / "jobs" / "weir.yaml").write_text(examples()["Bay over the weir"])
    context, one = opened(browser, served)
    one.goto(f"{served.home}/open/weir.yaml")
    other = context.new_page()
    other.goto(one.url)
    one.locator('input[data-path="cloths/1/name"]').fill("Slate linen")
    for page in (one, other):
        expect(page.locator('select[data-path="windows/0/bands/0/cloth"]')).to_have_value("Slate linen")
        expect(page.locator('select[data-path="windows/0/lining/cloth"]')).to_have_value("Cream sateen")
    context.close()
