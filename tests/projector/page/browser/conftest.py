"""A real browser on a real server: Chromium, driven by Playwright, on screens as large as people have."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from projector.page.form.blank import examples
from tests.waiting import HUNG_S

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
SIZES = {"desktop": (1440, 900), "laptop": (1280, 720), "phone": (390, 844)}
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")

expect.set_options(timeout=HUNG_S * 1000)


class Served:
    """The program serving a folder, started as a person starts it."""

    def __init__(self, folder: Path, *, port: str = "0") -> None:
        self.folder = folder
        (folder / "jobs").mkdir(exist_ok=True)
        state = {"LIGHTCHALK_STATE": str(folder / "state")}
        command = [sys.executable, "-m", "projector.commands.main", "open", "--no-browser", "--port", port]
        self.process = subprocess.Popen(
            command, cwd=folder / "jobs", env={**os.environ, **state}, stdout=subprocess.PIPE, text=True
        )
        assert self.process.stdout is not None
        self.url = self.process.stdout.readline().removeprefix("The page: ").strip()
        self.home = self.url.partition("/?")[0]

    def end(self) -> None:
        self.process.terminate()
        self.process.wait()
        assert self.process.stdout is not None
        self.process.stdout.close()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Ended with its module: its event loop runs in this thread, where no other test could have one of its own."""
    if CHROMIUM is None:
        if os.environ.get("LIGHTCHALK_NEEDS_SCREEN"):
            pytest.fail("chromium is missing")
        pytest.skip("needs chromium")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield started
        started.close()


@pytest.fixture(scope="module")
def served(tmp_path_factory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("served")
    (folder / "jobs").mkdir()
    (folder / "jobs" / "mill.yaml").write_text(examples()["Mill-race reading room"])
    (folder / "jobs" / "lock.yaml").write_text(examples()["Lock-keeper's cottage"])
    program = Served(folder)
    yield program
    program.end()


def opened(browser: Browser, served: Served, size: str = "desktop", **more) -> tuple[BrowserContext, Page]:
    """A browser of its own on a screen of that size, let in; what goes wrong in a script fails the test."""
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, has_touch=size == "phone", **more)
    context.set_default_timeout(HUNG_S * 1000)
    page = context.new_page()
    page.on("pageerror", lambda fault: page.__dict__.setdefault("faults", []).append(str(fault)))
    page.goto(served.url)
    return context, page
