"""Another unit for the numbers of a job: kept as they were typed, or every length as long as before."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable

from jobs.io.editing import Edit, edited
from jobs.model.choices import Unit
from projector.desk.window.dialogs import choose
from projector.desk.window.look import Look
from projector.page.form.document import Aside
from projector.page.form.units import in_unit
from projector.page.form.values import Values

NAMES = {"in": "inches", "cm": "centimetres", "mm": "millimetres"}


def ask_about_units(root: tk.Misc, look: Look, values: Values, word: str) -> Callable[[str, Aside], str] | None:
    """What to do with the text when another unit was chosen; None to leave all as it is."""
    if word == values.unit.value:
        return None
    before, after = NAMES[values.unit.value], NAMES[word]
    said = choose(
        root,
        look,
        f"From {before} to {after}",
        [f"The numbers of this job were typed in {before}. What shall become of them?"],
        [("convert", "Keep every length as it is"), ("keep", "Keep the numbers"), ("", "Cancel")],
    )
    if said == "convert":
        return lambda text, _: in_unit(text, Unit(word))
    if said == "keep":
        return lambda text, _: edited(text, [Edit(("units",), word, ("job",))])
    return None
