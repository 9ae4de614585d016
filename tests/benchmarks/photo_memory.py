"""Memory and time that pictures of 100 megapixels take: python -m tests.benchmarks.photo_memory [SIDE]"""

from __future__ import annotations

import multiprocessing
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
from PIL import Image

ROOT = Path(__file__).parents[2]
JOB = ROOT / "jobs" / "examples" / "reading_room.yaml"


def print_of(side: int) -> Image.Image:
    """A print of seven repeats each way."""
    chance = np.random.default_rng(1)
    cell = Image.fromarray(chance.integers(60, 200, (6, 8, 3), np.uint8)).resize((side // 7, side // 7), Image.BICUBIC)
    image = Image.new("RGB", (side, side))
    for x in range(0, side, cell.width):
        for y in range(0, side, cell.height):
            image.paste(cell, (x, y))
    return image


def floats(image: Image.Image) -> Image.Image:
    return Image.fromarray(np.asarray(image.convert("L")).astype(np.float32))


KINDS = {
    "plain.png": lambda side, path: Image.new("RGB", (side, side), (120, 130, 140)).save(path, compress_level=1),
    "print.jpg": lambda side, path: print_of(side).save(path),
    "progressive.jpg": lambda side, path: print_of(side).save(path, progressive=True, subsampling=0),
    "print.tif": lambda side, path: print_of(side).save(path, compression="tiff_lzw"),
    "see-through.png": lambda side, path: print_of(side).convert("RGBA").save(path, compress_level=1),
    "floats.tif": lambda side, path: floats(print_of(side)).save(path),
    # Of a WebP at most 40 million pixels are read.
    "print.webp": lambda side, path: print_of(int(side * 0.63)).save(path, quality=70, method=0),
}


def make(name: str, side: int, path: Path) -> None:
    KINDS[name](side, path)


def main(side: int) -> int:
    worst = 0
    with tempfile.TemporaryDirectory() as folder:
        for name in KINDS:
            path = Path(folder, name)
            # In a process of its own: what a process starts is counted with the memory of the one it came from.
            maker = multiprocessing.get_context("spawn").Process(target=make, args=(name, side, path))
            maker.start()
            maker.join()
            for words in (["measure", path, "--pixels-per-inch", "100"], ["colours", JOB, "--photo", path]):
                ran = subprocess.Popen(
                    [sys.executable, "-m", "projector.commands.main", *map(str, words)],
                    cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                )  # fmt: skip
                assert ran.stdout is not None
                said = ran.stdout.read().splitlines()
                _, status, used = os.wait4(ran.pid, 0)
                worst = max(worst, used.ru_maxrss // 1024)
                took = used.ru_utime + used.ru_stime
                code = os.waitstatus_to_exitcode(status)
                print(f"{name:16} {words[0]:8} exit {code}  {used.ru_maxrss // 1024:5} MB  {took:5.1f} s  {said[0]}")
            path.unlink()
    return int(worst > 1000)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000))
