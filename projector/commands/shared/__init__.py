"""What several commands need: the error boundary, reading what is given, what is printed."""
