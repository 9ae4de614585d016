"""From how many sides of the table a photograph may be taken."""

SIDES = 8
"""Places to stand: from the table's right end on, counter-clockwise, in eighths of a turn."""

TESTED = 5
"""Of fewer photographs there are about as many numbers as equations: one of another light may go unseen."""
