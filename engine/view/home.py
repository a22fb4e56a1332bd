"""The first screen: open sessions first, the procedures, ended sessions to read."""

from datetime import datetime
from pathlib import Path

from engine.procedure.head import Head
from engine.session.gates import applicable, current_step
from engine.session.shelf import Shelf, ShelfLine
from engine.view.models import HomeView, OpenSession, ProcedureLine
from engine.view.words import since


def home_view(found: Shelf, procedures: tuple[Head, ...], folder: Path, now: datetime) -> HomeView:
    """Return the first screen from the logs found and the heads of the shipped procedures."""
    lines = found.lines
    good = [line for line in lines if line.state is not None and line.procedure is not None and not line.problem]
    open_now = [x for x in good if x.state and not x.state.over]
    ended = [x for x in good if x.state and x.state.over]
    return HomeView(
        open=tuple(OpenSession(str(x.path), _sentence(x, now)) for x in open_now),
        procedures=tuple(ProcedureLine(p.id, p.title, p.summary) for p in procedures),
        ended=tuple(OpenSession(str(x.path), _ended(x)) for x in ended),
        folder=str(folder),
        older=_older(found.older, folder),
        problems=tuple(f"{x.path.name}: {x.problem}" for x in lines if x.problem),
    )


def _older(older: int, folder: Path) -> str:
    if not older:
        return ""
    told = "1 older session that has ended is" if older == 1 else f"{older} older sessions that have ended are"
    return f"{told} not listed: tugtest review {folder} shows them all"


def _sentence(line: ShelfLine, now: datetime) -> str:
    state, procedure = line.state, line.procedure
    if state is None or procedure is None:
        return line.path.name
    steps = applicable(procedure, state)
    at = current_step(procedure, state, now)
    number = next((n for n, s in enumerate(steps, start=1) if s.id == at), len(steps))
    loose = "".join(f"; {topic} {words}" for topic, words in state.physical.items())
    demo = "demo: " if state.demo else ""
    return f"{demo}{state.asset}, {procedure.title}, step {number} of {len(steps)}, {since(state.last_at, now)}{loose}"


def _ended(line: ShelfLine) -> str:
    state = line.state
    if state is None or line.procedure is None:
        return line.path.name
    how = "stopped" if state.stopped else "closed, clean" if state.clean else "closed, not clean"
    return f"{'demo: ' if state.demo else ''}{state.asset}, {line.procedure.title}, {how}, {state.last_at[:10]}"
