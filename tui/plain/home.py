"""The first screen in the plain face: what can be done, numbered; the command for each stands beside its heading."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from engine.procedure.head import heads
from engine.session.clock import SystemClock
from engine.session.shelf import shelf
from engine.view.home import home_view
from tui.plain.text import listed
from tui.plain.voice import Gone, Voice, number_in


@dataclass(frozen=True, slots=True)
class Doors:
    """What each kind of line leads to; each gives an exit status."""

    go_on: Callable[[Path], int]
    begin: Callable[[str], int]
    read: Callable[[Path], int]


def home(folder: Path, voice: Voice, doors: Doors) -> int:
    """Say what can be done and do what is picked; an empty line, or the end of the input, leaves."""
    lines, ways = _home(folder, doors)
    voice.say(*lines)
    try:
        while True:
            text = voice.ask("Its number; an empty line leaves:")
            if not text:
                return 0
            picked = number_in(text, len(ways))
            if picked is not None:
                return ways[picked]()
            voice.say(f"Type a number from 1 to {len(ways)}.")
    except Gone:
        return 0


def _home(folder: Path, doors: Doors) -> tuple[list[str], list[Callable[[], int]]]:
    procedures, _ = heads()
    view = home_view(shelf(folder), procedures, folder, SystemClock().now())
    ways: list[Callable[[], int]] = [
        *(lambda path=line.path: doors.go_on(Path(path)) for line in view.open),
        *(lambda name=line.id: doors.begin(name) for line in view.procedures),
        *(lambda path=line.path: doors.read(Path(path)) for line in view.ended),
    ]
    begin = len(view.open) + 1
    read = begin + len(view.procedures)
    lines = [
        *listed("Go on (tugtest resume LOG)", (f"{n} {x.sentence}" for n, x in enumerate(view.open, start=1))),
        *listed(
            "Begin (tugtest start NAME)", (f"{n} {p.id}: {p.summary}" for n, p in enumerate(view.procedures, begin))
        ),
        *listed("Read (tugtest audit LOG)", (f"{n} {x.sentence}" for n, x in enumerate(view.ended, start=read))),
        *listed("Cannot be gone on with", view.problems),
        *([view.older] if view.older else []),
        f"Sessions are kept in {view.folder}",
    ]
    return lines, ways
