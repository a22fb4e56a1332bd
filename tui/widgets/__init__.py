"""Widgets that several screens share, one a file."""
