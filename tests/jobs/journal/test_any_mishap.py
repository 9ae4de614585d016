"""Whatever befalls the file between and during ticks, what was kept is kept and nothing else is."""

from __future__ import annotations

import errno
import os
import shutil
import tempfile
from pathlib import Path
from unittest.mock import patch

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from jobs.journal import CannotRecord, JournalFile, progress, read_journal


class Mishaps(RuleBasedStateMachine):
    """A journal, what it must tell, and the events that failed and may still stand at its end."""

    @initialize()
    def begin(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "den.yaml.cuts"
        self.number = 0
        self.kept: tuple[str, ...] = ()
        self.journal = JournalFile(self.path)

    def teardown(self) -> None:
        if hasattr(self, "journal"):
            self.journal.close()
            shutil.rmtree(self.folder)

    @rule()
    def tick(self) -> None:
        self.number += 1
        self.journal.append("done", f"cut-{self.number}", "plan")
        self.kept = (*self.kept, f"cut-{self.number}")
        assert progress(read_journal(self.path).events) == self.kept

    @rule()
    def take_back(self) -> None:
        if self.kept:
            self.journal.append("undone", self.kept[-1], "plan")
            self.kept = self.kept[:-1]

    @rule(room=st.integers(0, 200), stuck=st.booleans())
    def tick_on_a_full_disk(self, room: int, stuck: bool) -> None:
        """``room`` bytes are taken, then no more; ``stuck``: what was written cannot even be taken away."""
        real, left = os.write, [room]

        def write(file: int, data: bytes) -> int:
            if left[0] == 0:
                raise OSError(errno.ENOSPC, "No space left on device")
            written = real(file, data[: left[0]])
            left[0] -= written
            return written

        def broken(*_: object) -> None:
            raise OSError(errno.EIO, "Input/output error")

        with patch.object(os, "write", write), patch.object(os, "fsync", broken):
            shut = patch.object(os, "ftruncate", broken) if stuck else patch.object(os, "ftruncate", os.ftruncate)
            with shut:
                try:
                    self.journal.append("done", "never", "plan")
                except CannotRecord:
                    return
        raise AssertionError("a disk that keeps nothing took a tick")

    @rule(share=st.floats(0, 1), away=st.booleans())
    def cut_short_or_taken_away(self, share: float, away: bool) -> None:
        if not self.path.exists():
            return
        if away:
            self.path.unlink()
        else:
            os.truncate(self.path, int(share * self.path.stat().st_size))

    @rule()
    def lock_taken_away(self) -> None:
        lock = self.path.with_name(self.path.name + ".lock")
        if lock.exists():
            lock.unlink()

    @rule()
    def tick_and_begin_anew(self) -> None:
        """The session ends after a tick, which has put everything right; the next one goes on from the file."""
        self.tick()
        self.journal.close()
        self.journal = JournalFile(self.path)
        assert not self.journal.torn

    @invariant()
    def the_session_knows_what_was_kept(self) -> None:
        if hasattr(self, "journal"):
            assert progress(self.journal.events) == self.kept


Mishaps.TestCase.settings = settings(max_examples=60, stateful_step_count=25)
TestMishaps = Mishaps.TestCase
