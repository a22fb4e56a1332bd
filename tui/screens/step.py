"""One step on the screen: place, warnings, action, why, values, verdict, keys. It reports what the person did."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from textual.message import Message

from engine.view.models import EntryRow, Preview, StepView, VerdictView
from tui.awaited import Awaited, awaited, row_asked, works
from tui.draw.caret import caret_lines
from tui.draw.keyline import Hint, hint
from tui.draw.listed import listed
from tui.draw.pages import Room
from tui.draw.pin_map import map_lines
from tui.draw.step import asked_block, place_lines, step_blocks
from tui.draw.step_parts import first_letters, stop_lines, verdict_lines
from tui.draw.zones import zone_block
from tui.keys import STEP, bindings
from tui.lines import Block, Line, piece, wrap
from tui.screens.page import say
from tui.screens.wishing import WishScreen

Previewer = Callable[[str, str], Preview]
"""Tells what a text would become as a value: the entry's id and the text in, echo or problem and verdicts out."""

BESIDE_MAP = 9
"""Rows kept beside the drawing of a pin map: place, what is asked, the entry, the echo, a verdict, keys."""

_USUAL = frozenset({"done", "through", "goto"})
"""Commands that stand first on the key line, by what the step waits for."""
HELP = """One step, one action. Do what stands after the place line, then say so.
A plain step ends with Enter or Space. A value is typed with digits, point and sign, then Enter.
Several values in one line are parted by a semicolon: 24.9; 23.8; 52.
Words that are offered are taken by Enter alone; Up brings them into the line to be changed.
While you type every letter is text: Escape opens the line of commands, function keys work at any time.
A hold point opens by its evidence alone; then g goes through, Enter does not.
To read it from further away, make the terminal's letters larger: 40 columns are enough.
r does a step again, or mends what it found: the whole way is shown before it begins.
A long silence asks for one reading where hands go; the word left says that nobody stayed with it.
STOP fills the screen when a value can hurt; nothing else is asked before your hands are away.
Everything that is said to be recorded is on the disk."""


class StepScreen(WishScreen):
    """Shows one step and reports what the person typed and pressed. It decides nothing."""

    BINDINGS = bindings(STEP)
    AREAS = ("step", "page")

    @dataclass
    class Entered(Message):
        """A value was confirmed. Nothing has been checked yet."""

        entry: str
        text: str

    @dataclass
    class SeveralEntered(Message):
        """Several values were confirmed in one line."""

        step: str
        text: str

    @dataclass
    class PartSeen(Message):
        """A part was said to be on the wire."""

        step: str
        part: str

    @dataclass
    class Confirmed(Message):
        """The step was said to be done, or its hold point gone through."""

        step: str

    def __init__(self, view: StepView, previewer: Previewer | None = None) -> None:
        super().__init__()
        self._previewer = previewer
        self.view = view
        self._preview = Preview()
        self._message = ""
        self._column: int | None = None
        self._said = ""
        self.reported = False
        self.goto = ""

    # Down: what the app shows here

    def show_step(self, view: StepView, said: str = "") -> None:
        """Show a step, from its first page if it is another one than before.

        Text typed meanwhile stays: it was typed after the last report, or another screen only stood in front.
        """
        before, asked = self.view, self.asked
        self.view = view
        if view.id != before.id:
            self.page, self.read_to_end = 0, False
        else:
            self.to_asked = True
        if not self.reported and (view.id != before.id or self.asked != asked):
            self.entry.start()
        self.bar_open = self.reported = False
        self._preview, self._message, self.goto, self._said, self._column = Preview(), "", "", said, None
        self.refill()
        if self.entry.value:
            self.changed(self.entry.value)

    def show_preview(self, preview: Preview) -> None:
        """Show what the text would become."""
        self._preview, self._message, self._said, self._column = preview, "", "", None
        self.refill()

    def show_problem(self, sentence: str) -> None:
        """Say what is wrong with something else than the step."""
        self.show_refusal(sentence)

    def show_refusal(self, sentence: str, step: str = "", text: str = "", column: int | None = None) -> None:
        """Say why nothing was recorded: the text comes back for editing, a caret under its fault.

        One key goes to the step that is named.
        """
        self._message, self.goto = sentence, step if step != self.view.id else ""
        self._column = column if text else None
        self._preview, self._said, self.reported = Preview(), "", False
        if text:
            self.entry.start(text)
        self.refill()

    # What is shown

    @property
    def awaited(self) -> Awaited:
        """What the step waits for."""
        return awaited(self.view)

    @property
    def asked(self) -> EntryRow | None:
        """The value that is asked for now."""
        return row_asked(self.view)

    def place(self, room: Room, page: str) -> list[Line]:
        """Return the place line."""
        return place_lines(self.view, room, page)

    def blocks(self, room: Room) -> list[Block]:
        """Return the step in reading order."""
        return step_blocks(self.view, room, self.asked.id if self.asked else "")

    def extras(self, room: Room) -> list[Block]:
        """Return the map of zones, and what is left to do, by name."""
        width = room.measure
        return [zone_block(self.view.zones, width), listed("Left to do", self.view.left_to_do, width)]

    def short_blocks(self, room: Room) -> list[Block]:
        """Return the value asked for."""
        return [asked_block(self.view, room, self.asked.id if self.asked else "")]

    def said(self, room: Room) -> list[Line]:
        """Return the message, or the echo and the verdict of what is typed."""
        if self._message:
            return [*self._caret(self._column, room), *say(self._message, room)]
        return self._previewed(room) if self.wants_entry() and self.entry.value else []

    def said_softly(self, room: Room) -> list[Line]:
        """Return that something was recorded, for where there is room."""
        return say(self._said, room, "pass") if self._said else []

    def wants_entry(self) -> bool:
        """True while a value is typed."""
        return self.awaited is Awaited.TYPED

    def edge(self) -> str:
        """A hold point has a bar along its left side."""
        return "hold" if self.view.hold else ""

    def help_text(self) -> str:
        """Return the help of a step."""
        return HELP

    def unsay(self) -> None:
        """Drop that something was recorded: nothing is said of the next command before it is on the disk."""
        self._said = ""

    def hush(self) -> None:
        """Drop the message."""
        self._message = ""

    def hints(self) -> list[Hint]:
        """Return the keys that work now, the usual one first."""
        first = self._first_hints()
        if self.read_to_end and self.page + 1 < self.page_count:
            first.append(Hint("pagedown", "more", "page.next"))
        rest = [hint(key) for key in STEP if key.action not in _USUAL and works(key.action, self.view, self.goto)]
        if self.bar_open:
            return [*rest, Hint("escape", "go on")]
        if self.awaited in {Awaited.TYPED, Awaited.CHOICE}:
            return [*first, Hint("escape", "commands"), Hint("f1", "help"), *self._line_hint()]
        shown = {each.id for each in first}
        return [*first, *(each for each in rest if each.id not in shown), Hint("h", "help")]

    def answers(self) -> list[tuple[str, str]]:
        """Return the choices, or the parts that are not on the wire yet."""
        if self.awaited is Awaited.CHOICE and self.asked is not None:
            return [(str(number), words) for number, words in enumerate(self.asked.choices, start=1)]
        return [(str(n), part.name) for n, part in enumerate(self.view.parts, start=1) if not part.seen]

    def offers(self, action: str) -> bool:
        """Enter is offered where it ends the step."""
        if action == "done":
            return self.awaited in {Awaited.PLAIN, Awaited.DONE}
        if action == "through":
            return self.awaited is Awaited.HOLD
        return super().offers(action)

    def about(self, wish: str) -> tuple[str, str]:
        """Return this step (or the one that a refusal named) and the value asked for."""
        step = self.goto or self.view.shut[0].step if wish == "goto" and (self.goto or self.view.shut) else self.view.id
        return step, self.asked.id if self.asked else ""

    # Keys

    def take_key(self, key: str) -> bool:
        """Take the digits and letters of a list."""
        if self.bar_open or not self.read_to_end:
            return False
        if key == "up" and self._offering():
            self.entry.start(self.asked.offer if self.asked else "")
            self.changed(self.entry.value)
            return True
        if self.awaited is Awaited.CHOICE:
            return self._take_choice(key)
        return self.awaited is Awaited.PARTS and self._take_part(key)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Tell whether a command can work now."""
        if action in {key.action for key in STEP}:
            return works(action, self.view, self.goto)
        return True

    def action_done(self) -> None:
        """Enter or Space: read on, or say that the step is done, or hear what is still wanted."""
        if self.read_on():
            return
        match self.awaited:
            case Awaited.PLAIN:
                self._report(self.Confirmed(self.view.id))
            case Awaited.DONE:
                self.wish("forward")
            case Awaited.HOLD:
                self.show_refusal("This is a hold point. Its evidence is there: press g to go through.")
            case Awaited.SHUT:
                self.show_refusal(
                    self.view.shut[0].sentence if self.view.shut else self.view.wants, self.view.shut[0].step
                )
            case _:
                self.show_refusal(self.view.wants)

    def action_through(self) -> None:
        """Go through an open hold point, once it was read to its end; of one that is shut, say what it wants."""
        if self.awaited is not Awaited.HOLD:
            self.show_refusal(self.view.wants)
        elif not self.read_on():
            self._report(self.Confirmed(self.view.id))

    def submitted(self, text: str) -> None:
        """Report a value, or several."""
        asked = self.asked
        if asked is None:
            return
        if not text.strip():
            if self.read_on():
                return
            if asked.offer:
                self._report(self.Entered(asked.id, asked.offer))
            else:
                self.show_refusal(self.view.wants)
            return
        if ";" in text and asked.unit != "words":
            self._report(self.SeveralEntered(self.view.id, text))
        else:
            self._report(self.Entered(asked.id, text))

    def changed(self, text: str) -> None:
        """Show what the text would become, in the same frame as the text."""
        if self.asked is not None:
            self.to_asked = True
            self.show_preview(self._previewer(self.asked.id, text) if self._previewer and text else Preview())

    # Helpers

    def _report(self, message: Message) -> None:
        """Report what the person did, once: until the answer comes, nothing else is reported."""
        if self.reported:
            return
        self.reported = True
        self.entry.start()
        self._preview = Preview()
        self.unsay()
        self.refill()
        self.post_message(message)

    def _take_choice(self, key: str) -> bool:
        if self.asked is None:
            return False
        choices = self.asked.choices
        letters = {letter: choice for choice, letter in first_letters(choices).items()}
        if key.isdigit() and 0 < int(key) <= len(choices):
            self._report(self.Entered(self.asked.id, choices[int(key) - 1]))
            return True
        if key.lower() in letters:
            self._report(self.Entered(self.asked.id, letters[key.lower()]))
            return True
        if len(key) == 1 and key.isalpha():
            self.show_refusal("That letter is no answer here. Escape opens the commands.")
            return True
        return False

    def _take_part(self, key: str) -> bool:
        if not (key.isdigit() and 0 < int(key) <= len(self.view.parts)):
            return False
        self._report(self.PartSeen(self.view.id, self.view.parts[int(key) - 1].id))
        return True

    def _first_hints(self) -> list[Hint]:
        if not self.read_to_end:
            return [Hint("enter", f"read on {self.page + 1}/{self.page_count}")]
        goto = [Hint("t", "take me there", "step.goto")] if works("goto", self.view, self.goto) else []
        words = {
            Awaited.PLAIN: Hint("enter", "done", "step.done"),
            Awaited.DONE: Hint("enter", "forward", "step.done"),
            Awaited.TYPED: Hint("enter", "take the value"),
            Awaited.HOLD: Hint("g", "go through", "step.through"),
        }
        if self.view.gone:
            return [*(hint(key) for key in STEP if key.action == "redo"), words[Awaited.DONE]]
        if self.awaited is Awaited.STUCK:
            ways = ("accept", "deviate", "redo")
            return [*goto, *(hint(key) for way in ways for key in STEP if key.action == way and works(way, self.view))]
        counted = {Awaited.CHOICE: len(self.asked.choices) if self.asked else 0, Awaited.PARTS: len(self.view.parts)}
        if self.awaited in counted:
            return [
                Hint(f"1-{counted[self.awaited]}", "answer" if self.awaited is Awaited.CHOICE else "on the wire"),
                *goto,
            ]
        return [*goto, words[self.awaited]] if self.awaited in words else goto

    def _line_hint(self) -> list[Hint]:
        """Say what the entry line takes besides a value: a next one on the same line, or the words offered."""
        if self._offering():
            return [Hint("up", "change these words")]
        if any(verdict.needs == "evidence" for verdict in self.view.verdicts):
            return [Hint("f7", "redo or mend")]
        later = sum(row.state == "open" for row in self.view.rows) > 1
        is_number = self.awaited is Awaited.TYPED and self.asked is not None and self.asked.unit != "words"
        return [Hint(";", "and the next value")] if later and is_number else []

    def _offering(self) -> bool:
        """True if words are offered, and none of one's own stand on the entry line."""
        typing = self.awaited is Awaited.TYPED and self.read_to_end and not self.entry.value
        return typing and self.asked is not None and bool(self.asked.offer)

    def _previewed(self, room: Room) -> list[Line]:
        shown = self._preview
        if shown.problem:
            return [*self._caret(shown.column, room), *say(shown.problem, room)]
        lines = wrap([piece(shown.echo, "value")], room.measure, piece("= ", "value")) if shown.echo else []
        if shown.question:
            lines += say(shown.question, room)
        if shown.map is not None:
            lines += map_lines(shown.map, room.measure, room.height - BESIDE_MAP)
        lines += stop_lines(shown.verdicts, room.measure)
        return lines + [one for each in shown.verdicts for one in verdict_lines(_while_typed(each), room.measure)]

    def _caret(self, column: int | None, room: Room) -> list[Line]:
        return caret_lines(self.entry.value, column, self.entry_width(room))


def _while_typed(verdict: VerdictView) -> VerdictView:
    """Return a verdict as it is shown while it is typed: of one that hurts, what the hands do now is said before."""
    return replace(verdict, remedy="") if verdict.hands else verdict
