"""A cut with its place and its piece, as plain values of a record: both are known without the job."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from jobs.journal.exact import exact
from jobs.model.cloth import Flaw, Piece
from jobs.model.cuts import Cut, Hand, Placement, Selvedge, Side, Way

LONGEST_TEXT = 1000
MOST_CUTS = 100_000
MOST_FLAWS = 10_000


def placed_values(placement: Placement, piece: Piece) -> dict[str, Any]:
    """What a record keeps of a placed cut and its piece; lengths in inches as exact text."""
    cut = placement.cut
    return {
        "piece": placement.piece,
        "start": str(placement.start),
        "end": str(placement.end),
        "window": cut.window,
        "hand": cut.hand.value,
        "panel": cut.panel,
        "number": cut.number,
        "of": cut.of,
        "length": str(cut.length),
        "handbook": str(cut.handbook),
        "row": _text(cut.row),
        "way": cut.way.value,
        "top_first": cut.top_first,
        "leading": cut.leading_selvedge.value if cut.leading_selvedge else None,
        "heading": str(cut.heading),
        "hem": str(cut.hem),
        "across": _pair_values(cut.across),
        "beside": cut.beside,
        "near": _side_values(cut.near_side),
        "far": _side_values(cut.far_side),
        "top_at": cut.top_at.value if cut.top_at else None,
        "after_row": _text(cut.after_row),
        "from": piece_values(piece),
    }


def placed_in(values: object, name: str) -> tuple[Placement, Piece]:
    """The placed cut, called ``name``, and its piece. Raises ValueError for values that cannot be such."""
    got = _mapping(values)
    cut = Cut(
        id=name,
        window=_word(got, "window"),
        hand=Hand(_word(got, "hand")),
        panel=_word(got, "panel"),
        number=_count(got, "number"),
        of=_count(got, "of"),
        length=_length(got, "length"),
        handbook=_length(got, "handbook"),
        row=_length_or_none(got, "row"),
        way=Way(_word(got, "way")),
        top_first=got.get("top_first") is True,
        leading_selvedge=_selvedge(got, "leading"),
        heading=_length(got, "heading"),
        hem=_length(got, "hem"),
        across=_pair(got.get("across")),
        beside=_word(got, "beside"),
        near_side=_side(got.get("near")),
        far_side=_side(got.get("far")),
        top_at=_selvedge(got, "top_at"),
        after_row=_length_or_none(got, "after_row"),
    )
    if cut.length <= 0 or (cut.is_sideways and cut.across is None):
        raise ValueError("it is no cut")
    return Placement(cut, _count(got, "piece"), _length(got, "start")), piece_in(got.get("from"))


def piece_values(piece: Piece) -> dict[str, Any]:
    """What a record keeps of a piece of cloth."""
    return {
        "length": str(piece.length),
        "first_row": str(piece.first_row),
        "dye_lot": piece.dye_lot,
        "flaws": [[str(flaw.start), str(flaw.end), _pair_values(flaw.across), flaw.note] for flaw in piece.flaws],
    }


def piece_in(values: object) -> Piece:
    """The piece of cloth. Raises ValueError for values that cannot be one."""
    got = _mapping(values)
    flaws = got.get("flaws")
    if not isinstance(flaws, list) or len(flaws) > MOST_FLAWS:
        raise ValueError("it has no list of flaws")
    return Piece(_length(got, "length"), _length(got, "first_row"), tuple(map(_flaw, flaws)), _word(got, "dye_lot"))


def _flaw(values: object) -> Flaw:
    if not isinstance(values, list) or len(values) != 4 or not isinstance(values[3], str):
        raise ValueError("it is no flaw")
    return Flaw(exact(values[0]), exact(values[1]), _pair(values[2]), values[3])


def _text(length: Fraction | None) -> str | None:
    return None if length is None else str(length)


def _pair_values(pair: tuple[Fraction, Fraction] | None) -> list[str] | None:
    return None if pair is None else [str(pair[0]), str(pair[1])]


def _side_values(side: Side | None) -> list[Any] | None:
    return None if side is None else [str(side.line), side.joined, _text(side.trim)]


def _mapping(values: object) -> Mapping[str, Any]:
    if not isinstance(values, dict):
        raise ValueError("it is no list of values by name")
    return values


def _word(got: Mapping[str, Any], name: str) -> str:
    word = got.get(name)
    if not isinstance(word, str) or len(word) > LONGEST_TEXT:
        raise ValueError(f"{name} is no word")
    return word


def _count(got: Mapping[str, Any], name: str) -> int:
    count = got.get(name)
    if type(count) is not int or not 1 <= count <= MOST_CUTS:
        raise ValueError(f"{name} is no count")
    return count


def _length(got: Mapping[str, Any], name: str) -> Fraction:
    return exact(got.get(name), least=Fraction(0))


def _length_or_none(got: Mapping[str, Any], name: str) -> Fraction | None:
    return None if got.get(name) is None else _length(got, name)


def _selvedge(got: Mapping[str, Any], name: str) -> Selvedge | None:
    return None if got.get(name) is None else Selvedge(_word(got, name))


def _pair(values: object) -> tuple[Fraction, Fraction] | None:
    if values is None:
        return None
    if not isinstance(values, list) or len(values) != 2:
        raise ValueError("it is no pair of lengths")
    return exact(values[0]), exact(values[1])


def _side(values: object) -> Side | None:
    if values is None:
        return None
    if not isinstance(values, list) or len(values) != 3:
        raise ValueError("it is no side of a cut")
    return Side(exact(values[0]), values[1] is True, None if values[2] is None else exact(values[2]))
