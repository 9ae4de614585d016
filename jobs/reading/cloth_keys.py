"""The key ``cloth``: its sizes, its print and the pieces as delivered."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from jobs.job import ZERO, Cloth, Flaw, Follow, Piece, Print, PrintKey, Repeat, Run, Unit
from jobs.lengths import show_length
from jobs.reading import values
from jobs.reading.column_keys import check_columns
from jobs.reading.fields import Fields
from jobs.reading.nodes import Node
from jobs.reading.notices import Notices
from jobs.reading.print_keys import NOT_SAID, read_print
from jobs.reading.problems import Log
from jobs.reading.run_keys import check_run

SMALLEST_REPEAT = Fraction(1, 8)
MOST_LAYERS = 100
WIDEST = Fraction(400)
"""The widest looms for furnishing cloth make a third of this (common practice, no source)."""
STAND_IN = Cloth(name="", width=Fraction(1))


def read_cloth(unit: Unit, notices: Notices) -> values.Reader[Cloth]:
    """A reader of the mapping under ``cloth``; what is left out and matters is added to ``notices``."""

    def read(node: Node, where: str, log: Log) -> Cloth:
        fields = Fields(node, where, log)
        width = fields.need("width", values.length(unit, above_zero=True), STAND_IN.width)
        known_width = width if fields.sound("width") else None
        pieces: tuple[Piece, ...] = fields.take(
            "pieces", values.list_of(_piece(unit, known_width), least=1, thing="piece"), ()
        )
        sheet, not_known = fields.take("print", read_print(unit, notices), (Print(), NOT_SAID))
        cloth = Cloth(
            name=fields.take("name", values.text, "unnamed cloth"),
            width=width,
            selvedge=fields.take("selvedge", values.length(unit), ZERO),
            repeat=fields.take("repeat", _repeat(unit), None),
            drop=fields.take("drop", values.within(values.fraction, 0, 1, below=True), ZERO),
            print=sheet,
            faces_alike=fields.take("faces_alike", values.yes_no, False),
            shrinkage=fields.take("shrinkage", _shrinkage, ZERO),
            colour=fields.take("colour", values.colour, STAND_IN.colour),
            motif_colours=fields.take("motif_colours", values.list_of(values.colour, thing="colour"), ()),
            sold_by=fields.take("sold_by", values.length(unit, above_zero=True), None),
            pieces=pieces,
            follow=fields.take("follow", values.choice(Follow), _usual_follow(fields)),
            thickness=fields.take("thickness", values.length(unit, above_zero=True), None),
            layers=fields.take("layers", _layers, 1),
            run=fields.take("run", values.choice(Run), Run.UP),
            first_column=fields.take("first_column", values.length(unit), None),
            side_by_side=fields.take("side_by_side", values.yes_no, True),
            longest_piece=fields.take("longest_piece", values.length(unit, above_zero=True), None),
            shrinkage_across=fields.take("shrinkage_across", _shrinkage, ZERO),
            picture=fields.take("picture", values.text, ""),
            not_known=_not_known(fields, not_known),
        )
        fields.close()
        _check_width(fields, cloth, unit)
        _check_print(fields, cloth, unit)
        check_columns(fields, cloth, unit)
        check_run(fields, cloth)
        _note_first_rows(fields, cloth, notices)
        if not fields.has("selvedge"):
            notices.add("No selvedge is given: the whole cloth width is taken as usable.")
        return fields.whole(_rows_reduced(cloth))

    return read


def _repeat(unit: Unit) -> values.Reader[Repeat]:
    def read(node: Node, where: str, log: Log) -> Repeat:
        fields = Fields(node, where, log)
        length = values.length(unit, above_zero=True)
        along = fields.need("along", length, Fraction(1))
        across = fields.take("across", length, None)
        fields.close()
        for key, value in (("along", along), ("across", across)):
            if value is not None and value < SMALLEST_REPEAT:
                what = f"a repeat under {SMALLEST_REPEAT} in is too small to be matched"
                fields.refuse(key, what, "leave the repeat out and treat the cloth as plain")
        return fields.whole(Repeat(along, across))

    return read


def _piece(unit: Unit, width: Fraction | None) -> values.Reader[Piece]:
    def read(node: Node, where: str, log: Log) -> Piece:
        fields = Fields(node, where, log)
        length = fields.need("length", values.length(unit, above_zero=True), Fraction(1))
        first_row = fields.take("first_row", values.length(unit), ZERO)
        flaw = _flaw(unit, width, length if fields.sound("length") else None)
        flaws: tuple[Flaw, ...] = fields.take("flaws", values.list_of(flaw, thing="flaw"), ())
        dye_lot = fields.take("dye_lot", values.text, "")
        fields.close()
        if fields.sound("length", "first_row") and first_row > length:
            fields.refuse(
                "first_row", "the first row lies beyond the end of the piece", "measure it from the first end"
            )
        return fields.whole(Piece(length, first_row, flaws, dye_lot))

    return read


def _flaw(unit: Unit, width: Fraction | None, length: Fraction | None) -> values.Reader[Flaw]:
    def read(node: Node, where: str, log: Log) -> Flaw:
        fields = Fields(node, where, log)
        start = fields.need("from", values.length(unit), ZERO)
        end = fields.need("to", values.length(unit), Fraction(1))
        across = fields.take("across", values.pair_of(values.length(unit)), None)
        note = fields.take("note", values.text, "")
        fields.close()
        if fields.sound("from", "to") and start >= end:
            fields.refuse(
                "to", "the flaw ends before it begins", "write the nearer end under from, the farther under to"
            )
        if length is not None and fields.sound("from", "to") and end > length:
            what = f"the flaw reaches beyond the piece, which is {show_length(length, unit)} long"
            fields.refuse("to", what, "measure flaws from the first end of the piece")
        if across is not None and fields.sound("across"):
            if across[0] >= across[1]:
                fields.refuse("across", "the second number is not the larger", "measure both from the near selvedge")
            elif width is not None and across[1] > width:
                fields.refuse("across", "the flaw reaches beyond the cloth width", "measure from the near selvedge")
        return fields.whole(Flaw(start, end, across, note))

    return read


def _not_known(fields: Fields, of_print: frozenset[PrintKey]) -> frozenset[PrintKey]:
    """What the file leaves open of a print; plain cloth has nothing to ask."""
    if not fields.has("repeat"):
        return frozenset()
    return of_print if fields.has("drop") else of_print | {PrintKey.DROP}


def _usual_follow(fields: Fields) -> Follow:
    return Follow.PRINT if fields.has("repeat") else Follow.SELVEDGE


def _shrinkage(node: Node, where: str, log: Log) -> Fraction:
    value = values.share(node, where, log)
    if value >= Fraction(1, 2):
        raise log.refuse(node.place, where, "cloth that loses half its length is not cut", "write it such as 3 %")
    return value


def _check_width(fields: Fields, cloth: Cloth, unit: Unit) -> None:
    if fields.sound("width") and cloth.width > WIDEST:
        what = f"no cloth is {show_length(cloth.width, unit)} wide"
        fields.refuse("width", what, f"write at most {show_length(WIDEST, unit)}, with its unit if that is another")
    if fields.sound("width", "selvedge") and 2 * cloth.selvedge >= cloth.width:
        what = f"two selvedges of {show_length(cloth.selvedge, unit)} leave nothing of the cloth width"
        fields.refuse("selvedge", what, "write the unprinted strip of one side")


def _check_print(fields: Fields, cloth: Cloth, unit: Unit) -> None:
    add = "add repeat: {along: ..., across: ...} or leave it out"
    sheet = cloth.print
    if fields.has("repeat"):
        along = cloth.repeat.along if cloth.repeat else None
        if along is not None and fields.sound("print") and sheet.mirror_offset >= along:
            what = f"mirror_offset is not less than the repeat, {show_length(along, unit)}"
            fields.refuse("print", what, "measure from a row to the nearest mirror line")
        return
    if cloth.drop:
        fields.refuse("drop", "a drop needs a repeat", add)
    if fields.sound("print") and (sheet.group or sheet != Print(one_way=sheet.one_way, top_towards=sheet.top_towards)):
        fields.refuse("print", "the symmetry of a print needs a repeat", add)
    if fields.sound("follow") and cloth.follow is Follow.PRINT:
        fields.refuse("follow", "plain cloth has no print to follow", "write selvedge or leave it out")
    if any(piece.first_row for piece in cloth.pieces):
        fields.refuse("pieces", "first_row needs a repeat", "add the repeat of the cloth or leave first_row out")


def _layers(node: Node, where: str, log: Log) -> int:
    value = values.whole(node, where, log)
    if not 1 <= value <= MOST_LAYERS:
        raise log.refuse(node.place, where, f"{value} layers are out of bounds here", f"write 1 to {MOST_LAYERS}")
    return value


def _note_first_rows(fields: Fields, cloth: Cloth, notices: Notices) -> None:
    if cloth.repeat is None:
        return
    for number, piece in enumerate(cloth.pieces, 1):
        if piece.first_row == 0:
            notices.add("the first row is taken to lie at the first end (first_row 0).", f"piece {number}")


def _rows_reduced(cloth: Cloth) -> Cloth:
    """The same cloth with each first row in [0, repeat): any row of the piece may be measured."""
    if cloth.repeat is None or not cloth.pieces:
        return cloth
    along = cloth.repeat.along
    pieces = tuple(replace(piece, first_row=piece.first_row % along) for piece in cloth.pieces)
    return replace(cloth, pieces=pieces)
