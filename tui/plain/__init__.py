"""The plain face: the same words in the same order, one line after another, with no escape code and no cursor."""
