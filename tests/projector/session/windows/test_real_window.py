"""A real window on a virtual screen: keys from a keyboard arrive, and the screen shows the frame pixel for pixel."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image

from jobs.journal.file import journal_path, read_journal
from jobs.journal.history import progress
from tests.projector.session.conftest import SIZE, VirtualScreen
from tests.waiting import HUNG_S, wait_until

READ_S = 1.0
"""How long a person takes to read the question: longer than a bounce, see ``press.DELIBERATE_S``."""


@dataclass(frozen=True)
class AtTheTable:
    """The program under test, running on a virtual screen, keeping its frames in ``folder`` and its time by a file."""

    screen: VirtualScreen
    folder: Path
    program: subprocess.Popen[bytes]

    def frames(self) -> list[Path]:
        return sorted(self.folder.glob("frame-*.npy"))

    def wait_for(self, what: Callable[[], bool], passing_s: float = 0.0) -> None:
        """Wait until something holds, so much time passing at each look; fail when the program ends."""

        def holds() -> bool:
            assert self.program.poll() is None, "the program ended early"
            if passing_s:
                let_pass(self.folder, passing_s)
            return what()

        wait_until(holds)

    def read(self) -> None:
        """Let the time pass that reading takes."""
        let_pass(self.folder, READ_S)

    def ended(self) -> int:
        """Wait for the end of the program; what it says then."""
        return self.program.wait(HUNG_S)

    def hold(self, key: str, *, down: bool) -> None:
        """A key goes down and stays there, or is let go."""
        self.screen.run("xdotool", "keydown" if down else "keyup", key)

    def keys(self, *names: str) -> None:
        """Press keys one by one, each after the last one has shown a new frame."""
        for name in names:
            with self.answered():
                self.screen.keys(name)

    @contextmanager
    def answered(self) -> Iterator[None]:
        """Wait until what is pressed or clicked meanwhile was let go and has shown a new frame."""
        count, let_go = len(self.frames()), self._let_go()
        yield
        self.wait_for(lambda: len(self.frames()) > count and self._let_go() > let_go)

    def _let_go(self) -> int:
        file = self.folder / "let-go.txt"
        return file.stat().st_size if file.exists() else 0

    def frame(self) -> np.ndarray:
        return np.load(self.frames()[-1])

    def wait_for_the_screen(self) -> None:
        """Wait until the screen equals the last frame, pixel for pixel."""
        self.wait_for(lambda: np.array_equal(self.photograph(), self.frame()))

    def photograph(self) -> np.ndarray:
        """What the screen shows, packed 0x00RRGGBB, taken by a program that knows nothing of ours."""
        shot = subprocess.run(
            ["import", "-window", "root", "-depth", "8", "png:-"],
            env=self.screen.environment,
            check=True,
            capture_output=True,
        )
        rgb = np.asarray(Image.open(io.BytesIO(shot.stdout)).convert("RGB")).astype(np.uint32)
        return rgb[..., 0] << 16 | rgb[..., 1] << 8 | rgb[..., 2]


def let_pass(folder: Path, seconds: float) -> None:
    """Put the clock of the program forward."""
    clock, part = folder / "clock.txt", folder / "clock.part"
    part.write_text(str((float(clock.read_text()) if clock.exists() else 0.0) + seconds))
    os.replace(part, clock)


@contextmanager
def at_the_table(screen: VirtualScreen, folder: Path, what: str = "cut") -> Iterator[AtTheTable]:
    let_pass(folder, READ_S)
    program = subprocess.Popen(
        [sys.executable, "-m", "tests.projector.session.at_the_table", what, str(folder)], env=screen.environment
    )
    try:
        running = AtTheTable(screen, folder, program)
        before = len(running.frames())
        running.wait_for(lambda: len(running.frames()) > before)
        yield running
    finally:
        if program.poll() is None:
            program.kill()
        program.wait(HUNG_S)


def done_in(folder: Path) -> tuple[str, ...]:
    return progress(read_journal(journal_path(folder / "room.yaml")).events)


def test_the_screen_shows_each_frame_pixel_for_pixel(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    with at_the_table(virtual_screen, tmp_path) as table:
        assert table.frame().shape == SIZE[::-1]
        for name in ("space", "shift+Up", "bracketleft", "k", "plus", "h", "Escape", "Next"):
            table.keys(name)
            table.wait_for_the_screen()
            assert table.frame().any()
        table.keys("b")
        table.wait_for_the_screen()
        assert not table.frame().any()


def test_a_job_is_cut_by_remote_and_a_kill_loses_no_tick(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    with at_the_table(virtual_screen, tmp_path) as table:
        table.keys("Next", "Next")
        table.read()
        table.keys("Next")
        assert done_in(tmp_path) == ("cut-1",)
        table.program.send_signal(signal.SIGKILL)
        table.ended()
    with at_the_table(virtual_screen, tmp_path) as table:
        # The second panel is turned: two questions, each read, then its stop, then whether it is cut.
        table.keys("Next")
        for _ in range(2):
            table.read()
            table.keys("Next")
        table.keys("Next")
        table.read()
        table.keys("Next", "Next")
        assert done_in(tmp_path) == ("cut-1", "cut-2")
        # The first closes the question about the third cut, the second takes the tick back.
        table.keys("u", "u")
        assert done_in(tmp_path) == ("cut-1",)
        virtual_screen.keys("Escape", "Escape")
        assert table.ended() == 0
    assert done_in(tmp_path) == ("cut-1",)


def test_a_signal_to_end_ends_it_at_once_and_the_record_is_whole(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    with at_the_table(virtual_screen, tmp_path) as table:
        table.keys("Next", "Next")
        table.read()
        table.keys("Next")
        table.program.send_signal(signal.SIGTERM)
        # It ends as if the person had left: nothing is asked, no fault is told.
        assert table.ended() == 0
    assert done_in(tmp_path) == ("cut-1",)


def test_a_held_key_and_a_drumming_one_tick_nothing(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    with at_the_table(virtual_screen, tmp_path) as table:
        table.keys("space")
        count = len(table.frames())
        table.hold("Next", down=True)
        table.wait_for(lambda: len(table.frames()) > count)
        # Held on for longer than reading takes, then let go and drummed on faster than it can be read.
        table.read()
        table.read()
        table.hold("Next", down=False)
        virtual_screen.keys(*["Next"] * 12)
        # A nudge is answered in turn, so once it shows every key before it has been dealt with.
        table.keys("Right")
        assert done_in(tmp_path) == ()


def test_a_held_arrow_moves_the_light_on_and_on(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    with at_the_table(virtual_screen, tmp_path) as table:
        table.keys("space")
        count = len(table.frames())
        table.hold("Up", down=True)
        try:
            table.wait_for(lambda: len(table.frames()) >= count + 4, passing_s=0.1)
        finally:
            table.hold("Up", down=False)


def test_a_table_is_calibrated_with_mouse_and_keyboard(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    def click(u: int, v: int) -> None:
        table.wait_for_the_screen()
        with table.answered():
            virtual_screen.run("xdotool", "mousemove", str(u), str(v), "click", "1")

    with at_the_table(virtual_screen, tmp_path, "calibrate") as table:
        assert table.frame().shape == SIZE[::-1]
        table.keys("space")
        # The fourth cross starts where three marks put the corner: a click there would move nothing.
        corners = ((200, 600, "0", "0"), (1000, 600, "40", "0"), (1000, 200, "40", "20"), (300, 200, "5", "20"))
        for u, v, x, y in corners:
            click(u, v)
            table.keys("Return", *x, "Return", *y, "Return")
        table.wait_for_the_screen()
        virtual_screen.keys("s")
        assert table.ended() == 0
    # Clicks land on pixel middles: u = 200.5 + 20 x, v = 600.5 - 20 y.
    matrix = np.array(json.loads((tmp_path / "matrix.txt").read_text()))
    np.testing.assert_allclose(matrix, [[20, 0, 200.5], [0, -20, 600.5], [0, 0, 1]], atol=1e-6)


def test_a_tape_proof_is_typed_on_a_keyboard(virtual_screen: VirtualScreen, tmp_path: Path) -> None:
    with at_the_table(virtual_screen, tmp_path, "tape") as table:
        # 70 and a half, a length left out, a slip taken back, then the rest left out; the verdict is kept.
        table.keys("space", "7", "0", "period", "5", "Return", "Return", "3", "9", "BackSpace", "8", "Return")
        table.keys("Return", "Return", "Return")
        table.wait_for_the_screen()
        table.screen.keys("s")
        assert table.ended() == 0
    assert json.loads((tmp_path / "proof.txt").read_text()) == [70.5, 38.0]
