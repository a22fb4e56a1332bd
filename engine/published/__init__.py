"""The printed tables and the rule profiles, as TOML with their sources, and one reader."""

TABLES = "1"
"""Version of the shipped tables, written into every log; raised with every changed figure, old ones stay readable."""
