"""The plan as lines of plain text: both sides, the weakest part, remedies, what to buy, other sizes, the volts."""

from engine.view.models import PlanView
from tui.draw.plan import buy_blocks, ladder_blocks, plan_blocks, what_if_blocks
from tui.plain.lines import ROOM, texts, wrapped


def plan_lines(plan: PlanView) -> list[str]:
    """Return the whole plan."""
    more = [line for text in plan.remedies[1:] for line in wrapped(f"Then: {text}")]
    sizes = texts([block for block in what_if_blocks(plan, ROOM.measure) if block.name == "what-if"])
    parts = [texts(plan_blocks(plan, ROOM.measure)), more, texts(buy_blocks(plan, ROOM.measure)), sizes]
    parts.append(texts(ladder_blocks(plan, ROOM.measure)))
    return [line for part in parts if part for line in (*part, "")][:-1]
