"""The named checks: bands, profile, sentence and sources around the trade's arithmetic; each gives a Finding."""
