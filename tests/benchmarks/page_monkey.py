"""Thousands of random clicks and keys on every place of the page, on three screens, two pages on one job.

python -m tests.benchmarks.page_monkey [how many, 5000 unless given] [seed]

A fault is: an error in the browser or its console, an answer of 500, a page that is dead, a line on the standard error
of the program, a field that holds something else than was typed, a request that is never answered. Now and then, and
at the end, what the pages show is held against what is kept on the disk; at last the program is killed and must have
lost nothing.
"""

from __future__ import annotations

import contextlib
import json
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path

from playwright.sync_api import Browser, Error, FileChooser, Page, Response, WebSocket, sync_playwright

from jobs.io.log import FileRefused
from projector.page.form.blank import examples
from projector.page.form.implied import told_or_implied
from projector.page.form.values import values_of
from projector.page.kept import Drafts
from tests.projector.page.browser.conftest import CHROMIUM, FLAGS, SIZES, Served
from tests.projector.page.server.test_photographs import cloth
from tests.waiting import HUNG_S

JOBS = {
    "mill.yaml": "Mill-race reading room",
    "ferry.yaml": "Nine Ferry Lane",
    "bay.yaml": "Bay over the weir",
}
PAGES = ("desktop", "desktop", "laptop", "phone")
"""The screens; the first two are pages of one browser, on one job most of the time."""
PLACES = ("/", "/job", "/job/print", "/job/papers", "/table", "/cut")
TEXTS = (
    "84 1/2", "92", "13 1/4", "28.6 cm", "-3", "0", "1e9", "9x", "", " ", "yes", "Weir side", "'", '"', ": {", "- a",
    "# not", "<b>&amp;", "\u00fc\u00df\u2014\u4e2d", "1/0", "null", "~", "!!x", "&a *a", "../x.yaml", "12, 14",
    "x" * 300,
)  # fmt: skip
KEYS = (
    "Tab", "Tab", "Shift+Tab", "Escape", "Enter", " ", "ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home",
    "End", "PageUp", "PageDown", "Backspace", "Delete", "Control+z", "Control+z", "Control+Shift+z", "Control+y",
    "Control+s", "Control+a", "u", "y", ".", "b", "7",
)  # fmt: skip
MOST_LOOKS = 100
"""So often a page is looked at until it shows what has been answered: on a busy machine that is a little later."""
REACHED = "a[href]:not([target]), button, summary, input, select, [role=tab], .cut-at, #seen, #shot"
PICK = """([wanted, chance]) => {
  const open = document.querySelector("dialog[open]");
  const there = (e) => e.checkVisibility() && !e.disabled && e.type !== "hidden";
  const all = [...(open ?? document).querySelectorAll(wanted)].filter(there);
  const one = all[Math.floor(chance * all.length)];
  if (!one) return null;
  one.scrollIntoView({ block: "center" });
  const box = one.getBoundingClientRect();
  if (one.matches("input[type=text]")) one.dataset.monkey = "";
  return [box.x + box.width / 2, box.y + box.height / 2];
}"""
SHOWN = """() => Object.fromEntries([...document.querySelectorAll("#form [data-path]")]
  .filter((e) => e.dataset.several === undefined && !e.dataset.switch && (e.type !== "radio" || e.checked))
  .filter((e) => !e.closest(".row").querySelector(".asking"))
  .filter((e) => document.querySelector(`[data-clash="${CSS.escape(e.dataset.path)}"]`)?.hidden !== false)
  .map((e) => [e.dataset.path, e.value]))"""


@dataclass
class Found:
    """What was done, and what went wrong."""

    done: Counter[str] = field(default_factory=Counter)
    places: Counter[str] = field(default_factory=Counter)
    said: Counter[str] = field(default_factory=Counter)
    compared: int = 0
    faults: list[str] = field(default_factory=list)


class Monkey:
    """Some pages of a program that is served, and a hand that means nothing by what it does."""

    def __init__(self, browser: Browser, served: Served, photo: Path, seed: int) -> None:
        self.chance, self.served, self.photo, self.found = random.Random(seed), served, photo, Found()
        self.waiting: dict[Page, set[int]] = {}
        self.choosers: list[FileChooser] = []
        contexts = {}
        for size in dict.fromkeys(PAGES):
            width, height = SIZES[size]
            contexts[size] = browser.new_context(
                viewport={"width": width, "height": height}, has_touch=size == "phone", accept_downloads=True
            )
            contexts[size].set_default_timeout(HUNG_S * 1000)
        self.pages = [self._page(contexts[size].new_page(), size) for size in PAGES]
        self.at = "start"

    def _page(self, page: Page, size: str) -> Page:
        page.on("pageerror", lambda fault: self.wrong(f"script: {fault}"))
        page.on("console", lambda line: self._console(line.type, line.text))
        page.on("response", self._answered)
        page.on("dialog", lambda dialog: dialog.accept())
        page.on("popup", lambda other: other.close())
        page.on("download", lambda download: download.cancel())
        page.on("filechooser", lambda chooser: self.choosers.append(chooser))
        page.on("websocket", lambda socket: self._listen(page, socket))
        page.on("crash", lambda _: self.wrong("the page crashed"))
        page.goto(self.served.url)
        page.__dict__["size"] = size
        return page

    def wrong(self, words: str) -> None:
        self.found.faults.append(f"{self.at}: {words}")

    def _console(self, kind: str, text: str) -> None:
        # What was asked for and has gone meanwhile is looked at by its answer.
        if kind in ("error", "warning") and "Failed to load resource" not in text:
            self.wrong(f"console: {text}")

    def _answered(self, answer: Response) -> None:
        refused = (
            answer.status >= 400
            and answer.request.resource_type != "document"
            and not any(one in answer.url for one in ("/bring", "/paper/", "/photograph"))
        )
        if answer.status >= 500 or refused:
            self.wrong(f"{answer.status} for {answer.request.method} {answer.url}")

    def _listen(self, page: Page, socket: WebSocket) -> None:
        """Which requests of the page are not answered yet; another page at the same tab begins anew."""
        self.waiting[page] = set()

        def sent(text: str | bytes) -> None:
            if number := json.loads(text).get("n"):
                self.waiting[page].add(number)

        def heard(text: str | bytes) -> None:
            self.waiting[page].discard(json.loads(text).get("ack"))

        socket.on("framesent", sent)
        socket.on("framereceived", heard)

    # What it does.

    def act(self) -> None:
        """One random action on one of the pages."""
        page = self.chance.choice(self.pages)
        does = self.chance.choices(
            (self.click, self.type, self.press, self.go, self.drag, self.move, self.compare),
            (40, 22, 22, 8, 3, 3, 2),
        )[0]
        self.at = f"{sum(self.found.done.values())} {does.__name__} on {page.__dict__['size']} {page.url}"
        self.found.done[does.__name__] += 1
        self.found.places[self._place(page)] += 1
        try:
            does(page)
            self.look(page)
        except Error as fault:
            if "navigat" not in fault.message and "Execution context" not in fault.message:
                self.wrong(f"browser: {fault.message.splitlines()[0]}")
        if self.served.process.poll() is not None:
            raise AssertionError(f"{self.at}: the program has ended")

    def _place(self, page: Page) -> str:
        path = page.url.removeprefix(self.served.home).partition("?")[0].partition("#")[0]
        ends = path.rpartition("/")[2]
        return ends if ends in ("print", "papers", "table", "cut") else "job" if path.startswith("/job") else "jobs"

    def look(self, page: Page) -> None:
        """What the page says now."""
        page.wait_for_function("() => document.readyState === 'complete' && document.querySelector('main')?.innerText")
        said = page.evaluate(
            "() => [document.querySelector('main').innerText, document.querySelector('#say.bad')?.textContent ?? '']"
        )
        for words in ("went wrong", "older than the program", "Traceback", "Please report"):
            if words in said[0] or words in said[1]:
                self.wrong(f"it says: {next(line for line in (*said[0].splitlines(), said[1]) if words in line)}")
        if said[1]:
            self.found.said[said[1]] += 1

    def click(self, page: Page) -> None:
        """Click or touch something that can be."""
        at = page.evaluate(PICK, [REACHED, self.chance.random()])
        if at:
            (page.touchscreen.tap if page.__dict__["size"] == "phone" else page.mouse.click)(*at)
        if self.choosers:
            files = (self.photo, self.photo.with_name("torn.jpg"), self.served.folder / "jobs" / "mill.yaml")
            chooser, file = self.choosers.pop(), self.chance.choice(files)
            self.choosers.clear()
            # Another page may have taken away what was clicked: the driver then has nothing to fill.
            with contextlib.suppress(Error):
                chooser.set_files(file)

    def type(self, page: Page) -> None:
        """Type into a field, which then holds that."""
        at = page.evaluate(PICK, ["input[type=text]", self.chance.random()])
        if not at:
            return
        page.mouse.click(*at)
        text = self.chance.choice(TEXTS)
        page.keyboard.press("Control+a")
        page.keyboard.press("Delete")
        page.keyboard.type(text)
        held = page.evaluate("() => [document.activeElement?.type, document.activeElement?.value]")
        if held[0] == "text" and held[1] != text:
            self.wrong(f"typed {text!r}, the field holds {held[1]!r}")
        if self.chance.random() < 0.3:
            page.keyboard.press(self.chance.choice(("Enter", "Tab", "Control+z")))

    def press(self, page: Page) -> None:
        """Press some keys, wherever the cursor is."""
        for _ in range(self.chance.randint(1, 3)):
            page.keyboard.press(self.chance.choice(KEYS))

    def go(self, page: Page) -> None:
        """Go to another place, back, forth, or load anew."""
        how = self.chance.random()
        if how < 0.1:
            page.go_back(wait_until="commit")
        elif how < 0.15:
            page.go_forward(wait_until="commit")
        elif how < 0.25:
            page.reload(wait_until="commit")
        else:
            place = self.chance.choice(PLACES)
            job = self._job() if place.startswith("/job") else ""
            page.goto(self.served.home + place.replace("/job", job), wait_until="commit")
            if page is self.pages[0] and place == "/job":
                self.pages[1].goto(page.url, wait_until="commit")

    def _job(self) -> str:
        """The address of a job, the same one for a while."""
        name = list(JOBS)[sum(self.found.done.values()) // 150 % len(JOBS)]
        answer = self.pages[2].context.request.get(f"{self.served.home}/open/{name}", max_retries=3)
        return answer.url.removeprefix(self.served.home) if answer.ok else "/"

    def drag(self, page: Page) -> None:
        """Drag from somewhere to somewhere."""
        width, height = SIZES[page.__dict__["size"]]
        at = page.evaluate(PICK, [".cut-at, figure", self.chance.random()]) or (width / 2, height / 2)
        page.mouse.move(*at)
        page.mouse.down()
        page.mouse.move(self.chance.random() * width, self.chance.random() * height, steps=4)
        page.mouse.up()

    def move(self, page: Page) -> None:
        """Turn the wheel, or make it dark or light."""
        if self.chance.random() < 0.5:
            page.mouse.wheel(0, self.chance.uniform(-2000, 2000))
        else:
            page.emulate_media(color_scheme=self.chance.choice(("light", "dark")))

    # What must hold.

    def settle(self, page: Page) -> None:
        """Wait until all that the page asked is answered."""
        hung = time.monotonic() + HUNG_S
        while self.waiting.get(page) or page.evaluate("() => document.querySelectorAll('[aria-busy]').length"):
            page.wait_for_timeout(30)
            if time.monotonic() > hung:
                self.wrong(f"{sorted(self.waiting[page])} were never answered")
                self.waiting[page].clear()
                return

    def compare(self, page: Page) -> None:
        """What the form shows is what is kept."""
        if self._place(page) != "job":
            return
        page.locator("body").click(position={"x": 2, "y": 2})
        self.settle(page)
        for _ in range(MOST_LOOKS):
            text = self.kept(page)
            if text is None:
                return
            if not (different := self.different(page, text)):
                self.found.compared += 1
                return
            page.wait_for_timeout(100)
        self.found.faults += [f"{self.at}: {one}" for one in different]

    def different(self, page: Page, text: str) -> list[str]:
        """Fields that show something else than the text of the job says."""
        values, found = values_of(text), []
        for path, shown in page.evaluate(SHOWN).items():
            told = told_or_implied(values, tuple(int(one) if one.isdigit() else one for one in path.split("/")))
            if path.endswith("/facing") and not told:
                continue  # how a pair looks that says nothing of it is shown as chosen
            if told.split() != shown.split() and told.replace(", ", ",") != shown.strip().replace(", ", ","):
                found.append(f"{path} shows {shown!r}, kept is {told!r}")
        return found

    def kept(self, page: Page) -> str | None:
        """The text of the job on this page as it is on the disk: unsaved, or in its file; None where in neither."""
        job = page.url.removeprefix(f"{self.served.home}/job/").partition("#")[0]
        for path in (self.served.folder / "state" / "drafts").glob(f"*/{job}.json"):
            return str(json.loads(path.read_text())["text"])
        name = page.locator("#bar .state").inner_text().partition(" \u00b7 ")[0]
        file = self.served.folder / "jobs" / name
        return file.read_text() if file.is_file() else None

    def end(self) -> None:
        """Hold every page against the disk; kill the program, which must have lost nothing and left nothing torn."""
        for page in self.pages:
            self.at = f"end, {page.url}"
            self.compare(page)
            page.close()
        state, jobs = self.served.folder / "state", self.served.folder / "jobs"
        drafts = {path.stem: json.loads(path.read_text())["text"] for path in (state / "drafts").glob("*/*.json")}
        self.served.process.send_signal(signal.SIGKILL)
        self.served.end()
        left = {job: draft.text for job, draft in Drafts(state).left().items()}
        if left != drafts:
            self.wrong(f"of {sorted(drafts)} there are {sorted(left)}")
        for path in jobs.iterdir():
            if path.suffix not in (".yaml", ".png", ".jsonl", ".log"):
                self.wrong(f"{path.name} was left behind")
            if path.suffix == ".yaml":
                try:
                    values_of(path.read_text(), path.name)
                except FileRefused as torn:
                    self.wrong(f"{path.name}: {torn}")


def let_loose(folder: Path, browser: Browser, actions: int, seed: int, tell: bool = False) -> Found:
    """So many random actions on a program of its own, which serves jobs in this folder."""
    (folder / "jobs").mkdir()
    for name, title in JOBS.items():
        (folder / "jobs" / name).write_text(examples()[title])
    cloth(folder / "cloth.jpg")
    (folder / "torn.jpg").write_bytes((folder / "cloth.jpg").read_bytes()[:5000])
    with (folder / "errors").open("w+") as errors:
        served = Served(folder, module="tests.projector.page.loud", errors=errors)
        monkey = Monkey(browser, served, folder / "cloth.jpg", seed)
        known = 0
        try:
            for number in range(actions):
                monkey.act()
                if tell and (len(monkey.found.faults) > known or number % 250 == 249):
                    print(number + 1, *monkey.found.faults[known:], sep="\n  ", flush=True)
                    known = len(monkey.found.faults)
            monkey.end()
        finally:
            served.end()
        errors.seek(0)
        if lines := errors.read().strip():
            monkey.wrong(f"the program told: {lines[-3000:]}")
        for context in {page.context for page in monkey.pages}:
            context.close()
    return monkey.found


def main() -> None:
    actions = int(sys.argv[1]) if len(sys.argv) > 1 else 5000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 5
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        found = let_loose(Path(folder), browser, actions, seed, tell=True)
        browser.close()
    print(f"{sum(found.done.values())} actions, seed {seed}: {dict(found.done)}")
    print(f"places: {dict(found.places)}; {found.compared} times held against the disk")
    print("refused:", *(f"{count} x {words}" for words, count in found.said.most_common()), sep="\n  ")
    print(f"{len(found.faults)} faults", *found.faults, sep="\n  ")


if __name__ == "__main__":
    main()
