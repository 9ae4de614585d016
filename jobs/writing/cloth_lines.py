"""The key ``cloth`` as lines of a job file."""

from __future__ import annotations

from fractions import Fraction

from jobs.job import Cloth, Flaw, Piece, PrintKey, Run, Symmetry, Unit
from jobs.writing import scalars
from jobs.writing.lines import flow, item, line


def cloth_lines(cloth: Cloth, unit: Unit) -> list[str]:
    """The lines of the cloth. What has no meaning on plain cloth is left out there."""

    def long(value: Fraction) -> str:
        return scalars.length(value, unit)

    lines = [
        line(0, "cloth"),
        line(2, "name", scalars.text(cloth.name)),
        line(2, "width", long(cloth.width), "selvedge edge to selvedge edge, flat"),
        line(2, "selvedge", long(cloth.selvedge), "unprinted strip at each side"),
    ]
    lines += _print_lines(cloth, unit)
    lines += [
        line(2, "faces_alike", scalars.yes_no(cloth.faces_alike), "yes: may be used face down"),
        line(2, "shrinkage", scalars.share(cloth.shrinkage), "part of the length lost in the wash"),
        line(2, "colour", f'"{cloth.colour}"', "of the ground: the light is chosen for it"),
    ]
    if cloth.motif_colours:
        lines.append(line(2, "motif_colours", "[" + ", ".join(f'"{one}"' for one in cloth.motif_colours) + "]"))
    if cloth.picture:
        lines.append(line(2, "picture", scalars.text(cloth.picture), "one repeat of the print, a row in its middle"))
    if cloth.sold_by is not None:
        lines.append(line(2, "sold_by", scalars.as_sold(cloth.sold_by, unit), "orders are rounded up to this"))
    if cloth.longest_piece is not None:
        lines.append(line(2, "longest_piece", long(cloth.longest_piece), "sold no longer than this without a break"))
    lines.append(line(2, "follow", cloth.follow.value, "what the cut lines follow"))
    if cloth.thickness is not None:
        lines.append(line(2, "thickness", long(cloth.thickness), "of one layer"))
    if cloth.layers != 1:
        lines.append(line(2, "layers", str(cloth.layers), "on each other, the cut one uppermost"))
    if cloth.run is not Run.UP:
        lines.append(line(2, "run", cloth.run.value, "the selvedges lie along top and foot"))
        lines.append(line(2, "shrinkage_across", scalars.share(cloth.shrinkage_across), "part of the height lost"))
    if not cloth.side_by_side:
        lines.append(line(2, "side_by_side", "no", "narrow cuts get a length of their own"))
    if cloth.pieces:
        lines.append(line(2, "pieces", remark="as delivered; all measured from the first end"))
        for piece in cloth.pieces:
            lines += item(4, _piece_lines(piece, unit, cloth.repeat is not None))
    return lines


def _print_lines(cloth: Cloth, unit: Unit) -> list[str]:
    sheet = cloth.print
    ways = [_known(cloth, PrintKey.ONE_WAY, scalars.yes_no(sheet.one_way), "yes: no panel may be turned")]
    if cloth.run is Run.UP:
        ways.append(line(4, "top_towards", sheet.top_towards.value, "the end the tops of the motifs point to"))
    if cloth.repeat is None:
        return [line(2, "print", remark="no repeat: plain cloth"), *ways]
    repeat = [("along", scalars.length(cloth.repeat.along, unit))]
    if cloth.repeat.across is not None:
        repeat.append(("across", scalars.length(cloth.repeat.across, unit)))
    lines = [
        line(2, "repeat", flow(repeat), "until the print comes again"),
        _known(cloth, PrintKey.DROP, scalars.number(cloth.drop), "0 straight, 1/2 half-drop"),
    ]
    if cloth.first_column is not None:
        lines.append(line(2, "first_column", scalars.length(cloth.first_column, unit), "from the near selvedge"))
    inside = _mirror_lines(cloth, unit) + ways
    # A key with nothing but remarks under it would be refused.
    empty = all(one.lstrip().startswith("#") for one in inside)
    return [*lines, *([] if empty else [line(2, "print")]), *inside]


def _mirror_lines(cloth: Cloth, unit: Unit) -> list[str]:
    sheet = cloth.print
    lines = [] if sheet.group is None else [line(4, "group", sheet.group, "plane group")]
    lines += [
        _known(cloth, PrintKey.TOP_TO_BOTTOM, sheet.top_to_bottom.value, "mirror | glide | none"),
        _known(cloth, PrintKey.SIDE_TO_SIDE, sheet.side_to_side.value, "mirror | glide | none"),
    ]
    if sheet.half_turn or not cloth.not_known & {PrintKey.TOP_TO_BOTTOM, PrintKey.SIDE_TO_SIDE}:
        # Where a mirror is not known, a half-turn that is not there would say that it is not there either.
        lines.append(line(4, "half_turn", scalars.yes_no(sheet.half_turn), "the same upside down?"))
    if sheet.top_to_bottom is not Symmetry.NONE:
        offset = scalars.length(sheet.mirror_offset, unit)
        lines.append(line(4, "mirror_offset", offset, "from a row down to the mirror line, as it hangs"))
    if sheet.mirror_offset_across is not None:
        offset = scalars.length(sheet.mirror_offset_across, unit)
        lines.append(line(4, "mirror_offset_across", offset, "from a column across to it"))
    return lines


def _known(cloth: Cloth, key: PrintKey, value: str, remark: str) -> str:
    """The line of a key of the print, or a remark in its place where nobody has answered it yet."""
    indent = 2 if key is PrintKey.DROP else 4
    if key in cloth.not_known:
        return f"{' ' * indent}# {key}: not known yet ({remark})"
    return line(indent, key, value, remark)


def _piece_lines(piece: Piece, unit: Unit, patterned: bool) -> list[str]:
    lines = [line(6, "length", scalars.length(piece.length, unit))]
    if patterned:
        lines.append(line(6, "first_row", scalars.length(piece.first_row, unit), "from the first end to a row"))
    if piece.dye_lot:
        lines.append(line(6, "dye_lot", scalars.text(piece.dye_lot)))
    if piece.flaws:
        lines.append(line(6, "flaws"))
        lines += [f"        - {_flaw(flaw, unit)}" for flaw in piece.flaws]
    return lines


def _flaw(flaw: Flaw, unit: Unit) -> str:
    entries = [("from", scalars.length(flaw.start, unit)), ("to", scalars.length(flaw.end, unit))]
    if flaw.across is not None:
        near, far = (scalars.length(side, unit) for side in flaw.across)
        entries.append(("across", f"[{near}, {far}]"))
    if flaw.note:
        entries.append(("note", scalars.text(flaw.note)))
    return flow(entries)
