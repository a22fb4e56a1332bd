"""The ledger: what is physically so after each accepted command, and what should never have been accepted.

It knows the world, the commands that were accepted and the true time of each. Of the events it reads what was typed and
which step it was typed in, no gate, no finding and no list of what the session calls void. A step is done when the
screen asked for it and it was ended; what only had to be ended again did nothing on the boat.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field
from typing import Any

from tests.ledger.world import Proof, Stretch, Switch, Thing, World

DEAD_V = 0.10
"""A point that reads no more than this is dead [V]; up to ``LIVE_V`` a lamp across it may take it down to this."""

LIVE_V = 1.0
"""A point that reads more than this is live, whatever a lamp says [V]. Both: the project's own dead bands."""

KNOWN_V = 1.0
"""A known source that reads less than this proves no meter [V]."""

TAKES_S = 1200.0
"""How long a step that says nothing may take without an entry [s]: the project's twenty minutes."""

FORGOTTEN_S = 4 * 3600.0
"""After a gap of this length nobody says that he stayed [s]: the project's four hours."""

ROUNDED_S = 2.0
"""The session counts whole seconds: a gap is longer than allowed only by more than this [s]."""

NOT_SHOWN = "it was not shown dead"


@dataclass(frozen=True, slots=True)
class Offence:
    """What should not have been accepted. ``kind`` and ``what`` tell one from another, ``step`` is where it came up.

    Kinds: ``live`` (hands on a live stretch), ``unproved`` (on one that was not shown dead since it could be live),
    ``old`` (shown, but by somebody else, or before a gap), and at a clean close ``unshown``, ``gone``, ``never``,
    ``left out``, ``bad``, ``turned``, ``end``.
    """

    kind: str
    what: str
    step: str
    sentence: str

    @property
    def key(self) -> tuple[str, str, str]:
        return self.kind, self.what, self.step


@dataclass(slots=True)
class Reading:
    """One value: when it was measured (the ledger's count), and the stretches that were one piece of metal with it."""

    value: Any
    at: float
    joined: frozenset[str] = frozenset()


@dataclass(slots=True)
class Doing:
    """One doing of a step: when it began and ended, the entries given in it and those left out."""

    began: float
    ended: float = 0.0
    given: set[str] = field(default_factory=set)
    left_out: set[str] = field(default_factory=set)

    def copy(self) -> "Doing":
        return Doing(self.began, self.ended, set(self.given), set(self.left_out))


class Ledger:
    """Kept beside a session. ``take`` every accepted command; ``offences`` is what should not have been."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.count = 0.0
        self.last_s = 0.0
        self.away = False
        self.handed_over = 0.0
        self.looks_due: list[float] = []
        self.looked: dict[str, float] = {}
        self.read: dict[str, Reading] = {}
        self.open = frozenset(i for i, s in world.switch.items() if s.open)
        self.fed = {i: 0.0 for i, s in world.stretch.items() if not s.new}
        self.made: dict[str, float] = {}
        self.gone: dict[str, str] = {}
        self.doing: dict[str, Doing] = {}
        self.done: dict[str, Doing] = {}
        self.asks: dict[str, set[str]] = {}
        self.turned: set[str] = set()
        self.offences: dict[tuple[str, str, str], Offence] = {}
        self._graphs: dict[object, frozenset[str]] = {}

    def copy(self) -> "Ledger":
        """Return a ledger that goes on from here on its own."""
        other = copy(self)
        for name in ("looks_due", "looked", "fed", "made", "gone", "turned", "offences"):
            setattr(other, name, getattr(self, name).copy())
        other.read = {k: copy(r) for k, r in self.read.items()}
        other.doing = {k: d.copy() for k, d in self.doing.items()}
        other.done = {k: d.copy() for k, d in self.done.items()}
        other.asks = {k: set(v) for k, v in self.asks.items()}
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
            self.count += 1
            self._happens(event, name, here, again, belongs)

    def _happens(self, event: Any, command: str, here: str, again: Collection[str], belongs: Collection[str]) -> None:
        match type(event).__name__:
            case "Taken":
                self._taken(event, mends_text=command == "Correct", only_again=event.step in again)
            case "NotMeasured":
                self.read.pop(event.entry, None)
                if event.step in self.doing or event.step not in again:
                    self.doing.setdefault(event.step, Doing(self.count)).left_out.add(event.entry)
            case "Named":
                self.asks.setdefault(event.step, set()).add(event.part)
                self._work_in(event.step).given.add(event.part)
            case "Redone":
                self.doing.pop(event.step, None)
            case "StepDone":
                self._ended(event.step, only_again=event.step in again)
            case "PersonChanged":
                self.handed_over = self.count
            case "Stayed" if abs(event.number) <= DEAD_V:
                self._look(event.step or here)
            case "Closed" if event.clean:
                self._closed(belongs)

    # time

    def _pass_time(self, now_s: float, command: str, steps: set[str], takes_s: Mapping[str, float]) -> None:
        """Note a gap in the entries that is longer than the step may take. To leave and to return is no entry."""
        if command in ("Leave", "Return"):
            self.away |= command == "Leave"
            return
        gap_s, self.last_s = now_s - self.last_s, now_s
        if gap_s > max(takes_s.get(step, TAKES_S) for step in steps) + ROUNDED_S:
            if self.away or gap_s > FORGOTTEN_S:
                self.handed_over = self.count + 0.5
            else:
                self.looks_due.append(self.count + 0.5)
        self.away = False

    def _look(self, step: str) -> None:
        """One reading where hands go: at the stretches of this step, or of the next that has any."""
        steps = list(self.world.steps)
        for one in steps[steps.index(step) :]:
            if touched := self.world.steps[one].touches:
                self.looked |= {stretch: self.count for stretch, _ in touched}
                return

    # what is given and done

    def _taken(self, event: Any, *, mends_text: bool, only_again: bool) -> None:
        entry, value = event.entry, event.yes if event.number is None else event.number
        value = float("inf") if event.over else event.label if value is None else value
        value = {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else value
        self.asks.setdefault(event.step, set()).add(entry)
        if mends_text and entry in self.read:
            self.read[entry].value = value
            self.turned.discard(entry)
        else:
            if only_again:
                self._hands(event.step)
            else:
                self._work_in(event.step).given.add(entry)
            self.read[entry] = Reading(value, self.count, self._joined(self.world.measured_on.get(entry, frozenset())))
            if self._dead_at(entry, ""):
                self.looked |= dict.fromkeys(self.read[entry].joined, self.count)
            if entry in self.world.turned and isinstance(value, float) and value < -DEAD_V:
                self.turned.add(entry)
        if entry in self.world.asked:
            self._feed(self.count)

    def _work_in(self, step: str) -> Doing:
        """Return the doing of a step that is under way, begun by this if it was not; hands are on it now."""
        doing = self.doing.get(step)
        if doing is None or not doing.given:
            began = self._begin(step, doing)
            self._hands(step)
            self._finish_begin(step)
            return began
        self._hands(step)
        return doing

    def _begin(self, step: str, doing: Doing | None) -> Doing:
        self.doing[step] = doing or Doing(self.count)
        self._move(self.world.act(step).opens, open_=True)
        return self.doing[step]

    def _finish_begin(self, step: str) -> None:
        act = self.world.act(step)
        for thing in act.spoils:
            self._undo(thing, step)
        for thing in act.makes:
            self._make(thing, step)
        self._move(act.closes, open_=False)

    def _ended(self, step: str, *, only_again: bool) -> None:
        doing = self.doing.pop(step, None)
        if only_again or (doing is None and self.asks.get(step) and step in self.done):
            return
        if doing is None or not doing.given:
            doing = self._begin(step, doing)
            self._hands(step)
            self._finish_begin(step)
            del self.doing[step]
        else:
            self._hands(step)
        act = self.world.act(step)
        self._move(act.then_opens, open_=True)
        self._move(act.then_closes, open_=False)
        doing.ended = self.count
        self.done[step] = doing

    def _make(self, thing: str, step: str) -> None:
        self.made[thing] = self.count - 0.5
        self.gone.pop(thing, None)
        for above in self.world.gone_with[thing]:
            self._undo(above, step)
        self.turned = {entry for entry in self.turned if thing not in self.world.turned[entry]}

    def _undo(self, thing: str, step: str) -> None:
        if thing in self.made:
            self.gone[thing] = step

    # what is live

    def _move(self, switches: Sequence[str], *, open_: bool) -> None:
        if switches:
            self._feed(self.count - 0.5)
            self.open = self.open | set(switches) if open_ else self.open - set(switches)
            self._feed(self.count - 0.5)

    def _feed(self, at: float) -> None:
        """Note that whatever may be live was so until now, or is from now on."""
        self.fed |= dict.fromkeys(self._maybe_live(), at)

    def _maybe_live(self) -> frozenset[str]:
        """Return the stretches that a source reaches: a switch that is only off counts as on."""
        return self._reach(self.world.source, self.open - self.world.weak)

    def _reach(self, start: frozenset[str], open_: frozenset[str]) -> frozenset[str]:
        """Return the stretches that hang together with ``start`` while these switches are open."""
        open_ = open_ | {i for i, s in self.world.switch.items() if not self._holds(s.when)}
        if (key := (start, open_)) not in self._graphs:
            reached, wires = set(start), [w for w in self.world.wires if not w.by & open_]
            while new := {e for w in wires if reached & set(w.ends) for e in w.ends if e in self.world.stretch} - reached:
                reached |= new
            self._graphs[key] = frozenset(reached & set(self.world.stretch))
        return self._graphs[key]

    def _joined(self, stretches: frozenset[str]) -> frozenset[str]:
        return self._reach(stretches, self.open)

    def _holds(self, when: Mapping[str, Any]) -> bool:
        """True if a condition on what was told holds, or if it was not told yet."""
        for entry, wanted in when.items():
            if (told := self.read.get(entry)) is None:
                continue
            if not (told.value >= wanted if isinstance(wanted, int | float) else told.value in wanted):
                return False
        return True

    # hands

    def _hands(self, step: str) -> None:
        """Hands are at this step's places now."""
        act = self.world.act(step)
        live = self._reach(self.world.source, self.open) if act.touches or act.near else frozenset()
        for stretch, when in (*act.near, *act.touches):
            one = self.world.stretch[stretch]
            if not (self._holds(when) and self._holds(one.when)):
                continue
            if stretch in live:
                self._offend("live", stretch, step, f"hands on {one.name}, which is live")
            elif (stretch, when) in act.touches and (why := self._unproved(stretch, one)):
                self._offend(why[0], stretch, step, f"hands on {one.name}: {why[1]}")

    def _unproved(self, stretch: str, one: Stretch) -> tuple[str, str] | None:
        fed = self.fed.get(stretch)
        if stretch in self._maybe_live():
            return "unproved", "only a switch that is off keeps it dead"
        if fed is None or one.in_hand:
            return None
        whys = [self._proof_lacks(proof, at, stretch, fed) for proof in self.world.proofs for at in proof.dead]
        if not whys or None in whys:
            return None if whys else ("unproved", "no reading of this job shows it dead")
        return max((why for why in whys if why), key=lambda why: (why[0] == "old", why[1] != NOT_SHOWN))

    def _proof_lacks(self, proof: Proof, at: str, stretch: str, fed: float) -> tuple[str, str] | None:
        """Return what a proof, made at the stretch ``at``, lacks to show ``stretch`` dead now; None if nothing."""
        points = [self.read.get(entry) for entry in proof.dead[at]]
        if any(p is None or stretch not in p.joined for p in points):
            return "unproved", NOT_SHOWN
        moments = [p.at for p in points if p is not None]
        if not all(self._dead_at(entry, proof.loaded) for entry in proof.dead[at]):
            return "unproved", "it was last read live"
        if min(moments) <= fed:
            return "unproved", "not shown dead since it may have been live"
        for entry, late in ((proof.before, False), (proof.after, True)):
            known = self.read.get(entry)
            if entry and (known is None or not isinstance(known.value, float) or abs(known.value) < KNOWN_V):
                return "unproved", "the meter was not proved on a known source"
            if known and (known.at < max(moments) if late else known.at > min(moments)):
                return "unproved", f"the known source was not measured {'after' if late else 'before'} the points"
            moments += [known.at] if known else []
        if self.handed_over > min(moments):
            return "old", "shown dead by somebody else, or before a long gap"
        if any(due > min(moments) and self.looked.get(stretch, 0.0) < due for due in self.looks_due[-1:]):
            return "old", "shown dead before a gap, and not looked at since"
        return None

    def _dead_at(self, entry: str, loaded: str) -> bool:
        """True if a point was last read dead, by itself or under a lamp that was tried after it."""
        volts, lamp = self.read[entry], self.read.get(loaded)
        if not isinstance(volts.value, float) or abs(volts.value) <= DEAD_V:
            return isinstance(volts.value, float)
        under = lamp is not None and lamp.at > volts.at and isinstance(lamp.value, float) and abs(lamp.value) <= DEAD_V
        return abs(volts.value) <= LIVE_V and under

    # the clean close

    def _closed(self, belongs: Collection[str]) -> None:
        for thing, one in self.world.thing.items():
            if why := self._thing_lacks(thing, one, belongs):
                self._offend(why[0], thing, "close", f"closed clean: {one.name}, {why[1]}")
        for entry in self.world.firm:
            if entry in self.read and self._is_bad(entry):
                self._offend("bad", entry, "close", f"closed clean: {entry} was last {self.read[entry].value}")
        for entry, _, proof in self.world.points():
            if entry in self.read and not self._dead_at(entry, proof.loaded):
                self._offend("bad", entry, "close", f"closed clean: {entry} was last {self.read[entry].value} V")
        for entry in self.turned:
            self._offend("turned", entry, "close", f"closed clean: {entry} was reversed, and nothing was opened since")
        for i, switch in self.world.switch.items():
            if self._holds(switch.when) and switch.ends != "either" and (i in self.open) != _ends_open(switch):
                self._offend("end", i, "close", f"closed clean: {switch.name} is {'open' if i in self.open else 'closed'}")

    def _thing_lacks(self, thing: str, one: Thing, belongs: Collection[str]) -> tuple[str, str] | None:
        makers, showers = self.world.makers[thing], self.world.showers[thing]
        if thing in self.gone:
            return "gone", f'not made again after "{self.gone[thing]}"'
        if makers and thing not in self.made:
            return ("never", "never made") if any(step in belongs for step in makers) else None
        wanted = [step for step in showers if step in belongs]
        if not wanted and (not makers or not showers):
            return None
        made = max((self.made[t] for t in self.world.rests_on[thing] if t in self.made), default=0.0)
        last = max((t for t in self.world.rests_on[thing] if t in self.made), key=self.made.__getitem__, default="")
        for step in wanted or [s for s in showers if s in self.done] or list(showers):
            done = self.done.get(step)
            if done is None or done.began < made:
                since = f' since "{self.world.thing[last].name}" was last made' if last and done else ""
                return "unshown", f'not shown by "{step}"{since}'
            if out := done.left_out - done.given - self.world.told:
                return "left out", f'"{step}" left out {sorted(out)[0]}'
            if bad := [e for e in done.given if e in self.read and self._is_bad(e)]:
                return "bad", f"{bad[0]} was last {self.read[bad[0]].value}"
        return None

    def _is_bad(self, entry: str) -> bool:
        rule, value = self.world.bad.get(entry), self.read[entry].value
        if rule is None:
            return False
        if isinstance(rule, dict):
            if "live" in rule:
                return not self._dead_at(entry, rule["live"])
            return not isinstance(value, float) or value < rule.get("under", value) or value > rule.get("over", value)
        return value in rule if isinstance(rule, list) else value == rule

    def _offend(self, kind: str, what: str, step: str, sentence: str) -> None:
        offence = Offence(kind, what, step, f"{step}: {sentence}")
        self.offences.setdefault(offence.key, offence)


def _ends_open(switch: Switch) -> bool:
    return switch.open if switch.ends == "as it was" else switch.ends == "open"
