"""The session at the table: a pure state machine, its keys, and the one module that opens windows."""
