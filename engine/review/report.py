"""An audit as lines of plain text: the chain first, then what was not measured, then the rest."""

from collections.abc import Iterable

from engine.review.audit import WORDS, Audit
from engine.review.pace import breaks_s
from engine.review.repeats import repeat_notes
from engine.review.texts import text_note
from engine.session.attach import FileCheck


def report_lines(audit: Audit, files: Iterable[FileCheck] = ()) -> list[str]:
    """Return the report on one log; ``files`` says how its attached files stand."""
    lines = [f"{audit.name}: {_chain(audit)}"]
    if audit.problem or audit.replay is None or audit.procedure is None:
        more = audit.problem or (audit.sentence if audit.chain == "whole" else "")
        return [*lines, f"  {more}"] if more else lines
    state, found = audit.state, audit.replay
    asks = {e: audit.procedure.entry_by_id[e].ask for e in state.absent if e in audit.procedure.entry_by_id}
    opened = sum(1 for hold in audit.holds if hold.by)
    return [
        *lines,
        f"  {'demo: ' if state.demo else ''}{state.asset}, {audit.procedure.title}, {state.person}, {audit.began[:16]}",
        f"  {audit.ended}; rules {audit.profile}; clock {audit.clock}",
        *_listed("not measured", (f"{ask}: {state.absent[e]}" for e, ask in asks.items())),
        *_listed("does not agree", found.problems),
        *_listed("to ask about", (doubt.says for doubt in audit.doubts)),
        *_listed("failed, and never measured good again", audit.standing),
        f"  holds: {opened} of {len(audit.holds)} opened"
        + "".join(f"; {h.title}: by {h.by}" for h in audit.holds if h.by == "deviation"),
        *_listed("deviations", found.deviations),
        *_listed("accepted", (f"{f.sentence} - {f.accepted}" for f in state.findings.values() if f.accepted)),
        *_listed("corrections", found.corrections),
        *_listed("done again", found.redone),
        *_listed("files", (f"{file.name}: {file.verdict}" for file in files)),
        *_listed("notes on the record", record_notes(audit)),
        *_listed("left to do", state.items.values()),
        *_listed("due", (f"{d.says} ({d.on[:10]}){': ' + d.outcome if d.outcome else ''}" for d in state.due.values())),
        f"  {found.findings} findings recomputed, {len(found.differences)} differ; "
        f"head {audit.head}, {audit.count} events",
    ]


def record_notes(audit: Audit) -> tuple[str, ...]:
    """Return what is to be known of how a record came about: people, breaks, pace, repeats, clock; never a verdict."""
    if audit.procedure is None:
        return ()
    state, away, procedure = audit.state, breaks_s(audit.events), audit.procedure
    odd = text_note(procedure)
    return (
        *([odd] if odd else []),
        *([f"done by {', then '.join(state.people)}"] if len(state.people) > 1 else []),
        *([f"breaks: {', '.join(f'{length / 60:.0f} min' for length in away)}"] if away else []),
        *([f"times that the clock was set: {state.clock_notes}"] if state.clock_notes else []),
        *(f"repeated: {note}" for note in repeat_notes(audit.procedure, audit.events)),
    )


def _chain(audit: Audit) -> str:
    word = WORDS.get(audit.chain, audit.chain)
    return word if audit.chain == "whole" else f"{word}: {audit.sentence.removeprefix(f'{word}: ')}"


def _listed(name: str, items: Iterable[str]) -> list[str]:
    found = [f"    {item}" for item in items]
    return [f"  {name}:", *found] if found else []
