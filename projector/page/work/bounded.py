"""Pictures from outside are opened here, in a process of its own that may use only so much memory.

``python -m projector.page.work.bounded preview PHOTO OUT.jpg`` writes a picture small enough for a screen and prints
what it is as JSON; ``bounded seen SHEET OUT.jpg`` cuts the photograph out of what ``measure --picture`` wrote;
``bounded measure ...`` is the command of that name. Of photographs of the lit pattern ``bounded judge PHOTO SMALL.jpg
WxH`` and ``bounded fit ASKED.json`` print what was found as JSON; ``bounded taken FRAME.png OUT.jpg SIDE HIGH UPRIGHT
NUMBER KNOCKED`` takes one of the simulated table. ``bounded lay ASKED.json`` finds the print in a photograph of the
cloth under the lit pattern, ``bounded cloth FRAME.png ASKED.json OUT.jpg`` takes one of the simulated cloth.
"""

from __future__ import annotations

import contextlib
import json
import runpy
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from PIL import Image

MOST_BYTES = 6 * 1024**3
"""Address space, most of which is never touched: a photograph of 50 million pixels is measured within it."""
WIDEST, HIGHEST = 1600, 1200


def main(words: list[str]) -> None:
    """Bound the memory, then do what was asked."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
    try:
        make = MAKES.get(words[0])
        if make is not None:
            print(json.dumps(make(words[1:])))  # noqa: T201 - this is what the process is for
            return
        sys.argv = ["lightchalk", *words]
        runpy.run_module("projector.commands.main", run_name="__main__")
    except MemoryError:
        print("The picture is too large for this program. Make it smaller.", file=sys.stderr)  # noqa: T201
        sys.exit(1)


def judge(words: list[str]) -> dict[str, object]:
    """A photograph of the lit pattern, judged."""
    from projector.page.work.judging import judged

    wide, _, high = words[2].partition("x")
    return judged(Path(words[0]), Path(words[1]), (int(wide), int(high)))


def fit(words: list[str]) -> dict[str, object]:
    """Photographs of the lit pattern, fitted."""
    from projector.page.work.fitting import fitted

    return fitted(Path(words[0]))


def take(words: list[str]) -> dict[str, object]:
    """A photograph of the simulated table, taken."""
    from projector.page.work.taking import Held, taken

    side, high, upright, number, knocked = (int(word) for word in words[2:])
    taken(Path(words[0]), Path(words[1]), Held(side, bool(high), bool(upright), number), knocked=bool(knocked))
    return {}


def lay(words: list[str]) -> dict[str, object]:
    """A photograph of the cloth under the lit pattern: how the print lies."""
    from projector.page.work.laying import laid

    return laid(Path(words[0]))


def cloth(words: list[str]) -> dict[str, object]:
    """A photograph of the simulated cloth, taken."""
    from projector.page.work.taking import cloth_taken

    cloth_taken(*map(Path, words))
    return {}


def preview(photo: Path, out: Path) -> dict[str, object]:
    """Write the picture, upright and small; how many of its pixels one written stands for."""
    from PIL import Image

    from jobs.prints.photographs.opening import open_photo
    from jobs.prints.photographs.problems import PhotoRefused
    from projector.words.wording import sentence

    try:
        opened = open_photo(photo, 4 * WIDEST * HIGHEST, least_side=1)
    except PhotoRefused as refused:
        words = sentence(refused.problems[0])
        return {"wrong": f"{words[:1].upper()}{words[1:]}."}
    image = Image.fromarray(opened.rgb8)
    shrunk = _small(image, out)
    return {"shrunk": shrunk * opened.reduction[0]}


def seen(sheet: Path, out: Path) -> dict[str, object]:
    """Write the photograph with its lattice, out of the sheet that ``measure --picture`` writes."""
    from PIL import Image, ImageChops

    from jobs.prints.photographs.picture_file import picture_file
    from projector.papers.photo_sheet import EDGE, SIDE_WIDTH

    with picture_file(sheet) as opened:
        image = opened.convert("RGB")
    part = image.crop((EDGE, EDGE, image.width - SIDE_WIDTH - 2 * EDGE, image.height))
    paper = Image.new("RGB", part.size, image.getpixel((0, 0)))
    _, _, _, bottom = ImageChops.difference(part, paper).getbbox() or (0, 0, *part.size)
    return {"shrunk": _small(part.crop((0, 0, part.width, bottom)), out)}


def _small(image: Image.Image, out: Path) -> float:
    """Write the picture as large as a screen shows it; how many of its pixels one written stands for."""
    shrunk = max(1.0, image.width / WIDEST, image.height / HIGHEST)
    small = image.resize((max(1, round(image.width / shrunk)), max(1, round(image.height / shrunk))))
    small.save(out, "JPEG", quality=88)
    return shrunk


MAKES: dict[str, Callable[[list[str]], dict[str, object]]] = {
    "preview": lambda words: preview(Path(words[0]), Path(words[1])),
    "seen": lambda words: seen(Path(words[0]), Path(words[1])),
    "judge": judge,
    "fit": fit,
    "taken": take,
    "lay": lay,
    "cloth": cloth,
}


if __name__ == "__main__":
    main(sys.argv[1:])
