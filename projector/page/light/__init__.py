"""The light as a process of its own: what it shares with the page, and how the page finds and asks it."""
