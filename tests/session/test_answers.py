"""Answers files: every fault in one pass, each with its place and what would be right; good ones read into commands."""

from pathlib import Path

import pytest

from engine.session import commands as c
from engine.session.answers import Away, BadAnswers, PassTime, load_answers

HEAD = 'procedure = "small"\nasset = "Test Tern"\n'


def told(tmp_path: Path, text: str | bytes) -> str:
    path = tmp_path / "a.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(BadAnswers) as bad:
        load_answers(path)
    return str(bad.value)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "a.toml: procedure: must be a text\na.toml: asset: must be a text"),
        ("procedure = 5\nasset = true\n", "a.toml: procedure: must be a text\na.toml: asset: must be a text"),
        (HEAD + '[[do]]\ngive = "v"\n', 'a.toml: do[1]: lacks the key "say"'),
        (
            HEAD + '[[do]]\ndone = "a"\n[[do]]\ngive = "v"\nsay = "1"\nloudly = true\n',
            'a.toml: do[2]: "loudly" is not a key of "give"',
        ),
        (HEAD + "do = [5]\n", "a.toml: do[1]: must be a table"),
        (
            HEAD + "[clock]\nstart = 2026-05-02T09:00:00\n",
            "a.toml: clock.start: must be a time with its zone, such as 2026-05-02T09:00:00Z",
        ),
        (
            HEAD + '[[do]]\npass_time = "soon"\n',
            'a.toml: do[1]: "soon" is not a span of time; "20 s" or "2 h" would be right',
        ),
    ],
)
def test_a_bad_file_says_where_and_what(text: str, message: str, tmp_path: Path) -> None:
    assert told(tmp_path, text) == message


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (HEAD + 'do = "everything"\n', 'a.toml: do: must be a list of tables, each headed "[[do]]"'),
        (HEAD + '[[do]]\ngive = 5\nsay = "1"\n', "a.toml: do[1]: give: must be a text"),
        (HEAD + '[[do]]\ngive = "v"\nsay = 12.5\n', "a.toml: do[1]: say: must be a text"),
        (HEAD + '[[do]]\ngive = "v"\nsay = "1"\nanswer = "x"\n', "a.toml: do[1]: answer: must be a number, 1 or above"),
        (HEAD + '[[do]]\ngive = "v"\nsay = "1"\nanswer = 0\n', "a.toml: do[1]: answer: must be a number, 1 or above"),
        (HEAD + "person = 5\n", "a.toml: person: must be a text"),
        (HEAD + 'demo = "yes"\n', "a.toml: demo: must be true or false"),
        (
            HEAD + "[clock]\nstart = 2026-05-02T09:00:00Z\nstep = 20\n",
            'a.toml: clock.step: must be a span of time, such as "20 s"',
        ),
    ],
)
def test_a_value_of_the_wrong_kind_is_said_and_never_guessed(text: str, message: str, tmp_path: Path) -> None:
    assert told(tmp_path, text) == message


def test_an_unknown_key_and_an_unknown_action_list_those_that_there_are(tmp_path: Path) -> None:
    first, second = told(tmp_path, HEAD + 'boat = "x"\n[[do]]\nsing = "loud"\n').splitlines()
    assert first.startswith("a.toml: boat: unknown key, the keys are schema, procedure, asset,")
    assert second.startswith("a.toml: do[1]: says nothing that can be done; one of give, line, not_measured,")


@pytest.mark.parametrize("data", [b"\xff\xfe", b"a = [" * 2000, b"a =", b"x" * 2_000_001])
def test_what_is_no_toml_is_one_sentence(data: bytes, tmp_path: Path) -> None:
    sentence = told(tmp_path, data)
    assert sentence.startswith("a.toml: ")
    assert len(sentence.splitlines()) == 1


def test_a_missing_file_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(BadAnswers, match=r"^none.toml: cannot be read: No such file or directory$"):
        load_answers(tmp_path / "none.toml")


def test_a_good_file_is_the_commands_in_order(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text(
        HEAD
        + '[[do]]\ngive = "v"\nsay = "12.6"\nanswer = 2\n[[do]]\naway = "2 h"\nsay = "wire loose"\n'
        + '[[do]]\npass_time = "20 s"\n[[do]]\ndone = "test"\n[[do]]\nclose = true\n'
    )
    assert load_answers(path).actions == (
        c.Take("v", "12.6", 1),
        Away("wire loose", 7200.0),
        PassTime(20.0),
        c.Finish("test"),
        c.Close(),
    )
