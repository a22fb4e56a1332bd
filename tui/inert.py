"""Text from files and people made harmless for a terminal."""

from engine.inert import KEPT, MOST_MARKS, inert, one_line

__all__ = ["KEPT", "MOST_MARKS", "inert", "one_line"]
