"""Single changes of a procedure's tables, one place at a time, each with why it can hurt: what the linter is held
against.

Whether a change can hurt is told by its kind and by what the procedure said before, asking nothing of the linter.
"""

import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from engine.procedure.rows import UNIT_OF
from engine.rules.registry import check as named

Table = dict[str, Any]

UNITS = tuple(UNIT_OF)
TOUCH = ("isolates", "proves_dead", "feeds", "hands_on", "works", "proves", "makes")
LOADS = {"measured-drop", "heat", "joint", "lamp"}
PLANNED = {"plan", "ampacity", "voltage-drop", "fuse-load"}


@dataclass(frozen=True)
class Change:
    """One change: its kind, what it does, the tables after it, and why it can hurt (empty if it cannot)."""

    kind: str
    says: str
    tables: Table
    hurts: str


class Work:
    """The tables of a procedure, and what is asked of them to tell whether a change can hurt."""

    def __init__(self, tables: Table) -> None:
        self.tables = tables
        self.steps: list[Table] = [step for section in tables["section"] for step in section["step"]]
        self.at = {step["id"]: number for number, step in enumerate(self.steps)}

    def zones(self, step: Table, key: str) -> list[str]:
        return list(step.get(key, []))

    def worked(self, step: Table) -> set[str]:
        return {*step.get("works", []), *step.get("makes", [])}

    def proved(self, step: Table) -> set[str]:
        return {*step.get("proves", []), *step.get("makes", [])}

    def hands_after(self, at: int, zone: str) -> bool:
        """True if hands go on a zone after a step, before it is fed again."""
        for step in self.steps[at + 1 :]:
            if zone in step.get("hands_on", []):
                return True
            if zone in step.get("feeds", []):
                return False
        return False

    def touched_by_hands(self, zone: str) -> bool:
        return any(zone in step.get("hands_on", []) for step in self.steps)

    def fed_already(self, at: int, zone: str) -> bool:
        """True if a zone was fed before a step and not isolated since."""
        for step in reversed(self.steps[:at]):
            if zone in step.get("isolates", []):
                return False
            if zone in step.get("feeds", []) and "when" not in step:
                return True
        return False

    def below(self, piece: str) -> set[str]:
        found, to_do = set[str](), [piece]
        while to_do:
            one = to_do.pop()
            if one not in found:
                found.add(one)
                to_do.extend(self.tables.get("piece", {}).get(one, {}).get("rests_on", []))
        return found

    def checks(self, step: Table) -> Iterator[tuple[str, Table, Callable[[Table], Table]]]:
        """Give each check of a step: its name, its inputs, and the way to them in a copy of the step."""
        for name, given in step.get("check", {}).items():
            if given and all(isinstance(each, dict) for each in given.values()):
                for row in given:
                    yield name, given[row], lambda s, name=name, row=row: s["check"][name][row]
            else:
                yield name, given, lambda s, name=name: s["check"][name]

    def check_names(self, step: Table) -> set[str]:
        return set(step.get("check", {}))

    def judged(self, step: Table) -> bool:
        rows = {**step.get("read", {}), **step.get("fact", {})}
        keys = {"good", "bad", "stop", "least", "most", "bearable", "doubtful"}
        return bool(step.get("check") or step.get("limit") or any(keys & row.keys() for row in rows.values()))

    def changed(self, at: int, change: Callable[[Table], object]) -> Table:
        """Return the tables with a change made to one step."""
        tables = deepcopy(self.tables)
        steps = [step for section in tables["section"] for step in section["step"]]
        change(steps[at])
        return tables


def rows(step: Table) -> Iterator[tuple[str, str, Table]]:
    for kind in ("fact", "read"):
        for name, row in step.get(kind, {}).items():
            yield kind, name, row


def without(step: Table, key: str, value: str) -> None:
    step[key] = [each for each in step[key] if each != value]
    if not step[key]:
        del step[key]


def lists(work: Work, key: str, kind: str, why: Callable[[int, Table, str], str]) -> Iterator[Change]:
    """Take each name out of a list of a step, one at a time."""
    for at, step in enumerate(work.steps):
        for value in step.get(key, []):
            tables = work.changed(at, lambda s, value=value: without(s, key, value))
            yield Change(kind, f"{step['id']}: {key} without {value}", tables, why(at, step, value))


def zones(work: Work) -> Iterator[Change]:
    yield from lists(
        work, "isolates", "isolation gone", lambda at, s, z: "hands go on it" if work.hands_after(at, z) else ""
    )
    yield from lists(
        work, "proves_dead", "dead proof gone", lambda at, s, z: "hands go on it" if work.hands_after(at, z) else ""
    )
    yield from lists(
        work,
        "feeds",
        "feed gone",
        lambda at, s, z: (
            "it is live, and hands may go back" if work.touched_by_hands(z) and not work.fed_already(at, z) else ""
        ),
    )
    yield from lists(work, "hands_on", "hands gone", lambda at, s, z: "hands are on it ungated")
    for zone in work.tables.get("zone", {}):
        tables = deepcopy(work.tables)
        tables["zone"][zone]["left"] = "dead" if tables["zone"][zone]["left"] == "live" else "live"
        yield Change(
            "left turned", f"zone {zone} left otherwise", tables, "it closes with the zone the other way round"
        )


def pieces(work: Work) -> Iterator[Change]:
    def proved(step: Table, piece: str) -> None:
        without(step, "makes", piece)
        step.setdefault("proves", []).append(piece)

    def worked(step: Table, piece: str) -> None:
        without(step, "makes", piece)
        step.setdefault("works", []).append(piece)

    yield from lists(work, "works", "work gone", lambda at, s, p: "done again, it makes nothing void")
    yield from lists(work, "proves", "proof gone", lambda at, s, p: "it is no proof any more, nor made void")
    for at, step in enumerate(work.steps):
        for piece in step.get("makes", []):
            for kind, change in (("work gone", proved), ("proof gone", worked)):
                tables = work.changed(at, lambda s, piece=piece, change=change: change(s, piece))
                later = any(piece in work.proved(other) for other in work.steps[at + 1 :] if "when" not in other)
                hurts = "" if kind == "proof gone" and later else "half of what it makes is gone"
                yield Change(kind, f"{step['id']}: {kind} of {piece}", tables, hurts)
    for piece, row in work.tables.get("piece", {}).items():
        tables = deepcopy(work.tables)
        del tables["piece"][piece]
        for other in tables["piece"].values():
            if piece in other.get("rests_on", []):
                without(other, "rests_on", piece)
        for step in (step for section in tables["section"] for step in section["step"]):
            for key in ("works", "proves", "makes"):
                if piece in step.get(key, []):
                    without(step, key, piece)
            for name in list(step.get("mend", {})):
                if piece in step["mend"][name]["works"]:
                    without(step["mend"][name], "works", piece)
                    if not step["mend"][name].get("works"):
                        del step["mend"][name]
            if step.get("mend") == {}:
                del step["mend"]
        whole = not any(piece in work.worked(step) for step in work.steps)
        yield Change("piece gone", f"piece {piece} and all that names it", tables, "" if whole else "nothing proves it")
        for below in row.get("rests_on", []):
            tables = deepcopy(work.tables)
            without(tables["piece"][piece], "rests_on", below)
            still = any(below in work.below(other) for other in row["rests_on"] if other != below)
            hurts = "" if still else "work on it leaves the other standing"
            yield Change("rests on less", f"piece {piece} without {below}", tables, hurts)
    for at, step in enumerate(work.steps):
        for name in step.get("mend", {}):
            tables = work.changed(at, lambda s, name=name: s["mend"].pop(name))
            for each in (s for section in tables["section"] for s in section["step"]):
                if each.get("mend") == {}:
                    del each["mend"]
            own = set(step["mend"][name]["works"]) <= work.worked(step)
            hurts = "" if own else "what is opened to mend it is not proved again"
            yield Change("mend gone", f"{step['id']}: mend {name}", tables, hurts)


def holds_and_warnings(work: Work) -> Iterator[Change]:
    for at, step in enumerate(work.steps):
        if "hold" in step:
            firm = {"dead", "polarity", "spare-end"}
            soft = bool(step.get("limit") or work.check_names(step) - firm) or not step.get("check")
            hurts = "what holds the work is gone past" if soft and work.judged(step) else ""
            yield Change("hold gone", f"{step['id']}: {step['hold']}", work.changed(at, lambda s: s.pop("hold")), hurts)
        for word in step.get("warn", {}):
            tables = work.changed(at, lambda s, word=word: s["warn"].pop(word) if len(s["warn"]) > 1 else s.pop("warn"))
            yield Change(
                "warning gone", f"{step['id']}: {word}", tables, "" if word == "NOTICE" else "nobody is warned"
            )


def checks(work: Work) -> Iterator[Change]:
    for at, step in enumerate(work.steps):
        for name in step.get("check", {}):
            tables = work.changed(
                at, lambda s, name=name: s["check"].pop(name) if len(s["check"]) > 1 else s.pop("check")
            )
            yield Change("check gone", f"{step['id']}: {name}", tables, "nothing judges it")
        for name, inputs, way in work.checks(step):
            if name == "plan":
                continue
            yield from _fed_wrong(work, at, step, name, inputs, way)


def _fed_wrong(
    work: Work, at: int, step: Table, name: str, inputs: Table, way: Callable[[Table], Table]
) -> Iterator[Change]:
    asked = {entry: (kind, row) for s in work.steps for kind, entry, row in rows(s)}
    known = named(name).known
    for key, given in inputs.items():
        if key == "when" or isinstance(given, list) or given not in asked:
            continue
        constant = _constant(asked[given][1])
        if constant and known[key].name != "nominal":
            tables = work.changed(at, lambda s, key=key, c=constant: way(s).__setitem__(key, c))
            safe = known[key].unit == "yes/no" and (constant == "yes") is (known[key].worse == "more")
            hurts = "" if safe and known[key].worse else "the file decides it"
            yield Change("constant input", f"{step['id']}: {name}.{key} = {constant}", tables, hurts)
        unit = _unit(asked[given][1])
        for other in inputs.values():
            if (
                isinstance(other, str)
                and other != given
                and other in asked
                and _unit(asked[other][1]) == unit
                and unit not in ("of", "one_of")
            ):
                tables = work.changed(at, lambda s, key=key, o=other: way(s).__setitem__(key, o))
                yield Change(
                    "input twice", f"{step['id']}: {name}.{key} = {other}", tables, "one reading stands for two"
                )
                break
    if name == "dead":
        for point in inputs["points"]:
            tables = work.changed(at, lambda s, point=point: without(way(s), "points", point))
            yield Change("point gone", f"{step['id']}: point {point}", tables, "it may be live")

        def first(s: Table) -> None:
            after = s["read"].pop(inputs["known_after"])
            s["read"] = {inputs["known_after"]: after, **s["read"]}

        if inputs["known_after"] in step.get("read", {}):
            yield Change("known source first", step["id"], work.changed(at, first), "the meter may fail meanwhile")


def _unit(row: Table) -> str:
    return next((key for key in (*UNITS, "of", "one_of", "good") if key in row), "good")


def _constant(row: Table) -> str:
    unit = _unit(row)
    if unit == "one_of":
        return str(row["one_of"][0])
    if unit == "of":
        return {"wire": "2 AWG", "yes/no": "yes"}.get(row["of"], "")
    if unit == "good":
        return str(row["good"])
    return f"{sum(row[unit][1:3]) / 2:g} {'' if unit == 'count' else unit}".strip()


def limits(work: Work) -> Iterator[Change]:
    turns = {"<=": ">=", ">=": "<=", "<": ">", ">": "<", "==": "!=", "!=": "=="}
    for at, step in enumerate(work.steps):
        for name, row in step.get("limit", {}).items():
            sign = next((sign for sign in turns if sign in row["is"]), "")
            if sign:
                text = row["is"].replace(sign, turns[sign], 1)
                tables = work.changed(at, lambda s, name=name, text=text: s["limit"][name].__setitem__("is", text))
                yield Change("limit turned", f"{step['id']}: {text}", tables, "good is bad, bad is good")
            tables = work.changed(
                at, lambda s, name=name: s["limit"].pop(name) if len(s["limit"]) > 1 else s.pop("limit")
            )
            yield Change("limit gone", f"{step['id']}: {name}", tables, "nothing judges it")
        for kind, name, row in rows(step):
            for one, other in (("least", "most"), ("most", "least")):
                if one in row and other not in row:

                    def turn(s: Table, kind: str = kind, name: str = name, one: str = one, other: str = other) -> None:
                        s[kind][name][other] = s[kind][name].pop(one)

                    yield Change("limit turned", f"{step['id']}: {name} {other}", work.changed(at, turn), "good is bad")
            if "one_of" in row and ("good" in row or "bad" in row):
                key = "good" if "good" in row else "bad"
                judged = row[key] if isinstance(row[key], list) else [row[key]]
                rest = [
                    word for word in row["one_of"] if word not in judged and word not in str(row.get("bearable", ""))
                ]
                if rest:
                    tables = work.changed(
                        at, lambda s, k=kind, n=name, key=key, rest=rest: s[k][n].__setitem__(key, rest)
                    )
                    yield Change("good turned", f"{step['id']}: {name} {key} = {rest}", tables, "good is bad")
            elif row.get("good") in ("yes", "no"):
                turned = "no" if row["good"] == "yes" else "yes"
                tables = work.changed(at, lambda s, k=kind, n=name, t=turned: s[k][n].__setitem__("good", t))
                yield Change("good turned", f"{step['id']}: {name} good = {turned}", tables, "good is bad")


def entries(work: Work) -> Iterator[Change]:
    used = str([[step.get("check"), step.get("limit"), step.get("when")] for step in work.steps]) + str(
        work.tables.get("circuit")
    )
    for at, step in enumerate(work.steps):
        for kind, name, row in rows(step):
            unit = _unit(row)
            if unit in UNITS and name in used:
                other = {"V": "A", "A": "V", "mm": "m", "m": "mm", "mV": "V", "N m": "N"}.get(unit)
                if other:

                    def turn(
                        s: Table, kind: str = kind, name: str = name, unit: str = unit, other: str = other
                    ) -> None:
                        s[kind][name][other] = s[kind][name].pop(unit)

                    yield Change(
                        "unit",
                        f"{step['id']}: {name} in {other}",
                        work.changed(at, turn),
                        "a thousandfold, or another thing",
                    )
            if "one_of" in row:
                word = row["one_of"][0]
                tables = work.changed(
                    at, lambda s, k=kind, n=name: s[k][n]["one_of"].__setitem__(0, s[k][n]["one_of"][0] + "x")
                )
                hurts = (
                    "what names it never holds"
                    if word in str([row.get("good"), row.get("bad"), row.get("bearable")])
                    or f'"{word}"' in str(work.tables)
                    else ""
                )
                yield Change("choice", f"{step['id']}: {name}: {word}x", tables, hurts)
            if ("least" in row or "most" in row) and unit in UNITS:
                low, _, _, high = row[unit]
                ends = (
                    [row["least"], row["least"], high, high] if "least" in row else [low, low, row["most"], row["most"]]
                )
                if ends[0] < ends[3]:
                    tables = work.changed(at, lambda s, k=kind, n=name, u=unit, e=ends: s[k][n].__setitem__(u, e))
                    yield Change("range moved", f"{step['id']}: {name} {ends}", tables, "what fails cannot be typed")
            if "when" in row:
                yield from _when_turned(
                    work, at, step, row["when"], lambda s, t, k=kind, n=name: s[k][n].__setitem__("when", t), name
                )
            for key, why in (
                ("signed", "the sign is not asked for"),
                ("group", "volts and current of different minutes"),
            ):
                of_polarity = any(
                    c == "polarity" and name == given.get("volts") for s in work.steps for c, given, _ in work.checks(s)
                )
                if key in row and name in used and (key == "group" or of_polarity):
                    tables = work.changed(at, lambda s, k=kind, n=name, key=key: s[k][n].pop(key))
                    yield Change(f"{key} gone", f"{step['id']}: {name}", tables, why)
        if "when" in step:
            yield from _when_turned(work, at, step, step["when"], lambda s, t: s.__setitem__("when", t), "the step")


def _when_turned(
    work: Work, at: int, step: Table, text: str, put: Callable[[Table, str], object], what: str
) -> Iterator[Change]:
    turns = (("==", "!="), ("!=", "=="), (">=", "<"), ("<=", ">"), (">", "<="), ("<", ">="))
    for one, other in turns:
        if one in text:
            turned = text.replace(one, other, 1)
            yield Change(
                "when turned",
                f"{step['id']}: {what} when {turned}",
                work.changed(at, lambda s, turned=turned: put(s, turned)),
                "asked in the wrong jobs",
            )
            return


def freshness(work: Work) -> Iterator[Change]:
    for at, step in enumerate(work.steps):
        if "takes" in step:
            tables = work.changed(at, lambda s: s.__setitem__("takes", "20 h"))
            yield Change(
                "takes a day", step["id"], tables, "hands work on a proof of yesterday" if step.get("hands_on") else ""
            )
        if "lasts" in step:
            yield Change("lasts gone", step["id"], work.changed(at, lambda s: s.pop("lasts")), "old evidence stands")


def order(work: Work) -> Iterator[Change]:
    for number, section in enumerate(work.tables["section"]):
        for at, (one, two) in enumerate(zip(section["step"], section["step"][1:], strict=False)):
            tables = deepcopy(work.tables)
            steps = tables["section"][number]["step"]
            steps[at], steps[at + 1] = steps[at + 1], steps[at]
            yield Change("order", f"{two['id']} before {one['id']}", tables, _order_hurts(work, one, two))
    for step in work.steps:
        tables = deepcopy(work.tables)
        for section in tables["section"]:
            section["step"] = [each for each in section["step"] if each["id"] != step["id"]]
            for each in section["step"]:
                if step["id"] in each.get("needs", []):
                    each["needs"] = [need for need in each["needs"] if need != step["id"]]
        tables["section"] = [section for section in tables["section"] if section["step"]]
        touches = any(key in step for key in TOUCH)
        hurts = (
            "what it does or judges is gone"
            if touches or work.judged(step) or step.get("parts") or step.get("stop_if")
            else ""
        )
        yield Change("step gone", step["id"], tables, hurts)


def _order_hurts(work: Work, one: Table, two: Table) -> str:
    """Return why two steps side by side must not change places."""

    def both(key: str, other: str) -> set[str]:
        return set(one.get(key, [])) & set(two.get(other, []))

    measures = "dead" in work.check_names(two) or any(
        "V" in row for name, row in two.get("read", {}).items() if not name.startswith("known")
    )
    if both("isolates", "hands_on") or (both("isolates", "proves_dead") and measures):
        return "proved or touched before it is isolated"
    if both("proves_dead", "hands_on"):
        return "touched before it is proved"
    if both("hands_on", "feeds") or both("feeds", "hands_on"):
        return "touched while it is fed"
    words = [f"{s.get('title', '')} {s['do']}".lower() for s in (one, two)]
    if (
        one.get("isolates")
        and two.get("isolates")
        and "negative" in words[0]
        and "positive" in words[1]
        and "negative" not in words[1]
    ):
        return "positive off before negative"
    worked, proved = work.worked(one), set().union(*(work.below(p) for p in work.proved(two)), set())
    if worked & proved and not (work.worked(two) & proved):
        return "proved before it is made"
    if "polarity" in work.check_names(one) and LOADS & work.check_names(two):
        return "loaded before its sign is read"
    names = {name for _, name, _ in rows(one)}
    uses = [given for _, inputs, _ in work.checks(two) for given in inputs.values()]
    uses += [row["is"] for row in two.get("limit", {}).values()] + [two.get("when", "")]
    uses += [row.get("when", "") for _, _, row in rows(two)]
    if names & {word for text in uses for word in re.findall(r"[a-z][a-z0-9_]*", str(text))}:
        return "judged before it is taken"
    return ""


def circuit(work: Work) -> Iterator[Change]:
    for name, part in work.tables.get("circuit", {}).items():
        if part["kind"] == "protection":
            tables = deepcopy(work.tables)
            del tables["circuit"][name]
            others = [p for p in tables["circuit"].values() if p["kind"] == "protection"]
            yield Change("protection gone", f"part {name}", tables, "" if others else "nothing guards the wire")
        for key in ("found", "planned"):
            for field, given in part.get(key, {}).items():
                tables = deepcopy(work.tables)
                if field in ("class", "kind"):
                    tables["circuit"][name][key][field] = given + "x"
                    yield Change("class", f"part {name}: {field} = {given}x", tables, "no such class")
                elif field in ("size", "out", "back", "fitted", "current", "rating"):
                    tables["circuit"][name][key][field] = {"size": "2 AWG", "out": "1 m", "back": "1 m"}.get(
                        field, "10 A"
                    )
                    yield Change("constant part", f"part {name}: {field}", tables, "the file decides the plan")
                elif field == "nominal":
                    tables["circuit"][name][key][field] = "99 V"
                    yield Change(
                        "volts apart", f"part {name}: nominal = 99 V", tables, "it is judged for another system"
                    )
        if {"out", "back"} <= part.get("found", {}).keys():
            tables = deepcopy(work.tables)
            tables["circuit"][name]["found"]["back"] = part["found"]["out"]
            yield Change("input twice", f"part {name}: back = out", tables, "one length stands for two")


def items(work: Work) -> Iterator[Change]:
    for at, step in enumerate(work.steps):
        for item in step.get("closes", []):
            tables = work.changed(at, lambda s, item=item: without(s, "closes", item))
            yield Change("left to do", f"{step['id']}: closes {item}", tables, "it is left open for ever")
        for item in step.get("opens", {}):
            tables = work.changed(
                at, lambda s, item=item: s["opens"].pop(item) if len(s["opens"]) > 1 else s.pop("opens")
            )
            yield Change("left to do", f"{step['id']}: opens {item}", tables, "nobody is reminded of it")
        for need in step.get("needs", []):
            tables = work.changed(at, lambda s, need=need: s.__setitem__("needs", [n for n in s["needs"] if n != need]))
            needed = work.steps[work.at[need]]
            hurts = "what it wants may have gone stale" if "lasts" in needed else ""
            yield Change("need gone", f"{step['id']}: needs {need}", tables, hurts)


ALL = (zones, pieces, holds_and_warnings, checks, limits, entries, freshness, order, circuit, items)
