"""The reviewer's desk: looks at a folder, holds its logs against each other, marks them, writes their pages."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from engine.procedure.model import Procedure
from engine.review.alike import MOST, cohorts, left_out, values_of, with_likeness
from engine.review.audit import Audit, audit_file
from engine.review.cohort import PlantedFault, Spread, StepTrouble, planted, spreads, step_troubles
from engine.review.folder import look
from engine.review.history import Drift, before_after, history
from engine.review.index import Index, index_path
from engine.review.likeness import Alike
from engine.review.listed import anonymous, arranged, graded, hidden_names
from engine.review.marks import FILE, Mark, read_marks, write_marks
from engine.review.other_rules import OtherVerdict, under_rules
from engine.review.paper import BadPaper
from engine.review.put import NotPut, demand_ours, put
from engine.review.readings import ReadingRow, computed, readings
from engine.review.rig import load_rig
from engine.review.row import LogRow
from engine.review.rubric import Rubric, shipped_rubric
from engine.review.scheduler import workers_at
from engine.review.spared import spared
from engine.review.texts import with_texts
from engine.session.clock import SystemClock


class NotOnDesk(LookupError):
    """What was asked for is not among the logs, or is no mark; the message says what there is."""


@dataclass(frozen=True, slots=True)
class Cohort:
    """What is said of the logs of one procedure in one revision; ``procedure`` is None if none could be read."""

    name: str
    revision: str
    count: int
    procedure: Procedure | None
    troubles: Sequence[StepTrouble]
    spreads: Sequence[Spread]
    alike: Sequence[Alike]
    faults: Sequence[PlantedFault]


@dataclass(frozen=True, slots=True)
class Past:
    """The sessions of one boat or trailer: what each swap changed, by log, and how readings moved."""

    asset: str
    changes: Mapping[str, Sequence[str]]
    drifts: Sequence[Drift]


@dataclass
class Desk:
    """A folder under review. ``hidden`` hides persons, files and assets; ``all_likeness`` looks at any size.

    ``scheduler`` is the address of other machines that audit. ``compared`` is True once the logs were held against each
    other; ``left_out`` says which were not.
    """

    folder: Path
    rubric: Rubric = field(default_factory=shipped_rubric)
    rig: Path | None = None
    sort: str = "worst"
    show: str = "all"
    search: str = ""
    hidden: bool = False
    all_likeness: bool = False
    scheduler: str = ""
    rows: Sequence[LogRow] = field(default=(), repr=False)  # a worker's name is made of its repr
    alike: Sequence[Alike] = field(default=(), repr=False)
    compared: bool = False
    left_out: Sequence[str] = ()
    stopped: bool = False
    bad_marks: str = ""

    def look(
        self,
        jobs: int = 0,
        progress: Callable[[int, int], None] | None = None,
        stop: Callable[[], bool] | None = None,
        only: str = "",
    ) -> None:
        """Look at every log of the folder, or one of them, by itself; what the index knows is not audited again."""
        elsewhere = workers_at(self.scheduler) if self.scheduler else nullcontext(None)
        with Index(index_path()) as index, elsewhere as workers:
            looked = look(self.folder, index, only=only, jobs=jobs, workers=workers, progress=progress, stop=stop)
            self.rows, self.stopped = with_texts(looked.rows, index), looked.stopped

    def compare(self, stop: Callable[[], bool] | None = None) -> None:
        """Hold the logs against each other: which are equal beyond chance."""
        most = len(self.rows) if self.all_likeness else MOST
        with Index(index_path()) as index:
            self.rows, self.alike = with_likeness(self.rows, index, most, stop)
        self.left_out, self.compared = left_out(self.rows, most), True

    def graded(self) -> list[LogRow]:
        """Return the lines of all logs with the marks that were given; ``bad_marks`` says why there are none."""
        try:
            marks, self.bad_marks = read_marks(self.folder), ""
        except BadPaper as bad:
            marks, self.bad_marks = {}, f"No mark is shown, and none can be given: {bad}"
        return graded(self.rows, marks)

    def listed(self) -> list[LogRow]:
        """Return the lines of the logs as they are wanted now: those to show, in order, with names or without."""
        rows = self.graded()
        return arranged(anonymous(rows) if self.hidden else rows, self.sort, self.show, self.search, self.rubric)

    def readings(self) -> Iterator[ReadingRow]:
        """Yield a row for each value of each log that is wanted now; a log without any has one that says why."""
        files = {shown: file for file, shown in self._names().items()}
        for row in self.listed():
            audit = audit_file(self.folder / files[row.name])
            found, why = spared(partial(_values, audit))
            if audit.replay is None or found is None:
                found = (ReadingRow(row.name, state="unreadable", reason=audit.problem or why or audit.sentence),)
            yield from (replace(each, log=row.name, person=row.person, asset=row.asset) for each in found)

    def shown_name(self, file: str) -> str:
        """Return the name that a log goes by now."""
        return self._names().get(file, file)

    def cohorts(self) -> Iterator[Cohort]:
        """Yield what is said of each cohort of the folder, the largest first."""
        with Index(index_path()) as index:
            for (name, revision), cohort in cohorts(self.rows).items():
                yield self._cohort(name, revision, cohort, index)

    def past(self, asset: str) -> Past:
        """Return the history of one boat or trailer.

        Raises:
            NotOnDesk: if there is no log of it.
        """
        wanted = asset.casefold().strip()
        logs = sorted((row for row in self.rows if row.asset.casefold() == wanted), key=lambda row: row.began)
        if not logs:
            known = ", ".join(sorted({row.asset for row in self.rows if row.asset})[:20])
            raise NotOnDesk(f'there is no log of "{asset}"; there are {known or "none"}')
        audits = [audit_file(self.folder / row.name) for row in logs]
        changes = {self.shown_name(a.name): before_after(a) for a in audits}
        return Past("the boat or trailer" if self.hidden else logs[0].asset, changes, history(audits))

    def other_rules(self, profile: str) -> Iterator[tuple[str, Sequence[OtherVerdict]]]:
        """Yield each log's name with the verdicts that another rule profile would change."""
        for row in self.rows:
            changed = under_rules(audit_file(self.folder / row.name), profile) if row.trusted else ()
            yield self.shown_name(row.name), changed

    def acceptable(self) -> list[LogRow]:
        """Return the logs that may be accepted in bulk: nothing to look at, and no mark yet."""
        return [row for row in self.graded() if row.looks_clean and row.marking is None]

    def accept_clean(self, by: str = "") -> str:
        """Mark the logs that may be accepted in bulk as accepted, and say so."""
        return self._write([Mark(r.name, r.head, accepted=True, by=by, at=_now()) for r in self.acceptable()])

    def mark(self, file: str, mark: str, note: str, by: str = "") -> str:
        """Write a mark and a note on one log, and say so.

        Raises:
            NotOnDesk: if there is no such log, or the mark is none.
        """
        row = next((row for row in self.rows if row.name == file), None)
        if row is None:
            raise NotOnDesk(f"{self.folder}: there is no log {file}")
        return self._write([Mark(row.name, row.head, points(mark), note=note, by=by, at=_now())])

    def page(self, file: str, into: Path | None = None) -> Path:
        """Write the page of one log into the folder ``pages`` beside the logs, or another, and return it.

        Raises:
            NotPut: if something else stands there.
        """
        from engine.review.page import write_page  # local: only a page needs the libraries behind it

        target = (into or self.folder / "pages") / page_name(file)
        target.parent.mkdir(parents=True, exist_ok=True)
        write_page(self.folder / file, target)
        return target

    def pages(self, into: Path) -> Iterator[str]:
        """Write the pages of all logs and an index of them, and yield why one could not be put in its place.

        Raises:
            NotPut: if something else stands where the index goes.
        """
        from engine.review.page import OURS, index

        demand_ours(into / "index.html", OURS)
        rows = self.listed()
        for row in rows:
            try:
                self.page(row.name, into)
            except NotPut as occupied:
                yield str(occupied)
        into.mkdir(parents=True, exist_ok=True)
        put(into / "index.html", [index(rows, [page_name(row.name) for row in rows])], OURS)

    @property
    def status(self) -> int:
        """0 if all logs are clean, 1 with anything to look at, 2 if one, or the file of marks, cannot be trusted."""
        bad = self.bad_marks or any(not row.trusted for row in self.rows)
        return 2 if bad else int(any(not row.looks_clean for row in self.rows))

    def _write(self, marks: list[Mark]) -> str:
        write_marks(self.folder, marks)
        return (
            f"{self.folder / FILE}: {len(marks)} {'mark' if len(marks) == 1 else 'marks'} written; no log was touched"
        )

    def _cohort(self, name: str, revision: str, cohort: Sequence[LogRow], index: Index) -> Cohort:
        procedure = audit_file(self.folder / cohort[0].name).procedure
        rig = load_rig(self.rig, procedure) if self.rig and procedure else None
        names = self._names()
        values = {names[file]: found for file, found in values_of(cohort, index).items()}
        shown = [replace(row, name=names[row.name]) for row in cohort]
        members = {row.name for row in cohort}
        pairs = [replace(p, one=names[p.one], other=names[p.other]) for p in self.alike if p.one in members]
        return Cohort(
            name, revision, len(cohort), procedure, step_troubles(cohort), spreads(values, rig), pairs,
            planted(shown, rig) if rig else (),
        )  # fmt: skip

    def _names(self) -> Mapping[str, str]:
        return hidden_names(self.rows) if self.hidden else {row.name: row.name for row in self.rows}


def _values(audit: Audit) -> tuple[ReadingRow, ...]:
    return (*readings(audit), *computed(audit))


def page_name(file: str) -> str:
    """Return the name of a log's page; none is called as their index is."""
    stem = Path(file).stem
    return f"{stem}-log.html" if stem == "index" else f"{stem}.html"


def points(text: str) -> float:
    """Return the mark that a text says.

    Raises:
        NotOnDesk: if it says none.
    """
    try:
        mark = float(text.replace(",", "."))
    except ValueError:
        mark = float("nan")
    if not 0 <= mark <= MOST_POINTS:
        raise NotOnDesk(f'"{text}" is no mark; a number such as 87.5 would be right')
    return mark


MOST_POINTS = 1000
"""Highest mark that is taken [points]; a project rule."""


def _now() -> str:
    return SystemClock().now().isoformat(timespec="seconds")
