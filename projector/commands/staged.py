"""A session on the simulated table, in an ordinary window."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy as np
    from numpy.typing import NDArray

    from jobs.plan import Plan, Stop
    from projector.simulated.stage import Stage
    from projector.simulated.view import Picture


def run_on_stage(plan: Plan, stage: Stage) -> None:
    """Run the plan on the simulated table; nothing is recorded. Raises ``NoDisplayError``."""
    from projector.session.run import run_demo
    from projector.simulated.stage import cloth_at
    from projector.simulated.view import Outlook, View

    def eye_at(stop: Stop, size_px: tuple[int, int]) -> Callable[[NDArray[np.uint32]], Picture]:
        outlook = Outlook.over(*stage.table_in, *size_px)
        return View(stage.rig, cloth_at(plan, stop), outlook, stage.table_in).seen

    run_demo(plan, stage.table, eye_at)
