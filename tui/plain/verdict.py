"""A finding as lines of plain text, short or with its sum, limits and sources."""

from engine.view.models import VerdictView
from tui.plain.lines import wrapped


def verdict_lines(view: VerdictView, *, full: bool = False) -> list[str]:
    """Return a finding; ``full`` adds the remedy, the sum, the limits and the sources."""
    lines = wrapped(f"{view.label} {view.sentence}")
    if view.settled:
        lines += wrapped(f"  {view.settled}")
    if not full:
        return lines
    lines += wrapped(f"Remedy: {view.remedy}") if view.remedy else []
    lines += [x for text in view.limits for x in wrapped(f"Limit: {text}")]
    lines += ["Sum:", *(f"  {x}" for text in view.working.splitlines() for x in wrapped(text))] if view.working else []
    return lines + [x for text in view.sources for x in wrapped(f"Source: {text}")]
