"""A session on the simulated table, in an ordinary window."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy as np
    from numpy.typing import NDArray

    from jobs.model.plan import Plan, Stop
    from projector.session.keys import Keys
    from projector.session.state.state import Session
    from projector.simulated.cloth import AsItLies
    from projector.simulated.stage import Stage
    from projector.simulated.view import Picture


def run_on_stage(
    plan: Plan, stage: Stage, lies: AsItLies | None = None, keys: Keys | None = None, *, sound: bool = False
) -> Session:
    """Run the plan on the simulated table; nothing is recorded. Raises ``NoDisplayError``.

    ``lies`` is how the cloth really lies (None: exactly as planned).
    """
    from projector.session.keys import DEFAULT_KEYS
    from projector.session.run import run_demo
    from projector.simulated.stage import cloth_at
    from projector.simulated.view import Outlook, View

    def eye_at(stop: Stop, size_px: tuple[int, int]) -> Callable[[NDArray[np.uint32]], Picture]:
        outlook = Outlook.over(*stage.table_in, *size_px)
        return View(stage.rig, cloth_at(plan, stop, lies), outlook, stage.table_in).seen

    def place_of(pixel: tuple[int, int], size_px: tuple[int, int]) -> tuple[float, float]:
        outlook = Outlook.over(*stage.table_in, *size_px)
        x = outlook.left + (pixel[0] + 0.5) / outlook.px_per_in
        return x, outlook.near + (outlook.height_px - pixel[1] - 0.5) / outlook.px_per_in

    return run_demo(plan, stage.table, eye_at, place_of=place_of, keys=keys or DEFAULT_KEYS, sound=sound)


def match_lines(plan: Plan, session: Session, lies: AsItLies | None) -> list[str]:
    """How well each pair that was cut matches, for the person: the truth of the simulated cloth is known."""
    from calibration.words import length
    from projector.simulated.match import matches

    stops = session.stops
    cut_by = {
        cut: (stops[at], fit)
        for cut, at, fit in zip(session.done, session.ticked_at, session.cut_by, strict=True)
        if fit is not None
    }
    return [
        f"{match.window}, cut {match.number} of each panel: the pair matches to within "
        f"{length(match.missed_in, plan.job.unit.value)} over the whole cloth width"
        for match in matches(plan, cut_by, lies)
    ]


def as_it_lies(wanted: bool) -> AsItLies | None:
    """The cloth for those who want to see what laying is for."""
    from projector.simulated.cloth import AsItLies

    return AsItLies() if wanted else None
