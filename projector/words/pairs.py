"""Why the panels of a pair lie as they do, and what to look at before they are cut."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.model.choices import Panels, Run
from jobs.model.cuts import Way
from jobs.model.job import Job
from jobs.model.resolved import Pairing, ResolvedJob, WayChoice

SAME_LEADS = "the same selvedge leads in both panels"


BOTH_LEAD_LAST = "both lead with the edge towards the last end"


TURNED_SIDEWAYS = "turned by half a turn, its top at the near selvedge,"


UP: dict[Pairing, str] = {
    Pairing.TURNED: "the print mirrors from top to bottom, so the right panel, turned by half a turn, is the mirror "
    f"image of the left; {SAME_LEADS}",
    Pairing.OWN_IMAGE: "the print mirrors from side to side, so a panel is its own mirror image and both panels lie "
    "upright",
    Pairing.FACE_DOWN: "both faces of the cloth are alike, so the right panel, used face down, is the mirror image of "
    f"the left; {SAME_LEADS}",
    Pairing.OWN_SLID: "the print mirrors from side to side with a slide: the mirror image lies half a repeat further "
    "along. So both panels lie upright and the rows of the right panel are cut half a repeat away from those of the "
    "left: then one is the mirror image of the other",
    Pairing.TURNED_SLID: "the print mirrors from top to bottom with a slide: a turned panel is the mirror image moved "
    "sideways by half a repeat across. So the right panel is turned and begins half a repeat further in from its "
    f"selvedge, and the left panel ends half a repeat earlier: then they mirror; {SAME_LEADS}",
}


SWAPPED: dict[Pairing, str] = {
    Pairing.TURNED: "the print mirrors from top to bottom, so the left panel, turned by half a turn, is the mirror "
    f"image of the right, which shows the print as it lies; {SAME_LEADS}",
    Pairing.FACE_DOWN: "both faces of the cloth are alike, so the left panel, used face down, is the mirror image of "
    f"the right, which shows the print as it lies; {SAME_LEADS}",
}


SIDEWAYS: dict[Pairing, str] = {
    Pairing.OWN_IMAGE: "the print mirrors about a line across the cloth, which hangs upright where the cloth is run "
    "sideways; so both panels have their tops at the far selvedge, and their leading edges lie on mirrored places "
    "along the piece",
    Pairing.TURNED: "the print mirrors about a line along the cloth, which hangs level where the cloth is run "
    f"sideways; so the right panel, {TURNED_SIDEWAYS} is the mirror image of the left; {BOTH_LEAD_LAST}",
    Pairing.FACE_DOWN: "both faces of the cloth are alike, so the right panel, used face down, is the mirror image of "
    f"the left; {BOTH_LEAD_LAST}",
    Pairing.TURNED_SLID: "the print mirrors about a line along the cloth with a slide of half a repeat; so the right "
    f"panel, {TURNED_SIDEWAYS} begins half a repeat further along the print than the left, and is its mirror image",
    Pairing.OWN_SLID: "the print mirrors about a line across the cloth with a slide of half a repeat; so the right "
    "panel is cut half a repeat further up or down across the cloth than the left, and is its mirror image",
}


LOOK_AT_COLUMNS = (
    "the pair mirrors when the two leading edges lie on mirrored columns; at the full width of the cloth that is so "
    "only where the columns are centred between the selvedges and lie on a mirror line: look before the first cut, and "
    "if they do not, write `first_column` and `mirror_offset_across`"
)


LOOK_AT_THE_LINE = (
    "where the turned panel lies across the cloth is worked out for columns that are centred between the selvedges and "
    "lie on a mirror line: look before the first cut, and if they do not, write `first_column` and "
    "`mirror_offset_across`"
)


def pair_words(choice: WayChoice, job: Job) -> tuple[str, str]:
    """Why the panels of a pair lie as they do, and what the person should look at (empty: nothing)."""
    if choice.pairing is Pairing.SAME:
        plain = job.cloth.repeat is None
        why = "the cloth is plain, so both panels lie upright"
        return why if plain else "both panels hang the same way, so both lie upright", ""
    if job.cloth.repeat is None:
        return "the cloth is plain, and one panel is turned or used face down so that its border leads in both", ""
    if choice.first is not Way.UPRIGHT and choice.pairing in SWAPPED:
        return SWAPPED[choice.pairing], LOOK_AT_COLUMNS if choice.columns_guessed else ""
    sideways = job.cloth.run is Run.SIDEWAYS
    look = LOOK_AT_THE_LINE if sideways else LOOK_AT_COLUMNS
    return (SIDEWAYS if sideways else UP)[choice.pairing], look if choice.columns_guessed else ""


def way_lines(resolved: ResolvedJob) -> Iterator[str]:
    """How the panels of each kind of pair lie, once each, with what to look at before cutting."""
    choices = (one.choice for one in resolved.windows if one.window.panels is Panels.PAIR)
    for why, look in dict.fromkeys(pair_words(choice, resolved.job) for choice in choices):
        yield f"Pairs: {why}."
        if look:
            yield f"Look out: {look}."
