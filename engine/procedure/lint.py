"""Lints a procedure: every fault, which makes it unsafe to hand out, and every doubt, which makes it hard to follow."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from engine.procedure.blocks import BlockReader
from engine.procedure.faults import FaultLine, Faults, Place, ProcedureFaults
from engine.procedure.lint_branch import branch_doubts, branch_faults
from engine.procedure.lint_checks import check_faults, constant_parts
from engine.procedure.lint_doubts import doubts_of_procedure, doubts_of_step
from engine.procedure.lint_energy import energy_faults
from engine.procedure.lint_evidence import evidence_faults
from engine.procedure.lint_fit import fit_doubts
from engine.procedure.lint_hands import hand_faults, like_doubts
from engine.procedure.lint_keys import keyboard_doubts
from engine.procedure.lint_leads import lead_faults
from engine.procedure.lint_limits import limit_doubts, limit_faults
from engine.procedure.lint_order import order_faults
from engine.procedure.lint_pieces import piece_faults
from engine.procedure.lint_safety import safety_faults
from engine.procedure.lint_taken import taken_doubts, taken_faults
from engine.procedure.lint_used import unused_entries
from engine.procedure.lint_words import word_doubts
from engine.procedure.lint_zones import untouched_zones, zone_faults
from engine.procedure.load import Loaded, blocks_of, read_all, stands_for_shipped
from engine.procedure.toml import text_of

Found = Iterator[tuple[Place, str]]
"""What a lint rule gives: places and sentences."""

Rule = Callable[[Loaded], Found]

FAULTS: tuple[Rule, ...] = (
    order_faults,
    limit_faults,
    evidence_faults,
    safety_faults,
    zone_faults,
    piece_faults,
    check_faults,
    energy_faults,
    hand_faults,
    lead_faults,
    taken_faults,
    branch_faults,
)
DOUBTS: tuple[Rule, ...] = (
    doubts_of_procedure,
    doubts_of_step,
    branch_doubts,
    limit_doubts,
    constant_parts,
    taken_doubts,
    like_doubts,
    unused_entries,
    untouched_zones,
    fit_doubts,
    word_doubts,
    keyboard_doubts,
)


@dataclass(frozen=True, slots=True)
class LintReport:
    """What the linter found in one file. ``file`` is its name as given; ``notes`` ask for nothing."""

    file: str
    faults: tuple[FaultLine, ...]
    doubts: tuple[FaultLine, ...]
    notes: tuple[FaultLine, ...] = ()

    @property
    def status(self) -> int:
        """The exit status: 0 nothing, 1 doubts, 2 faults."""
        return 2 if self.faults else (1 if self.doubts else 0)

    def lines(self) -> list[str]:
        """Return the report as lines of text, faults first, and a last line that sums it up."""
        found = [f"{kind}: {line}" for kind, lines in self._kinds() for line in lines]
        return [*found, f"{self.file}: {_counted(self.faults, 'fault')}, {_counted(self.doubts, 'doubt')}"]

    def to_json(self) -> dict[str, object]:
        """Return the report as plain JSON data."""
        return {
            "schema": 1,
            "file": self.file,
            "status": self.status,
            **{f"{kind}s": [_as_json(line) for line in lines] for kind, lines in self._kinds()},
        }

    def _kinds(self) -> tuple[tuple[str, tuple[FaultLine, ...]], ...]:
        return (("fault", self.faults), ("doubt", self.doubts), ("note", self.notes))


def lint(path: Path, *searches: Rule) -> LintReport:
    """Return everything that is wrong or doubtful in a procedure file and its blocks.

    Args:
        path: The TOML file; its blocks stand in the folder ``blocks`` beside it, or are shipped with the program.
        searches: Rules of rooms above for what has no fault otherwise; what they give is a fault.
    """
    try:
        text = text_of(path)
    except ProcedureFaults as unreadable:
        return LintReport(path.name, unreadable.faults, ())
    return lint_text(text, path.name, blocks_of(path), lambda block: stands_for_shipped(path, block), searches)


def lint_text(
    text: str,
    name: str,
    block_reader: BlockReader = lambda block: None,
    stands_for_shipped: Callable[[str], bool] = lambda block: False,
    searches: Sequence[Rule] = (),
) -> LintReport:
    """Return everything that is wrong or doubtful in the text of a procedure.

    Args:
        text: The TOML text.
        name: What the report calls the file.
        block_reader: Gives the text of a block by its name.
        stands_for_shipped: Says whether a block of the author's own is used in place of a shipped one.
        searches: Rules of rooms above for what has no fault otherwise; what they give is a fault.
    """
    try:
        loaded = read_all(text, name, block_reader)
    except ProcedureFaults as malformed:
        return LintReport(name, malformed.faults, ())
    faults, doubts, notes = Faults(), Faults(), Faults()
    for block, place in loaded.blocks.items():
        if stands_for_shipped(block):
            notes.add(place, f"blocks/{block}.toml here is used instead of the shipped one")
    if len(loaded.steps) < len(loaded.procedure.steps):  # two of one name: no rule could tell them apart
        return LintReport(name, loaded.faults.in_order(), (), notes.in_order())
    unread = set(loaded.faults.unread)
    faults.found = list(loaded.faults.found)
    for rules, into in ((FAULTS, faults), (DOUBTS, doubts)):
        for place, sentence in (found for rule in rules for found in rule(loaded)):
            if place.words[:1] == () or place.words[0] not in unread:
                into.add(place, sentence)
    for place, sentence in (found for rule in searches if not faults.found for found in rule(loaded)):
        faults.add(place, sentence)
    return LintReport(name, faults.in_order(), doubts.in_order(), notes.in_order())


def _counted(lines: tuple[FaultLine, ...], word: str) -> str:
    return f"{len(lines)} {word}{'' if len(lines) == 1 else 's'}"


def _as_json(line: FaultLine) -> dict[str, object]:
    return {"file": line.file, "line": line.line, "where": line.where, "sentence": line.sentence}
