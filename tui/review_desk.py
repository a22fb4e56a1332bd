"""The reviewer's desk behind both faces: looks at a folder, and tells, marks and writes pages of its logs."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass, field, replace
from pathlib import Path

from engine.procedure.model import Procedure
from engine.review.alike import MOST, cohorts, left_out, values_of, with_likeness
from engine.review.audit import audit_file
from engine.review.cohort import planted, spreads, step_troubles
from engine.review.desk import hidden_names
from engine.review.folder import look
from engine.review.history import before_after, history
from engine.review.index import Index, index_path
from engine.review.likeness import Alike
from engine.review.marks import FILE, Mark, read_marks, write_marks
from engine.review.other_rules import under_rules
from engine.review.rig import load_rig
from engine.review.row import LogRow
from engine.review.rubric import Rubric, load_rubric, shipped_rubric
from engine.review.scheduler import workers_at
from engine.review.texts import with_texts
from engine.session.clock import SystemClock
from engine.view.review import ReviewView, listed, review_view
from engine.view.review_lines import cohort_lines, history_lines
from tui.commands.common import NotUsable


@dataclass
class ReviewDesk:
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

    def look(
        self, jobs: int = 0, progress: Callable[[int, int], None] | None = None, stop: Callable[[], bool] | None = None
    ) -> None:
        """Look at every log of the folder by itself; what the index knows is not audited again."""
        elsewhere = workers_at(self.scheduler) if self.scheduler else nullcontext(None)
        with Index(index_path()) as index, elsewhere as workers:
            looked = look(self.folder, index, jobs=jobs, workers=workers, progress=progress, stop=stop)
            self.rows, self.stopped = with_texts(looked.rows, index), looked.stopped

    def compare(self, stop: Callable[[], bool] | None = None) -> None:
        """Hold the logs against each other: which are equal beyond chance."""
        most = len(self.rows) if self.all_likeness else MOST
        with Index(index_path()) as index:
            self.rows, self.alike = with_likeness(self.rows, index, most, stop)
        self.left_out, self.compared = left_out(self.rows, most), True

    def view(self) -> ReviewView:
        """Return the table as it is wanted now."""
        return review_view(
            self.rows, self.rubric, marks=read_marks(self.folder), sort=self.sort, show=self.show, search=self.search,
            hidden=self.hidden,
        )  # fmt: skip

    def listed(self) -> list[LogRow]:
        """Return the lines of the logs as they are wanted now."""
        return listed(
            self.rows, self.rubric, marks=read_marks(self.folder), sort=self.sort, show=self.show, search=self.search,
            hidden=self.hidden,
        )  # fmt: skip

    def shown_name(self, file: str) -> str:
        """Return the name that a log goes by now."""
        return hidden_names(self.rows).get(file, file) if self.hidden else file

    def cohort(self) -> Iterator[str]:
        """Yield what is said of each cohort of the folder."""
        with Index(index_path()) as index:
            for (name, revision), cohort in cohorts(self.rows).items():
                yield from self._one_cohort(f"{name}, revision {revision}: {len(cohort)} logs", cohort, index)

    def history(self, asset: str) -> Iterable[str]:
        """Return the history of one boat or trailer.

        Raises:
            NotUsable: if there is no log of it.
        """
        wanted = asset.casefold().strip()
        logs = sorted((row for row in self.rows if row.asset.casefold() == wanted), key=lambda row: row.began)
        if not logs:
            known = ", ".join(sorted({row.asset for row in self.rows if row.asset})[:20])
            raise NotUsable(f'there is no log of "{asset}"; there are {known or "none"}')
        audits = [audit_file(self.folder / row.name) for row in logs]
        changes = {self.shown_name(a.name): before_after(a) for a in audits}
        title = "the boat or trailer" if self.hidden else logs[0].asset
        return history_lines(title, history(audits), changes)

    def other_rules(self, profile: str) -> Iterator[str]:
        """Yield the verdicts that another rule profile would change."""
        for row in self.rows:
            changed = under_rules(audit_file(self.folder / row.name), profile) if row.trusted else ()
            yield f"{self.shown_name(row.name)}: {len(changed)} verdicts would differ under {profile}"
            yield from (f"  {verdict}" for verdict in changed)

    def accept_clean(self, by: str = "") -> str:
        """Mark every clean log as accepted, and say so; a log that has a mark keeps it."""
        marked = read_marks(self.folder)
        clean = [row for row in self.rows if row.looks_clean and row.name not in marked]
        return self._write([Mark(row.name, row.head, accepted=True, by=by, at=_now()) for row in clean])

    def mark(self, file: str, mark: str, note: str, by: str = "") -> str:
        """Write a mark and a note on one log, and say so.

        Raises:
            NotUsable: if there is no such log, or the mark is none.
        """
        row = next((row for row in self.rows if row.name == file), None)
        if row is None:
            raise NotUsable(f"{self.folder}: there is no log {file}")
        return self._write([Mark(row.name, row.head, _number(mark), note=note, by=by, at=_now())])

    def page(self, file: str) -> Path:
        """Write the page of one log into the folder ``pages`` beside the logs, and return it."""
        from engine.review.page import page, photos_of  # local: only a page needs the libraries behind it

        log, target = self.folder / file, self.folder / "pages" / f"{Path(file).stem}.html"
        target.parent.mkdir(exist_ok=True)
        audit = audit_file(log)
        target.write_text(page(audit, photos_of(log, audit.state)), encoding="utf-8", newline="\n")
        return target

    def _write(self, marks: list[Mark]) -> str:
        write_marks(self.folder, marks)
        return (
            f"{self.folder / FILE}: {len(marks)} {'mark' if len(marks) == 1 else 'marks'} written; no log was touched"
        )

    def _one_cohort(self, title: str, cohort: Sequence[LogRow], index: Index) -> Iterator[str]:
        procedure = audit_file(self.folder / cohort[0].name).procedure
        rig = load_rig(self.rig, procedure) if self.rig and procedure else None
        names = self._names()
        values = {names[name]: found for name, found in values_of(cohort, index).items()}
        shown = [replace(row, name=names[row.name]) for row in cohort]
        members = {row.name for row in cohort}
        pairs = [replace(p, one=names[p.one], other=names[p.other]) for p in self.alike if p.one in members]
        faults = planted(shown, rig) if rig else ()
        yield from cohort_lines(title, step_troubles(cohort), spreads(values, rig), pairs, faults, _asks(procedure))

    def _names(self) -> Mapping[str, str]:
        return hidden_names(self.rows) if self.hidden else {row.name: row.name for row in self.rows}


def rubric_from(path: Path | None) -> Rubric:
    """Return the rubric of a file, or the one that is shipped.

    Raises:
        BadRubric: if the file cannot be used.
    """
    return load_rubric(path) if path else shipped_rubric()


def _asks(procedure: Procedure | None) -> dict[str, str]:
    if procedure is None:
        return {}
    asks = {entry.id: entry.ask for entry in procedure.entry_by_id.values()}
    return asks | {step.id: step.title for step in procedure.steps}


def _number(text: str) -> float:
    try:
        mark = float(text.replace(",", "."))
    except ValueError:
        mark = float("nan")
    if not 0 <= mark <= 1000:
        raise NotUsable(f'"{text}" is no mark; a number such as 87.5 would be right')
    return mark


def _now() -> str:
    return SystemClock().now().isoformat(timespec="seconds")
