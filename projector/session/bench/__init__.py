"""The bench screen, seen on the laptop beside the table."""
