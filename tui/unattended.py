"""The unattended face: plays an answers file and says each step of the way; it decides nothing itself."""

from pathlib import Path
from typing import TextIO

from engine.procedure.model import Procedure
from engine.session.answers import load_answers
from engine.session.play import play
from engine.session.scan import read_log, short_head
from engine.session.shelf import state_of


def play_file(procedure: Procedure, answers: Path, folder: Path, outlet: TextIO) -> int:
    """Play ``answers`` into a new log in ``folder``; return 0 if all stood, 1 if it ended not clean, 2 if refused."""
    read = load_answers(answers)
    if read.procedure != procedure.id:
        raise ValueError(f'{answers.name} is for "{read.procedure}", not for "{procedure.id}"')
    played = play(procedure, read, folder)
    found = read_log(played.path)
    state = state_of(found)
    ended = "closed" if state.closed else "stopped" if state.stopped else "open"
    clean = ", clean" if state.clean else ""
    outlet.write(f"{played.path}\n{ended}{clean}, {len(found.events)} events, head {short_head(found.head)}\n")
    if played.stopped_at:
        outlet.write(f"{answers.name}: {played.stopped_at}\n")
        return 2
    return 1 if state.over and not state.clean else 0
