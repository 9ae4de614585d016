"""The session at the table as frozen values, and the values it is made of."""
