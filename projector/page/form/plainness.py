"""From a patterned cloth to a plain one and back: keys of the whole file that have no meaning on plain cloth."""

from __future__ import annotations

from jobs.io.editing import Edit, edited, written
from jobs.model.problems import Path
from projector.page.form.changes import NOTHING, without
from projector.page.form.values import Values, values_of

FIRST: Path = ("cloth",)
_OF_CLOTH = ("drop", "first_column", "follow")
_WITH_ROWS = ("windows", "flat_panels", "wanted")
_OF_ITEM = ("row", "middle", "beside", "apart", "point")
_OF_PRINT = ("group", "top_to_bottom", "side_to_side", "half_turn", "mirror_offset", "mirror_offset_across")


def made_plain(text: str, aside: dict[Path, str], cloth: Path = FIRST) -> str:
    """The text without the repeat of this cloth and all that hangs on it, which is put ``aside`` as written.

    Raises CannotEdit.
    """
    values = values_of(text)
    for path in ((*cloth, "repeat"), *_hanging(values, cloth)):
        if values.has(path):
            aside[path] = written(text, path) or NOTHING
            text = without(text, path)
    return text


def made_patterned(text: str, aside: dict[Path, str], cloth: Path = FIRST) -> str:
    """The text with a repeat of this cloth, and with what was put aside before; a new repeat waits to be typed.

    Raises CannotEdit.
    """
    values = values_of(text)
    hanging = [path for path in aside if path == (*cloth, "repeat") or path in _candidates(values, cloth)]
    kept = {path: aside.pop(path) for path in hanging}
    repeat = kept.pop((*cloth, "repeat"), f"{{along: {NOTHING}}}")
    text = edited(text, [Edit((*cloth, "repeat"), repeat, ("selvedge", "width", "name"))])
    for path, value in kept.items():
        text = edited(text, [Edit(path, value)])
    return text


def _candidates(values: Values, cloth: Path) -> list[Path]:
    listed = ((key, number) for key in _WITH_ROWS for number in range(values.count((key,))))
    windows: list[Path] = [(*one, key) for one in listed if values.cloth_of(one) == cloth for key in _OF_ITEM]
    pieces: list[Path] = [(*cloth, "pieces", n, "first_row") for n in range(values.count((*cloth, "pieces")))]
    own: list[Path] = [(*cloth, key) for key in _OF_CLOTH]
    sheet: list[Path] = [(*cloth, "print", key) for key in _OF_PRINT]
    return [*own, *sheet, *pieces, *windows]


def _hanging(values: Values, cloth: Path) -> list[Path]:
    return [path for path in _candidates(values, cloth) if values.has(path)]
