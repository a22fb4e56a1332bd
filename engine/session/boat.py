"""Other jobs that stand open on the same boat or trailer: what they hold isolated, and where their hands are."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from engine.procedure.model import Procedure
from engine.session.shelf import ShelfLine, shelf
from engine.session.state import State
from engine.session.work import DEAD, relations, zone_state


@dataclass(frozen=True, slots=True)
class OtherJob:
    """A job that is open on the same boat: its title, what it left how, and the zones that it holds isolated."""

    title: str
    person: str
    stands: tuple[str, ...]
    isolated: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """One sentence for whoever is about to feed something, or put hands on it."""
        return f"{self._name} is open on this boat and {self._holds}"

    @property
    def row(self) -> str:
        """How it stands, whole, for a list of what else is open on the boat."""
        return "; ".join((f"{self._name} {self._holds}", *self.stands))

    @property
    def _name(self) -> str:
        return f'"{self.title}"{f" of {self.person}" if self.person else ""}'

    @property
    def _holds(self) -> str:
        return f"holds dead: {', '.join(self.isolated)}" if self.isolated else "holds nothing dead"


def others(log: Path, asset: str) -> tuple[OtherJob, ...]:
    """Return the other jobs in a log's folder that are open on ``asset``; its name is taken without case and spaces."""
    return tuple(_open_on(asset, (line for line in shelf(log.parent).lines if line.path != log)))


def _open_on(asset: str, lines: Iterable[ShelfLine]) -> Iterable[OtherJob]:
    for line in lines:
        state, procedure = line.state, line.procedure
        if state is None or procedure is None or state.over or state.demo or _bare(state.asset) != _bare(asset):
            continue
        yield OtherJob(
            procedure.title,
            state.person,
            tuple(f"{topic} {words}" for topic, words in state.physical.items()),
            isolated(procedure, state),
        )


def isolated(procedure: Procedure, state: State) -> tuple[str, ...]:
    """Return the names of the zones that a job holds isolated."""
    touched = {zone for step in relations(procedure, state).steps if step.id in state.done for zone in step.isolates}
    return tuple(z.name for z in procedure.zones if z.id in touched and zone_state(procedure, state, z.id) == DEAD)


def _bare(name: str) -> str:
    return "".join(name.casefold().split())
