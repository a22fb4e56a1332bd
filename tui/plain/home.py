"""The first screen as lines of plain text, with the command for each line."""

from pathlib import Path

from engine.procedure.load import load
from engine.session.clock import SystemClock
from engine.session.shelf import shelf
from engine.shipped import shipped
from engine.view.home import home_view
from tui.plain.lines import listed


def home_lines(folder: Path) -> list[str]:
    """Return what can be done."""
    procedures = tuple(load(path) for path in shipped())
    view = home_view(shelf(folder), procedures, folder, SystemClock().now())
    return [
        *listed("Go on with (tugtest resume LOG)", (f"{x.sentence}: {x.path}" for x in view.open)),
        *listed("Begin (tugtest start NAME)", (f"{p.id}: {p.summary}" for p in view.procedures)),
        *listed("Read (tugtest audit LOG)", (f"{x.sentence}: {x.path}" for x in view.ended)),
        *listed("Cannot be gone on with", view.problems),
        f"Sessions are kept in {view.folder}",
    ]
