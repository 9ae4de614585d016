"""Tests of the ways to lay cuts."""
