"""The remedy: the cheapest set of changes under which the whole circuit passes, against all sets on small lists."""

import json
from itertools import product
from random import Random

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from engine.finding import Verdict
from engine.plan.cheapest import Bought, cheapest, price
from engine.plan.circuit import Circuit
from engine.plan.judged import Judged, judge_circuit
from engine.plan.plan import Plan
from engine.plan.wires import larger_sizes
from engine.procedure.model_circuit import PartKind
from engine.published.profiles import profile_names
from engine.trade.protection import standard_sizes_a
from tests.plan.bow import planned
from tests.plan.circuits import circuit


def open_findings(judged: Judged) -> dict[tuple[str, str], int]:
    """Return how bad each finding that is no pass is, by part and check."""
    return {(part.id, finding.check): finding.verdict.severity for part, finding in judged.not_passed()}


def worse(judged: Judged, borne: dict[tuple[str, str], int]) -> bool:
    return any(severity > borne.get(key, 0) for key, severity in open_findings(judged).items())


def nothing_helps(bought: Bought) -> bool:
    return any(finding.verdict is Verdict.FAIL for _, finding in bought.stands)


@given(seed=st.integers(0, 2**32), rules=st.sampled_from(profile_names()))
@settings(max_examples=150, deadline=None)
def test_the_circuit_with_the_list_bought_passes_as_far_as_sizes_go_and_no_change_is_needless(seed, rules) -> None:
    now = circuit(Random(seed))
    bought = cheapest(judge_circuit(now, rules), rules)
    if nothing_helps(bought):
        return
    left = open_findings(bought.judged)
    assert bought.judged.verdict is not Verdict.FAIL
    assert left.keys() <= {(part.id, finding.check) for part, finding in bought.stands}
    for part in bought.changed(now):
        without = bought.judged.circuit.with_parts(now.part(part.id))
        assert worse(judge_circuit(without, rules), left), f"{part.id} was changed for nothing"


ODD = (0.0, 1e-9, 0.5, 1e9, -5.0)
"""Figures that no circuit has."""


@given(seed=st.integers(0, 2**32), odd=st.lists(st.sampled_from((None, *ODD)), max_size=6))
@example(seed=255191, odd=[0.0, None, None, 0.0])  # a load of no current drops no volts
@settings(max_examples=1000, deadline=None)
def test_whatever_the_figures_the_plan_has_a_verdict_and_words(seed, odd) -> None:
    chance = Random(seed)
    now = circuit(chance)
    for figure in odd:
        part = chance.choice(now.parts)
        name = chance.choice(sorted(part.figures))
        number = isinstance(part.figures[name], float)
        now = now.with_parts(part.changed(**{name: figure if number or figure is None else part.figures[name]}))
    planned = judge_circuit(now, "industry")
    plan = Plan(planned, planned, cheapest(planned, "industry"), "industry")
    assert plan.remedies or plan.verdict is Verdict.PASS
    assert plan.as_finding().sentence
    json.dumps(plan.to_json(), allow_nan=False)


@pytest.mark.parametrize("seed", range(12))
def test_no_set_of_sizes_is_cheaper(seed: int) -> None:
    # Wires of all printed sizes, seven ratings for the fuse and for each device: the first set by price that passes.
    now = circuit(Random(seed), wires=1 + (seed == 0))
    now = now.with_parts(now.part("breaker").changed(distance=0.1))
    bought = cheapest(judge_circuit(now, "industry"), "industry")
    if nothing_helps(bought):
        return
    borne = {(part.id, finding.check): finding.verdict.severity for part, finding in bought.stands}
    by_price = sorted(every_set(now), key=lambda each: price(now, each))
    first = next(each for each in by_price if not worse(judge_circuit(each, "industry"), borne))
    assert price(now, bought.judged.circuit) == pytest.approx(price(now, first))


def every_set(now: Circuit) -> list[Circuit]:
    """Return the circuit with every set of sizes from small lists."""
    load_a = now.number("current") or 0.0
    ratings = [size for size in standard_sizes_a() if size >= load_a][:7]
    kind = judge_circuit(now, "industry").of("breaker").finding("protection-kind")
    assert kind is not None
    breaker = now.part("breaker")
    whole = breaker.changed(manual_reset=True, trip_free=True, ignition_protected=True)
    whole = whole.changed(volts=kind.values["charging_v"], interrupting=kind.values["needed_interrupting_a"])
    wires = [[w, *(w.changed(size=s) for s in larger_sizes(w.word("size")))] for w in now.of_kind(PartKind.WIRE)]
    fuses = [breaker, *(whole.changed(fitted=rating) for rating in ratings)]
    devices = [[now.part(i), *(now.part(i).changed(rating=r) for r in ratings)] for i in ("receptacle", "switch")]
    return [now.with_parts(*each) for each in product(*wires, *devices, fuses)]


def test_the_smallest_size_that_passes_is_taken_and_the_plan_s_own_breaker_stays() -> None:
    # A 14 AWG run with a 60 A breaker: 6 AWG is the first under 3 %, and for it the 60 A is right.
    plan = planned(new_wire="14 AWG")
    assert [(part.id, part.word("size")) for part in plan.bought.changed(plan.planned.circuit)] == [("run", "6 AWG")]
    assert plan.bought.judged.verdict is Verdict.PASS


def test_copper_takes_the_place_of_clad_aluminium_even_in_its_own_size() -> None:
    # 33 CFR 183.425(a): conductors are copper. The planned run passes with copper of the same size.
    plan = planned(strands="copper-clad")
    assert plan.planned.verdict is Verdict.FAIL
    assert [(p.word("size"), p.word("conductor")) for p in plan.bought.changed(plan.planned.circuit)] == [
        (planned().planned.circuit.part("run").word("size"), "plain")
    ]
    assert plan.bought.judged.verdict is Verdict.PASS
    assert any("stranded copper" in line for line in plan.buy)


def test_a_plan_that_passes_is_left_alone() -> None:
    plan = planned()
    assert plan.remedies == ()
    assert plan.bought.judged is plan.planned


def test_a_breaker_that_is_too_far_away_goes_into_a_sheath_or_nearer() -> None:
    # ABYC E-11 as quoted: 7 in bare, in a sheath 72 in at the battery, else 40 in; 39.9 in is too near to tell.
    bare = planned(breaker_distance=0.9, breaker_sheathed=False)
    assert bare.remedies == ("put the wire from its source to the breaker in a sheath all the way",)
    sheathed = planned(breaker_distance=39.9 * 0.0254, breaker_sheathed=True, breaker_at_battery=False)
    assert sheathed.planned.verdict is Verdict.UNDECIDED
    assert sheathed.remedies == ("move the breaker to within 965 mm of its source, along the wire",)
    assert sheathed.bought.judged.verdict is Verdict.PASS


def test_where_no_size_passes_the_rule_in_the_way_is_named_and_nothing_is_bought() -> None:
    # By hand: 4/0 AWG has 107.2 mm2: 0.017872 x 200 m / 107.2 x 48 A = 1.6 V, 13 % of 12 V.
    plan = planned(nominal=12.0, batteries=1.0, run_out=100.0, run_back=100.0)
    assert plan.remedies[0].startswith("nothing listed cures this: run to the bow: drop 13.3 % is over 5 %")
    assert plan.remedies[1].startswith("even 4/0 AWG wants the run ")
    assert plan.buy == ()


def test_every_part_that_does_not_pass_is_named_in_the_plan_s_finding() -> None:
    plan = planned(motor_current=60.0, batteries=4.0)
    sentence = plan.as_finding().sentence
    assert sentence.startswith(
        "as planned: receptacle: 60 A on 60 A is 100 % of its rating; 80 % is wise for long runs"
    )
    assert sentence.endswith("; also run to the bow (drop), breaker (size), plug and motor lead (rating)")
