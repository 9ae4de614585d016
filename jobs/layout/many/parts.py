"""Many part fillings of one strip, a row of some arrays each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields

import numpy as np

from jobs.layout.many.shelf import Floats, Ints


@dataclass(frozen=True)
class Parts:
    """``at`` (n,) where the next cut may begin, ``cost`` (n,) bare cloth so far at its price, ``laid`` (n,) lengths.

    ``owed`` (n, most) entries that must still be laid, -1 for none, and ``owing`` (n,) their length together, ``begun``
    (n, d) kinds begun, -1 for none, ``link`` (n,) the number of the last cut laid.
    """

    at: Ints
    cost: Floats
    laid: Ints
    owed: Ints
    owing: Ints
    begun: Ints
    link: Ints

    def rows(self, which: Ints) -> Parts:
        """Some of the part fillings."""
        return Parts(*(getattr(self, field.name)[which] for field in fields(self)))


def joined(parts: Sequence[Parts]) -> Parts:
    """All of them together."""
    if len(parts) == 1:
        return parts[0]
    wide = max(part.begun.shape[1] for part in parts)
    begun = np.concatenate([_widened(part.begun, wide) for part in parts])
    columns = {f.name: np.concatenate([getattr(p, f.name) for p in parts]) for f in fields(Parts) if f.name != "begun"}
    return Parts(begun=begun, **columns)


def _widened(rows: Ints, wide: int) -> Ints:
    found = np.full((len(rows), wide), -1, np.int64)
    found[:, : rows.shape[1]] = rows
    return found


def packed(rows: Ints) -> Ints:
    """Rows with what is -1 moved to their ends, and columns that are -1 throughout left out."""
    found = -np.sort(-rows, axis=1)
    return found[:, : int((found >= 0).sum(axis=1).max(initial=0))]


def best_of_groups(groups: Ints, ranks: Floats, most: int) -> Ints:
    """The numbers of those with the least ranks of each group, at most so many of each."""
    order = np.lexsort((ranks, groups))
    sorted_groups = groups[order]
    numbers = np.arange(len(order))
    begins = np.ones(len(order), bool)
    begins[1:] = sorted_groups[1:] != sorted_groups[:-1]
    place = numbers - np.maximum.accumulate(np.where(begins, numbers, 0))
    chosen: Ints = order[place < most]
    return chosen
