"""What the tests of typed text share."""

import pytest

from engine.quantity.amount import Kind
from engine.quantity.rarer import rarer_factor


@pytest.fixture(scope="session", autouse=True)
def _library_loaded() -> None:
    """Load the unit library once, so that no example of a property is slow for it."""
    assert rarer_factor("yd", Kind.LENGTH)
