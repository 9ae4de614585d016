"""A program for tests: the session, or a calibration, on the screen it finds, each frame it shows kept as a file.

``python -m tests.projector.session.at_the_table cut|calibrate|tape|two FOLDER``: ``two``: with the bench screen.
"""

from __future__ import annotations

import itertools
import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np

from jobs.journal.events import fingerprint, progress
from jobs.journal.file import JournalFile
from projector.files.stored import Stored
from projector.session import run, run_calibrating
from projector.session.cutting.recording import recording_in
from projector.session.host import Pixels
from projector.session.state.laid import lattices_of
from projector.session.state.recorded import layings_in
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of


def main(what: str, folder: Path) -> None:
    numbers = itertools.count(len(list(folder.glob("frame-*.npy"))))

    def keep(frame: Pixels) -> None:
        part = folder / "frame.part"
        with part.open("wb") as file:
            np.save(file, frame)
        os.replace(part, folder / f"frame-{next(numbers):03d}.npy")

    if what == "calibrate":
        stored = run_calibrating.run_calibrating(lambda stored: None, on_frame=keep)
        (folder / "matrix.txt").write_text("left" if stored is None else json.dumps(stored.table.matrix.tolist()))
        return
    if what == "tape":
        proof = run_calibrating.run_taping(table_of(1280, 720), lambda proof: None, on_frame=keep)
        (folder / "proof.txt").write_text("left" if proof is None else json.dumps([r.tape_in for r in proof.readings]))
        return
    if what == "two":
        _with_a_bench_beside(folder, keep)
        return
    plan = plan_of(3, 1)
    with JournalFile(folder / "room.yaml.cuts") as journal:
        record = recording_in(journal, plan)
        layings = layings_in(journal.events, lattices_of(plan), fingerprint(plan))
        done = progress(journal.events)
        session = run.run_cutting(plan, table_of(1280, 720), record, done, layings=layings, on_frame=keep)
        (folder / "layings.txt").write_text(json.dumps([laid.fit.shift for laid in session.layings]))


def _with_a_bench_beside(folder: Path, keep: Callable[[Pixels], None]) -> None:
    """The session with its check by two marks, and the last frame of the bench screen kept as well."""

    def keep_beside(frame: Pixels) -> None:
        part = folder / "beside.part"
        with part.open("wb") as file:
            np.save(file, frame)
        os.replace(part, folder / "beside.npy")

    plan, stored = plan_of(3, 1), Stored(table_of(1280, 720))
    with JournalFile(folder / "room.yaml.cuts") as journal:
        record = recording_in(journal, plan)
        run.run_cutting(
            plan, stored.table, record, progress(journal.events), stored=stored, on_frame=keep, on_beside=keep_beside
        )


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
