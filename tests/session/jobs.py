"""Small procedures, and a session kept in memory, for the tests of the state machine."""

import re
from datetime import UTC, datetime, timedelta

from engine.procedure.load import load_text
from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.apply import apply, fold
from engine.session.decide import decide
from engine.session.events import ClockNoted, Event, Stamped
from engine.session.outcome import Asked, Decided, Refusal
from engine.session.state import State

HEAD = """
schema = 2
id = "small"
title = "A small job"
revision = "1"
profile = "industry"
summary = "for tests"
scope = "tests"
[source]
test = { authority = "project rule", document = "a test", seen = "read" }
[zone]
wire = { name = "the wire", left = "live" }
[piece]
joint = { name = "the joint" }
circuit = { name = "the circuit", rests_on = ["joint"] }
[[section]]
id = "work"
title = "Work"
"""


def procedure(steps: str, facts: str = "") -> Procedure:
    return load_text(HEAD + facts + steps, "small.toml")


def reading(name: str, unit: str = "V", extra: str = "") -> str:
    rest = "".join(f", {line}" for line in extra.splitlines() if line.strip())
    return f'\nread.{name} = {{ ask = "{name}", "{unit}" = [-100, -100, 100, 100]{rest} }}'


def limit(text: str, otherwise: str = "fail") -> str:
    name = "_".join(re.findall("[a-z0-9]+", text.lower()))
    says = 'says = "it is as it should be", from = "test"'
    return f"""\nlimit.{name} = {{ is = '{text}', otherwise = "{otherwise}", {says} }}"""


def step(name: str, head: str = "", body: str = "") -> str:
    """Return a step that needs nothing but what its head says; its rows stand before its tables, as TOML wants."""
    rows = [line for line in body.splitlines() if re.match(r"(read|fact|check|limit|leaves|opens|mend|parts)\b", line)]
    tables = [line for line in body.splitlines() if line not in rows]
    needs = "" if "needs" in head else "needs = []"
    return "\n".join(
        (
            "\n[[section.step]]",
            f'id = "{name}"',
            f'title = "{name}"',
            f'do = "Do {name}."',
            'why = "A test."',
            needs,
            head,
            *rows,
            *tables,
            "",
        )
    )


class Session:
    """A session in memory, with a clock that is set by hand. Keeps every event, as a log would."""

    def __init__(self, work: Procedure) -> None:
        self.procedure = work
        self.now = datetime(2026, 5, 2, 9, tzinfo=UTC)
        self.events: list[Stamped] = []
        self.state = State()
        self.send(c.Start("Test Tern", "A. Tester"))

    def send(self, command: c.Command) -> Decided | Refusal | Asked:
        decision = decide(self.procedure, self.state, command, self.now)
        if isinstance(decision, Decided):
            at = self.now.isoformat(timespec="seconds")
            if self.state.last_at > at:
                self.record(ClockNoted(was=self.state.last_at, now=at))
            for event in decision.events:
                self.record(event)
        return decision

    def record(self, event: Event, mono: float = 0.0) -> None:
        at = self.now.isoformat(timespec="seconds")
        stamped = Stamped(len(self.events) + 1, at, mono, event)
        self.events.append(stamped)
        apply(self.state, stamped)

    def give(self, **texts: str) -> None:
        for entry, text in texts.items():
            decision = self.send(c.Take(entry, text))
            assert isinstance(decision, Decided), decision

    def done(self, *steps: str) -> None:
        for name in steps:
            decision = self.send(c.Finish(name))
            assert isinstance(decision, Decided), decision

    def wait(self, **span: float) -> None:
        self.now += timedelta(**span)

    def refused(self, command: c.Command) -> str:
        decision = self.send(command)
        assert isinstance(decision, Refusal), decision
        return decision.sentence

    def folded(self) -> State:
        return fold(self.events)
