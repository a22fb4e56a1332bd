"""A finding as lines of plain text, short or with its sum, limits and sources."""

from engine.view.models import VerdictView
from tui.plain.text import item, wrapped


def verdict_lines(view: VerdictView, *, full: bool = False) -> list[str]:
    """Return a finding, with its remedy where it did not pass; ``full`` adds the sum, the limits and the sources."""
    lines = wrapped(f"{view.label} {view.sentence}", hang=2)
    if view.remedy and view.verdict != "pass":
        lines += item(f"Remedy: {view.remedy}")
    if view.settled:
        lines += item(view.settled)
    if not full:
        return lines
    lines += [x for text in view.limits for x in wrapped(f"Limit: {text}", hang=2)]
    lines += ["Sum:", *(f"  {x}" for text in view.working.splitlines() for x in wrapped(text))] if view.working else []
    return lines + [x for text in view.sources for x in wrapped(f"Source: {text}", hang=2)]
