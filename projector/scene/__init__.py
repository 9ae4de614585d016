"""What is lit for a stop, as data in table inches."""
