"""A sheet of lines: drawn line by line without a layout, so that a change is on the screen at once."""

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from tui.lines import EMPTY, Line
from tui.theme import LOOKS
from tui.widgets.press import press


class Sheet(Widget):
    """Shows lines of text. It never scrolls and never wraps: whoever fills it has counted the room."""

    COMPONENT_CLASSES = {f"sheet--{look}" for look in LOOKS}  # noqa: RUF012  (the library's own form)
    ALLOW_SELECT = False

    def __init__(self, *, id: str, margin: int = 2, look: str = "plain") -> None:
        super().__init__(id=id)
        self._lines: tuple[Line, ...] = ()
        self._margin = margin
        self._edge = ""
        self._look = look

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines that are shown."""
        return self._lines

    def show(self, lines: "list[Line] | tuple[Line, ...]", edge: str = "") -> None:
        """Show these lines; ``edge`` is the look of the bar along the left side (none if empty)."""
        if (fresh := tuple(lines)) == self._lines and edge == self._edge:
            return
        self._lines, self._edge = fresh, edge
        self.refresh()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Return the number of lines."""
        return len(self._lines)

    def render_line(self, y: int) -> Strip:
        """Draw one line."""
        line = self._lines[y] if y < len(self._lines) else EMPTY
        plain = self._style(self._look)
        segments = [*self._left(plain)]
        segments += [Segment(each.text, self._style(each.look)) for each in line.pieces]
        return Strip(segments).adjust_cell_length(self.size.width, plain)

    def on_click(self, event: events.Click) -> None:
        """A click or touch on a word or line that stands for a key presses that key."""
        if event.y < len(self._lines) and (key := _key_at(self._lines[event.y], event.x - self._margin)):
            event.stop()
            press(self.app, key)

    def _left(self, plain: Style) -> list[Segment]:
        if not self._edge:
            return [Segment(" " * self._margin, plain)]
        return [Segment(" ", self._style(self._edge)), Segment(" " * (self._margin - 1), plain)]

    def _style(self, look: str) -> Style:
        return self.get_component_rich_style(f"sheet--{look}")


def _key_at(line: Line, column: int) -> str:
    at = 0
    for each in line.pieces:
        at += cell_len(each.text)
        if column < at:
            return each.key or line.key
    return line.key
