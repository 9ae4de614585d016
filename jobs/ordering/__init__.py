"""How much cloth to buy."""

from jobs.ordering.assuming import Assumed, assumed, open_problems, still_possible, written
from jobs.ordering.guaranteed import guaranteed_length
from jobs.ordering.order import Order, handbook_length, order

__all__ = [
    "Assumed",
    "Order",
    "assumed",
    "guaranteed_length",
    "handbook_length",
    "open_problems",
    "order",
    "still_possible",
    "written",
]
