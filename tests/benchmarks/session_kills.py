"""Sessions killed and disks failing at chosen calls, the job edited in between: no tick may be lost, none invented.

Run: python -m tests.benchmarks.session_kills 160
A child process plans around what is cut and presses keys; each tick is recorded as at the table, and the child says
what it is about to record and what is recorded, by its place on the cloth. At a chosen call to the disk it is killed,
in the middle of a write too. The parent reads the record, compares, changes the job, and the next child goes on.
Then the same with errors of the disk in place of kills, and with links, pipes and strangers' files beside the job.
"""

from __future__ import annotations

import errno
import os
import random
import signal
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from unittest.mock import patch

from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.journal import BadLine, CannotRecord, JournalFile, history_of, journal_path, read_journal
from jobs.model.problems import JobRefused
from jobs.planning.going_on import GoneOn, go_on, note_plan
from projector.files.settings import LightSettings, light_path, write_light
from projector.files.write import CannotWrite
from projector.session.actions import Action
from projector.session.cutting.begin import Before, begin
from projector.session.cutting.journal import Done, Undone, recording_in
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import press
from projector.session.cutting.state import Session, setup_of
from projector.words.wording import words
from tests.jobs.planning.test_going_on import EAST, GOES_ON, HOUSE, PORCH, SAID, WEST
from tests.projector.session.sessions import TABLE

Place = str
"""Start and end of a cut: what a knife has done, whatever the cut and the number of its piece are later."""

HOUSE_OF_MORE = HOUSE.replace(PORCH, PORCH + "".join(PORCH.replace("Porch", f"Stair {n}") for n in range(1, 4)))
CHANGES = [*GOES_ON.values(), *(changes for changes, _ in SAID.values())]
KILLS_A_JOB = 6
FARTHEST_CALL = 40
STEPS = 14
WHERE = ("before a write", "in a write", "after a write", "before a sync", "after a sync")


@dataclass
class Found:
    """What one kind of failure came to."""

    times: int = 0
    kept: int = 0
    lost: int = 0
    invented: int = 0
    astray: int = 0

    def add(self, other: Found) -> None:
        for name in ("times", "kept", "lost", "invented", "astray"):
            setattr(self, name, getattr(self, name) + getattr(other, name))


@dataclass
class Room:
    """A job being cut: its text, its record, and what the knife has done."""

    path: Path
    text: str = HOUSE_OF_MORE
    cut: list[Place] = field(default_factory=list)

    def begun(self, events: Any) -> GoneOn:
        return go_on(parse_job(self.text, "house.yaml"), history_of(events))


@contextmanager
def failing(where: str, call: int, fail: Callable[[], None], says: int = -1) -> Iterator[None]:
    """``fail`` is called at that call to the disk; ``says`` is no file."""
    write, sync, count = os.write, os.fsync, [0]

    def due(kind: str) -> bool:
        count[0] += where.endswith(kind)
        return where.endswith(kind) and count[0] == call

    def writing(file: int, data: bytes) -> int:
        if file == says or not due("write"):
            return write(file, data)
        if where.startswith("in"):
            write(file, data[: len(data) // 2])
        elif where.startswith("after"):
            write(file, data)
        fail()
        return len(data)

    def syncing(file: int) -> None:
        now = due("sync")
        if now and where.startswith("before"):
            fail()
        sync(file)
        if now and where.startswith("after"):
            fail()

    with patch.object(os, "write", writing), patch.object(os, "fsync", syncing):
        yield


def work(room: Room, tell: Callable[[str, str, Place], None], rng: random.Random) -> None:
    """Tick and take back, each recorded before the session goes on."""
    with JournalFile(room.path) as journal:
        begun = room.begun(journal.events)
        if begun.done or begun.spares:
            note_plan(journal, begun)
        record, places = recording_in(journal, begun.plan, begun), places_of(begun)
        session = press(begin(setup_of(begun.plan, TABLE), Before(done=begun.done)), Action.ANY_OTHER)[0]
        for _ in range(STEPS):
            back = not session.left_to_cut or (session.done and rng.random() < 0.2)
            following, events = press(session, Action.UNDO if back else Action.NEXT_STOP)
            for event in events:
                if isinstance(event, Done | Undone):
                    tell("about", type(event).__name__, places[event.cut])
                record(event)
                if isinstance(event, Done | Undone):
                    tell("kept", type(event).__name__, places[event.cut])
            session = following


def places_of(begun: GoneOn) -> dict[str, Place]:
    return {one.cut.id: f"{one.start}:{one.end}" for one in begun.plan.placements}


def recorded(room: Room) -> list[Place]:
    """What the record tells is cut, spares too, without any planning."""
    history = history_of(read_journal(room.path).events)
    placed = [one.placed for one in (*history.made, *history.spares)]
    return sorted(f"{one.start}:{one.end}" if one else "unknown" for one in placed)


def applied(cut: list[Place], told: list[tuple[str, Place]]) -> list[Place]:
    cut = list(cut)
    for what, place in told:
        if what == "Done":
            cut.append(place)
        elif place in cut:
            cut.remove(place)
    return cut


def compared(room: Room, told: list[tuple[str, str, Place]]) -> Found:
    """What was said, held against the record; the room's truth is brought up to date."""
    kept = [(kind, place) for what, kind, place in told if what == "kept"]
    pending = [(kind, place) for what, kind, place in told if what == "about"][len(kept) :]
    expected, also, found = applied(room.cut, kept), applied(applied(room.cut, kept), pending), recorded(room)
    room.cut = also if found == sorted(also) else expected
    lost, more = Counter(room.cut) - Counter(found), Counter(found) - Counter(room.cut)
    return Found(1, len(kept), lost.total(), more.total(), int(not resumes(room)))


def resumes(room: Room) -> bool:
    """Whether the next session finds each made cut where it is, and goes on with one that is to do."""
    begun = room.begun(read_journal(room.path).events)
    places = places_of(begun)
    ours = {cut.id for cut in begun.plan.cuts}
    there = sorted(places[cut] for cut in places if cut in begun.done or cut not in ours)
    session: Session = press(begin(setup_of(begun.plan, TABLE), Before(done=begun.done)), Action.ANY_OTHER)[0]
    onward = session.page is Page.ALL_DONE or session.placement.cut.id not in begun.done
    return there == sorted(room.cut) and onward and session.done == begun.done


def edited(room: Room, rng: random.Random) -> str:
    """The job changed in some way: ``goes on``, or ``said`` what to do, and then put back; ``unlike``: not possible."""
    changes = rng.choice(CHANGES)
    text = room.text
    for old, new in changes:
        if old not in text:
            return "unlike"
        text = text.replace(old, new)
    before = room.text
    try:
        parse_job(text, "house.yaml")
        room.text = text
        if room.begun(read_journal(room.path).events).plan.short == 0:
            return "goes on"
    except FileRefused:
        return "unlike"
    except JobRefused as refused:
        if not all(words(problem)[1] for problem in refused.problems):
            raise
    room.text = before
    return "said"


def killed_once(room: Room, where: str, call: int, seed: int) -> Found:
    hears, says = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(hears)
        code = 3

        def tell(*words: str) -> None:
            os.write(says, (" ".join(words) + "\n").encode())

        try:
            with failing(where, call, lambda: os.kill(os.getpid(), signal.SIGKILL), says):
                work(room, tell, random.Random(seed))
            code = 0
        finally:
            os._exit(code)
    os.close(says)
    with os.fdopen(hears, encoding="ascii") as pipe:
        told = [tuple(line.split()) for line in pipe]
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status) or os.WEXITSTATUS(status) == 0, "the child fell over before it was killed"
    found = compared(room, told)  # type: ignore[arg-type]
    found.times = int(os.WIFSIGNALED(status))
    return found


def failed_once(room: Room, where: str, call: int, seed: int) -> Found:
    told: list[tuple[str, str, Place]] = []
    failed = [0]

    def fail() -> None:
        failed[0] = 1
        raise OSError(errno.ENOSPC if seed % 2 else errno.EIO, "the disk fails")

    try:
        with failing(where, call, fail):
            work(room, lambda *words: told.append(words), random.Random(seed))  # type: ignore[arg-type]
    except CannotRecord:
        # The session says Stop, and nothing of the tick is shown: what was about to be is not kept.
        told = told[:-1] if told and told[-1][0] == "about" else told
    found = compared(room, told)
    found.times = failed[0]
    return found


def many(
    times: int, once: Callable[[Room, str, int, int], Found], folder: Path
) -> tuple[dict[str, Found], Counter[str]]:
    """So many failures, the job changed after each."""
    found, edits = {where: Found() for where in WHERE}, Counter[str]()
    seed = done = 0
    while done < times:
        if seed % KILLS_A_JOB == 0:
            room = Room(journal_path(folder / f"house-{once.__name__}-{seed}.yaml"))
        rng = random.Random(seed)
        where = WHERE[seed % len(WHERE)]
        more = once(room, where, rng.randint(1, FARTHEST_CALL if seed % 3 else 6), seed)
        found[where].add(more)
        done, seed = done + more.times, seed + 1
        edits[edited(room, rng)] += 1
    return found, edits


def strange_files(folder: Path) -> Iterator[tuple[str, str, str]]:
    """What lies beside a job, its name, and what came of it."""
    for ending in (".cuts", ".cuts.lock", ".light"):
        for kind in ("link", "link to nothing", "hard link", "copy", "pipe"):
            here = folder / f"{ending[1:]} {kind}"
            here.mkdir()
            job, precious = here / "den.yaml", here / "precious.txt"
            job.write_text(HOUSE, encoding="utf-8")
            precious.write_bytes(b"the only copy\n")
            strange = here / f"den.yaml{ending}"
            makes: dict[str, Callable[[], object]] = {
                "link": lambda strange=strange, precious=precious: strange.symlink_to(precious),
                "link to nothing": lambda strange=strange, here=here: strange.symlink_to(here / "nothing"),
                "hard link": lambda strange=strange, precious=precious: strange.hardlink_to(precious),
                "copy": lambda strange=strange, precious=precious: strange.write_bytes(precious.read_bytes()),
                "pipe": lambda strange=strange: os.mkfifo(strange),
            }
            makes[kind]()
            before = strange.lstat()
            try:
                if ending == ".light":
                    write_light(light_path(job), LightSettings(wider=1))
                else:
                    with JournalFile(journal_path(job)) as journal:
                        journal.append("done", "a", "plan")
                came = "WRITTEN"
            except (CannotRecord, CannotWrite, BadLine):
                came = "refused"
            same = os.path.samestat(before, strange.lstat()) and precious.read_bytes() == b"the only copy\n"
            nothing = not (here / "nothing").exists() and (kind != "copy" or strange.read_bytes() == b"the only copy\n")
            yield ending, kind, came if same and nothing else "HARMED"


def shown(what: str, found: dict[str, Found], edits: Counter[str]) -> Found:
    print(f"{what:<16}{'times':>7}{'kept':>7}{'lost':>7}{'invented':>10}{'astray':>8}")
    total = Found()
    for where, one in found.items():
        print(f"{where:<16}{one.times:>7}{one.kept:>7}{one.lost:>7}{one.invented:>10}{one.astray:>8}")
        total.add(one)
    print(f"jobs edited in between: {edits['goes on']} went on around what was cut, {edits['said']} were answered\n")
    return total


def main(times: int) -> int:
    assert all(part in HOUSE_OF_MORE for part in (EAST, WEST, PORCH))
    with tempfile.TemporaryDirectory() as folder:
        kills = shown("killed", *many(times, killed_once, Path(folder)))
        errors = shown("disk fails", *many(times // 2, failed_once, Path(folder)))
        strange = list(strange_files(Path(folder)))
    for ending, kind, came in strange:
        print(f"{ending:<12}{kind:<18}{came}")
    kills.add(errors)
    bad = [came for _, _, came in strange if came != "refused"]
    print(
        f"{times} kills, {errors.times} errors of the disk, {kills.kept} ticks and undos kept, {kills.lost} lost, "
        f"{kills.invented} invented, {kills.astray} wrong resumes, {len(bad)} of {len(strange)} strange files touched"
    )
    return int(bool(kills.lost or kills.invented or kills.astray or bad or not kills.kept))


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 160))
