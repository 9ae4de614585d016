"""How much cloth to buy."""

from jobs.ordering.assuming import (
    Assumed,
    across_needed,
    assumed,
    assumed_to_order,
    open_problems,
    still_possible,
    written,
)
from jobs.ordering.guaranteed import guaranteed_length
from jobs.ordering.order import Order, if_longer, order
from jobs.ordering.splitting import handbook_length

__all__ = [
    "Assumed",
    "Order",
    "across_needed",
    "assumed",
    "assumed_to_order",
    "guaranteed_length",
    "handbook_length",
    "if_longer",
    "open_problems",
    "order",
    "still_possible",
    "written",
]
