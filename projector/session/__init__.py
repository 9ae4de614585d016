"""The session at the table: frozen state, one key to the next, what is lit and said, and the windows that show it."""
