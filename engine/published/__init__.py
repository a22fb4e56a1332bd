"""The printed tables and the rule profiles, as TOML with their sources, and one reader."""
