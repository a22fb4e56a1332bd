"""Everything the page of one log shows, in its order, as plain data; the template only lays it out."""

from dataclasses import dataclass

from engine.finding import Verdict
from engine.review.audit import WORDS, Audit, HoldLine
from engine.review.page.circuit import CircuitLines, circuit_lines
from engine.review.page.drawing import drawing
from engine.review.page.ladder import ladder
from engine.review.page.photos import Photo
from engine.review.page.sources import SourceList
from engine.review.page.steps import SectionLines, clock, section_lines
from engine.review.report import record_notes
from engine.review.row import LogRow, row_of
from engine.review.spared import spared
from engine.review.texts import text_note
from engine.session.gates import applicable, entries
from engine.session.state import FoundState, Instrument, State


@dataclass(frozen=True, slots=True)
class Sheet:
    """The page of one log. ``not_measured`` stands first; pictures are SVG made by this program alone."""

    audit: Audit
    row: LogRow
    title: str
    chain: str
    sentence: str
    ended: str
    identity: tuple[tuple[str, str], ...]
    not_measured: tuple[str, ...]
    not_done: tuple[str, ...]
    problems: tuple[str, ...]
    not_passed: tuple[tuple[str, str], ...]
    standing: tuple[str, ...]
    circuit: CircuitLines | None
    drawing: str
    ladder: str
    holds: tuple[HoldLine, ...]
    sections: tuple[SectionLines, ...]
    deviations: tuple[str, ...]
    accepted: tuple[str, ...]
    corrections: tuple[str, ...]
    redone: tuple[str, ...]
    notes: tuple[str, ...]
    record: tuple[str, ...]
    left_to_do: tuple[str, ...]
    due: tuple[str, ...]
    physical: tuple[tuple[str, str], ...]
    photos: tuple[Photo, ...]
    label: tuple[str, ...]
    sources: tuple[str, ...]


def sheet_of(audit: Audit, photos: tuple[Photo, ...] = ()) -> Sheet:
    """Return what the page of a log shows."""
    sources, state, found = SourceList(), audit.state, audit.replay
    circuit, no_circuit = spared(lambda: circuit_lines(audit))
    drawn, no_drawing = spared(lambda: (drawing(circuit), ladder(circuit)) if circuit else ("", ""))
    sections, no_steps = spared(lambda: section_lines(audit, sources))
    lost = {"the circuit": no_circuit, "the drawing": no_drawing, "the steps": no_steps}
    return Sheet(
        audit=audit,
        row=row_of(audit),
        title=f"{state.asset}: {audit.procedure.title}" if audit.procedure and state.asset else audit.name,
        chain=WORDS.get(audit.chain, audit.chain),
        sentence=audit.problem or audit.sentence,
        ended=f"stopped, unfinished: {state.stopped}" if state.stopped else audit.ended,
        identity=_identity(audit),
        not_measured=_not_measured(audit),
        not_done=_not_done(audit),
        problems=(*_other_text(audit), *(found.problems if found else ()), *_lost(lost)),
        not_passed=_not_passed(audit),
        standing=audit.standing,
        circuit=circuit,
        drawing=drawn[0] if drawn else "",
        ladder=drawn[1] if drawn else "",
        holds=audit.holds,
        sections=sections or (),
        deviations=tuple(found.deviations) if found else (),
        accepted=tuple(f"{f.sentence} - {f.accepted}" for f in state.findings.values() if f.accepted),
        corrections=tuple(found.corrections) if found else (),
        redone=tuple(found.redone) if found else (),
        notes=tuple(f"{clock(at)}: {text}" for _, text, at in state.notes),
        record=record_notes(audit),
        left_to_do=tuple(state.items.values()),
        due=tuple(f"{d.says}: {d.outcome or f'to be made from {d.on[:10]}'}" for d in state.due.values()),
        physical=tuple(state.physical.items()),
        photos=photos,
        label=label_words(state, circuit),
        sources=sources.told,
    )


def _lost(parts: dict[str, str]) -> tuple[str, ...]:
    return tuple(f"{name} cannot be shown: {why}" for name, why in parts.items() if why)


def label_words(state: State, circuit: CircuitLines | None) -> tuple[str, ...]:
    """Return the text for the label at the panel: the words that were given, else the circuit's own figures."""
    given = state.given.get("label_text")
    if given is not None and given.taken.label:
        return (given.taken.label,)
    if circuit is None:
        return ()
    return tuple(f"{part.name}: {part.planned}" for part in circuit.parts if part.planned)


def _identity(audit: Audit) -> tuple[tuple[str, str], ...]:
    state, procedure = audit.state, audit.procedure
    meters = [_meter(instrument) for instrument in state.instruments.values()]
    told = {
        "Boat or trailer": state.asset,
        "Done by": ", then ".join(state.people) or state.person,
        "Place": state.place,
        "Begun": f"{clock(audit.began)} UTC" if audit.began else "",
        "Last entry": f"{clock(state.last_at)} UTC" if state.last_at else "",
        "Clock": audit.clock,
        "Procedure": f"{procedure.title}, {procedure.id}, revision {procedure.revision}" if procedure else "",
        "Its text (SHA-256)": procedure.sha256 if procedure else "",
        "Rules": audit.profile,
        "Program": audit.program,
        "Instruments": "; ".join(meters) or ("none declared: typical accuracy is used" if procedure else ""),
    }
    return tuple((name, text) for name, text in told.items() if text)


def _other_text(audit: Audit) -> tuple[str, ...]:
    procedure = audit.procedure
    told = text_note(procedure) if procedure else ""
    return (told,) if told else ()


def _meter(instrument: Instrument) -> str:
    known = f"calibrated {instrument.calibrated}" if instrument.calibrated else "no calibration given"
    return f"{instrument.name}: {instrument.percent:g} % and {instrument.counts:g} digits, {known}"


def _not_measured(audit: Audit) -> tuple[str, ...]:
    if audit.procedure is None:
        return ()
    known = audit.procedure.entry_by_id
    return tuple(f"{known[e].ask}: {why}" for e, why in audit.state.absent.items() if e in known)


def _not_passed(audit: Audit) -> tuple[tuple[str, str], ...]:
    """Return the verdict and the words of each finding that failed or could not be decided, in working order."""
    if audit.procedure is None:
        return ()
    number = {step.id: at for at, step in enumerate(audit.procedure.steps)}
    bad = [(step, f) for (step, _), f in audit.state.findings.items() if f.verdict in _BAD and step in number]
    bad.sort(key=lambda pair: number[pair[0]])
    titles = audit.procedure.step_by_id
    told = (f"{f.sentence}{_settled(f)}" for _, f in bad)
    return tuple((f.verdict, f"{titles[step].title}: {words}") for (step, f), words in zip(bad, told, strict=True))


def _settled(found: FoundState) -> str:
    settled = found.deviation or found.accepted
    return f" - went on: {settled}" if settled else ""


_BAD = (Verdict.FAIL, Verdict.UNDECIDED)


def _not_done(audit: Audit) -> tuple[str, ...]:
    if audit.procedure is None or audit.replay is None:
        return ()
    state, steps = audit.state, applicable(audit.procedure, audit.state)
    undone = [f"step not done: {step.title}" for step in steps if step.id not in state.done]
    blank = [
        f"no value: {entry.ask}"
        for step in steps
        if step.id in state.done
        for entry in entries(audit.procedure, state, step)
        if entry.id not in state.given and entry.id not in state.absent
    ]
    return (*undone, *blank)
