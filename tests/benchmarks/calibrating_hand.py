"""How many actions, and how long for a quick hand, from the place Table to a calibration by photographs.

    python -m tests.benchmarks.calibrating_hand [FOLDER]

Done by Chromium on the program itself with the virtual camera, then the light is knocked and that is asked for. The
time is modelled: 1 s a click, 150 ms a key, and for each photograph 8 s of walking and holding, for each laying of
the tape 20 s, where a person at a real table has them (a quick hand, no source); what the program works out meanwhile
is measured on top. Into FOLDER goes a picture of each step, at 1440 x 900 and 390 x 844.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Page, expect, sync_playwright

from tests.projector.page.browser.conftest import CHROMIUM, FLAGS, Served, opened

CLICK_S, KEY_S, WALK_S, TAPE_S = 1.0, 0.15, 8.0, 20.0
SIZES = ({"width": 390, "height": 844}, {"width": 1440, "height": 900})


class Hand:
    def __init__(self, page: Page, folder: Path | None) -> None:
        self.page, self.folder = page, folder
        self.clicks = self.keys = self.shots = 0
        self.waited_s = 0.0

    def click(self, selector: str) -> None:
        self.page.locator(selector).first.click()
        self.clicks += 1

    def type(self, selector: str, text: str) -> None:
        self.page.locator(selector).fill(text)
        self.keys += len(text)

    def wait(self, selector: str, text: str) -> None:
        begun = time.monotonic()
        expect(self.page.locator(selector).first).to_contain_text(text)
        self.waited_s += time.monotonic() - begun

    def look(self, name: str) -> None:
        for size in SIZES if self.folder is not None else ():
            self.page.set_viewport_size(size)  # type: ignore[arg-type]
            self.page.screenshot(path=self.folder / f"{name}-{size['width']}.png", full_page=True)
        self.shots += 1

    def say(self, what: str, by_hand_s: float) -> None:
        total = self.clicks * CLICK_S + self.keys * KEY_S + by_hand_s
        print(f"{what}: {self.clicks} clicks, {self.keys} keys, {total:.0f} s by hand, "
              f"{self.waited_s:.0f} s waited for the program", flush=True)  # fmt: skip


def main(folder: Path | None) -> None:
    expect.set_options(timeout=300_000)
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        served = Served(Path(place))
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        try:
            _, page = opened(browser, served)
            page.goto(f"{served.home}/table")
            hand = Hand(page, folder)
            hand.look("1-table")
            hand.click("button:has-text('Photograph the simulated table')")
            hand.wait("#presses button.main", "read: go on")
            hand.click("#presses button.main")
            hand.wait("#far-words", "None yet")
            hand.look("2-lit")
            for number in range(1, 6):
                hand.click("[data-shoot].main")
                hand.wait("#far-words", f"{number} ")
                hand.look(f"3-photograph-{number}")
            says = page.locator("#tape-says").inner_text()
            hand.type("#tape-0", says)
            hand.type("#tape-1", says)
            hand.wait("#h-made", "This is the calibration")
            hand.look("4-made")
            hand.click("button:has-text('Use this calibration')")
            hand.wait("#idle", "There the truth is known")
            hand.say("to calibrated", 5 * WALK_S + 2 * TAPE_S)
            hand.look("5-used")
            hand.click("button:has-text('Photograph the simulated table')")
            hand.wait("#presses button.main", "read: go on")
            hand.click("#presses button.main")
            hand.click("[data-lit=knock]")
            hand.wait("[data-lit=knock]", "Hang the projector")
            hand.click("[data-shoot].main")
            hand.click("[data-lit=compare]")
            hand.wait("#moved-words", "moved")
            print(page.locator("#moved-words").inner_text())
            hand.look("6-moved")
            hand.say("and whether it has moved", 6 * WALK_S + 2 * TAPE_S)
        finally:
            browser.close()
            served.end()


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
