"""Laying cuts on pieces: placing, the shortest order and its proof, leftovers."""
