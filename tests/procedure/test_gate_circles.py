"""Circles of gates are found, each once, in any graph; held against the topological sort of the standard library."""

from graphlib import CycleError, TopologicalSorter

from hypothesis import given
from hypothesis import strategies as st

from engine.procedure.references import circles

NODES = [f"s{number}" for number in range(8)]
graphs = st.fixed_dictionaries({node: st.lists(st.sampled_from(NODES), max_size=3, unique=True) for node in NODES})


def has_circle(graph: dict[str, list[str]]) -> bool:
    try:
        TopologicalSorter(graph).prepare()
    except CycleError:
        return True
    return False


@given(graphs)
def test_a_circle_is_found_exactly_when_there_is_no_order(graph: dict[str, list[str]]) -> None:
    assert bool(circles(graph)) is has_circle(graph)


@given(graphs)
def test_each_found_way_is_a_circle(graph: dict[str, list[str]]) -> None:
    for way in circles(graph):
        assert all(after in graph[step] for step, after in zip(way, [*way[1:], way[0]], strict=True))


@given(graphs)
def test_no_circle_is_found_twice(graph: dict[str, list[str]]) -> None:
    found = [tuple(way) for way in circles(graph)]
    assert len(found) == len(set(found))


def test_a_chain_of_a_thousand_gates_has_none() -> None:
    assert circles({f"s{n}": [f"s{n + 1}"] if n < 999 else [] for n in range(1000)}) == []


def test_two_circles_are_both_found() -> None:
    assert circles({"a": ["b"], "b": ["a"], "c": ["c"]}) == [["a", "b"], ["c"]]
