"""Laying the cloth at the table: its keys, its words, its light, and the plan with the repeat as measured."""
