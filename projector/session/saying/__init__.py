"""What is said and heard at the table: words, where they fit in the light, sounds."""
