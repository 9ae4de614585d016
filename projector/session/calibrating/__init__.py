"""The calibration by hand, and its practice on a simulated table."""
