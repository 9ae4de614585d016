"""A program for tests: the session, or a calibration, on the screen it finds, each frame it shows kept as a file.

Its clock is the number in ``clock.txt``, so that time passes where the test says so and nowhere else.
``python -m tests.projector.session.at_the_table cut|calibrate|tape|checked FOLDER``: ``checked``: with its two marks.
"""

from __future__ import annotations

import itertools
import json
import math
import os
import sys
from pathlib import Path

import numpy as np
import pygame

from jobs.journal import fingerprint, progress
from jobs.journal.file import JournalFile
from jobs.model.choices import Unit
from projector.files.table_file import Stored
from projector.session import run
from projector.session.calibrating.tape_check import begin_tape_check
from projector.session.cutting.begin import Before
from projector.session.cutting.journal import recording_in, registered_in
from projector.session.cutting.state import setup_of
from projector.session.mode import Pixels, Rim
from projector.session.windows import watch
from projector.session.windows.events import Controllers
from projector.session.windows.loop import Loop
from tests.projector.session.plans import plan_of
from tests.projector.session.tables import table_of


class Kept:
    """Frames into files, numbered, and the clock that goes with them."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._numbers = itertools.count(len(list(folder.glob("frame-*.npy"))))
        self._shown_s: float | None = None
        self._let_go = 0

    def frame(self, frame: Pixels) -> None:
        # The loop asks what time it is once a frame is shown: then it was so late as before anybody could see it.
        self._shown_s = self._told()
        part = self._folder / "frame.part"
        with part.open("wb") as file:
            np.save(file, frame)
        os.replace(part, self._folder / f"frame-{next(self._numbers):03d}.npy")

    def watch(self, loop: type[Loop]) -> None:
        """Count the keys and buttons that were let go, once what they did is shown: no frame in between is that one."""
        take, turn = loop._take, loop._turn

        def taking(one: Loop, event: pygame.Event) -> bool:
            self._let_go += event.type in (pygame.KEYUP, pygame.MOUSEBUTTONUP)
            return take(one, event)

        def turning(one: Loop, controllers: Controllers) -> None:
            turn(one, controllers)
            with (self._folder / "let-go.txt").open("a") as file:
                file.write("." * self._let_go)
            self._let_go = 0

        loop._take = taking  # type: ignore[method-assign]
        loop._turn = turning  # type: ignore[method-assign]

    def clock(self) -> float:
        shown_s, self._shown_s = self._shown_s, None
        return self._told() if shown_s is None else shown_s

    def _told(self) -> float:
        return float((self._folder / "clock.txt").read_text())


def main(what: str, folder: Path) -> None:
    kept = Kept(folder)
    kept.watch(Loop)
    # A machine so busy that this stands still for long has not slept.
    watch.SLEPT_S = math.inf
    if what == "calibrate":
        stored = run.run_calibrating(lambda stored: None, rim=Rim(on_frame=kept.frame, clock=kept.clock))
        (folder / "matrix.txt").write_text("left" if stored is None else json.dumps(stored.table.matrix.tolist()))
        return
    if what == "tape":
        state = begin_tape_check(table_of(1280, 720), Unit.INCH)
        proof = run.run_tape_check(state, lambda proof: None, Rim(on_frame=kept.frame, clock=kept.clock))
        (folder / "proof.txt").write_text("left" if proof is None else json.dumps([r.tape_in for r in proof.readings]))
        return
    if what == "checked":
        _with_a_check(folder, kept)
        return
    plan = plan_of(3, 1)
    with JournalFile(folder / "room.yaml.cuts") as journal:
        record = recording_in(journal, plan)
        setup = setup_of(plan, table_of(1280, 720))
        registered = registered_in(journal.events, setup.lattices, fingerprint(plan))
        before = Before(done=progress(journal.events), registered=registered)
        session = run.run_cutting(setup, record, before, rim=Rim(on_frame=kept.frame, clock=kept.clock))
        (folder / "layings.txt").write_text(json.dumps([laid.fit.shift for laid in session.registered]))


def _with_a_check(folder: Path, kept: Kept) -> None:
    """The session with its check by two marks."""
    plan, stored = plan_of(3, 1), Stored(table_of(1280, 720))
    with JournalFile(folder / "room.yaml.cuts") as journal:
        run.run_cutting(
            setup_of(plan, stored.table),
            recording_in(journal, plan),
            Before(done=progress(journal.events)),
            stored=stored,
            rim=Rim(on_frame=kept.frame, clock=kept.clock),
        )


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
