"""The engine: arithmetic, rules, procedures, sessions and reviews. It knows no screen."""

__version__ = "0.1.0"
