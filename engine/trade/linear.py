"""Small systems of linear equations: elimination with row exchange, factored once and used for many right sides."""

from dataclasses import dataclass


class NoAnswer(ArithmeticError):
    """The equations have no single answer. ``column`` is the unknown that is not determined."""

    def __init__(self, column: int) -> None:
        super().__init__(f"unknown {column} is not determined")
        self.column = column


@dataclass(frozen=True, slots=True)
class Factors:
    """A matrix taken apart: ``rows`` hold the upper triangle and, below it, the factors; ``order`` the exchanges."""

    rows: list[list[float]]
    order: list[int]

    def solve(self, right: list[float]) -> list[float]:
        """Return x of A x = ``right``.

        Args:
            right: The right side, as long as the matrix is high [unit of the equations].

        Returns:
            The unknowns, in the order of the columns.

        Raises:
            IndexError: if ``right`` is too short.

        Source:
            Gauss elimination: forward and back substitution.

        Example:
            >>> factored([[2.0, 1.0], [1.0, 3.0]]).solve([3.0, 5.0])
            [0.8, 1.4]
        """
        size = len(self.rows)
        values = [right[place] for place in self.order]
        for i in range(size):
            row = self.rows[i]
            values[i] -= sum(row[j] * values[j] for j in range(i) if row[j])
        for i in reversed(range(size)):
            row = self.rows[i]
            rest = sum(row[j] * values[j] for j in range(i + 1, size) if row[j])
            values[i] = (values[i] - rest) / row[i]
        return values


def factored(matrix: list[list[float]]) -> Factors:
    """Return a square matrix taken apart for solving.

    Args:
        matrix: Rows of equal length, as many as columns; it is not changed [unit of the equations].

    Returns:
        Its factors.

    Raises:
        NoAnswer: if an unknown is not determined.

    Source:
        Gauss elimination with the largest pivot of each column.

    Example:
        >>> factored([[0.0, 1.0], [4.0, 0.0]]).solve([2.0, 8.0])
        [2.0, 2.0]
    """
    rows = [list(row) for row in matrix]
    size = len(rows)
    order = list(range(size))
    for column in range(size):
        pivot = max(range(column, size), key=lambda i: abs(rows[i][column]))
        if abs(rows[pivot][column]) < 1e-300:
            raise NoAnswer(column)
        rows[column], rows[pivot] = rows[pivot], rows[column]
        order[column], order[pivot] = order[pivot], order[column]
        _clear_below(rows, column)
    return Factors(rows, order)


def _clear_below(rows: list[list[float]], column: int) -> None:
    top = rows[column]
    filled = [j for j in range(column + 1, len(top)) if top[j]]
    for i in range(column + 1, len(rows)):
        row = rows[i]
        if row[column]:
            factor = row[column] / top[column]
            row[column] = factor
            for j in filled:
                row[j] -= factor * top[j]
