"""How much of what can hurt the linter names: the shipped procedures, changed in one place at a time.

Run it with ``python tests/bench/mutate_procedures.py [--most 4] [--list] [NAME ...]``. Each change is made on the
tables of a procedure with its blocks expanded; whether it could hurt is told by the kind of the change and by what
the procedure said before, asking nothing of the linter. It prints, by kind and in all, the share that is named of
what can hurt, and lists the rest. It ends with 1 if less than the goal is named, or if the linter says anything of a
procedure as shipped.
"""

import argparse
import sys
import tomllib
from collections import Counter, defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from engine.procedure.lint import LintReport, lint_text
from engine.procedure.load import load
from engine.procedure.write import written
from engine.session.lint_orders import order_offences
from engine.shipped import find, shipped
from tests.bench.mutations import ALL, Change, Table, Work

GOAL = 0.95


def report(name: str, tables: Table) -> LintReport:
    return lint_text(written(tables), name, searches=[order_offences])


def said(found: LintReport) -> set[tuple[str, str]]:
    return {(line.where, line.sentence) for line in (*found.faults, *found.doubts)}


def spread(changes: list[Change], most: int) -> list[Change]:
    """Return ``most`` of some changes, evenly over all of them."""
    if len(changes) <= most:
        return changes
    return [changes[int(at * len(changes) / most)] for at in range(most)]


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("names", nargs="*")
    parser.add_argument("--most", type=int, default=4, help="changes of one kind in one procedure at most")
    parser.add_argument("--list", action="store_true", help="list what is named too")
    parser.add_argument("--kind", help="this kind alone")
    given = parser.parse_args()
    made, hurting, caught, faults = Counter[str](), Counter[str](), Counter[str](), Counter[str]()
    missed: dict[str, list[str]] = defaultdict(list)
    talkative: list[str] = []
    for name in given.names or [path.stem for path in shipped()]:
        work = Work(tomllib.loads(load(find(name)).text))
        base = said(report(name, work.tables))
        talkative += [f"{name}: {where}: {sentence}" for where, sentence in sorted(base)]
        by_kind: dict[str, list[Change]] = defaultdict(list)
        for changes in ALL:
            for change in changes(work):
                by_kind[change.kind].append(change)
        for kind, changes in by_kind.items():
            if given.kind in (None, kind):
                for change in spread([c for c in changes if c.hurts] or changes, given.most):
                    _try(name, change, base, made, hurting, caught, faults, missed, given.list)
        print(f"{name}: {sum(made.values())} changes so far", file=sys.stderr, flush=True)
    return _told(made, hurting, caught, faults, missed, talkative)


def _try(name, change, base, made, hurting, caught, faults, missed, listed) -> None:  # type: ignore[no-untyped-def]
    made[change.kind] += 1
    hurting[change.kind] += bool(change.hurts)
    found = report(name, change.tables)
    new = said(found) - base
    if new and change.hurts:
        caught[change.kind] += 1
        faults[change.kind] += found.status == 2
        if listed:
            print(f"named  {name}: {change.kind}: {change.says}: {sorted(new)[0]}")
    elif change.hurts:
        missed[change.kind].append(f"{name}: {change.says} ({change.hurts})")


def _told(made, hurting, caught, faults, missed, talkative) -> int:  # type: ignore[no-untyped-def]
    for kind in made:
        print(
            f"{kind:20} {made[kind]:4} made {hurting[kind]:4} can hurt {caught[kind]:4} named {faults[kind]:4} faults"
        )
    share = sum(caught.values()) / max(1, sum(hurting.values()))
    print(
        f"in all {sum(made.values())} changes of {len(made)} kinds, {sum(hurting.values())} can hurt, {share:.1%} named"
    )
    for kind, lines in missed.items():
        print(f"not named, {kind}:", *lines, sep="\n  ")
    if talkative:
        print("said of the procedures as shipped:", *talkative, sep="\n  ")
    return int(share < GOAL or bool(talkative))


if __name__ == "__main__":
    sys.exit(main())
