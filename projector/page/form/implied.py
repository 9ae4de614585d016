"""How the print mirrors where a plane group says it: shown as chosen, though no key of its own says so."""

from __future__ import annotations

from jobs.model.choices import Symmetry
from jobs.model.groups import Setting, group_name, settings_that_fit
from jobs.model.problems import Path
from projector.page.form.values import Values

KEYS = ("top_to_bottom", "side_to_side", "half_turn")
_TURNS = {"yes": True, "no": False}


def told_or_implied(values: Values, path: Path) -> str:
    """What the file says at the path; for a mirror or half-turn left out, what its plane group leaves no doubt of."""
    said = values.told(path)
    if said or path[-2:-1] != ("print",) or path[-1] not in KEYS:
        return said
    words = {_words(setting)[str(path[-1])] for setting in _settings(values, path[:-1])}
    return words.pop() if len(words) == 1 else ""


def _settings(values: Values, sheet: Path) -> tuple[Setting, ...]:
    """The ways the group may lie, with what the file says besides."""
    top, side, turn = (values.text((*sheet, key)).strip() for key in KEYS)
    group = group_name(values.text((*sheet, "group")))
    known = {one.value: one for one in Symmetry}
    if group is None or top not in ("", *known) or side not in ("", *known) or turn not in ("", *_TURNS):
        return ()
    return settings_that_fit(group, known.get(top), known.get(side), _TURNS.get(turn))


def _words(setting: Setting) -> dict[str, str]:
    half_turn = "yes" if setting.half_turn else "no"
    return dict(zip(KEYS, (setting.top_to_bottom.value, setting.side_to_side.value, half_turn), strict=True))
