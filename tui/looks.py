"""The app's looks: our themes, our sheet, and the size of terminal colours; no engine in here."""

import asyncio
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual.app import App

from tui.keys import APP, bindings
from tui.repeats import Repeats
from tui.theme import DARK, chosen, themes, variables

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual.command import Provider

    from tui.draw.keyline import Hint


def _actions() -> "type[Provider]":
    from tui.palette import Actions  # lazy: not needed before the palette is opened

    return Actions


class Looks(App[Any]):
    """An app in our own looks, with the keys that work everywhere."""

    CSS_PATH = Path(__file__).parent / "base.tcss"
    BINDINGS = bindings(APP)
    TITLE = "Tugtest"
    COMMANDS = {_actions}  # noqa: RUF012  (the library's own form)

    def __init__(self) -> None:
        name = chosen(os.environ)
        super().__init__(ansi_color=True if name == "tugtest-none" else None)
        for theme in themes():
            self.register_theme(theme)
        self.repeats = Repeats(lambda: self.seconds())  # noqa: PLW0108  (the clock is looked up at each press)
        self.set_reactive(App.theme, name)
        self.stylesheet.set_variables(self.get_css_variables())

    def seconds(self) -> float:
        """Return the time by which a double press is told [s]."""
        return asyncio.get_running_loop().time()

    def explain(self, text: str, hints: "Sequence[Hint]") -> None:
        """Show the help of a page: its text, then its keys."""
        from tui.screens.reading import help_screen  # lazy: not needed before somebody asks

        self.push_screen(help_screen(text, hints))

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Return our variables for any theme that does not name them."""
        return variables(DARK)

    def action_looks(self) -> None:
        """Change to the next of our looks."""
        names = [theme.name for theme in themes()]
        self.theme = names[(names.index(self.theme) + 1) % len(names)] if self.theme in names else names[0]
