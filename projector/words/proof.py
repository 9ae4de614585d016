"""What is known of the layout of a plan, and which pieces nobody need open, in words for every place that tells it."""

from __future__ import annotations

from jobs.model.numbers import counted
from jobs.model.plan import Plan
from projector.words.measures import listed


def proof_words(plan: Plan) -> str:
    """What is proved of a plan that fits, as a clause without its first capital; empty where nothing is."""
    few = len(plan.whole) > 0
    around = " around what you placed" if plan.wished else ""
    hold = f"fewer pieces do not hold the cuts{around}" if few and plan.opened == plan.least_opened else ""
    if not plan.proved_shortest:
        return hold
    of = f" of {counted(plan.opened, 'piece')}" if few else ""
    sharing = ", whatever lies side by side" if plan.resolved.shares and not plan.wished else ""
    return " and ".join(filter(None, [f"{hold}," if hold else "", f"no other order{of}{around} is shorter{sharing}"]))


def whole_words(plan: Plan) -> str:
    """Which pieces stay whole, as one sentence; empty where each is opened."""
    if not plan.whole or plan.assumed_piece:
        return ""
    names = listed([str(number) for number in plan.whole])
    if len(plan.whole) == 1:
        return f"Piece {names} stays whole: take it back unopened."
    return f"Pieces {names} stay whole: take them back unopened."
