"""A real browser on a real server: Chromium, driven by Playwright, on screens as large as people have."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import IO

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

from projector.page.form.blank import examples
from projector.page.light.found import LIGHTS
from tests.waiting import HUNG_S, wait_until

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
ROOT = Path(__file__).parents[4]
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")

expect.set_options(timeout=HUNG_S * 1000)


def children_of(pid: int) -> list[int]:
    """The processes that a process has started and not yet seen the end of."""
    lists = Path(f"/proc/{pid}/task").glob("*/children")
    return [int(one) for threads in lists for one in threads.read_text().split()]


def is_running(pid: int) -> bool:
    """Whether there is such a process, and not only what is left of it until somebody asks how it ended."""
    with contextlib.suppress(OSError):
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    return False


class Served:
    """The program serving a folder, started as a person starts it."""

    def __init__(
        self, folder: Path, *, port: str = "0", module: str = "projector.commands.main", errors: IO[str] | None = None
    ) -> None:
        self.folder = folder
        (folder / "jobs").mkdir(exist_ok=True)
        state = {"LIGHTCHALK_STATE": str(folder / "state"), "PYTHONPATH": str(ROOT)}
        command = [sys.executable, "-m", module, "open", "--no-browser", "--port", port]
        self.process = subprocess.Popen(
            command, cwd=folder / "jobs", env={**os.environ, **state}, stdout=subprocess.PIPE, stderr=errors, text=True
        )
        assert self.process.stdout is not None
        self.url = self.process.stdout.readline().removeprefix("The page: ").strip()
        self.home = self.url.partition("/?")[0]

    def end(self) -> None:
        """End the server, and the light that a failed test may have left on: it works on without a server."""
        begun = children_of(self.process.pid)
        self.process.terminate()
        self.process.wait()
        lights = (json.loads(file.read_text())["pid"] for file in (self.folder / "state" / LIGHTS).glob("*.json"))
        for left_on in {*begun, *lights}:
            with contextlib.suppress(ProcessLookupError):
                os.kill(left_on, signal.SIGTERM)
            wait_until(lambda pid=left_on: not is_running(pid))
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
    (folder / "jobs" / "bay.yaml").write_text(examples()["Bay over the weir"])
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
