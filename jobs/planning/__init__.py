"""From a job to a plan: cuts laid on its pieces, the stops at the table, what is cut already, what would need less."""
