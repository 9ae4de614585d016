"""One key pressed: the next session, and what must be recorded before it is shown."""
