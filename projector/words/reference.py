"""The tables of the page on the job file, made from the declarations of its keys."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from jobs.model import schema
from jobs.model.allowances import Allowances
from jobs.model.cloth import Cloth
from jobs.model.goods import FlatPanel, Wanted
from jobs.model.groups import GROUPS
from jobs.model.job import Job, Limits
from jobs.model.lengths import show_share
from jobs.model.numbers import show_number
from jobs.model.piece import Piece, Place
from jobs.model.print import Print
from jobs.model.schema import Key, Kind, keys_of
from jobs.model.trimmings import Band, Lining, TieBacks
from jobs.model.window import Window

TABLES: dict[str, type] = {
    "the job": Job,
    "cloth": Cloth,
    "print": Print,
    "pieces": Piece,
    "allowances": Allowances,
    "limits": Limits,
    "windows": Window,
    "places": Place,
    "linings": Lining,
    "bands": Band,
    "tie backs": TieBacks,
    "flat panels": FlatPanel,
    "wanted": Wanted,
}
"""Which classes have a table of their own; the keys of any other stand in the table of the one it belongs to."""
_NAMES = {
    "window": "name of another window",
    "flat panel": "name of another flat panel",
    "cloth": "name of a cloth",
    "file": "name of a file",
}
_HEAD = "| key | what it is | written as | left out |\n| --- | --- | --- | --- |\n"
_TABLE = re.compile(r"(<!-- keys: (?P<name>[a-z ]+) -->\n).*?(?=<!-- end -->)", re.DOTALL)


def with_tables(page: str) -> str:
    """The page with each table between ``<!-- keys: NAME -->`` and ``<!-- end -->`` as the keys are now.

    Raises KeyError for a name that is no table.
    """
    return _TABLE.sub(lambda found: found[1] + _table(TABLES[found["name"]]), page)


def _table(model: type) -> str:
    return _HEAD + "".join(f"| {' | '.join(row)} |\n" for row in _rows(model, ""))


def _rows(model: type, above: str) -> Iterator[tuple[str, str, str, str]]:
    for key in keys_of(model):
        name = f"`{above}{key.name}`" + (" *" if key.needed else "")
        left_out = key.usual + (", and you are told" if key.told and key.usual else "")
        yield name, _sentence(key), _written(key.kind), left_out
        kind = key.kind
        if isinstance(kind, schema.Group | schema.Groups) and kind.of not in TABLES.values():
            yield from _rows(kind.of, f"{above}{key.name}: ")


def _sentence(key: Key) -> str:
    return f"{key.label}{'' if key.label.endswith('?') else '.'} {key.meaning}"


def _written(kind: Kind) -> str:
    match kind:
        case schema.Length():
            each = ", or `{near: length, far: length}`" if kind.sides else ""
            return ("length above 0" if kind.above_zero else "length") + each
        case schema.Share():
            return f"share below {show_share(kind.below)}"
        case schema.Number():
            start = "whole and half numbers" if kind.halves else "number"
            return f"{start} from {show_number(kind.least)} to {'below ' if kind.below else ''}{_large(kind.most)}"
        case schema.Count():
            return f"whole number from {kind.least} to {kind.most}"
        case schema.Text():
            return _NAMES.get(kind.of, "words")
        case schema.YesNo():
            return "`yes` or `no`"
        case schema.Colour():
            return '`"#rrggbb"`'
        case schema.Choice():
            return "; ".join(_choice(word.value, label) for word, label in zip(kind.words, kind.labels, strict=True))
        case schema.PlaneGroup():
            return f"`{' '.join(GROUPS)}`"
        case schema.Several():
            return f"list of {_written(kind.of)}"
        case schema.Two():
            return f"`[{', '.join(label.rpartition(', ')[2].lower() for label in kind.labels)}]`, lengths"
        case schema.Group():
            return "keys, see below" if kind.of in TABLES.values() else "keys"
        case schema.Groups():
            return "list, see below" if kind.of in TABLES.values() else "list"


def _choice(word: str, label: str) -> str:
    return f"`{word}`" if label in (word, f"the {word}") else f"`{word}` {label}"


def _large(value: Fraction) -> str:
    return f"{int(value):,}" if value >= 1000 else show_number(value)
