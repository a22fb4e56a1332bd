"""The commands, one a file: each has ``add`` (its options and help) and ``run`` (exit status 0, 1 or 2)."""
