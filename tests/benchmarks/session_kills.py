"""A scripted session killed at random instants: no tick that was kept may be lost, every resume must be right.

Run: python -m tests.benchmarks.session_kills 500
A child process presses keys, records each tick before it goes on, and says what it is about to record and what is
recorded.
The parent kills it, reads the journal and compares; the next child goes on from there.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from jobs.journal.events import progress
from jobs.journal.file import JournalFile, journal_path, read_journal
from jobs.plan import Plan
from projector.session.actions import Action
from projector.session.press import press
from projector.session.state import Done, Page, Session, Undone, begin
from tests.projector.session.plans import plan_of

LONGEST_S = 0.03
CUTS = 12
KILLS_A_JOB = 20
"""Then a new job is begun: opening a long journal would take most of the time a child has."""


def work(plan: Plan, path: Path, says: int, seed: int) -> None:
    """Tick and take back for ever, each recorded on disk before the session goes on."""
    rng = random.Random(seed)
    with JournalFile(path) as journal:
        session = press(begin(plan, progress(journal.events)), Action.ANY_OTHER)[0]
        while True:
            session = _step(session, journal, says, rng)


def _step(session: Session, journal: JournalFile, says: int, rng: random.Random) -> Session:
    back = not session.left_to_cut or (session.done and rng.random() < 0.3)
    following, events = press(session, Action.UNDO if back else Action.NEXT_STOP)
    for event in events:
        if isinstance(event, Done | Undone):
            kind = "done" if isinstance(event, Done) else "undone"
            os.write(says, f"about {kind} {event.cut}\n".encode())
            journal.append(kind, event.cut, "plan", datetime.now(UTC))
            os.write(says, f"kept {kind} {event.cut}\n".encode())
    return following


def kill_once(plan: Plan, path: Path, before: tuple[str, ...], seed: int) -> tuple[tuple[str, ...], int, int, int]:
    """Cuts done after one kill, ticks and undos that were kept, of these lost, and wrong resumes (0 or 1)."""
    hears, says = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(hears)
        try:
            work(plan, path, says, seed)
        finally:
            os._exit(3)  # only an error gets here: work never ends
    os.close(says)
    time.sleep(random.Random(seed).uniform(0, LONGEST_S))
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    with os.fdopen(hears, encoding="ascii") as pipe:
        said = [tuple(line.split()) for line in pipe.read().splitlines()]
    assert os.WIFSIGNALED(status), "the child fell over before it was killed"
    kept = [(kind, cut) for what, kind, cut in said if what == "kept"]
    expected = _applied(before, kept)
    found = progress(read_journal(path).events)
    pending = [(kind, cut) for what, kind, cut in said if what == "about"][len(kept) :]
    right = found in (expected, _applied(expected, pending))
    lost = 0 if right else max(1, len(set(expected) - set(found)))
    return found, len(kept), lost, int(not _resumes(plan, found))


def _applied(done: tuple[str, ...], events: list[tuple[str, str]]) -> tuple[str, ...]:
    for kind, cut in events:
        done = (*done, cut) if kind == "done" else tuple(one for one in done if one != cut)
    return done


def _resumes(plan: Plan, done: tuple[str, ...]) -> bool:
    """Whether a session begun anew lights the first stop of the first cut that is not done, with these done."""
    session = press(begin(plan, done), Action.ANY_OTHER)[0]
    left = [stop for stop in plan.stops if stop.placement.cut.id not in done]
    if not left:
        return session.page is Page.ALL_DONE
    return session.page is Page.STOP and session.stop == left[0] and session.done == done


def main(kills: int) -> int:
    plan = plan_of(cuts=CUTS, pulls=1)
    done: tuple[str, ...] = ()
    kept = lost = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(kills):
            if seed % KILLS_A_JOB == 0:
                path, done = journal_path(Path(folder) / f"job-{seed}.yaml"), ()
            done, more, gone, astray = kill_once(plan, path, done, seed)
            kept, lost, wrong = kept + more, lost + gone, wrong + astray
    print(f"{kills} kills, {kept} ticks and undos kept, {lost} lost, {wrong} wrong resumes")
    return int(lost > 0 or wrong > 0 or kept == 0)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 500))
