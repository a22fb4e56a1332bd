"""The ledger: what is physically so after each accepted command, and what should never have been accepted.

It knows the world, the commands that were accepted and the true time of each. Of the events it reads what was typed and
which step it was typed in, no gate, no finding and no list of what the session calls void. A step is done when the
screen asked for it and it was ended; what only had to be ended again did nothing on the boat.
"""

from collections.abc import Collection, Iterable, Mapping
from copy import copy
from dataclasses import dataclass, field
from typing import Any

from tests.ledger.electric import DEAD_V, Electric
from tests.ledger.world import World

TAKES_S = 1200.0
"""How long a step that says nothing may take without an entry [s]: the project's twenty minutes."""

FORGOTTEN_S = 4 * 3600.0
"""After a gap of this length nobody says that he stayed [s]: the project's four hours."""

ROUNDED_S = 2.0
"""The session counts whole seconds: a gap is longer than allowed only by more than this [s]."""

HANDS = ("live", "unproved", "old")
"""Kinds of offence: hands on a stretch that is live, that was not shown dead since it could be live, or that was shown
dead by somebody else or before a gap. All other kinds are of a clean close.
"""

Key = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Offence:
    """What should not have been accepted: the kind, on what, where it came up (a step, or ``close``), in a sentence.

    Kinds at a clean close: a thing ``never`` made, ``gone`` since it was made, ``unshown`` since, shown ``bad``,
    a sign ``turned`` with nothing opened; a switch in the wrong ``end`` state. What a step leaves out with a reason is
    none: a firm hold has no such way, and the close counts the rest.
    """

    kind: str
    what: str
    step: str
    sentence: str

    @property
    def key(self) -> Key:
        return self.kind, self.what, self.step


@dataclass(slots=True)
class Doing:
    """One doing of a step: when it began (the ledger's count), the entries given in it and those left out."""

    began: float
    given: set[str] = field(default_factory=set)
    left_out: set[str] = field(default_factory=set)

    def copy(self) -> "Doing":
        return Doing(self.began, set(self.given), set(self.left_out))


class Ledger:
    """Kept beside a session. ``take`` every accepted command; ``offences`` is what should not have been.

    ``made`` is when each thing was made last, ``gone`` the step that undid it since. ``doing`` are the steps under way,
    ``done`` each step's last doing, ``asks`` the entries that a step was ever seen to ask for.
    """

    def __init__(self, world: World) -> None:
        self.world = world
        self.electric = Electric(world)
        self.offences: dict[Key, Offence] = {}
        self.made: dict[str, float] = {}
        self.gone: dict[str, str] = {}
        self.doing: dict[str, Doing] = {}
        self.done: dict[str, Doing] = {}
        self.asks: dict[str, set[str]] = {}
        self.redone: set[str] = set()
        self.turned: set[str] = set()
        self.last_s = 0.0

    def copy(self) -> "Ledger":
        """Return a ledger that goes on from here on its own."""
        other = copy(self)
        other.electric = self.electric.copy()
        for name in ("offences", "made", "gone", "redone", "turned"):
            setattr(other, name, getattr(self, name).copy())
        for name in ("doing", "done", "asks"):
            setattr(other, name, {step: one.copy() for step, one in getattr(self, name).items()})
        return other

    def take(
        self,
        now_s: float,
        command: object,
        events: Iterable[object],
        *,
        here: str = "",
        again: Collection[str] = (),
        takes_s: Mapping[str, float] | None = None,
        belongs: Collection[str] = (),
    ) -> None:
        """Carry one accepted command in.

        Args:
            now_s: True time [s].
            command: The command.
            events: Its events, of which only what was typed is read.
            here: The step at which the job stood.
            again: Steps that the screen asks only to end again: nothing is done on the boat by that.
            takes_s: How long each step may take without an entry [s], for those that say it.
            belongs: The steps of this job, for the closing.
        """
        name = type(command).__name__
        self._pass_time(now_s, name, {here, str(getattr(command, "step", ""))}, takes_s or {})
        for event in events:
            self.electric.count += 1
            self._happens(event, name, again, belongs)

    def _pass_time(self, now_s: float, command: str, steps: set[str], takes_s: Mapping[str, float]) -> None:
        """Note a gap in the entries that is longer than the step may take. To leave and to return is no entry.

        To leave is to let go of the program, not of the boat: whoever returns is asked whether he stayed, and looks.
        """
        if command in ("Leave", "Return"):
            return
        gap_s, self.last_s = now_s - self.last_s, now_s
        if gap_s > max(takes_s.get(step, TAKES_S) for step in steps) + ROUNDED_S:
            if gap_s > FORGOTTEN_S:
                self.electric.handed_over = self.electric.count + 0.5
            else:
                self.electric.look_due = self.electric.count + 0.5

    def _happens(self, event: Any, command: str, again: Collection[str], belongs: Collection[str]) -> None:
        count = self.electric.count
        match type(event).__name__:
            case "Taken":
                self._taken(event, mends_text=command == "Correct", only_again=event.step in again)
            case "NotMeasured":
                self.electric.read.pop(event.entry, None)
                if event.step in self.doing or event.step not in again:
                    self.doing.setdefault(event.step, Doing(count)).left_out.add(event.entry)
            case "Named":
                self.asks.setdefault(event.step, set()).add(event.part)
                self._work_in(event.step).given.add(event.part)
            case "Redone":
                self.doing.pop(event.step, None)
                self.redone.add(event.step)
            case "StepDone":
                self._ended(event.step, only_again=event.step in again)
            case "PersonChanged":
                self.electric.handed_over = count
            case "Stayed" if abs(event.number) <= DEAD_V:
                self.electric.looked = dict.fromkeys(self.world.stretch, count)
            case "Closed" if event.clean:
                self._closed(belongs)

    # what is given and done

    def _taken(self, event: Any, *, mends_text: bool, only_again: bool) -> None:
        entry, step, value = event.entry, event.step, _value(event)
        self.asks.setdefault(step, set()).add(entry)
        if mends_text and entry in self.electric.read:
            self.electric.corrected(entry, value)
            self.turned.discard(entry)
            return
        if mends_text and step in self.done:  # it was left out then, and is measured now
            self._hands(step)
            self.done[step].given.add(entry)
        elif only_again:
            self._hands(step)
        else:
            self._work_in(step).given.add(entry)
        self.electric.measured(entry, value)
        if entry in self.world.turned and isinstance(value, float) and value < -DEAD_V:
            self.turned.add(entry)

    def _work_in(self, step: str) -> Doing:
        """Return the doing of a step that is under way, begun by this if it was not; hands are on it now.

        As long as somebody is at a step, its switches stand as its words say.
        """
        doing = self.doing.setdefault(step, Doing(self.electric.count))
        if self._is_look(step, doing):
            return doing
        act = self.world.act(step)
        self.electric.move(act.opens, open_=True)
        self._hands(step)
        if not doing.given:
            for thing in act.spoils:
                self._undo(thing, step)
            for thing in (*act.makes, *act.finds):
                self._make(thing, step, doing.began - 0.5)
        self.electric.move(act.closes, open_=False)
        return doing

    def _is_look(self, step: str, doing: Doing) -> bool:
        """True if all that a step finds is there, and nobody said that it is done again."""
        finds = self.world.act(step).finds
        there = all(self.made.get(t, doing.began) < doing.began - 0.5 and t not in self.gone for t in finds)
        return bool(finds) and there and step not in self.redone

    def _ended(self, step: str, *, only_again: bool) -> None:
        if only_again or (step not in self.doing and self.asks.get(step)):
            self.doing.pop(step, None)  # with the readings from before
            return
        doing, act = self._work_in(step), self.world.act(step)
        del self.doing[step]
        self.redone.discard(step)
        self.electric.move(act.then_opens, open_=True)
        self.electric.move(act.then_closes, open_=False)
        self.done[step] = doing

    def _make(self, thing: str, step: str, at: float) -> None:
        self.made[thing] = at
        self.gone.pop(thing, None)
        for above in self.world.gone_with[thing]:
            self._undo(above, step)
        self.turned = {entry for entry in self.turned if thing not in self.world.turned[entry]}
        for shower in self.world.shown_anew[thing] - {step}:
            self.doing.pop(shower, None)  # half a proof of the old one is none of the new

    def _undo(self, thing: str, step: str) -> None:
        if thing in self.made:
            self.gone[thing] = step
            for maker in self.world.makers[thing]:
                if maker != step:
                    self.doing.pop(maker, None)

    def _hands(self, step: str) -> None:
        """Hands are at this step's places now."""
        act = self.world.act(step)
        for stretch, when in (*act.near, *act.touches):
            one = self.world.stretch[stretch]
            if not (self.electric.holds(when) and self.electric.holds(one.when)):
                continue
            if stretch in self.electric.live():
                self._offend("live", stretch, step, f"hands on {one.name}, which is live")
            elif (stretch, when) in act.touches and (why := self.electric.unproved(stretch)):
                self._offend(why[0], stretch, step, f"hands on {one.name}: {why[1]}")

    # the clean close

    def _closed(self, belongs: Collection[str]) -> None:
        electric, world = self.electric, self.world
        for thing, one in world.thing.items():
            if why := self._thing_lacks(thing, belongs):
                self._offend(why[0], thing, "close", f"closed clean: {one.name}, {why[1]}")
        bad = {entry for entry in world.firm if entry in electric.read and electric.is_bad(entry)}
        bad |= {e for e, _, proof in world.points() if e in electric.read and not electric.dead_at(e, proof.loaded)}
        for entry in sorted(bad):
            self._offend("bad", entry, "close", f"closed clean: {entry} was last {electric.read[entry].value}")
        for entry in self.turned:
            self._offend("turned", entry, "close", f"closed clean: {entry} was reversed, and nothing was opened since")
        for i, switch in world.switch.items():
            if electric.holds(switch.when) and switch.ends_wrong(i in electric.open):
                state = "open" if i in electric.open else "closed"
                self._offend("end", i, "close", f"closed clean: {switch.name}, {state}")

    def _thing_lacks(self, thing: str, belongs: Collection[str]) -> tuple[str, str] | None:
        makers, showers = self.world.makers[thing], self.world.showers[thing]
        if thing in self.gone:
            return "gone", f'not made again after "{self.gone[thing]}"'
        if makers and thing not in self.made:
            return ("never", "never made") if any(step in belongs for step in makers) else None
        wanted = [step for step in showers if step in belongs]
        if not wanted and not makers:
            return None
        below = {self.made[t]: t for t in self.world.rests_on[thing] if t in self.made}
        for step in wanted or [s for s in showers if s in self.done] or list(showers):
            done, made = self.done.get(step), max(below, default=0.0)
            if done is None or done.began < made:
                since = f' since "{self.world.thing[below[made]].name}" was last made' if done else ""
                return "unshown", f'not shown by "{step}"{since}'
            if bad := sorted(e for e in done.given & self.electric.read.keys() if self.electric.is_bad(e)):
                return "bad", f"{bad[0]} was last {self.electric.read[bad[0]].value}"
        return None

    def _offend(self, kind: str, what: str, step: str, sentence: str) -> None:
        offence = Offence(kind, what, step, f"{step}: {sentence}")
        self.offences.setdefault(offence.key, offence)


def _value(event: Any) -> Any:
    """Return what a ``Taken`` says: a number in base units, ``yes`` or ``no``, or a label."""
    if event.over:
        return float("inf")
    if event.yes is not None:
        return "yes" if event.yes else "no"
    return event.label if event.number is None else float(event.number)
