"""The plan for the eye: the circuit as a chain, its weakest part, the remedy; what-if and the volts along the run."""

from engine.view.models import ChainPart, PlanView, Rung, WhatIf
from tui.draw.step_parts import verdict_lines
from tui.lines import NO_BREAK, Block, Line, Piece, block, line, piece, wrap

_ACROSS = 56
"""Columns from which the chain runs across the window; below, each part has a line of its own."""
_BAR = 20
"""Cells of a full bar: the whole of the allowed drop."""
_BEYOND = 5
"""Cells beyond a full bar, for a drop that is too large."""


def plan_blocks(plan: PlanView, width: int) -> list[Block]:
    """Return the plan: both sentences, both chains, the weakest part with its findings, the remedy."""
    return [
        block("found", _side(plan.found_label, plan.found_sentence, _chain(plan, width, found=True), width)),
        block("planned", _side(plan.planned_label, plan.planned_sentence, _chain(plan, width), width)),
        block(
            "weakest", wrap([piece(plan.weakest, "strong")], width, piece("Weakest: "), hang=2) if plan.weakest else ()
        ),
        block("remedy", wrap([piece(plan.remedy, "strong")], width, piece("Remedy: "), hang=2) if plan.remedy else ()),
        block("buy", _first_to_buy(plan, width)),
        block(
            "missing", [one for each in plan.missing for one in wrap([piece(each)], width, piece("Missing: "), hang=2)]
        ),
    ]


def _first_to_buy(plan: PlanView, width: int) -> list[Line]:
    """Return the first thing to buy, and how many more there are."""
    if not plan.buy:
        return []
    if width < _ACROSS:
        return wrap([piece("w shows what to buy", "strong")], width)
    more = f", and {len(plan.buy) - 1} more (what if)" if len(plan.buy) > 1 else ""
    return wrap([piece(plan.buy[0], "strong"), piece(more)], width, piece("Buy: "), hang=2)


def part_blocks(plan: PlanView, width: int) -> list[Block]:
    """Return each part as planned, with every finding on it."""
    blocks = []
    for part in plan.chain:
        head = wrap([piece(f"{part.name}: ", "title"), piece(part.planned or "-")], width)
        blocks.append(block(part.id, head + [one for each in part.findings for one in verdict_lines(each, width)]))
    return blocks


def what_if_blocks(plan: PlanView, width: int) -> list[Block]:
    """Return the same run in other wire sizes, and what to buy."""
    rows = [one for each in plan.what_if for one in _what_if(each, width)]
    head = wrap([piece("The same run in other sizes; > is the planned one.", "title")], width)
    return [block("what-if", [*head, *rows]), *buy_blocks(plan, width)]


def ladder_blocks(plan: PlanView, width: int) -> list[Block]:
    """Return the volts along the run at full load as bars, each with its words."""
    full = "" if plan.ladder_v is None else f" A full bar (|) is the largest drop that passes, {plan.ladder_v:.2f} V."
    said = f"Volts after each part, at full load.{full}"
    head = wrap([piece(said, "title")], width)
    return [block("head", head), block("ladder", [one for rung in plan.ladder for one in _rung(rung, width)])]


def buy_blocks(plan: PlanView, width: int) -> list[Block]:
    """Return what to buy."""
    lines = [one for each in plan.buy for one in wrap([piece(each)], width, piece("- "))]
    return [block("buy", [line(piece("To buy", "title")), *lines])] if lines else []


def _side(label: str, sentence: str, chain: list[Line], width: int) -> list[Line]:
    return wrap([piece(sentence)], width, piece(f"{label} ", _look(label)), hang=2) + chain


def _chain(plan: PlanView, width: int, *, found: bool = False) -> list[Line]:
    parts = [_link(part, found=found) for part in plan.chain]
    if width < _ACROSS:
        return [one for pieces in parts for one in wrap(pieces, width, piece("| "))]
    joined: list[Piece] = []
    for at, pieces in enumerate(parts):
        joined += [piece(" == ", "frame")] * bool(at) + [
            Piece(each.text.replace(" ", NO_BREAK), each.look) for each in pieces
        ]
    return wrap(joined, width, piece("  "))


def _link(part: ChainPart, *, found: bool) -> list[Piece]:
    figure, label = (part.found, part.found_label) if found else (part.planned, part.planned_label)
    short = figure.split(",")[0]
    pieces = [piece(part.name, "ask")]
    if short:
        pieces.append(piece(f" {short}", "value"))
    return [*pieces, piece(f" {label}", _look(label))] if label else pieces


def _look(label: str) -> str:
    word = label.strip("[]").split(" ")[0].lower()
    return word if word in {"pass", "marginal", "undecided", "missing", "fail"} else "plain"


def _what_if(row: WhatIf, width: int) -> list[Line]:
    mark = piece("> " if row.chosen else "  ", "now")
    label = piece(row.label, _look(row.label))
    if width >= _ACROSS:
        said = f"{row.size:<9}drop {row.drop:<8}warm {row.hot:<8}carries {row.allowable:<7}{row.copper:<9}"
        return [line(mark, piece(said, "value"), label)]
    said = f"{row.size}: drop {row.drop}, warm {row.hot}, carries {row.allowable}, {row.copper} "
    return wrap([piece(said, "value"), label], width, mark)


def _rung(rung: Rung, width: int) -> list[Line]:
    filled = max(0, min(round(rung.share * _BAR), _BAR + _BEYOND))
    bar = ("#" * min(filled, _BAR)).ljust(_BAR) + "|" + ("#" * max(0, filled - _BAR)).ljust(_BEYOND)
    drawn = piece(bar, "fail" if rung.share > 1 else "plain")
    if width < _ACROSS:
        return [*wrap([piece(f"{rung.name}: ", "ask"), piece(rung.text, "value")], width), line(piece("  "), drawn)]
    return wrap([piece(rung.text, "value")], width, (piece(f"{rung.name:<20.20} ", "ask"), drawn, piece(" ")))
