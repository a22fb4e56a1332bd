"""Reviewing: audit one log, sum up many, the page to print, export. Logs are only ever read."""
