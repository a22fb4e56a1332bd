"""The procedure: the TOML model, its loader and linter, and the limits written in it."""
