"""Elimination with row exchange, against a general-purpose library and at its edges."""

import random

import numpy
import pytest

from engine.trade.linear import NoAnswer, factored


@pytest.mark.parametrize("size", [1, 2, 5, 12, 30])
def test_random_systems_have_the_librarys_answer(size: int) -> None:
    dice = random.Random(size)
    matrix = [[dice.uniform(-1, 1) for _ in range(size)] for _ in range(size)]
    right = [dice.uniform(-1, 1) for _ in range(size)]
    assert factored(matrix).solve(right) == pytest.approx(numpy.linalg.solve(matrix, right).tolist(), rel=1e-8)


def test_the_matrix_is_left_as_it_was() -> None:
    matrix = [[0.0, 1.0], [4.0, 0.0]]
    factored(matrix)
    assert matrix == [[0.0, 1.0], [4.0, 0.0]]


def test_one_set_of_factors_answers_many_right_sides() -> None:
    factors = factored([[2.0, 1.0], [1.0, 3.0]])
    assert (factors.solve([2.0, 1.0]), factors.solve([1.0, 3.0])) == ([1.0, 0.0], [0.0, 1.0])


def test_an_unknown_that_nothing_determines_is_named() -> None:
    with pytest.raises(NoAnswer) as no_answer:
        factored([[1.0, 1.0], [1.0, 1.0]])
    assert no_answer.value.column == 1
