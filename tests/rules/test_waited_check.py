"""Time by the log's clock. Ten minutes of airing: common practice, no source; the figure stands in the procedure."""

import pytest

from tests.rules.judging import judged


@pytest.mark.parametrize(
    ("time", "verdict", "says"),
    [
        ("13 s", "marginal", "13 s by the clock, 10 min are wanted"),
        ("9 min", "marginal", "9 min by the clock, 10 min are wanted"),
        ("7 s", "marginal", "wanted"),
        ("600 s", "pass", "10 min by the clock"),
        ("2 h", "pass", "120 min by the clock"),
    ],
)
def test_less_than_is_wanted_is_accepted_with_a_reason(time: str, verdict: str, says: str) -> None:
    finding = judged("waited", time=time, least="10 min")
    assert (str(finding.verdict), says in finding.sentence) == (verdict, True), finding.sentence
