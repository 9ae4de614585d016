"""How many actions, and how long for a quick hand, from the program's first command to the first lit cut of a pair.

python -m tests.benchmarks.quick_hand

Every step is done by Chromium on the program itself, with the simulated table; what is counted are keys and clicks. The
time is modelled from them (150 ms a key, 1 s a click: a quick hand that knows what it wants, no source) and holds no
waiting, no reading and no measuring. ``pip install`` comes before and is not counted.
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Locator, Page, expect, sync_playwright

from tests.projector.page.browser.conftest import CHROMIUM, FLAGS, Served, opened

KEY_S, CLICK_S = 0.15, 1.0
TYPED = {
    "job": "Kitchen",
    "cloth/name": "Plums on linen",
    "cloth/width": "55",
    "cloth/repeat/along": "25 1/4",
    "cloth/repeat/across": "27",
    "cloth/drop": "0",
    "windows/0/name": "Kitchen",
    "windows/0/finished_length": "62 1/2",
    "windows/0/row/below_top": "4 1/4",
}
CHOSEN = {
    "cloth/print/top_to_bottom": "none",
    "cloth/print/side_to_side": "none",
    "cloth/print/one_way": "yes",
    "windows/0/hang": "same",
}


@dataclass
class Hand:
    """What was done at each place: keys and clicks."""

    at: str = "Terminal"
    keys: dict[str, int] = field(default_factory=dict)
    clicks: dict[str, int] = field(default_factory=dict)

    def type(self, text: str, page: Page | None = None) -> None:
        """Keys, one after another."""
        self.keys[self.at] = self.keys.get(self.at, 0) + len(text)
        if page is not None:
            page.keyboard.type(text)

    def click(self, what: Locator) -> None:
        """One click."""
        self.clicks[self.at] = self.clicks.get(self.at, 0) + 1
        what.click()

    def told(self) -> list[str]:
        """A line for each place, and one for all."""
        lines, all_s = [], 0.0
        for place in dict.fromkeys([*self.keys, *self.clicks]):
            keys, clicks = self.keys.get(place, 0), self.clicks.get(place, 0)
            spent_s = keys * KEY_S + clicks * CLICK_S
            all_s += spent_s
            lines.append(f"{place:10} {clicks:3} clicks {keys:4} keys {spent_s:6.1f} s")
        return [
            *lines,
            f"{'all':10} {sum(self.clicks.values()):3} clicks {sum(self.keys.values()):4} keys {all_s:6.1f} s",
        ]


def first_cut(hand: Hand, page: Page) -> None:
    """From the list of jobs to the first lit cut."""
    hand.at = "Jobs"
    hand.click(page.get_by_role("button", name="inches"))
    hand.at = "Job"
    for path, text in TYPED.items():
        box = page.locator(f'input[data-path="{path}"]')
        hand.click(box)
        page.keyboard.press("Control+a")
        hand.type("\b", None)  # the key that takes what stood there
        hand.type(text, page)
        expect(box).to_have_value(text)
    for path, word in CHOSEN.items():
        hand.click(page.locator(f'input[type=radio][data-path="{path}"][value="{word}"]'))
    expect(page.locator("#buy .big")).to_contain_text("Buy")
    hand.click(page.locator('[data-do="save"]'))
    hand.click(page.locator("#save-yes"))
    hand.at = "Cut"
    hand.click(page.get_by_role("link", name="Cut", exact=True))
    hand.click(page.get_by_role("button", name="Practise on the simulated table"))
    go, now = page.locator("#presses button.main"), page.locator("#now")
    expect(go).to_be_visible()
    while not now.get_by_text("1 of 2").count():
        before = now.inner_text()
        hand.click(go)
        expect(now).not_to_have_text(before, use_inner_text=True)
    expect(page.locator("#now h1")).to_have_text("Kitchen, left")


def main() -> None:
    hand = Hand()
    hand.type("lightchalk\n")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        served = Served(Path(folder))
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        try:
            _, page = opened(browser, served)
            first_cut(hand, page)
        finally:
            browser.close()
            served.end()
    print(*hand.told(), sep="\n")


if __name__ == "__main__":
    main()
