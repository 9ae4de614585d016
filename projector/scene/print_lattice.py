"""The lattice of a job's print, for fitting the light to it: the same rows and columns that are lit."""

from __future__ import annotations

from calibration.registration.lattice import PrintLattice
from jobs.model.cloth import Cloth, Piece
from projector.scene.rows import columns_across


class NoLattice(ValueError):  # noqa: N818
    """The cloth has no lattice to be laid by: it is plain, or its repeat across is not known."""

    def __init__(self, plain: bool) -> None:
        super().__init__("the cloth is plain" if plain else "the repeat across is not given")
        self.plain = plain


def lattice_of(cloth: Cloth, piece: Piece | None = None) -> PrintLattice:
    """Rows and columns of the print on a piece, in piece inches; row 0 is its ``first_row`` (0 without a piece).

    Column 0 is the whole column nearest the near selvedge. Raises NoLattice for plain cloth and without ``across``.
    """
    if cloth.repeat is None or cloth.repeat.across is None:
        raise NoLattice(plain=cloth.repeat is None)
    return PrintLattice(
        along_in=float(cloth.repeat.along),
        across_in=float(cloth.repeat.across),
        width_in=float(cloth.width),
        first_column_in=float(columns_across(cloth)[0]),
        first_row_in=float(piece.first_row) if piece else 0.0,
        drop=float(cloth.drop),
    )
