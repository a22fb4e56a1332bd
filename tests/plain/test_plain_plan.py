"""The plan in the plain face: each part by its name, no drawing; and the rest of what the plain face never does."""

import io
import re
from dataclasses import replace
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.session.answers import facts_of, load_answers
from engine.session.clock import SystemClock
from engine.session.play import begin
from engine.shipped import find, folder
from engine.view.models import PlanView
from engine.view.plan import plan_view
from tests.tui.walker import runner, view_of, walk
from tui.plain.face import work_plainly
from tui.plain.lines import step_lines
from tui.plain.plan import named, plan_lines, short_plan_lines

FACTS = folder("sample_sessions") / "grey-heron-facts.answers.toml"


@pytest.fixture(scope="module")
def plan() -> PlanView:
    work = load(find("bow-receptacle"))
    return plan_view(work, facts_of(work, load_answers(FACTS)), "industry")


def test_the_first_words_are_the_verdict_as_found_and_as_planned(plan: PlanView) -> None:
    lines = plan_lines(plan)
    assert lines[0].startswith("[FAIL x] as found: ")
    assert next(line for line in lines if "as planned:" in line).startswith("[MARGINAL ~] as planned: ")


def test_each_part_of_the_circuit_stands_under_its_name_with_its_findings(plan: PlanView) -> None:
    text = "\n".join(plan_lines(plan))
    places = [text.index(f"\n  {part.name}: ") for part in plan.chain]
    assert places == sorted(places)
    said = " ".join(text.split())
    assert all(f"{f.label} {named(f)}" in said for part in plan.chain for f in part.findings)


def test_the_weakest_part_the_remedy_and_all_that_is_to_buy_are_said(plan: PlanView) -> None:
    said = " ".join(" ".join(plan_lines(plan)).split())
    for text in (f"Remedy: {plan.remedy}", *plan.buy):
        assert text in said


def test_the_step_of_the_plan_says_the_short_form_and_where_the_rest_is(plan: PlanView) -> None:
    assert len(short_plan_lines(plan)) < len(plan_lines(plan))
    assert short_plan_lines(plan)[-1] == "All of it, with other sizes and the volts: .plan"


def test_a_plan_without_facts_names_what_is_missing() -> None:
    empty = plan_view(load(find("bow-receptacle")), {}, "industry")
    assert any("not measured" in line for line in plan_lines(empty))


def test_the_demo_opens_at_the_plan_that_says_what_to_buy(tmp_path: Path) -> None:
    answers = load_answers(FACTS)
    job = begin(load(find("bow-receptacle")), answers, tmp_path, SystemClock())
    outlet = io.StringIO()
    work_plainly(job, io.StringIO(""), outlet)
    said = outlet.getvalue()
    assert re.match(r"\n\[DEMO\] Step \d+ of \d+ - Plan - hold point\n", said)
    assert "Remedy: 6 AWG brings 4.4 % to 2.8 %, 2.9 % warm: passes\n" in said
    assert "Buy: 5.5 m and 5.5 m of 6 AWG stranded copper" in said
    assert "Type accept to accept it with a reason" in said


def drawn(lines: list[str]) -> list[str]:
    """Return the lines that a voice would read as noise: rulers, bars, boxes, arrows."""
    return [line for line in lines if re.search(r"[=#|*_\\]{2,}|-{3,}|\+-|-\+|[^\x20-\x7e]", line)]


def test_no_step_draws_a_box_a_bar_or_an_arrow_and_none_is_wider_than_a_page() -> None:
    job = runner()
    lines: list[str] = []
    for step in job.procedure.steps:
        lines += step_lines(view_of(job, step.id))
    assert len(lines) > 300
    assert drawn(lines) == []
    assert max(map(len, lines)) <= 78


def test_every_word_of_a_step_on_the_screen_is_said() -> None:
    job = runner()
    walk(job, "sources-off")
    for step in job.procedure.steps:
        view = view_of(job, step.id)
        said = " ".join(step_lines(view))
        texts = [view.place, view.title, view.action, view.why, *view.stop_if, *(r.ask for r in view.rows)]
        texts += [w.text for w in view.warnings] + [p.name for p in view.parts]
        texts += [p.sentence for p in view.connector.positions] if view.connector else []
        assert [word for text in texts for word in text.split() if word not in said] == [], step.id


def test_hostile_names_are_written_out_and_move_nothing() -> None:
    view = replace(view_of(runner(), "motor"), title="\x1b[31mred\x07 \u202eback", why="two\nlines")
    assert "<U+001B>[31mred<U+0007> <U+202E>back" in step_lines(view)
    assert "Why: two lines" in step_lines(view)
