"""Every key of the screens in one table: its id, its word, its sentence; and a person's own keys on top of it."""

import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

from textual.binding import Binding, BindingType


class Key(NamedTuple):
    """One thing a key does. ``keys`` are its keys at first (the first is shown), ``id`` names it for good."""

    id: str
    keys: str
    word: str
    action: str
    tooltip: str
    priority: bool = False

    @property
    def area(self) -> str:
        """Where it belongs: the part of its id before the point."""
        return self.id.partition(".")[0]


STEP = (
    Key("step.done", "enter,space", "done", "done", "Say that this step is done, or read on if there is more of it."),
    Key("step.through", "g", "go through", "through", "Go through a hold point that its evidence has opened."),
    Key("step.back", "b,f3", "back", "back", "Look at the step before; nothing is lost."),
    Key("step.note", "n,f2", "note", "note", "Write a note in your own words into the log."),
    Key("step.skip", "m,f4", "not measured", "skip", "Say that the value asked for was not measured, and why."),
    Key("step.sum", "s,f5", "sum", "sum", "Show the sum, the limits and the sources behind each verdict."),
    Key("step.correct", "c,f6", "correct", "correct", "Correct a value that was given earlier, with a reason."),
    Key("step.redo", "r,f7", "redo", "redo", "Do this step again, or mend what it found; you see the way first."),
    Key("step.accept", "a", "accept", "accept", "Accept a verdict that allows it, with a reason."),
    Key(
        "step.deviate", "d", "deviate", "deviate", "Go on past a verdict that did not pass, with a reason and initials."
    ),
    Key("step.goto", "t", "take me there", "goto", "Go to the step that has to be done first."),
    Key("step.where", "e,f11", "where", "where", "Show where power is and where hands may go."),
    Key("step.plan", "p,f8", "plan", "plan", "Show the whole circuit: as found, as planned, and what to change."),
    Key("step.whatif", "w", "what if", "what_if", "Show the same run in other wire sizes, and what to buy."),
    Key("step.volts", "v", "volts", "volts", "Show the volts along the run at full load."),
    Key("step.person", "o", "somebody else", "person", "Let another person go on; you see first what is proved again."),
    Key("step.leave", "l,f9", "leave", "leave", "Leave the job for now, with a line to yourself."),
    Key("step.stop", "x,f10", "stop", "stop", "End the job unfinished, and write down how it is left."),
)
"""Keys of a step. In an entry every printable key is text: Escape opens them, function keys double them."""

PAGE = (
    Key("page.help", "h,f1,question_mark", "help", "help", "Explain this screen and its keys."),
    Key("page.more", "escape", "more", "more", "Open the line of commands, or close it."),
    Key("page.next", "pagedown,down,tab", "read on", "next_page", "Show the next page of a screen that needs several."),
    Key("page.before", "pageup,up,shift+tab", "page back", "page_before", "Show the page before."),
)
"""Keys of every screen."""

READ = (Key("read.on", "enter,space", "read on", "on", "Read on, or go back from the last page."),)
"""Keys of what is only to be read."""

HOME = (
    Key("home.quit", "q", "quit", "app.quit", "Leave the program."),
)  # fmt: skip
"""Keys of the first screen."""

CLOSING = (
    Key("closing.close", "g", "close the job", "close_job", "Close the job; afterwards only dated looks can be added."),
    Key("closing.back", "b,f3", "back", "back", "Look at the last step; nothing is lost."),
    Key("closing.correct", "c,f6", "correct", "correct", "Correct a value that was given earlier, with a reason."),
    Key("closing.note", "n,f2", "note", "note", "Write a note in your own words into the log."),
    Key("closing.leave", "l,f9", "leave", "leave", "Leave the job for now, with a line to yourself."),
    Key("closing.done", "q,enter", "leave", "done_with", "Leave a job that has ended."),
    Key("closing.stop", "x,f10", "stop", "stop", "End the job unfinished, and write down how it is left."),
)
"""Keys of the closing screen."""

RETURN = (
    Key("return.read", "enter,space", "read on", "next_page", "Read on, until all of it was on the screen."),
    Key("return.on", "g", "go on", "go_on", "Go on with the job, after a look at the boat."),
    Key("return.person", "o", "somebody else", "hand_over", "Say that another person goes on with the job."),
    Key("return.quit", "q", "quit", "quit_job", "Leave the program; the job stays as it is."),
)
"""Keys of the screen after a break."""

REVIEW = (
    Key("review.open", "enter", "open", "open_log", "Open the log at the first step with something to look at."),
    Key("review.sort", "s", "sort", "sort", "Sort the logs in another way."),
    Key("review.show", "f", "show", "filter", "Show only some of the logs."),
    Key("review.search", "slash", "search", "search", "Search in names, boats and what is to look at."),
    Key("review.mark", "m", "mark", "mark", "Give a mark and a note; they go to a file of their own."),
    Key("review.accept", "a", "accept clean", "accept", "Accept all clean logs at once."),
    Key("review.names", "n", "names", "names", "Hide names for anonymous marking, or show them again."),
    Key("review.cohort", "c", "cohort", "cohort", "Show which steps go wrong, and how readings spread."),
    Key("review.past", "y", "history", "past", "Show the earlier jobs on the same boat or trailer."),
    Key("review.page", "w", "write page", "page", "Write the log as a page to print or keep."),
    Key("review.quit", "q", "quit", "quit_review", "Leave the review; marks are on the disk already."),
)
"""Keys of the table of logs."""

ASK = (
    Key("ask.agree", "g", "go on", "agree", "Do what was just explained."),
    Key("ask.cancel", "escape", "go back", "cancel", "Go back without changing anything."),
)
"""Keys of the screens that ask for something and hand it back."""

HALT = (Key("halt.away", "a", "my hands are away", "hands_away", "Say that the hands are away; then the job goes on."),)
"""Key of a STOP."""

APP = (
    Key("app.quit", "ctrl+c,ctrl+q", "quit", "quit", "Leave the program; all is on disk.", priority=True),
    Key("app.suspend", "ctrl+z", "suspend", "suspend_process", "Put the program aside; the shell's fg brings it back."),
    Key("app.looks", "f12", "looks", "looks", "Change between dark, light and the terminal's own colours."),
)  # fmt: skip
"""Keys that work everywhere."""

ALL = (*STEP, *PAGE, *READ, *HOME, *CLOSING, *RETURN, *REVIEW, *ASK, *HALT, *APP)


class KeyFileError(ValueError):
    """A key file that cannot be used. Its text is one sentence: where, what is wrong, what would be right."""


def bindings(keys: Iterable[Key]) -> list[BindingType]:
    """Return the keys as the screen library takes them."""
    return [
        Binding(key.keys, key.action, key.word, tooltip=key.tooltip, id=key.id, priority=key.priority) for key in keys
    ]


def shown(key: str) -> str:
    """Return how a key is written on the screen: ``Enter``, ``Esc``, ``g``, ``F2``."""
    names = {
        "enter": "Enter",
        "escape": "Esc",
        "space": "Space",
        "question_mark": "?",
        "slash": "/",
        "pagedown": "PgDn",
        "pageup": "PgUp",
    }
    if key in names:
        return names[key]
    return "+".join(part.capitalize() if len(part) > 1 else part for part in key.split("+"))


def key_file() -> Path:
    """Return where a person's own keys are kept: named by TUGTEST_KEYS, or in the user's config folder."""
    if named := os.environ.get("TUGTEST_KEYS"):
        return Path(named)
    from platformdirs import user_config_path  # lazy: not needed before the first screen

    return user_config_path("tugtest", appauthor=False) / "keys.toml"


def read_key_file(path: Path) -> dict[str, str]:
    """Return a person's own keys by key id: ``step.note = "k"``.

    Args:
        path: A file of lines ``"step.note" = "k"``; several keys are parted by commas. It need not exist.

    Raises:
        KeyFileError: if the file is no TOML, names an unknown id, or gives a key that is no text.
    """
    import tomllib  # lazy: not needed before the first screen

    if not path.exists():
        return {}
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (ValueError, RecursionError) as fault:
        raise KeyFileError(
            f'{path.name}: cannot be read ({fault}); a line such as "step.note" = "k" is right.'
        ) from fault
    return _checked(path.name, _flat(data))


def key_map_text(own: Mapping[str, str] | None = None) -> str:
    """Return the key map as lines of text: keys, id, what it does."""
    own = own or {}
    lines = ['Keys, and the names to change them by in keys.toml ("step.note" = "k"):', ""]
    for key in ALL:
        keys = " ".join(shown(each) for each in own.get(key.id, key.keys).split(","))
        lines.append(f"{keys:<16} {key.id:<16} {key.tooltip}")
    return "\n".join(lines) + "\n"


def _flat(data: Mapping[str, object], before: str = "") -> dict[str, object]:
    flat: dict[str, object] = {}
    for name, value in data.items():
        if isinstance(value, dict):
            flat |= _flat(value, f"{before}{name}.")
        else:
            flat[before + name] = value
    return flat


def _checked(name: str, found: Mapping[str, object]) -> dict[str, str]:
    known = {key.id for key in ALL}
    for key_id, keys in found.items():
        if key_id not in known:
            raise KeyFileError(f"{name}: {key_id}: is no name of a key; `tugtest keys` lists them.")
        if not isinstance(keys, str) or not keys.strip():
            raise KeyFileError(f'{name}: {key_id}: must be a key in quotes, such as "k" or "f2".')
    return {key_id: str(keys) for key_id, keys in found.items()}
