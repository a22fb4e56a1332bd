"""A key pressed for the person: what a click or a touch on a word of the key line does."""

from typing import Any

from textual import events
from textual.app import App


def press(app: App[Any], key: str) -> None:
    """Post a key to the app as if it had been pressed."""
    app.post_message(events.Key(key, key if len(key) == 1 else None))
