"""The print as it really lies under the light: the map from the piece as planned to the table."""
