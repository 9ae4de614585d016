"""The cut sheet and the top tags: what is pinned above the table and to the cloth."""
