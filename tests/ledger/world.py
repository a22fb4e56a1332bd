"""What is physically there in a procedure: sources, stretches of wire, switches, things made, and what each step does.

A world is written by hand from the words of the steps (``worlds/NAME.toml``), as an electrician reads them. It takes
nothing from the procedure's own keys, so it can prove them wrong. Its words:

- ``source``: what can make a stretch live. ``stretch``: wiring that is one piece of metal between switches; ``new``: it
  was never live when the job begins; ``in_hand``: free and in sight at both ends when its switches are open, so that
  looking is the proof.
- ``switch``: whatever can be open or closed: a ring on its post, a fuse, a plug, a breaker, a cover, a panel. ``open``:
  it is open when the job begins; ``ends``: how the job leaves it (``as it was`` if left out; ``either``); ``weak``: off
  is not dead, somebody may turn it on again.
- ``wire``: two ends, each a source or a stretch, then the switches that must all be closed. A row may be just a name.
- ``proof``: the readings that show a stretch dead: its points, between ``before`` and ``after`` at a known source.
- ``thing``: what hands make and readings show. ``on``: what is gone with another that is made again; ``of``: what must
  be shown again when another was made again.
- ``step``: ``opens``, ``closes`` (as it begins), ``then_opens``, ``then_closes`` (as it ends), ``touches`` (bare metal
  under hands), ``near`` (hands close to bare metal: it must not be live), ``makes``, ``finds`` (makes it if it is not
  there; else a look, unless the step was to be done again), ``spoils``, ``shows``.
- ``plain``: steps that move none of this.
- ``bad``: values that show that it is not so. ``firm``: of these, the ones that stand until measured good, whatever
  else is corrected. ``turned``: a reversed sign, and the things of which one was opened if it reads right later.
- ``each``: the same rows for several names, ``{x}`` in keys and texts.
"""

import tomllib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, fields
from functools import cache
from pathlib import Path
from typing import Any

WORLDS = Path(__file__).with_name("worlds")


class UnknownInWorld(LookupError):
    """A step, stretch, switch or thing that the world does not know; the sentence names it."""


@dataclass(frozen=True, slots=True)
class Stretch:
    name: str
    new: bool = False
    in_hand: bool = False
    when: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Switch:
    name: str
    open: bool = False
    ends: str = "as it was"
    weak: bool = False
    when: Mapping[str, Any] = field(default_factory=dict)

    def ends_wrong(self, is_open: bool) -> bool:
        """Return whether a job must not leave it so."""
        wanted = self.open if self.ends == "as it was" else self.ends == "open"
        return self.ends != "either" and is_open != wanted


@dataclass(frozen=True, slots=True)
class Thing:
    name: str
    on: tuple[str, ...] = ()
    of: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Proof:
    dead: Mapping[str, tuple[str, ...]]
    before: str = ""
    after: str = ""
    loaded: str = ""


@dataclass(frozen=True, slots=True)
class Act:
    """What a step does. ``touches`` are stretches, each with the condition under which hands go on it."""

    opens: tuple[str, ...] = ()
    closes: tuple[str, ...] = ()
    then_opens: tuple[str, ...] = ()
    then_closes: tuple[str, ...] = ()
    touches: tuple[tuple[str, Mapping[str, Any]], ...] = ()
    near: tuple[tuple[str, Mapping[str, Any]], ...] = ()
    makes: tuple[str, ...] = ()
    finds: tuple[str, ...] = ()
    spoils: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wire:
    ends: frozenset[str]
    by: frozenset[str]


class World:
    """One procedure's physical truth, with what follows from it worked out once."""

    def __init__(self, data: Mapping[str, Any]) -> None:
        self.procedure: str = data["procedure"]
        self.source = frozenset(data["source"])
        self.stretch = {i: Stretch(**_named(row)) for i, row in data["stretch"].items()}
        self.switch = {i: Switch(**_named(row)) for i, row in data["switch"].items()}
        self.weak = frozenset(i for i, s in self.switch.items() if s.weak)
        self.wires = tuple(Wire(frozenset((one, other)), frozenset(by)) for one, other, *by in data["wire"])
        self.proofs = tuple(_proof(row) for row in data["proof"])
        self.thing = {i: _thing(**_named(row)) for i, row in _rows(data, "thing")}
        self.steps = {i: _act(row) for i, row in _rows(data, "step")} | {i: Act() for i in data["plain"]}
        self.bad = dict(_rows(data, "bad"))
        self.firm = frozenset(data.get("firm", ()))
        self.turned: Mapping[str, tuple[str, ...]] = {i: tuple(t) for i, t in data.get("turned", {}).items()}
        self.rests_on = {i: self._below(i) for i in self.thing}
        stands_on = {i: self._below(i, on_only=True) - {i} for i in self.thing}
        self.gone_with = {i: tuple(t for t, below in stands_on.items() if i in below) for i in self.thing}
        self.makers = self._steps_of("makes", "finds")
        self.showers = self._steps_of("shows")
        self.asked = frozenset(e for whens in self._whens() for e in whens)
        self.shown_anew = {
            t: frozenset(s for above in self.thing if t in self.rests_on[above] for s in self.showers[above])
            for t in self.thing
        }
        self.measured_on = {e: frozenset(s for at, s, _ in self.points() if at == e) for e, _, _ in self.points()}
        self.proving = {*self.measured_on, *(e for p in self.proofs for e in (p.before, p.after, p.loaded))}
        self.known = frozenset(e for proof in self.proofs for e in (proof.before, proof.after) if e)
        self._prove()

    def act(self, step: str) -> Act:
        """Return what a step does; raises with its name if it is unknown."""
        try:
            return self.steps[step]
        except KeyError:
            raise UnknownInWorld(f'{self.procedure}: the world has no step "{step}"; write what it does') from None

    def points(self) -> Iterable[tuple[str, str, Proof]]:
        """Yield every point of a proof: its entry, the stretch that it is measured on, the proof."""
        for proof in self.proofs:
            for stretch, entries in proof.dead.items():
                for entry in entries:
                    yield entry, stretch, proof

    def _below(self, thing: str, *, on_only: bool = False) -> frozenset[str]:
        seen, to_do = set[str](), [thing]
        while to_do:
            one = to_do.pop()
            if one not in seen:
                seen.add(one)
                to_do += self.thing[one].on if on_only else (*self.thing[one].on, *self.thing[one].of)
        return frozenset(seen)

    def _steps_of(self, *verbs: str) -> dict[str, tuple[str, ...]]:
        steps = self.steps.items()
        return {t: tuple(s for s, act in steps if any(t in getattr(act, v) for v in verbs)) for t in self.thing}

    def _whens(self) -> Iterable[Mapping[str, Any]]:
        yield from (one.when for one in (*self.stretch.values(), *self.switch.values()))
        yield from (when for act in self.steps.values() for _, when in (*act.touches, *act.near))

    def _prove(self) -> None:
        """Raise if a row names something that is not there."""
        acts, things = self.steps.values(), self.thing.values()
        stretches = {s for a in acts for s, _ in (*a.touches, *a.near)} | {s for p in self.proofs for s in p.dead}
        switches = {s for a in acts for s in (*a.opens, *a.closes, *a.then_opens, *a.then_closes)}
        made = {t for a in acts for t in (*a.makes, *a.finds, *a.spoils, *a.shows)}
        rested_on = {t for one in things for t in (*one.on, *one.of)} | {t for row in self.turned.values() for t in row}
        self._known("source or stretch", {e for w in self.wires for e in w.ends}, {*self.source, *self.stretch})
        self._known("stretch", stretches, self.stretch)
        self._known("switch", switches | {s for w in self.wires for s in w.by}, self.switch)
        self._known("thing", made | rested_on, self.thing)

    def _known(self, kind: str, used: set[str], known: Collection[str]) -> None:
        if lacking := sorted(used - set(known)):
            raise UnknownInWorld(f'{self.procedure}: the world has no {kind} "{lacking[0]}"')


def _rows(data: Mapping[str, Any], kind: str) -> Iterable[tuple[str, Any]]:
    yield from data.get(kind, {}).items()
    for each in data.get("each", ()):
        for name in each["names"]:
            yield from _filled(each.get(kind, {}), name).items()


def _named(row: str | Mapping[str, Any]) -> Mapping[str, Any]:
    return {"name": row} if isinstance(row, str) else row


def _thing(name: str, on: Iterable[str] = (), of: Iterable[str] = ()) -> Thing:
    return Thing(name, tuple(on), tuple(of))


def _filled(value: Any, name: str) -> Any:
    if isinstance(value, str):
        return value.replace("{x}", name)
    if isinstance(value, list):
        return [_filled(one, name) for one in value]
    if isinstance(value, dict):
        return {_filled(key, name): _filled(one, name) for key, one in value.items()}
    return value


def _act(row: Mapping[str, Any]) -> Act:
    if unknown := set(row) - {f.name for f in fields(Act)}:
        raise UnknownInWorld(f"a step does not do {sorted(unknown)}")
    return Act(**{key: tuple(map(_where, v)) if key in ("touches", "near") else tuple(v) for key, v in row.items()})


def _where(place: str | Mapping[str, Any]) -> tuple[str, Mapping[str, Any]]:
    return (place, {}) if isinstance(place, str) else (place["at"], place["when"])


def _proof(row: Mapping[str, Any]) -> Proof:
    dead = {stretch: tuple(entries) for stretch, entries in row["dead"].items()}
    return Proof(dead, row.get("before", ""), row.get("after", ""), row.get("loaded", ""))


@cache
def world_of(procedure: str) -> World:
    """Return the world of a procedure.

    Raises:
        UnknownInWorld: if there is none, or a row names something that is not there.
    """
    path = WORLDS / f"{procedure}.toml"
    if not path.is_file():
        raise UnknownInWorld(f'there is no world of "{procedure}"')
    data = tomllib.loads(path.read_text("utf-8"))
    return World(data)
