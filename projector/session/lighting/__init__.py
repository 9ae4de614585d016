"""What a session lights: the scene of its stop, its pages, its colours."""
