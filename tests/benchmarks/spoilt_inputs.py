"""Inputs spoilt at random: files of every kind read, and commands run with options that a slip or a stranger writes.

What comes back must be a value or a clear refusal. Anything else is a fault, so are a command that ends with exit 3,
that takes more than ten seconds, and more than 2 GB of memory. Most commands run in this process, some in one of their
own. Run: python -m tests.benchmarks.spoilt_inputs [FILES OF EACH KIND] [COMMANDS]
"""

from __future__ import annotations

import io
import json
import os
import random
import resource
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
from PIL import Image

from calibration.table import fit_table
from jobs.io.log import FileRefused
from jobs.io.reader import read_job
from jobs.journal.events import BadLine, parse_journal
from jobs.journal.file import JournalFile
from jobs.prints.photographs.opening import open_photo
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.main import lightchalk
from projector.commands.shared.errors import PROGRAM_AT_FAULT, report
from projector.demo.virtual_projector import Hung, marks_of, projector_over
from projector.files.measurements import read_marks, read_points, read_readings
from projector.files.settings import read_light, read_settings
from projector.files.table_file import Stored, read_stored, write_stored
from projector.session.cutting.light import LAYER_NAMES
from projector.session.keys import DEFAULT_KEYS, WRITTEN, keys_from
from projector.words.wording import file_lines, sentence
from tests.docs.reading import text_of, yaml_blocks

ROOT = Path(__file__).parents[2]
TOKENS = (
    *(
        "",
        " ",
        "\n",
        "\t",
        ":",
        "-",
        "- ",
        "{",
        "}",
        "[",
        "]",
        ",",
        "'",
        '"',
        "#",
        "&a",
        "*a",
        "!!int",
        "<<",
        "---",
        "|",
    ),
    *(
        "0",
        "-1",
        "1e999",
        "1/0",
        "nan",
        "inf",
        "1:30",
        "no",
        "~",
        "9" * 400,
        "1/2",
        "½",
        "٣",
        "\x00",
        "\ufeff",
        "\u202e",
    ),
    *("yd", "cm", "next stop", "PageDown", "keys", "job", "cloth", "windows", "pieces", "marks", "table", "pixel"),
)

LIGHT = b'dark: ["rows and columns", "letters"]\nwider: 2\ncolours: 3\n'

READINGS = b"units: in\nreadings:\n  - {from: [0, 0], to: [48, 0], tape: 48 1/16}\n"
SETTINGS = b"display: HDMI-1\n"

Reader = Callable[[Path], object]


def samples(folder: Path) -> list[tuple[str, bytes, Reader]]:
    """One of each kind of file, sound, with its reader."""
    projector = projector_over(60.0, 54.0, Hung(tilt_deg=10, roll_deg=1.5), size_px=(1024, 768))
    places = ((0.0, 0.0), (58.0, 0.0), (58.0, 50.0), (0.0, 50.0), (30.0, 24.0))
    table = folder / "sound.table"
    write_stored(table, Stored(fit_table(marks_of(projector, places), 1024, 768)))
    journal = folder / "sound.cuts"
    with JournalFile(journal) as record:
        for cut in ("a", "b", "c"):
            record.append("done", cut, "plan", datetime(2031, 5, 4, tzinfo=UTC))
    keys = "keys:\n" + "".join(f"  {word}: [F{number + 2}]\n" for number, word in enumerate(list(WRITTEN)[:12]))
    points = "points:\n" + "".join(f"  - {{row: {n}, column: {n % 2}, table: [{n}.5, 3 1/4]}}\n" for n in range(4))
    jobs = [("job", path.read_bytes(), read_job) for path in sorted((ROOT / "jobs" / "examples").glob("*.yaml"))]
    marks = yaml_blocks(text_of("calibration.md"))[0].encode()
    return [
        *jobs,
        ("table", table.read_bytes(), read_stored),
        ("marks", marks, read_marks),
        ("points", points.encode(), read_points),
        ("journal", journal.read_bytes(), _reads_no_more_than(journal.read_bytes())),
        ("keys", keys.encode(), keys_from),
        ("all keys", _all_keys().encode(), keys_from),
        ("light", LIGHT, lambda path: read_light(path, LAYER_NAMES)),
        ("readings", READINGS, read_readings),
        ("settings", SETTINGS, read_settings),
        *(("picture", data, lambda path: open_photo(path, 100_000)) for data in pictures()),
    ]


def pictures() -> Iterator[bytes]:
    """A small one of every kind that is read, and one of sixteen bits and one of floats."""
    y, x = np.mgrid[:48, :64]
    image = Image.fromarray(np.stack([x * 4, y * 5, x + y], -1).astype(np.uint8))
    deep = Image.fromarray((x * 1000).astype(np.uint16)), Image.fromarray((x / 64).astype(np.float32))
    ways = ((image, "PNG", {}), (image, "JPEG", {}), (image, "JPEG", {"progressive": True}),
            (image, "TIFF", {"compression": "tiff_lzw"}), (image, "TIFF", {"compression": "jpeg"}),
            (image, "WEBP", {}), (image, "WEBP", {"lossless": True}), (deep[0], "PNG", {}),
            (deep[1], "TIFF", {}))  # fmt: skip
    for one, kind, options in ways:
        held = io.BytesIO()
        one.save(held, kind, **options)
        yield held.getvalue()


def _all_keys() -> str:
    """A keys file that gives every action its usual keys and one with Alt."""
    lines = []
    for number, (word, action) in enumerate(WRITTEN.items()):
        keys = [*(key for key, asked in DEFAULT_KEYS.items() if asked is action), f"Alt+F{number % 24 + 1}"]
        if number >= 24:
            keys[-1] = f"Ctrl+Alt+F{number % 24 + 1}"
        lines.append(f"  {word}: [{', '.join(json.dumps(key) for key in keys)}]\n")
    return "keys:\n" + "".join(lines)


def _reads_no_more_than(sound: bytes) -> Reader:
    """A reader of journals that finds fault with any event that does not stand in the sound one."""
    events = parse_journal(sound).events

    def read(path: Path) -> object:
        found = parse_journal(path.read_bytes())
        numbers = [event.number for event in found.events]
        if any(event not in events for event in found.events) or numbers != sorted(set(numbers)):
            raise AssertionError("a spoilt journal tells of other cuts")
        if found.damaged:
            raise found.damaged[0]
        if found.events != events[: len(numbers)]:
            raise AssertionError("a spoilt journal leaves cuts out and does not say so")
        return found

    return read


def spoilt(data: bytes, rng: random.Random) -> bytes:
    """The bytes with one to five things done to them."""
    for _ in range(rng.randint(1, 5)):
        at, length = rng.randrange(len(data) + 1), rng.choice((1, 1, 3, 10, 60))
        piece = data[at : at + length]
        new = rng.choice(
            (b"", piece * 2, rng.choice(TOKENS).encode(), rng.randbytes(rng.randint(1, 3)), _line(data, rng))
        )
        data = data[:at] + new + data[at + rng.choice((0, length)) :]
    return data if rng.random() > 0.02 else data[: rng.randrange(len(data) + 1)]


def _line(data: bytes, rng: random.Random) -> bytes:
    return rng.choice(data.splitlines(keepends=True) or [b""])


class UnclearError(Exception):
    """A refusal that does not say what is wrong and what to do."""


def verdict(read: Reader, path: Path) -> str:
    """``read`` or ``refused``; anything else is raised. A refusal without words or advice is a fault."""
    try:
        read(path)
    except FileRefused as refused:
        unclear = [line for line in file_lines(refused) if not line.isprintable() or "; " not in line]
        if unclear or not refused.problems:
            raise UnclearError(unclear) from refused
        return "refused"
    except PhotoRefused as refused:
        said = [sentence(one) for one in refused.problems]
        if not all(said) or not "".join(said).isprintable():
            raise UnclearError(said) from refused
        return "refused"
    except BadLine as bad:
        if not bad.what or bad.line < 1:
            raise UnclearError(str(bad)) from bad
        return "refused"
    return "read"


def main(each: int, commands: int = 0, seed: int = 1) -> int:
    with tempfile.TemporaryDirectory() as name:
        faults = read_spoilt(Path(name), each, seed)
        # A spoilt name of a file to write is written where the command is run.
        with chdir(name):
            return int(run_spoilt(Path(name), commands, seed) + faults > 0)


def read_spoilt(folder: Path, each: int, seed: int) -> int:
    """Read so many spoilt files of each kind; print what came of it, and return the number of faults."""
    rng, found, begun, slowest = random.Random(seed), Counter[tuple[str, str]](), time.perf_counter(), 0.0
    faults = 0
    kinds: dict[str, list[tuple[bytes, Reader]]] = {}
    for kind, data, read in samples(folder):
        kinds.setdefault(kind, []).append((data, read))
    path = folder / "spoilt"
    for kind, several in kinds.items():
        for data, read in several:
            path.write_bytes(data)
            assert verdict(read, path) == "read", f"the sound {kind} is refused"
        for number in range(each):
            data, read = several[number % len(several)]
            path.write_bytes(spoilt(data, rng))
            at = time.perf_counter()
            try:
                with at_most(LONGEST_S):
                    found[kind, verdict(read, path)] += 1
            except Exception as fault:
                faults += 1
                print(f"{kind} {number}: {type(fault).__name__}: {fault}\n{path.read_bytes()[:600]!r}")
            slowest = max(slowest, time.perf_counter() - at)
    for (kind, said), times in sorted(found.items()):
        print(f"{kind:<8} {said:<8} {times}")
    seconds = time.perf_counter() - begun
    print(f"{each * len(kinds)} spoilt files, {faults} faults, {seconds:.1f} s, slowest {1000 * slowest:.0f} ms")
    return faults


class TooLongError(Exception):
    """A command or a reader that does not come to an end."""


@contextmanager
def at_most(seconds: int) -> Iterator[None]:
    """Raise TooLongError in what takes longer; where there are no alarms, wait."""
    if not hasattr(signal, "SIGALRM"):
        yield
        return

    def ring(*_: object) -> None:
        raise TooLongError

    before = signal.signal(signal.SIGALRM, ring)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


LONGEST_S = 10
MOST_MB = 2000
ONE_IN_ITS_OWN = 60
"""Of so many commands one runs in a process of its own."""
# Words a slip or a stranger puts in the place of any other.
NASTY = (
    "", " ", ".", "..", "/", "-", "--", "~", "*", "nan", "inf", "-inf", "NaN", "1e999", "-1e999", "0", "-0", "-1",
    "1/0", "0.0000001", "999999999999", "9" * 5000, "1" * 300, "a" * 300, "a/" * 3000, "x" * 300 + ".yaml",
    "\x1b[31mred",
    "\u202etxt.yaml", "line\nbreak", "tab\t", "\x00", "\udcff", "\u0663", "1,2", "1,2,3", ",", "1,", "nan,nan",
    "inf,0", "1e308,1e308", "-5,-5", "1000000,3", "1x1", "0x0", "nanxnan", "1/8", "1 mm", "10000 yd", "=1+1", "@x",
    "/dev/null", "/dev/zero", "/nowhere/at/all.yaml", "/dev/full/x.png", "%s%n", "{0}", "$(id)",
    "\N{GRINNING FACE}.yaml",
)  # fmt: skip


def command_lines(folder: Path) -> list[list[str]]:
    """A sound use of every command that opens no window, its files in the folder."""
    job, table, out = (str(folder / name) for name in ("job.yaml", "sound.table", "out"))
    (folder / "job.yaml").write_bytes((ROOT / "jobs" / "examples" / "reading_room.yaml").read_bytes())
    (folder / "marks.yaml").write_bytes(yaml_blocks(text_of("calibration.md"))[0].encode())
    (folder / "points.yaml").write_text(
        "points:\n  - {row: 0, column: 0, table: [3, 5]}\n  - {row: 1, column: 0, table: [22, 5]}\n"
    )
    (folder / "readings.yaml").write_bytes(READINGS)
    y, x = np.mgrid[:240, :320]
    tone = 128 + 60 * np.sin(x / 9) * np.sin(y / 7) + 40 * np.sin(x / 18 + y / 14)
    photo = str(folder / "photo.png")
    Image.fromarray(tone.astype(np.uint8)).save(photo)
    measure = ["measure", photo]
    return [
        ["check", job], ["order", job, "--json"], ["plan", job, "--table", table, "--json"],
        ["plan", job, "--picture", f"{out}.svg"], ["status", job, "--json"],
        ["calibrate", f"{out}.table", "--marks", str(folder / "marks.yaml"), "--lens-height", "80", "--lens-foot",
         "3,4"],
        ["table", table, "--at", "30,12", "--json"], ["table", table, "--picture", f"{out}.svg"],
        ["lay", job, "--points", str(folder / "points.yaml"), "--piece", "1", "--json"],
        ["colours", job, "--photo", photo, "--room", "300", "--projector", "900", "--json"],
        ["tape", table, "--readings", str(folder / "readings.yaml"), "--nearest", "1/16", "--json"],
        ["picture", job, "--of", "cloth", "--out", f"{out}.svg"],
        ["picture", job, "--of", "frame", "--stop", "1", "--out", f"{out}.png"],
        ["sheet", job, "--out", f"{out}.pdf", "--paper", "a4", "--tags", "3x2"],
        ["export", job, "--as", "csv", "--out", f"{out}.csv"],
        ["export", job, "--as", "dxf", "--stop", "1", "--table", table, "--out", f"{out}.dxf"],
        [*measure, "--pixels-per-inch", "20", "--row", "40,50", "--json"],
        [*measure, "--points", "10,10", "200,10", "--distance", "8", "--into", job],
        [*measure, "--cloth-width", "54", "--selvedges", "5", "300"],
        [*measure, "--corners", "20,20", "300,20", "300,220", "20,220", "--size", "12x9", "--tile", f"{out}.png"],
        [*measure, "--tape", "10,10", "300,10", "--tick", "1/8", "--inside", "20,20", "300,200",
         "--picture", f"{out}.png"],
    ]  # fmt: skip


def mangled(words: list[str], rng: random.Random) -> list[str]:
    """The words of a command, some of them spoilt, left out, doubled or changed about; the command itself stays."""
    words = list(words)
    for _ in range(rng.randint(1, 2)):
        at = rng.randrange(1, len(words)) if len(words) > 1 else 0
        change = rng.random()
        if change < 0.75 and at:
            words[at] = rng.choice(NASTY)
        elif change < 0.85 and at:
            del words[at]
        elif change < 0.95:
            words.insert(at + 1, rng.choice((words[at], rng.choice(NASTY))))
        elif at:
            words[at] = words[at] + rng.choice(NASTY)
    return words


def run_spoilt(folder: Path, count: int, seed: int) -> int:
    """Run so many spoilt commands; print how they ended, and return the number of faults."""
    if not count:
        return 0
    rng, ended = random.Random(seed), Counter[str]()
    faults = 0
    for number in range(count):
        lines = command_lines(folder)
        words = mangled(lines[number % len(lines)], rng)
        apart = number % ONE_IN_ITS_OWN == 0 and not any("\0" in word for word in words)
        code, said = _in_its_own(words, folder) if apart else _here(words)
        ended[str(code)] += 1
        steered = [letter for letter in said if not letter.isprintable() and letter not in "\n\t"]
        if code not in ("0", "1", "2") or (code != "0" and not said.strip()) or steered:
            faults += 1
            print(f"exit {code}: {[word[:60] for word in words]}: {said[-300:]!r} {steered[:5]}")
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(
        f"{count} commands, "
        + ", ".join(f"exit {code} {times}" for code, times in sorted(ended.items()))
        + f"; {used} MB"
    )
    return faults + (used > MOST_MB)


def _here(words: list[str]) -> tuple[str, str]:
    out, err = io.StringIO(), io.StringIO()
    try:
        with redirect_stdout(out), redirect_stderr(err), at_most(LONGEST_S):
            code = report(lambda: lightchalk(list(words), prog_name="lightchalk", standalone_mode=False))
    except TooLongError:
        return "too long", ""
    if code == PROGRAM_AT_FAULT and "TooLongError" in err.getvalue():
        return "too long", ""
    return str(code), out.getvalue() + err.getvalue()


def _in_its_own(words: list[str], folder: Path) -> tuple[str, str]:
    run = [sys.executable, "-m", "projector.commands.main", *words]
    found = {**os.environ, "PYTHONPATH": str(ROOT)}
    ended = subprocess.run(run, cwd=folder, env=found, capture_output=True, stdin=subprocess.DEVNULL, timeout=None)
    return str(ended.returncode), (ended.stdout + ended.stderr).decode("utf-8", "replace")


if __name__ == "__main__":
    given = [int(word) for word in sys.argv[1:]]
    sys.exit(main(*(given or (3000, 3000))))
