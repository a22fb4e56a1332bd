"""How the checks' tests judge: typed text in, a finding out, under a chosen profile."""

from engine.finding import Finding
from engine.published.profiles import profile
from engine.rules.ask import from_text
from engine.rules.check import Accuracy, Context
from engine.rules.registry import check


def judged(name: str, profile_name: str = "industry", **typed: str) -> Finding:
    """Return the finding of a check on typed inputs, as the command line would."""
    return measured(name, {}, profile_name, **typed)


def measured(name: str, accuracy: dict[str, Accuracy], profile_name: str = "industry", **typed: str) -> Finding:
    """Return the finding of a check whose inputs were measured with instruments of their own."""
    found = check(name)
    given = from_text(found, {key.rstrip("_"): text for key, text in typed.items()})
    assert isinstance(given, dict), given
    return found.run(given, Context(profile(profile_name), accuracy))
