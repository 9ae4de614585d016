"""The window for everything: a job in a form, its picture and order beside it, and the way to the table."""
