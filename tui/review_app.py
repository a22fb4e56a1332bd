"""The review on the screen: looks at the folder in a thread, shows the table, and carries out what is wished for."""

from collections.abc import Callable, Coroutine, Iterable
from functools import partial
from typing import Any

from textual.worker import WorkerFailed

from engine.review.desk import Desk
from engine.review.listed import SORTS
from engine.view.log import LogParts
from engine.view.review import SHOWS, ReviewView, review_view, summary
from engine.view.review_lines import cohort_lines, past_lines
from tui.lines import Block, block, piece, wrap
from tui.looks import Looks
from tui.screens.asking import AskScreen, Field
from tui.screens.picking import PickScreen
from tui.screens.reading import ReadScreen
from tui.screens.review import ReviewScreen
from tui.screens.wait import WaitScreen

TELL_EVERY = 20
"""Logs between two words on how far the look has come."""


class LookingScreen(WaitScreen):
    """Says how far the look has come; Escape ends it with what is there."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.stopped = False

    def action_more(self) -> None:
        """End the look."""
        self.stopped = True
        self.tell("Ending with what is there ...")


class ReviewApp(Looks):
    """The reviewer's table and what opens from it."""

    def __init__(self, desk: Desk, jobs: int = 0, by: str = "") -> None:
        super().__init__()
        self.desk = desk
        self.faults: list[Exception] = []
        self.own_keys: dict[str, str] = {}
        self._jobs, self._by, self._told_at = jobs, by, 0
        self._looking = LookingScreen(f"Looking at the logs of {desk.folder} ... Escape shows what is there.")
        self._table: ReviewScreen | None = None
        self._left = False

    def on_mount(self) -> None:
        """Paint something at once; the look comes after."""
        self.push_screen(self._looking)
        self.call_after_refresh(lambda: self._flow(self._begin()))

    async def on_unmount(self) -> None:
        """Let a look that still runs come to its end."""
        self._looking.stopped = self._left = True

    async def _begin(self) -> None:
        await self._in_thread(partial(self.desk.look, self._jobs, self._progress, lambda: self._looking.stopped))
        self._table = ReviewScreen(await self._in_thread(self._view), self._told())
        await self.push_screen(self._table)
        if self.desk.bad_marks:
            self._table.show_problem(self.desk.bad_marks)
        self.run_worker(self._guarded(self._compare()), group="compare")

    async def _compare(self) -> None:
        """Hold the logs against each other while the table can be worked with already."""
        await self._in_thread(partial(self.desk.compare, lambda: self._left), "compare")
        await self._show()

    def _progress(self, done: int, total: int) -> None:
        if done - self._told_at >= TELL_EVERY and not self._looking.stopped:
            self._told_at = done
            self.call_from_thread(self._looking.tell, f"{done} of {total} logs looked at. Escape shows what is there.")

    def on_review_screen_wished(self, message: ReviewScreen.Wished) -> None:
        """Carry out a wish."""
        wishes: dict[str, Callable[[str], Coroutine[Any, Any, None]]] = {
            "open": self._open, "sort": self._sort, "filter": self._filter, "search": self._search,
            "names": self._names, "mark": self._mark, "accept": self._accept, "cohort": self._cohort,
            "past": self._past, "page": self._page, "quit": self._quit,
        }  # fmt: skip
        self._flow(wishes[message.wish](message.file))

    # Wishes

    async def _open(self, file: str) -> None:
        if not file or self._table is None or self._table.here is None:
            return
        step = self._table.here.step
        parts = await self._in_thread(partial(self._parts, file, step))
        await self.push_screen_wait(ReadScreen(self.desk.shown_name(file), partial(_blocks, parts)))

    def _parts(self, file: str, step: str) -> LogParts:
        from engine.review.audit import audit_file  # local: the table is on the screen before a log is opened
        from engine.session.attach import check_files
        from engine.view.log import log_parts, without_names

        path = self.desk.folder / file
        audit = audit_file(path)
        parts = log_parts(audit, step, check_files(path, audit.state))
        return without_names(parts, audit) if self.desk.hidden else parts

    async def _sort(self, _: str) -> None:
        await self._pick("Sort", "How should the logs be sorted?", tuple(SORTS), "sort")

    async def _filter(self, _: str) -> None:
        await self._pick("Show", "Which logs should be shown?", SHOWS, "show")

    async def _pick(self, title: str, text: str, choices: tuple[str, ...], name: str) -> None:
        picked = await self.push_screen_wait(PickScreen(title, text, choices))
        if picked is not None:
            setattr(self.desk, name, choices[picked])
            await self._show()

    async def _search(self, _: str) -> None:
        field = Field("Search for", 0, "words that must all be there; empty shows all", self.desk.search)
        got = await self.push_screen_wait(AskScreen("Search", "", (field,)))
        if got is not None:
            self.desk.search = got[0]
            await self._show()

    async def _names(self, _: str) -> None:
        self.desk.hidden = not self.desk.hidden
        await self._show()

    async def _mark(self, file: str) -> None:
        if not file or self._table is None or self._table.here is None:
            return
        here = self._table.here
        why = here.marked or "; ".join(here.proposed)
        fields = (
            Field("Mark", 1, "a number; the rubric's stands there", here.cells[-1].removeprefix("-")),
            Field("Note", 0, "may be left empty"),
        )
        got = await self.push_screen_wait(AskScreen(f"Mark {self.desk.shown_name(file)}", why, fields))
        if got is not None:
            await self._show(await self._in_thread(partial(self.desk.mark, file, got[0], got[1], self._by)))

    async def _accept(self, _: str) -> None:
        if not self.desk.compared:
            self._tell("The logs are still being held against each other; accept them in a moment.")
            return
        names = [self.desk.shown_name(row.name) for row in await self._in_thread(self.desk.acceptable)]
        if not names:
            self._tell("No log is left to accept: each has a mark, or something to look at.")
            return
        asked = f"Accept these {len(names)}, which have nothing to look at and no mark? {', '.join(names)}"
        if await self.push_screen_wait(PickScreen("Accept", asked, ("accept them",))) is not None:
            await self._show(await self._in_thread(partial(self.desk.accept_clean, self._by)))

    async def _cohort(self, _: str) -> None:
        lines = await self._in_thread(lambda: [x for each in self.desk.cohorts() for x in cohort_lines(each)])
        await self.push_screen_wait(ReadScreen("The cohort", partial(_plain_blocks, lines)))

    async def _past(self, file: str) -> None:
        row = next((row for row in self.desk.rows if row.name == file), None)
        if row is not None and row.asset:
            lines = await self._in_thread(lambda: list(past_lines(self.desk.past(row.asset))))
            await self.push_screen_wait(ReadScreen("History", partial(_plain_blocks, lines)))

    async def _page(self, file: str) -> None:
        if file:
            written = await self._in_thread(partial(self.desk.page, file))
            await self._show(f"the page is written: {written}")

    async def _quit(self, _: str) -> None:
        self._left = True
        self.exit(message=summary(self.desk.rows))

    # Helpers

    async def _show(self, said: str = "") -> None:
        view = await self._in_thread(self._view)
        if self._table is not None:
            self._table.show_review(view, self._told(), said or self.desk.bad_marks)

    def _view(self) -> ReviewView:
        return review_view(self.desk)

    def _told(self) -> str:
        desk = self.desk
        words = ["" if desk.sort == "worst" else f"by {desk.sort}", "" if desk.show == "all" else f"only {desk.show}",
                 f'"{desk.search}"' if desk.search else "", "names hidden" if desk.hidden else "",
                 "the look was ended early" if desk.stopped else "", "" if desk.compared else "comparing logs",
                 "likeness not looked at, see c" if desk.left_out else ""]  # fmt: skip
        return ", ".join(word for word in words if word)

    def _flow(self, flow: Coroutine[Any, Any, None]) -> None:
        self.run_worker(self._guarded(flow), group="flow")

    async def _guarded(self, flow: Coroutine[Any, Any, None]) -> None:
        """Run a flow; what cannot be done is said, and a mistake of ours does not take the screen down."""
        try:
            await flow
        except (ValueError, LookupError, OSError) as problem:
            self._tell(str(problem))
        except Exception as fault:
            self.faults.append(fault)
            self._tell(f"The program made a mistake ({type(fault).__name__}: {fault}). No log was touched.")

    def _tell(self, sentence: str) -> None:
        show = self._table.show_problem if self._table is not None else self._looking.tell
        show(sentence)

    async def _in_thread(self, work: Callable[[], Any], group: str = "work") -> Any:  # noqa: ANN401 - any result
        try:
            return await self.run_worker(work, thread=True, group=group, exit_on_error=False).wait()
        except WorkerFailed as failed:
            raise failed.error from failed


def _blocks(parts: LogParts, width: int) -> list[Block]:
    return [
        block(title, [*wrap([piece(title, "title")], width), *(x for line in lines for x in _wrapped(line, width))])
        for title, lines in parts
    ]


def _plain_blocks(lines: Iterable[str], width: int) -> list[Block]:
    return [block("text", [x for line in lines for x in _wrapped(line, width)])]


def _wrapped(line: str, width: int) -> list[Any]:
    text = line.lstrip()
    return wrap(
        [piece(text, "problem" if text.startswith("[FAIL]") else "plain")],
        width,
        piece(" " * (len(line) - len(text) + 2)),
    )
