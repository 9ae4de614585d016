"""Windows on screens: the only rooms that know pygame are in here and in ``projector.session.window``."""
