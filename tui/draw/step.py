"""A step in reading order: place, warnings, action, why, values, verdicts."""

from engine.view.models import EntryRow, PartRow, StepView, VerdictView
from tui.draw.connector import connector_lines
from tui.draw.pages import Room
from tui.draw.plan import plan_blocks
from tui.draw.step_parts import choice_lines, verdict_lines, warning_lines
from tui.lines import Block, Line, block, line, piece, wrap

MARKS = {"given": "+ ", "absent": "o ", "open": "- "}
"""Signs before a value: given, not measured, still open. The one asked for now has ``> ``."""


def place_lines(view: StepView, room: Room, page: str = "") -> list[Line]:
    """Return the place line, with the demo mark and the page of a step that needs several."""
    demo = [piece("[DEMO]", "demo"), piece(" ", "place")] if view.demo else []
    if page:
        return wrap([*demo, piece(f"Step {view.number} of {view.total} - {page}", "place")], room.width - room.margin)
    return wrap([*demo, piece(view.place, "place")], room.width - room.margin)


def step_blocks(view: StepView, room: Room, asked: str = "") -> list[Block]:
    """Return the blocks of a step, in reading order.

    Args:
        view: The step.
        room: The window.
        asked: The id of the value that is asked for now; empty if none is.
    """
    width = room.measure
    return [
        block("title", _title(view, width)),
        *(block("warning", warning_lines(each, width)) for each in view.warnings),
        block("beside", [one for each in view.beside for one in wrap([piece(each, "problem")], width)]),
        block("action", _action(view, width)),
        block("why", wrap([piece(view.why, "why")], width, piece("Why: ", "why"), hang=0) if view.why else ()),
        *(plan_blocks(view.plan, width) if view.plan else ()),
        block("connector", connector_lines(view.connector, width) if view.connector else ()),
        block("parts", _parts(view.parts, width)),
        block("values", _values(view.rows, width, asked)),
        *(block("verdict", _verdict(view, each, width)) for each in view.verdicts),
        block("gone", wrap([piece(f"{view.gone}.", "problem")], width) if view.gone else ()),
        block(
            "left",
            [
                one
                for each in view.shut
                for one in wrap([piece(f"{each.sentence[:1].upper()}{each.sentence[1:]}.", "problem")], width)
            ],
        ),
    ]


def asked_block(view: StepView, room: Room, asked: str) -> Block:
    """Return only the value that is asked for: what a small window shows while it is being typed."""
    return block("asked", [one for row in view.rows if row.id == asked for one in _value(row, room.measure, now=True)])


def _verdict(view: StepView, verdict: VerdictView, width: int) -> list[Line]:
    """Return a verdict; on the plan step the plan has said it already, so only how it was settled."""
    if view.plan is None or verdict.sentence != view.plan.planned_sentence:
        return verdict_lines(verdict, width)
    return wrap([piece(verdict.settled)], width, piece(f"{verdict.label} ", verdict.verdict)) if verdict.settled else []


def _title(view: StepView, width: int) -> list[Line]:
    word = {"hold": "[HOLD]", "firm": "[FIRM HOLD]"}.get(view.hold)
    lead = (piece(word, "hold"), piece(" ")) if word else ()
    return wrap([piece(view.title, "title")], width, lead, hang=0)


def _action(view: StepView, width: int) -> list[Line]:
    lines = wrap([piece(view.action, "action")], width)
    if view.irreversible:
        lines += wrap([piece(view.irreversible)], width, piece("Cannot be undone: ", "strong"), hang=2)
    for reason in view.stop_if:
        lines += wrap([piece(reason)], width, piece("Stop: ", "strong"), hang=2)
    return lines


def _parts(parts: tuple[PartRow, ...], width: int) -> list[Line]:
    if not parts:
        return []
    seen = sum(part.seen for part in parts)
    lines = [line(piece(f"On the wire: {seen} of {len(parts)}", "ask"))]
    for number, part in enumerate(parts, start=1):
        mark = piece(f"+ {number} " if part.seen else f"- {number} ", "value" if part.seen else "now")
        facing = [piece(f", {part.facing}")] if part.facing else []
        lines += wrap([piece(part.name, "ask"), *facing], width, mark, key=str(number))
    return lines


def _values(rows: tuple[EntryRow, ...], width: int, asked: str) -> list[Line]:
    return [one for row in rows for one in _value(row, width, now=row.id == asked)]


def _value(row: EntryRow, width: int, *, now: bool) -> list[Line]:
    mark = piece("> " if now else MARKS[row.state], "now" if now else "plain")
    if row.state != "open":
        typed = [piece(f" (typed {row.raw})", "hint")] if row.raw and row.raw not in row.shown else []
        return wrap(
            [piece(row.ask, "ask"), piece(": ", "ask"), piece(row.shown or "not measured", "value"), *typed],
            width,
            mark,
        )
    if not now:
        return wrap([piece(row.ask, "ask")], width, mark)
    why = wrap([piece(row.why, "hint")], width, piece("  ")) if row.why else []
    lines = wrap([piece(row.ask, "now")], width, mark) + why
    if row.choices:
        return lines + choice_lines(row.choices, width)
    if row.offer:
        return lines + wrap([piece(row.offer, "value")], width, piece("  Enter alone takes: ", "hint"), hang=4)
    hint = "; ".join(text for text in (row.hint, row.known) if text)
    return lines + (wrap([piece(hint, "hint")], width, piece("  ")) if hint else [])
