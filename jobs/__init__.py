"""What is to be cut: lengths, job files, cutting arithmetic, order and plan. Exact fractions of an inch throughout."""
