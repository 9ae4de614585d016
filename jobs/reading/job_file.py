"""A job file, read strictly: every problem of the file is found before any is reported."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from jobs.cutting import unlevel_rooms
from jobs.job import ZERO, Allowances, CuttingTable, Job, Limits, ReturnsAdded, RoomLight, TurnedOver, Unit, Wanted
from jobs.reading import cloth_keys, level_rows, sewing_keys, values, wanted_keys, window_keys
from jobs.reading.fields import Fields
from jobs.reading.nodes import Node, parse
from jobs.reading.notices import Notices
from jobs.reading.problems import Log, Refused
from jobs.reading.source import read_text

ALLOWANCES = ("heading", "hem", "side_hem", "seam", "squaring")


def read_job(path: Path) -> Job:
    """The job in this file; raises Problems with all that is wrong with it."""
    return parse_job(read_text(path), str(path))


def parse_job(text: str, file: str) -> Job:
    """The job in this text; ``file`` is the name shown in problems. Raises Problems."""
    log = Log(file)
    try:
        job = _read(parse(text, log), log)
    except Refused:
        raise log.all() from None
    log.raise_if_any()
    return replace(job, notices=(*job.notices, *unlevel_rooms(job)))


def _read(root: Node, log: Log) -> Job:
    fields = Fields(root, "", log)
    notices = Notices()
    unit = fields.take("units", values.choice(Unit), Unit.INCH)
    if not fields.has("units"):
        notices.add("No units are given: numbers without a unit are taken as inches.")
    title = fields.need("job", values.text, "")
    cloth = fields.need("cloth", cloth_keys.read_cloth(unit, notices), cloth_keys.STAND_IN)
    allowances = fields.take("allowances", _allowances(unit, notices), Allowances())
    if not fields.has("allowances"):
        notices.add("No allowances are given: heading, hem, side hem, seam and squaring are taken as 0.")
    patterned = cloth.repeat is not None if fields.sound("cloth") else None
    window = window_keys.read_window(unit, patterned, notices, cloth.run)
    listed: tuple[window_keys.Listed, ...] = fields.need("windows", values.list_of(window, least=1, thing="window"), ())
    table = fields.take("table", _table(unit), None)
    limits = fields.take("limits", _limits, Limits())
    tolerance = fields.take("tolerance", values.length(unit, above_zero=True), Job.tolerance)
    returns_added = fields.take("returns_added", values.choice(ReturnsAdded), ReturnsAdded.BEFORE)
    flaws_may_lie_in: tuple[TurnedOver, ...] = fields.take(
        "flaws_may_lie_in", values.list_of(values.choice(TurnedOver), thing="place"), ()
    )
    wanted: tuple[Wanted, ...] = fields.take(
        "wanted", values.list_of(wanted_keys.read_wanted(unit, patterned), thing="thing"), ()
    )
    pins = fields.take("pins", sewing_keys.read_pins(unit), None)
    stiffener = fields.take("stiffener", values.length(unit, above_zero=True), None)
    doubled: tuple[TurnedOver, ...] = fields.take("doubled", values.list_of(values.choice(TurnedOver), thing="hem"), ())
    light = fields.take("light", sewing_keys.read_light, RoomLight())
    sewing_keys.check(fields, allowances, stiffener, doubled, unit)
    fields.close()
    level_rows.check(listed, log)
    windows = tuple(one.window for one in listed)
    said = notices.all()
    return Job(
        title=title,
        unit=unit,
        cloth=cloth,
        windows=windows,
        allowances=allowances,
        table=table,
        limits=limits,
        notices=said,
        tolerance=tolerance,
        returns_added=returns_added,
        flaws_may_lie_in=flaws_may_lie_in,
        wanted=wanted,
        pins=pins,
        stiffener=stiffener,
        doubled=doubled,
        light=light,
    )


def _allowances(unit: Unit, notices: Notices) -> values.Reader[Allowances]:
    def read(node: Node, where: str, log: Log) -> Allowances:
        fields = Fields(node, where, log)
        given = {name: fields.take(name, values.length(unit), ZERO) for name in ALLOWANCES}
        fields.close()
        missing = [name.replace("_", " ") for name in ALLOWANCES if not fields.has(name)]
        if missing:
            notices.add(f"No allowance is given for {', '.join(missing)}: 0 is taken.")
        return Allowances(**given)

    return read


def _table(unit: Unit) -> values.Reader[CuttingTable]:
    def read(node: Node, where: str, log: Log) -> CuttingTable:
        fields = Fields(node, where, log)
        length = values.length(unit, above_zero=True)
        table = CuttingTable(
            length=fields.need("length", length, ZERO),
            width=fields.need("width", length, ZERO),
        )
        fields.close()
        return table

    return read


def _limits(node: Node, where: str, log: Log) -> Limits:
    fields = Fields(node, where, log)
    bow = fields.take("bow", values.share, Limits().bow)
    skew = fields.take("skew", values.share, Limits().skew)
    fields.close()
    return fields.whole(Limits(bow, skew))
