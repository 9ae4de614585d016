"""Dye lots, and rooms whose windows are seen together and so come from one of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from jobs.job import Job, Piece
from jobs.plan import Placement


def lots_of(pieces: Sequence[Piece]) -> list[tuple[int, ...]]:
    """Numbers of pieces, those of one dye lot together; a piece without a lot is one of its own."""
    lots: dict[str, list[int]] = {}
    for number, piece in enumerate(pieces):
        lots.setdefault(piece.dye_lot or f"\0{number}", []).append(number)
    return [tuple(lot) for lot in lots.values()]


def rooms_of(job: Job) -> dict[str, str]:
    """The room of each window that has one, by the window's name; none where pieces are yet to be ordered, as those
    are asked for from one lot."""
    return {window.name: window.room for window in job.windows if window.room and job.cloth.pieces}


def rooms_matter(job: Job, pieces: Sequence[Piece]) -> bool:
    """Whether a room has several windows and there are several dye lots to cut them from."""
    rooms = list(rooms_of(job).values())
    return len(set(rooms)) < len(rooms) and len(lots_of(pieces)) > 1


def mixed_rooms(placements: Iterable[Placement], job: Job, pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Rooms whose windows are cut from more than one dye lot, in the order of the job."""
    lots = {piece: number for number, lot in enumerate(lots_of(pieces)) for piece in lot}
    rooms, met = rooms_of(job), dict[str, set[int]]()
    for placement in placements:
        if placement.cut.window in rooms:
            met.setdefault(rooms[placement.cut.window], set()).add(lots[placement.piece - 1])
    return tuple(room for room in dict.fromkeys(rooms.values()) if len(met.get(room, ())) > 1)
