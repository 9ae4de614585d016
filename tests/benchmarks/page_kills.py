"""The program killed at random instants while somebody types and saves, and while a light is asked through it.

python -m tests.benchmarks.page_kills [how often, 200 unless given]

After each kill it is started again and held against what was answered: every value that was answered must be there,
in the field or beyond it; a file is whole, with what was saved last or before; the light has done what was answered.
"""

from __future__ import annotations

import html
import os
import random
import re
import sys
import tempfile
import threading
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from websockets.exceptions import WebSocketException

from jobs.io.reader import parse_job
from projector.page.form.blank import examples
from projector.page.light.shared import SharedLight
from tests.projector.page.program import Program, ask
from tests.waiting import wait_until

MOST_ANSWERS, LONGEST_S = 12, 0.03
"""It is killed up to so long after up to so many answers: in the middle of the next ones."""
FIELD = "cloth/name"
SEED = 20


@dataclass
class Found:
    """How often it was killed, how many answers there were, and what did not hold."""

    kills: int = 0
    answers: int = 0
    lost: tuple[str, ...] = ()

    def says(self, what: str) -> str:
        return f"{what}: killed {self.kills} times, {self.answers} answers, {len(self.lost)} not held {self.lost or ''}"


def killed_while_typing(folder: Path, kills: int, seed: int = SEED) -> Found:
    """Type on and on, saving now and then, with a kill at a random instant."""
    jobs, state = folder / "jobs", folder / "state"
    jobs.mkdir(parents=True)
    path = jobs / "mill.yaml"
    path.write_text(examples()["Mill-race reading room"])
    chance, found, number, where = random.Random(seed), Found(), 0, ""
    saved = answered = "Minnows on slate"
    for kill in range(kills):
        program = Program(jobs, state)
        drafts = re.findall(r'action="/draft/(\w+)"', program.get("/")[1])
        where, page = program.post(f"/draft/{drafts[0]}", do="go on") if drafts else program.get("/open/mill.yaml")
        value = _value(page)
        # A value under way when it was killed may have come through as well: it is the next one that was typed.
        if value not in (answered, f"Cloth {number}"):
            found.lost += (f"kill {kill}: {value!r}, answered was {answered!r}",)
        on_disk = parse_job(path.read_text(), "mill").cloth.name
        if on_disk not in (saved, answered, f"Cloth {number}"):
            found.lost += (f"kill {kill}: {on_disk!r} in the file, saved was {saved!r}",)
        answered, saved = value, on_disk
        begin = chance.randint(1, MOST_ANSWERS)
        timer = threading.Timer(chance.uniform(0, LONGEST_S), program.process.kill)
        try:
            with program.live(where) as socket:
                at, begun = 0, False
                while True:
                    at, number = at + 1, number + 1
                    if begin <= at and not begun:
                        begun = True
                        timer.start()
                    ask(socket, at, do="type", path=FIELD, value=f"Cloth {number}", saw=answered)
                    answered, found.answers = f"Cloth {number}", found.answers + 1
                    if number % 7 == 0:
                        at += 1
                        ask(socket, at, do="save")
                        saved = answered
        except (WebSocketException, OSError):
            pass
        timer.join()
        program.kill()
        found.kills += 1
    return found


def _value(page: str) -> str:
    found = re.search(rf'data-path="{FIELD}" value="([^"]*)"', page)
    assert found is not None
    return html.unescape(found[1])


def killed_while_cutting(folder: Path, kills: int, seed: int = SEED) -> Found:
    """A light asked through a program that is killed: all that was answered has come to the light, once and in turn."""
    jobs, state = folder / "jobs", folder / "state"
    jobs.mkdir(parents=True)
    chance, found = random.Random(seed), Found()
    came: list[int] = []
    with patch.dict(os.environ, {"LIGHTCHALK_STATE": str(state)}):
        light = SharedLight({"work": "cutting", "title": "Mill"})
        light.open(lambda name, seen: came.append(int(name.removeprefix("type "))))
        number, answered = 0, []
        try:
            for _ in range(kills):
                program = Program(jobs, state)
                begin = chance.randint(1, MOST_ANSWERS)
                timer = threading.Timer(chance.uniform(0, LONGEST_S), program.process.kill)
                try:
                    with program.live("/cut") as socket:
                        at, begun, had = 0, False, len(answered)
                        while True:
                            at, number = at + 1, number + 1
                            if len(answered) - had >= begin and not begun:
                                begun = True
                                timer.start()
                            answer = ask(socket, at, do="press", action=f"type {number}")
                            if "say" not in answer:  # until the light is found it is told that none is on
                                answered.append(number)
                except (WebSocketException, OSError):
                    pass
                timer.join()
                program.kill()
                found.kills += 1
            wait_until(lambda: not answered or (came and came[-1] >= answered[-1]))
        finally:
            light.close()
    found.answers = len(answered)
    if missing := sorted(set(answered) - set(came)):
        found.lost += (f"{missing} never came to the light",)
    if came != sorted(set(came)):
        found.lost += ("presses came twice or out of turn",)
    return found


def main() -> None:
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    with tempfile.TemporaryDirectory() as folder:
        print(killed_while_typing(Path(folder) / "typing", kills // 2).says("typing and saving"))
        print(killed_while_cutting(Path(folder) / "cutting", kills - kills // 2).says("cutting"))


if __name__ == "__main__":
    main()
