"""What the keys of a cloth mean only where it is run sideways, or cannot mean there."""

from __future__ import annotations

from jobs.job import Cloth, End, Run
from jobs.reading.fields import Fields


def check_run(fields: Fields, cloth: Cloth) -> None:
    """Refuse what has no meaning for the way the cloth is run."""
    if not fields.sound("run"):
        return
    if cloth.run is Run.UP and cloth.shrinkage_across:
        what = "what is lost across counts only where the height of the panels lies across the cloth"
        fields.refuse("shrinkage_across", what, "leave it out, or write `run: sideways` as well")
    if cloth.run is Run.SIDEWAYS and fields.sound("print") and cloth.print.top_towards is End.LAST:
        what = "where the cloth is run sideways the tops of the motifs point to a selvedge, not to an end"
        advice = "leave `top_towards` out, and lay the cloth with the tops at the far selvedge"
        fields.refuse("print", what, advice)
