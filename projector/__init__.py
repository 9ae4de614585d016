"""Light: what is lit for a stop, how it is drawn, the session at the table, the simulated table and the commands."""
