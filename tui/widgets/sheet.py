"""A sheet of lines over the whole window, drawn line by line without a layout: a change is on the screen at once."""

from collections.abc import Sequence

from rich.cells import cell_len
from rich.segment import Segment
from textual import events
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from tui.lines import EMPTY, Line
from tui.theme import look_styles
from tui.widgets.press import press


class Sheet(Widget):
    """Shows lines of text. It never scrolls and never wraps: whoever fills it has counted the room."""

    ALLOW_SELECT = False

    def __init__(self) -> None:
        super().__init__(id="sheet")
        self._lines: tuple[Line, ...] = ()

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines that are shown."""
        return self._lines

    def show(self, lines: Sequence[Line]) -> None:
        """Show these lines; only those that are new are drawn again."""
        before, self._lines = self._lines, tuple(lines)
        rows = range(max(len(before), len(self._lines)))
        changed = [row for row in rows if before[row : row + 1] != self._lines[row : row + 1]]
        if changed:
            self.refresh(*(Region(0, row, self.size.width, 1) for row in changed))

    def render_line(self, y: int) -> Strip:
        """Draw one line."""
        line = self._lines[y] if y < len(self._lines) else EMPTY
        styles = look_styles(self.app.theme)
        fill = styles[line.fill]
        if line.edge:
            segments = [Segment(" ", styles[line.edge]), Segment(" " * (line.margin - 1), fill)]
        else:
            segments = [Segment(" " * line.margin, fill)]
        segments += [Segment(each.text, styles[each.look]) for each in line.pieces]
        return Strip(segments).adjust_cell_length(self.size.width, fill)

    def on_click(self, event: events.Click) -> None:
        """A click or touch on a word or line that stands for a key presses that key."""
        if event.y < len(self._lines) and (key := _key_at(self._lines[event.y], event.x)):
            event.stop()
            press(self.app, key)


def _key_at(line: Line, column: int) -> str:
    at = line.margin
    for each in line.pieces:
        at += cell_len(each.text)
        if column < at:
            return each.key or line.key
    return line.key
