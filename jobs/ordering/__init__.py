"""How much cloth to buy, with the arithmetic as sentences."""

from jobs.ordering.guaranteed import guaranteed_length
from jobs.ordering.order import Order, handbook_length, order

__all__ = ["Order", "guaranteed_length", "handbook_length", "order"]
