"""One screen a file: what is shown, which keys work, what is reported."""
