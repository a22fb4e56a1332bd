"""The terminal: the three faces that show the engine's view-models and send its commands."""
