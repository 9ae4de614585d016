"""The virtual screen that the tests of the session's windows use serves the form window too."""

from tests.projector.session.conftest import virtual_screen

__all__ = ["virtual_screen"]
