"""The session: events, the state folded from them, what a command may do, and the journal on disk."""
