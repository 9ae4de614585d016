"""A virtual projector, table and cloth whose truth is known: the demo and the test bench."""
