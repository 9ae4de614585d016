"""Questions of the form that are no keys of the job: their answers bring keys in and take them out."""

from __future__ import annotations

from jobs.model.problems import Path
from projector.page.form.conditions import HOW, RULE, has, how, patterned, rule, uneven
from projector.page.form.field import Choice, Switch
from projector.page.form.key_fields import YES_NO
from projector.page.form.values import Values


def _is_patterned(values: Values, group: Path) -> str:
    return "yes" if values.is_patterned(group) else "no"


STRIPS = Switch(
    "strips",
    "The two selvedges",
    "Embroidered cloth often has a wider one; the near side is the one before you, the first end at your left.",
    (Choice("alike", "as wide as each other"), Choice("unlike", "one is wider")),
    lambda values, group: "unlike" if uneven(values, group, "selvedge") else "alike",
    {"alike": ((("selvedge",), '""'),), "unlike": ((("selvedge", "near"), '""'), (("selvedge", "far"), '""'))},
)
PATTERNED = Switch(
    "patterned",
    "Must the print meet from panel to panel?",
    "No for plain cloth, and for a print so small or wild that nothing needs to meet.",
    (Choice("yes", "yes, it is patterned"), Choice("no", "no, it is plain")),
    _is_patterned,
    {"yes": ((("repeat", "along"), '""'),), "no": ()},
)
WIDTH = Switch(
    HOW,
    "Its width",
    "One length of cloth from selvedge to selvedge is a cut.",
    (Choice("cuts", "I say how many cuts"), Choice("rod", "worked out from the rod")),
    how,
    {
        "cuts": ((("cuts_per_panel",), "1"),),
        "rod": ((("rod",), '""'), (("returns",), "0"), (("overlap",), "0"), (("fullness",), "2")),
    },
)
ROWS = Switch(
    RULE,
    "A row of the print stands",
    "A whole motif at the foot shows most; rows level from window to window show in a room with several.",
    (
        Choice("below_top", "below the top"),
        Choice("above_foot", "above the foot"),
        Choice("level_with", "level with another window"),
    ),
    rule,
    {
        "below_top": ((("row", "below_top"), "0"),),
        "above_foot": ((("row", "above_foot"), "0"),),
        "level_with": ((("row", "level_with"), '""'),),
    },
    when=patterned,
)
OWN = Switch(
    "own allowances",
    "Are its turnings others than in the rest of the job?",
    "Its heading, hem or side hem.",
    YES_NO,
    has("allowances"),
    {"yes": ((("allowances", "hem"), '""'),), "no": ()},
)
LINED = Switch(
    "lined",
    "Is it lined?",
    "From a cloth of its own, which stands under More cloths, or from the same.",
    YES_NO,
    has("lining"),
    {"yes": ((("lining", "cloth"), '""'),), "no": ()},
)
INTERLINED = Switch(
    "interlined",
    "Is it interlined?",
    "What lies between face and lining.",
    YES_NO,
    has("interlining"),
    {"yes": ((("interlining", "cloth"), '""'),), "no": ()},
)
TIED_BACK = Switch(
    "tied back",
    "Has it tie-backs?",
    "One for each panel, from any of the cloths.",
    YES_NO,
    has("tie_backs"),
    {"yes": ((("tie_backs", "length"), '""'), (("tie_backs", "width"), '""')), "no": ()},
)
