"""The unattended face: plays an answers file and says what came of it; it decides nothing itself."""

from pathlib import Path
from typing import TextIO

from engine.procedure.model import Procedure
from engine.session.answers import Answers
from engine.session.play import play
from engine.session.scan import read_log, short_head
from engine.session.shelf import state_of


def play_answers(
    procedure: Procedure, answers: Answers, name: str, folder: Path, outlet: TextIO, complaints: TextIO
) -> int:
    """Play answers into a new log in ``folder``.

    Args:
        procedure: The procedure that the answers are for.
        answers: What a person would do, in order.
        name: What to call the answers file in sentences.
        folder: Where the log goes.
        outlet: Takes the log's path and how the job ended.
        complaints: Takes the action that was refused, with its number and the reason.

    Returns:
        The exit status: 0 if every action stood, 1 if the job ended not clean or stopped, 2 if an action was refused.
    """
    if answers.procedure != procedure.id:
        complaints.write(f'{name}: is for "{answers.procedure}", not for "{procedure.id}"\n')
        return 2
    played = play(procedure, answers, folder)
    found = read_log(played.path)
    state = state_of(found)
    ended = "closed" if state.closed else "stopped" if state.stopped else "open"
    clean = ", clean" if state.clean else ", not clean" if state.closed else ""
    outlet.write(f"{played.path}\n{ended}{clean}, {len(found.events)} events, head {short_head(found.head)}\n")
    if played.stopped_at:
        complaints.write(f"{name}: {played.stopped_at}\n")
        return 2
    return 1 if state.over and not state.clean else 0
