"""What a plane group says of a print: half-turn and mirror lines, warp vertical.

After the 17 plane groups of the International Tables for Crystallography, vol. A. Several groups can be set on the
cloth in two ways; then one of the two mirror keys says which.
"""

from __future__ import annotations

from jobs.model.choices import Symmetry
from jobs.model.records import dataclass

NONE, MIRROR, GLIDE = Symmetry.NONE, Symmetry.MIRROR, Symmetry.GLIDE


@dataclass(frozen=True)
class Setting:
    """One way a group can be set on the cloth."""

    top_to_bottom: Symmetry
    side_to_side: Symmetry
    half_turn: bool


def _settings(half_turn: bool, first: Symmetry, second: Symmetry) -> tuple[Setting, ...]:
    one = Setting(first, second, half_turn)
    return (one,) if first is second else (one, Setting(second, first, half_turn))


GROUPS: dict[str, tuple[Setting, ...]] = {
    "p1": _settings(False, NONE, NONE),
    "p2": _settings(True, NONE, NONE),
    "pm": _settings(False, MIRROR, NONE),
    "pg": _settings(False, GLIDE, NONE),
    "cm": _settings(False, MIRROR, NONE),
    "pmm": _settings(True, MIRROR, MIRROR),
    "pmg": _settings(True, GLIDE, MIRROR),
    "pgg": _settings(True, GLIDE, GLIDE),
    "cmm": _settings(True, MIRROR, MIRROR),
    "p4": _settings(True, NONE, NONE),
    "p4m": _settings(True, MIRROR, MIRROR),
    "p4g": _settings(True, GLIDE, GLIDE),
    "p3": _settings(False, NONE, NONE),
    "p3m1": _settings(False, MIRROR, NONE),
    "p31m": _settings(False, MIRROR, NONE),
    "p6": _settings(True, NONE, NONE),
    "p6m": _settings(True, MIRROR, MIRROR),
}

_FULL_NAMES = {
    "p2mm": "pmm",
    "p2mg": "pmg",
    "p2gg": "pgg",
    "c2mm": "cmm",
    "p4mm": "p4m",
    "p4gm": "p4g",
    "p6mm": "p6m",
}


def group_name(written: str) -> str | None:
    """The short name of a plane group, or None when there is no such group."""
    name = written.strip().casefold()
    name = _FULL_NAMES.get(name, name)
    return name if name in GROUPS else None


def settings_that_fit(
    group: str, top_to_bottom: Symmetry | None, side_to_side: Symmetry | None, half_turn: bool | None
) -> tuple[Setting, ...]:
    """The settings of the group that agree with what else is stated (None: not stated)."""
    return tuple(
        setting
        for setting in GROUPS[group]
        if half_turn in (None, setting.half_turn)
        and _agrees(group, top_to_bottom, setting.top_to_bottom)
        and _agrees(group, side_to_side, setting.side_to_side)
    )


def _agrees(group: str, stated: Symmetry | None, there: Symmetry) -> bool:
    # Between the mirror lines of cm and cmm run glide lines: who states the glide states a truth.
    return stated in (None, there) or (stated is GLIDE and there is MIRROR and group in ("cm", "cmm"))
