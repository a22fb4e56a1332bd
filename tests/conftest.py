"""What holds for all tests: properties are tried at random at work, and with the same examples at every run of CI."""

import os
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import settings

from tests.samples.remake import Sample, replayed

settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")


@pytest.fixture(scope="session")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Sample:
    """Return what gives the log of a sample by its name; its answers are played once, for all workers."""
    base = tmp_path_factory.getbasetemp()
    shared = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "samples"
    shared.mkdir(exist_ok=True)

    def made(name: str) -> Path:
        log = shared / f"{name}.toml"
        if not log.exists():
            with TemporaryDirectory(dir=shared) as folder:
                replayed(name, Path(folder)).replace(log)  # in one go: no other worker sees half a log
        return log

    return made
