"""What the first hour's maker types and sees, made by the program: python -m tests.docs.first_hour"""

from __future__ import annotations

import io
import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, expect, sync_playwright

from tests.projector.commands.running import run
from tests.projector.page.browser.conftest import CHROMIUM, FLAGS, Served

HERE = Path(__file__).parents[2] / "docs" / "first-hour"

# The talk of the document: each answer in order, an empty one is Enter.
TYPED = (
    "in", "Aunt's parlour", "Herrings on sand", "54", "1/2", "yes", "18", "13 1/4", "0", "yes", "0", "no", "no",
    "0", "sand", "1/4 yd", "no", "4", "8", "2", "1/2", "1",
    "Garden window", "pair", "mirrored", "92", "84", "cuts", "1", "foot", "3", "", "no", "yes", "72", "60", "",
)  # fmt: skip
PICTURES = (("hung.png", "hung", ("--folds",)), ("cloth.png", "cloth", ()))
SIZE = {"width": 1280, "height": 800}


def talk(path: Path) -> str:
    """The job by questions, written to ``path``; what the terminal showed."""
    before, sys.stdin = sys.stdin, io.StringIO("".join(f"{line}\n" for line in TYPED))
    try:
        ran = run("new", path)
    finally:
        sys.stdin = before
    assert ran.code == 0, ran.err
    return ran.out


def make() -> None:
    """Write the job and its pictures into docs/first-hour."""
    job = HERE / "parlour.yaml"
    job.unlink(missing_ok=True)
    talk(job)
    for name, what, more in PICTURES:
        ran = run("picture", job, "--of", what, *more, "--out", HERE / name)
        assert ran.code == 0, ran.err
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        served = Served(Path(folder))
        try:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
            _walk(browser.new_page(viewport=SIZE), served)
            browser.close()
        finally:
            served.end()


def _walk(page: Page, served: Served) -> None:
    """The way through the page as the document tells it, a picture at each step."""

    def shot(name: str) -> None:
        page.screenshot(path=HERE / f"{name}.png")

    def fill(path: str, value: str) -> None:
        page.locator(f'input[data-path="{path}"]').fill(value)

    shutil.copy(HERE / "parlour.yaml", served.folder / "jobs")
    page.goto(served.url)
    shot("begin")
    page.goto(f"{served.home}/open/parlour.yaml")
    page.locator('input[data-path="cloth/name"]').focus()
    expect(page.locator("#hung svg").first).to_be_visible()
    expect(page.locator("#buy .ways")).to_be_visible()
    shot("form")
    fill("windows/0/finished_length", "8x")
    expect(page.locator("#mend .bad")).to_be_visible()
    page.locator("#mend a").first.click()
    shot("slip")
    page.locator('[data-do="undo"]').click()
    page.goto(f"{served.home}/cut")
    page.get_by_role("button", name="Practise on the simulated table").click()
    go = page.locator("#presses button.main")
    expect(go).to_contain_text("read: go on")
    go.click()
    expect(page.locator("#now h1")).to_contain_text("TURNED")
    # A press counts as meant when the question could be read: the light takes it as soon as that is so.
    while "TURNED" in page.locator("#now h1").inner_text() or "leading" in page.locator("#now h1").inner_text().lower():
        go.click()
        page.wait_for_timeout(1000)
    expect(page.locator("#piece svg").first).to_be_visible()
    page.wait_for_timeout(1000)
    shot("cut")
    _leave(page)
    page.get_by_label("The cloth lies askew").check()
    page.get_by_role("button", name="Practise on the simulated table").click()
    expect(go).to_contain_text("read: go on")
    go.click()
    expect(page.locator("#now h1")).to_contain_text("TURNED")
    page.locator("#presses").get_by_role("button", name="lay").click()
    page.get_by_role("button", name="photograph it instead").first.click()
    page.get_by_role("button", name="Photograph the simulated table").click()
    expect(page.locator("#now h1")).to_have_text("How the cloth lies")
    page.wait_for_function("() => document.getElementById('cloth-shot')?.naturalWidth > 0")
    page.wait_for_timeout(1000)
    shot("laid")
    page.get_by_role("button", name="do without").first.click()
    _leave(page)


def _leave(page: Page) -> None:
    page.get_by_role("button", name="leave").first.click()
    expect(page.locator("#now h1")).to_have_text("Leave the table?")
    page.get_by_role("button", name="leave").first.click()
    expect(page.locator("#idle")).to_contain_text("Practice: done")


if __name__ == "__main__":
    make()
