"""The Textual face, keyed through the whole job, writes the very log that the unattended face writes."""

from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.session.answers import load_answers
from engine.session.clock import GivenClock
from engine.session.runner import Runner
from engine.shipped import find, folder
from tests.samples.remake import Sample
from tests.tui.pressing import QuickApp, press_to_the_end


async def test_the_screens_write_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, sample: Sample
) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    answers = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml")
    assert answers.began is not None
    clock = GivenClock(answers.began, answers.step_s)
    job = Runner.start(load(find(answers.procedure)), answers.start, tmp_path, clock)
    async with QuickApp(job).run_test(size=(80, 24)) as pilot:
        await press_to_the_end(pilot, job)
    assert job.path.read_bytes() == sample("grey-heron-clean").read_bytes()
