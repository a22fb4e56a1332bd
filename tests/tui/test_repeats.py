"""Double presses: the same key within 0.4 s is one press."""

from tui.repeats import Repeats


def taken(presses: list[tuple[str, float]]) -> list[str]:
    """Return the keys that were taken of (key, seconds) presses."""
    now = [0.0]
    repeats = Repeats(lambda: now[0])
    kept = []
    for key, at in presses:
        now[0] = at
        if not repeats.too_soon(key):
            kept.append(key)
    return kept


def test_a_second_press_in_time_is_taken() -> None:
    assert taken([("enter", 1.0), ("enter", 1.41)]) == ["enter", "enter"]


def test_a_second_press_too_soon_is_not() -> None:
    assert taken([("enter", 1.0), ("enter", 1.39)]) == ["enter"]


def test_space_and_enter_are_one_key() -> None:
    assert taken([("enter", 1.0), ("space", 1.2)]) == ["enter"]


def test_another_key_is_taken_at_once() -> None:
    assert taken([("y", 1.0), ("n", 1.1)]) == ["y", "n"]


def test_a_held_key_acts_once() -> None:
    assert taken([("enter", 1.0 + 0.03 * press) for press in range(100)]) == ["enter"]
