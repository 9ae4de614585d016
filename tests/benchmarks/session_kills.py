"""A scripted session killed at random instants: nothing that was kept may be lost, every resume must be right.

Run: python -m tests.benchmarks.session_kills 500
A child process presses keys, records each tick before it goes on, and says what it is about to record and what is
recorded.
The parent kills it after so many words, wherever it has come to by then, reads the journal and compares; the next child
goes on from there.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from jobs.journal.events import Event
from jobs.journal.file import JournalFile, journal_path, read_journal
from jobs.journal.history import progress
from jobs.plan import Plan
from projector.session.controls.actions import Action
from projector.session.cutting.beginning import begin
from projector.session.cutting.recording import as_written
from projector.session.pressing.press import press
from projector.session.state.confirmed import CONFIRMED, confirmed_in, questions_of
from projector.session.state.events import Left
from projector.session.state.state import Page, Session
from tests.projector.session.plans import plan_of

Kept = tuple[tuple[str, ...], tuple[str, ...]]
"""The cuts that are done, and those before which the way of their panel was confirmed."""

MARK = "plan"
MOST_SAID = 16
"""A child is killed after at most so many words: as often while it records as between two events."""
CUTS = 12
KILLS_A_JOB = 20
"""Then a new job is begun: opening a long journal would take most of the time a child has."""


def work(plan: Plan, path: Path, says: int, seed: int) -> None:
    """Tick and take back for ever, each recorded on disk before the session goes on."""
    rng = random.Random(seed)
    with JournalFile(path) as journal:
        ways = confirmed_in(journal.events, MARK)
        session = press(begin(plan, progress(journal.events), ways=ways), Action.ANY_OTHER)[0]
        while True:
            session = _step(session, journal, says, rng)


def _step(session: Session, journal: JournalFile, says: int, rng: random.Random) -> Session:
    back = not session.left_to_cut or (session.done and rng.random() < 0.3)
    following, events = press(session, Action.UNDO if back else Action.NEXT_STOP)
    for event in events:
        if not isinstance(event, Left):
            kind, cut, more = as_written(event)
            os.write(says, f"about {kind.replace(' ', '-')} {cut}\n".encode())
            journal.append(kind, cut, MARK, datetime.now(UTC), **more)
            os.write(says, f"kept {kind.replace(' ', '-')} {cut}\n".encode())
    return following


def kill_once(plan: Plan, path: Path, before: Kept, seed: int) -> tuple[Kept, int, int, int]:
    """What is kept after one kill, how many events were, of these lost, and wrong resumes (0 or 1)."""
    hears, says = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(hears)
        try:
            work(plan, path, says, seed)
        finally:
            os._exit(3)  # only an error gets here: work never ends
    os.close(says)
    wanted, heard = random.Random(seed).randint(0, MOST_SAID), b""
    while heard.count(b"\n") < wanted and (more := os.read(hears, 4096)):
        heard += more
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    with os.fdopen(hears, "rb") as pipe:
        said = [tuple(line.split()) for line in (heard + pipe.read()).decode("ascii").splitlines()]
    assert os.WIFSIGNALED(status), "the child fell over before it was killed"
    kept = [(kind, cut) for what, kind, cut in said if what == "kept"]
    expected = _applied(before, kept)
    events = read_journal(path).events
    found = progress(events), tuple(way.cut for way in confirmed_in(events, MARK))
    pending = [(kind, cut) for what, kind, cut in said if what == "about"][len(kept) :]
    right = found in (expected, _applied(expected, pending))
    lost = 0 if right else max(1, len(set(expected[0]) - set(found[0])))
    return found, len(kept), lost, int(not _resumes(plan, events, found))


def _applied(kept: Kept, events: list[tuple[str, str]]) -> Kept:
    done, ways = kept
    for kind, cut in events:
        if kind in ("done", "undone"):
            done = (*done, cut) if kind == "done" else tuple(one for one in done if one != cut)
        else:
            ways = (*ways, cut) if kind == CONFIRMED.replace(" ", "-") else ways[:-1]
    return done, ways


def _resumes(plan: Plan, events: tuple[Event, ...], kept: Kept) -> bool:
    """Whether a session begun anew goes on at the first cut that is not done, asking of its way only if it must."""
    done, ways = kept
    session = press(begin(plan, done, ways=confirmed_in(events, MARK)), Action.ANY_OTHER)[0]
    left = [stop for stop in plan.stops if stop.placement.cut.id not in done]
    if not left:
        return session.page is Page.ALL_DONE
    cut = left[0].placement.cut
    page = Page.WHICH_WAY if questions_of(cut) and cut.id not in ways else Page.STOP
    return session.page is page and session.stop == left[0] and session.done == done


def main(kills: int) -> int:
    plan = plan_of(cuts=CUTS, pulls=1)
    state: Kept = ((), ())
    kept = lost = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(kills):
            if seed % KILLS_A_JOB == 0:
                path, state = journal_path(Path(folder) / f"job-{seed}.yaml"), ((), ())
            state, more, gone, astray = kill_once(plan, path, state, seed)
            kept, lost, wrong = kept + more, lost + gone, wrong + astray
    print(f"{kills} kills, {kept} ticks, undos and answers kept, {lost} lost, {wrong} wrong resumes")
    return int(lost > 0 or wrong > 0 or kept == 0)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 500))
