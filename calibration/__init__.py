"""Where things really are: the map between projector pixels and inches on the table."""
