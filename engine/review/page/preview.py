"""A procedure as one page, without a job: its steps in order, with warnings, what is asked, limits, zones."""

from pathlib import Path

from engine.procedure.model import Entry, Procedure, Step
from engine.review.page.render import template
from engine.review.page.written import OURS
from engine.review.put import demand_ours, put

_DOES = {
    "isolates": "takes a source off",
    "proves_dead": "proves dead",
    "hands_on": "hands on",
    "feeds": "feeds",
}


def preview(procedure: Procedure) -> str:
    """Return the page of a procedure."""

    def zones(step: Step) -> list[str]:
        return [
            f"{does}: {', '.join(procedure.zone_by_id[zone].name for zone in touched)}"
            for key, does in _DOES.items()
            if (touched := getattr(step, key))
        ]

    return template("procedure.html.j2").render(
        procedure=procedure, numbers=procedure.numbers(), zones=zones, asked=_asked, title=procedure.title
    )


def write_preview(procedure: Procedure, target: Path) -> None:
    """Write the page of a procedure.

    Raises:
        NotPut: if anything but a page of this program is at ``target``.
        OSError: if the page cannot be written.
    """
    demand_ours(target, OURS)
    put(target, [preview(procedure)], OURS)


def _asked(entry: Entry) -> str:
    """Return what kind of answer is wanted."""
    if entry.choices:
        return " / ".join(entry.choices)
    return entry.unit or "count"
