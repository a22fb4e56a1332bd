"""The rule profiles: what each allows, and where they differ."""

import pytest

from engine.published.profiles import DEFAULT, UnknownProfile, profile, profile_names
from engine.published.tables import table
from engine.source import Authority, Seen


def test_industry_is_the_default() -> None:
    assert DEFAULT == "industry"
    assert profile() == profile("industry")


def test_every_profile_has_the_same_settings_each_with_its_source() -> None:
    settings = {name: profile(name).settings.keys() for name in profile_names()}
    assert settings["federal"] == settings["industry"] == settings["house"]
    for name in profile_names():
        assert profile(name).sources.keys() == profile(name).settings.keys()


def test_an_unknown_profile_names_the_nearest() -> None:
    with pytest.raises(UnknownProfile, match=r'there is no rule profile "industrie"; did you mean "industry"'):
        profile("industrie")


def test_federal_distances_are_those_of_the_regulation() -> None:
    """33 CFR 183.455(b), 183.460(a): 7, 40 and 72 in, no sheath named for 72."""
    rules = profile("federal").settings
    printed = table("overcurrent", "location").column("max_distance_in")
    assert (0.0, rules["place_bare_in"], rules["place_sheathed_in"], rules["place_battery_in"]) == printed
    assert rules["place_battery_needs_sheath"] is False


def test_industry_wants_a_sheath_for_the_longest_distance() -> None:
    """ABYC E-11 (July 2015) as quoted: 72 in only in a sheath and only from the battery itself."""
    assert profile("industry").settings["place_battery_needs_sheath"] is True


def test_only_the_federal_rule_leaves_bundles_below_fifty_volts_aside() -> None:
    """33 CFR 183.435(b): each conductor at 50 V or more."""
    assert {name: profile(name).settings["bundle_below_50v"] for name in profile_names()} == {
        "federal": False,
        "house": True,
        "industry": True,
    }


def test_federal_figures_are_marked_as_a_regulation_that_was_read() -> None:
    source = profile("federal").sources["rating_ceiling_share_of_allowable"]
    assert (source.authority, source.seen, source.place) == (Authority.REGULATION, Seen.READ, "183.455(c)(1)")


@pytest.mark.parametrize("name", ["federal", "industry", "house"])
def test_no_profile_lets_a_device_exceed_the_legal_ceiling(name: str) -> None:
    """33 CFR 183.455(c)(1): 150 percent of the conductor's figure."""
    assert profile(name).settings["rating_ceiling_share_of_allowable"] <= 1.5
