"""The command palette: every action of the present screen as "area: action", only while it can work."""

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

from rich.text import Text
from textual.command import DiscoveryHit, Hit, Hits, Provider

from tui.inert import one_line
from tui.keys import ALL, Key, shown
from tui.screens.page import PageScreen

if TYPE_CHECKING:
    from textual.app import App


class Actions(Provider):
    """Offers what the screen's keys do, and the answers that its digits give.

    The names are handed over as Text objects: a plain string would be read as markup.
    """

    async def discover(self) -> Hits:
        """Offer everything that can work now."""
        for name, text, callback in self._offers():
            yield DiscoveryHit(Text(name), callback, text=name, help=text)

    async def search(self, query: str) -> Hits:
        """Offer what matches."""
        matcher = self.matcher(query)
        for name, text, callback in self._offers():
            if (score := matcher.match(name)) > 0:
                yield Hit(score, Text(name), callback, text=name, help=text)

    def _offers(self) -> Iterator[tuple[str, str, Any]]:
        screen = self.screen
        if isinstance(screen, PageScreen):
            for digit, words in screen.answers():
                yield f"answer: {one_line(words)}", f"The same as the key {digit}.", partial(screen.take_key, digit)
        for key in ALL:
            if (callback := _callback(self.app, screen, key)) is not None:
                yield f"{key.area}: {key.word}", f"{key.tooltip} Key: {shown(key.keys.split(',')[0])}", callback


def _callback(app: "App[Any]", screen: Any, key: Key) -> Any:  # noqa: ANN401  (a screen of any kind, an action's callback)
    """Return what carries out a key's action on this screen, or None if it cannot work now."""
    if key.area not in {"app", *getattr(screen, "AREAS", ())}:
        return None
    name = key.action.removeprefix("app.")
    owner = screen if hasattr(screen, f"action_{name}") and key.area != "app" else app
    if not hasattr(owner, f"action_{name}") or owner.check_action(name, ()) is not True:
        return None
    if isinstance(screen, PageScreen) and not screen.offers(name):
        return None
    return getattr(owner, f"action_{name}")
