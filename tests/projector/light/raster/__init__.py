"""Tests of lines and outlines as pixels."""
