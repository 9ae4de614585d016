"""Laying cuts on a piece: where each may start, the shortest order, what no order can beat, what is left over."""
