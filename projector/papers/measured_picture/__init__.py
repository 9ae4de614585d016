"""A photograph with what was measured drawn on it, so that a person can see whether it is right."""

from projector.papers.measured_picture.sheet import measured_picture

__all__ = ["measured_picture"]
