"""What a terminal shows: the bytes that a full-screen program wrote, put where they belong. Colours are left out."""

import re
from codecs import getincrementaldecoder

_PIECE = re.compile(
    r"\x1b\[([0-?]*)[ -/]*([@-~])"  # a sequence with numbers
    r"|\x1b[P_\]^].*?(?:\x1b\\|\x07)"  # a sequence with a text
    r"|\x1b[()].|\x1b[^\[P_\]^()]|[\r\n\b]|[^\x1b\r\n\b]+",
    re.DOTALL,
)


class Grid:
    """The cells of a screen. ``feed`` it what was written; a sequence that is cut short waits for its rest."""

    def __init__(self, width: int, height: int) -> None:
        self.cells = [[" "] * width for _ in range(height)]
        self.row = self.column = 0
        self._text = getincrementaldecoder("utf-8")("replace")
        self._rest = ""

    def feed(self, data: bytes) -> None:
        """Put what was written where it belongs."""
        text, at = self._rest + self._text.decode(data), 0
        for piece in _PIECE.finditer(text):
            if piece.start() != at:
                break
            at = piece.end()
            self._put(piece[0], piece[1], piece[2])
        self._rest = text[at:]

    def _put(self, piece: str, numbers: str | None, letter: str | None) -> None:
        if letter == "H":
            row, _, column = (numbers or "1;1").partition(";")
            self.row, self.column = int(row or 1) - 1, int(column or 1) - 1
        elif letter == "J":
            self.cells = [[" "] * len(row) for row in self.cells]
        elif piece == "\r":
            self.column = 0
        elif piece == "\n":
            self.row += 1
        elif not piece.startswith(("\x1b", "\b")):
            self._write(piece)

    def _write(self, text: str) -> None:
        for sign in text:
            if self.row < len(self.cells) and self.column < len(self.cells[0]):
                self.cells[self.row][self.column] = sign
            self.column += 1

    @property
    def lines(self) -> list[str]:
        """The lines that show anything, without the spaces around them."""
        return [line for row in self.cells if (line := "".join(row).strip())]
