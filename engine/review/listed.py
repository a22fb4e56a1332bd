"""The lines of a desk as they are wanted: sorted, searched, filtered, with marks, and with names hidden."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from engine.review.marks import Mark
from engine.review.row import LogRow
from engine.review.rubric import Rubric, propose

Key = Callable[[LogRow], tuple[object, ...]]


def worst_first(row: LogRow) -> tuple[object, ...]:
    """Return the sort key that puts on top what needs a look first.

    The order: a file not to be trusted; an earlier copy; a procedure with another text; a firm hold passed without
    evidence; readings, verdicts or order that do not come out again; equal beyond chance; what wants a
    question; fails; holds gone round;
    undecided; cut short; unfinished; the rest.
    """
    around = sum(1 for hold in row.holds if hold.by == "deviation")
    return (
        row.trusted, not row.earlier, not row.other_text, -len(row.unproved),
        -(row.differs + row.order + row.files_wrong),
        row.like is None or row.like.together, -len(row.doubts), -row.fails,
        -around,
        -row.undecided, row.chain == "whole", row.ended == "closed", -row.left_to_do, -row.missing, -row.marginals,
        row.name,
    )  # fmt: skip


SORTS: Mapping[str, Key] = {
    "worst": worst_first,
    "name": lambda row: (row.name,),
    "person": lambda row: (row.person.casefold(), row.name),
    "asset": lambda row: (row.asset.casefold(), row.began),
    "began": lambda row: (row.began, row.name),
    "mark": lambda row: (row.mark is not None, row.mark or 0.0, row.name),  # the proposed one where none was given
    "time": lambda row: (row.on_task_s, row.name),
}
"""The ways to sort, by name; the first is used unless another is asked for."""

FILTERS: Mapping[str, Callable[[LogRow], bool]] = {
    "all": lambda row: True,
    "to look at": lambda row: not row.looks_clean,
    "clean": lambda row: row.looks_clean,
    "not to be trusted": lambda row: not row.trusted,
    "open": lambda row: row.trusted and row.ended == "open",
    "to ask about": lambda row: bool(row.doubts),
    "like another": lambda row: row.like is not None,
    "not marked": lambda row: row.marking is None,
}
"""The ways to filter, by name."""


class NoSuchView(LookupError):
    """There is no such sort or filter; the message names those that there are."""


def arranged(
    rows: Iterable[LogRow], sort: str = "worst", show: str = "all", search: str = "", rubric: Rubric | None = None
) -> list[LogRow]:
    """Return the rows to show, in order.

    Args:
        rows: The lines of the logs.
        sort: A name of ``SORTS``.
        show: A name of ``FILTERS``.
        search: Words that must all stand in the file's name, person, asset, procedure or first bad step; case is not
            looked at.
        rubric: Proposes the marks by which to sort, where none were given.

    Raises:
        NoSuchView: if there is no such sort or filter.
    """
    if sort not in SORTS or show not in FILTERS:
        known = SORTS if sort not in SORTS else FILTERS
        raise NoSuchView(f'there is no "{sort if sort not in SORTS else show}"; there are {", ".join(known)}')
    words = search.casefold().split()
    shown = [row for row in rows if FILTERS[show](row) and all(word in _searched(row) for word in words)]
    return sorted(marked(shown, rubric) if rubric and sort == "mark" else shown, key=SORTS[sort])


def graded(rows: Iterable[LogRow], marks: Mapping[str, Mark]) -> list[LogRow]:
    """Return the rows with the marks that were given, by the names of the files."""
    return [replace(row, marking=marks[row.name]) if row.name in marks else row for row in rows]


def marked(rows: Iterable[LogRow], rubric: Rubric) -> list[LogRow]:
    """Return the rows with the mark that a rubric proposes."""
    return [replace(row, proposed=propose(row, rubric).mark) for row in rows]


def anonymous(rows: Iterable[LogRow]) -> list[LogRow]:
    """Return the rows with names hidden: persons, files and assets become numbers, the same person the same number.

    The numbers follow the digests of the files, so they say nothing about names and stay while the files do.
    """
    listed = sorted(rows, key=_by_digest)
    people = _numbered(row.person for row in listed)
    assets = _numbered(row.asset for row in listed)
    names = hidden_names(listed)
    return [
        replace(
            row,
            name=names[row.name],
            person=f"person {people[row.person]}" if row.person else "",
            asset=f"asset {assets[row.asset]}" if row.asset else "",
            like=replace(row.like, other=names.get(row.like.other, "another log")) if row.like else None,
            goes_on=names.get(row.goes_on, "another log") if row.goes_on else "",
            marking=replace(row.marking, log=names[row.name], by="") if row.marking else None,
        )
        for row in listed
    ]


def hidden_names(rows: Iterable[LogRow]) -> dict[str, str]:
    """Return the name that stands for each log while names are hidden, by its real one."""
    return {row.name: f"log {n:03d}" for n, row in enumerate(sorted(rows, key=_by_digest), start=1)}


def _by_digest(row: LogRow) -> tuple[str, str]:
    return (row.sha256, row.name)


def _numbered(names: Iterable[str]) -> dict[str, int]:
    return {name: n for n, name in enumerate(dict.fromkeys(name for name in names if name), start=1)}


def _searched(row: LogRow) -> str:
    return "\n".join((row.name, row.person, row.asset, row.procedure, row.first_bad, row.chain)).casefold()
