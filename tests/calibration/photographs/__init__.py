"""Calibration from photographs."""
