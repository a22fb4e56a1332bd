"""Whatever is typed into the plain face: it says something, breaks nothing, and prints only plain lines."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.procedure.model import Procedure
from engine.session.runner import Runner
from tests.plain.talking import talk
from tests.plain.works import small
from tests.tui.walker import bow_receptacle, runner, walk
from tui.plain.wishes import WISHES

WORKS: dict[str, Procedure] = {"small": small(), "bow": bow_receptacle()}

LIKELY = st.sampled_from(
    ["", "go", "1", "2", "3", "12.5", "12,5", "12.5; bright", "OL", "yes", "no", "8 AWG", "48 A", "close", "accept",
     "deviate", "a reason that is long enough", "AB", "house", "all off", "volts", "..", ".", "-", ";", "1;2;3;4;5;6",
     "+25.3", "0", "1e9", "1 000", "5/16 in", "\t", "\x1b[31m", "\u202e", "\udcff", "x" * 600, "nan", "inf"]
)  # fmt: skip
WISHED = st.builds(lambda word, rest: f".{word} {rest}".rstrip(), st.sampled_from(sorted(WISHES)), LIKELY)
LINES = st.lists(st.one_of(LIKELY, WISHED, st.text(max_size=40).map(lambda t: t.replace("\n", " "))), max_size=40)
STEPS = ("motor", "plan-verdict", "prove-dead", "on-the-wire", "load-test", "panel-out", "covers-on", "sources-on")


def job(work: str, step: str) -> Runner:
    new = runner(WORKS[work])
    if work != "small":
        walk(new, until=step)
    return new


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(work=st.sampled_from(sorted(WORKS)), step=st.sampled_from(STEPS), lines=LINES)
def test_any_lines_are_answered_with_plain_lines(work: str, step: str, lines: list[str]) -> None:
    talked = talk(job(work, step), *lines)
    assert talked.status in (0, 1)
    assert [sign for sign in set(talked.text) if not (sign.isprintable() or sign == "\n")] == []
    assert talked.text.endswith("\n")


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(step=st.sampled_from(STEPS), lines=LINES)
def test_no_line_ends_two_steps(step: str, lines: list[str]) -> None:
    new = job("bow", step)
    before = len(new.state.done)
    talked = talk(new, *lines)
    assert len(talked.runner.state.done) - before <= len(lines)
    assert [s for s in talked.runner.state.done if s in talked.runner.state.rejudged] == []


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(lines=LINES)
def test_what_was_said_to_be_recorded_stands_in_the_state(lines: list[str]) -> None:
    talked = talk(job("small", ""), *lines)
    recorded = talked.text.count("recorded: ")
    assert talked.runner.count >= recorded
