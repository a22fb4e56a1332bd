"""Plays an answers file on a session, command by command, and stops at the first one that does not stand."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answers import Answers, Away, PassTime
from engine.session.clock import Clock
from engine.session.outcome import Asked, Outcome, Recorded
from engine.session.runner import Runner
from engine.session.trouble import LogRefused


@dataclass(frozen=True, slots=True)
class Played:
    """What came of it: the log, and the sentence at which it stopped (empty if every action stood)."""

    path: Path
    stopped_at: str = ""
    action: int = 0


def play(
    procedure: Procedure,
    answers: Answers,
    folder: Path,
    clock: Clock | None = None,
    seen: Callable[[c.Command, Outcome, Runner], None] | None = None,
) -> Played:
    """Run a whole job from an answers file and return its log.

    Args:
        procedure: The procedure that the answers are for.
        answers: What a person would do.
        folder: Where the log goes.
        clock: The clock; the answers' own if left out.
        seen: Is told every command with its outcome.

    Raises:
        LogRefused: if the log cannot be made.
    """
    clock = clock or answers.clock()
    runner = Runner.start(procedure, answers.start, folder, clock)
    try:
        for number, action in enumerate(answers.actions, start=1):
            if isinstance(action, PassTime):
                _pass(clock, action.seconds)
            elif isinstance(action, Away):
                left = runner.send(c.Leave(action.line))
                _pass(clock, action.seconds)
                if not isinstance(left, Recorded) or not isinstance(left := runner.send(c.Return()), Recorded):
                    return Played(runner.path, f"do[{number}]: {_why(left)}", number)
            else:
                outcome = runner.send(action)
                if seen is not None:
                    seen(action, outcome, runner)
                if not isinstance(outcome, Recorded):
                    return Played(runner.path, f"do[{number}]: {_why(outcome)}", number)
        return Played(runner.path)
    finally:
        runner.close()


def _pass(clock: Clock, seconds: float) -> None:
    pass_time = getattr(clock, "pass_time", None)
    if pass_time is not None:
        pass_time(seconds)


def _why(outcome: Outcome) -> str:
    if isinstance(outcome, Asked):
        options = "; ".join(f"{n} {words}" for n, (words, _) in enumerate(outcome.question.choices, start=1))
        return f"{outcome.question.sentence} ({options}); give an answer"
    return outcome.sentence if not isinstance(outcome, Recorded) else ""


def begin(procedure: Procedure, answers: Answers, folder: Path, clock: Clock) -> Runner:
    """Begin a job and give it the answers of a file, then hand it over, open, for a person to go on.

    Raises:
        LogRefused: if the log cannot be made, or an answer does not stand.
    """
    runner = Runner.start(procedure, answers.start, folder, clock)
    for number, action in enumerate(answers.actions, start=1):
        if isinstance(action, PassTime | Away):
            continue
        outcome = runner.send(action)
        if not isinstance(outcome, Recorded):
            runner.close()
            raise LogRefused(f"do[{number}]: {_why(outcome)}")
    return runner
