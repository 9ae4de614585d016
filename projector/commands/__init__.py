"""The command line: one file a command, one error boundary."""
