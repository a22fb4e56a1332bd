"""The command line itself: help with examples, one sentence for what is wrong, exit statuses, imports, pipes."""

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.running import CLEAN, FACTS, SAMPLES, TOP, Tugtest, environment, process
from tui.cli import COMMANDS, parser


def named(value: object) -> str:
    """Return a short name for a test's command line."""
    words = value if isinstance(value, list) else [str(value)]
    return " ".join(Path(word).name for word in words)[:50]


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_each_command_has_an_example_that_parses(command: str, tugtest: Tugtest) -> None:
    ran = tugtest(command, "--help")
    assert (ran.status, ran.err) == (0, "")
    example = re.search(r"Example:\n  (tugtest.*)\n", ran.out)
    assert example is not None
    words = shlex.split(example[1])[1:] or ["home"]
    assert parser().parse_args(words).run is not None
    assert words[0] == command


@pytest.mark.parametrize(
    "command", ["list", "plan", "check", "audit", "review", "page", "export", "keys", "completion"]
)
def test_the_example_of_a_help_runs_in_any_folder(
    command: str, tugtest: Tugtest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Those that ask nobody and need no file of one's own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    example = re.search(r"Example:\n  tugtest (.*)\n", tugtest(command, "--help").out)
    assert example is not None
    ran = tugtest(*shlex.split(example[1]))
    assert ran.err == ""
    assert ran.out
    assert ran.status in ({0, 1} if command != "review" else {2})  # one of the samples is altered


@pytest.mark.skipif(shutil.which("bash") is None, reason="no such shell here")
def test_a_shell_completes_commands_and_procedures(tugtest: Tugtest) -> None:
    offered = 'complete() { compgen -W "$4" -- bow; }'  # what the shell would offer after "bow"
    code = f"{offered}\n{tugtest('completion', 'bash').out}"
    ran = subprocess.run(["bash", "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout == "bow-receptacle\n"


def test_a_page_of_a_shipped_sample_is_written_here(
    tugtest: Tugtest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert tugtest("page", "grey-heron-clean").out == "grey-heron-clean.html\n"
    assert (tmp_path / "grey-heron-clean.html").is_file()


def test_what_lies_here_comes_before_a_shipped_sample_of_its_name(
    tugtest: Tugtest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "grey-heron-clean").write_text("mine", encoding="utf-8")
    assert tugtest("audit", "grey-heron-clean").status == 2


def test_a_file_that_is_no_log_is_said_once(tugtest: Tugtest, tmp_path: Path) -> None:
    (tmp_path / "list.toml").write_text("milk", encoding="utf-8")
    said = tugtest("audit", str(tmp_path / "list.toml")).out
    assert said.count("list.toml") == said.count("\n") == 1


def test_the_help_lists_every_command_and_says_what_the_exit_statuses_mean(tugtest: Tugtest) -> None:
    said = tugtest("--help").out
    assert [name for name in COMMANDS if f"\n    {name} " not in said] == []
    assert "Exit status: 0 good, 1 findings, 2 bad input" in " ".join(said.split())


WRONG = [
    (["strat"], 'tugtest: "strat" is no command; did you mean "start"?\n'),
    (["xyzzy"], f'tugtest: "xyzzy" is no command; the commands are {", ".join(COMMANDS)}\n'),
    (["start"], "tugtest start: the following arguments are required: PROCEDURE; see tugtest start --help\n"),
    (["list", "--loud"], "tugtest list: --loud is not known here; see tugtest list --help\n"),
    (["list", "all"], "tugtest list: all is not known here; see tugtest list --help\n"),
    (["start", "bow-recepticle"], 'no procedure is called "bow-recepticle"; did you mean "bow-receptacle"?\n'),
    (["start", "none/my.toml"], "none/my.toml: there is no such file; give the path of a procedure, or the name of a "
     "shipped one\n"),
    (["plan", "bow-receptacle", "--answers", "none.toml"], "none.toml: cannot be read: No such file or directory\n"),
    (["plan", "outlet-12v", "--answers", FACTS],
     'grey-heron-facts.answers.toml: is for "bow-receptacle", not for "outlet-12v"\n'),
    (["plan", "bow-receptacle", "--answers", FACTS, "--profile", "hause"],
     'there is no rule profile "hause"; did you mean "house"?\n'),
    (["start", "outlet-12v", "--answers", CLEAN],
     'grey-heron-clean.answers.toml: is for "bow-receptacle", not for "outlet-12v"\n'),
    (["check", "voltage-drip"], 'there is no check "voltage-drip"; did you mean "voltage-drop"?\n'),
    (["check", "voltage-drop", "48 A"], '"48 A" should be input=value, such as load="48 A"\n'),
    (["check", "voltage-drop", "load=4O"], "load=4O: This is the letter O: type the figure 0.\n"),
    (["check", "voltage-drop", "lode=48"], 'lode: voltage-drop has no such input; did you mean "load"?\n'),
    (["check", "voltage-drop", "load=48 V"], "load=48 V: "),
    (["audit", "."], ". is a folder; tugtest review . looks at all its logs\n"),
    (["lint"], "name a procedure file, such as: tugtest lint my-job.toml\n"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "sentence"), WRONG, ids=named)
def test_what_is_wrong_is_said_in_one_sentence_with_status_2(words: list[str], sentence: str, tugtest: Tugtest) -> None:
    ran = tugtest(*words)
    assert ran.err.startswith(sentence)
    assert (ran.status, ran.out) == (2, "")
    assert ran.err.count("\n") == 1
    assert tugtest.logs() == []


def test_every_wrong_input_of_a_check_is_said_at_once(tugtest: Tugtest) -> None:
    ran = tugtest("check", "voltage-drop", "load=4O", "out=5x", "bak=3")
    assert ran.status == 2
    assert [line.split(":")[0] for line in ran.err.splitlines()] == ["load=4O", "out=5x", "bak"]


STATUS = [
    (0, ["list"]),
    (0, ["-V"]),
    (0, ["keys"]),
    (0, ["home"]),
    (0, ["check"]),
    (0, ["check", "fuse-load"]),
    (0, ["check", "fuse-load", "load=10 A", "fuse=15 A"]),
    (1, ["check", "fuse-load", "load=15 A", "fuse=10 A"]),
    (1, ["check", "fuse-load", "load=15 A"]),
    (1, ["plan", "bow-receptacle", "--answers", FACTS]),
    (0, ["plan", "bow-receptacle", "--answers", CLEAN]),
    (1, ["plan", "bow-receptacle", "--answers", FACTS, "--compare"]),
    (1, ["audit", str(SAMPLES / "grey-heron-clean.toml")]),  # a demo, played from a file
    (2, ["audit", str(SAMPLES / "grey-heron-altered.toml")]),
    (2, ["audit", str(SAMPLES / "grey-heron-clean.toml"), str(SAMPLES / "none.toml")]),
    (0, ["due"]),
    (0, ["lint", "--schema"]),
    (0, ["lint", "--schema", "block"]),
]


@pytest.mark.parametrize(("status", "words"), STATUS, ids=named)
def test_the_exit_status_says_how_it_went(status: int, words: list[str], tugtest: Tugtest) -> None:
    assert tugtest(*words).status == status


def test_options_alone_belong_to_the_first_screen(tugtest: Tugtest, tmp_path: Path) -> None:
    assert tugtest("--plain", "--folder", str(tmp_path)).out.endswith(
        f"Sessions are kept in {tmp_path}\nIts number; an empty line leaves:\n"
    )


def test_inputs_may_stand_after_options(tugtest: Tugtest) -> None:
    assert tugtest("check", "fuse-load", "--profile", "house", "load=10 A", "--json", "fuse=15 A").status == 0


def test_a_mistake_of_the_program_is_a_sentence_and_not_a_trace(
    tugtest: Tugtest, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(args: object) -> int:
        raise KeyError("gone")

    monkeypatch.delenv("TUGTEST_TRACE", raising=False)
    monkeypatch.setattr("tui.commands.list.run", broken)
    ran = tugtest("list")
    assert (ran.status, ran.out) == (2, "")
    assert re.fullmatch(
        r"the program made a mistake \(KeyError: 'gone'; test_command_line\.py, line \d+\); "
        r"what was recorded is on the disk; with TUGTEST_TRACE=1 it shows where\n",
        ran.err,
    )
    monkeypatch.setenv("TUGTEST_TRACE", "1")
    with pytest.raises(KeyError):
        tugtest("list")


# As a process of its own


def loaded(words: list[str], folder: Path, typed: str = "") -> set[str]:
    """Return which of the slow libraries a command loaded, in a fresh process."""
    code = (
        "import io, sys\n"
        f"sys.stdin = io.StringIO({typed!r})\n"
        "out, sys.stdout = sys.stdout, io.StringIO()\n"
        "from tui.cli import main\n"
        f"try: main({words!r})\n"
        "except SystemExit: pass\n"
        "print(*({'textual', 'pint', 'rich.console', 'jinja2', 'schemdraw', 'numpy'} & set(sys.modules)), file=out)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=environment(folder), check=True
    )
    return set(done.stdout.split())


LIGHT = [
    ["--help"], ["--version"], ["strat"], ["home"], ["list"], ["start", "--help"], ["resume"], ["check"], ["due"],
    ["lint", "--schema"], ["start", "bow-receptacle", "--asset", "Tern"], ["check", "fuse-load"],
]  # fmt: skip


@pytest.mark.parametrize("words", LIGHT, ids=" ".join)
def test_no_screen_and_no_unit_library_is_loaded_before_a_value_is_typed(words: list[str], tmp_path: Path) -> None:
    assert loaded(words, tmp_path) == set()


def test_a_whole_plain_job_loads_no_screen(tmp_path: Path) -> None:
    typed = "48 A\n24\n1\n2\n\n"
    assert "textual" not in loaded(["start", "bow-receptacle", "--asset", "Tern"], tmp_path, typed)
    assert "textual" not in loaded(["start", "bow-receptacle", "--answers", CLEAN], tmp_path)


@pytest.mark.parametrize("words", [["keys"], ["check"], ["plan", "bow-receptacle", "--answers", FACTS]], ids=" ".join)
def test_a_reader_that_goes_away_ends_it_quietly(words: list[str], tmp_path: Path) -> None:
    command = [sys.executable, "-u", "-m", "tui.cli", *words]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment(tmp_path), cwd=TOP
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert running.stderr.read() == b""
        assert running.wait() == 0


def test_signs_that_the_terminal_cannot_show_are_written_out(tmp_path: Path) -> None:
    process("start", "bow-receptacle", "--asset", "Måke", folder=tmp_path)
    ran = process("home", folder=tmp_path, PYTHONIOENCODING="ascii")
    assert (ran.returncode, ran.stderr) == (0, b"")
    assert b"1 M\\xe5ke, Bow-motor receptacle swap" in ran.stdout


def test_bytes_that_are_no_text_are_asked_again_and_never_logged(tmp_path: Path) -> None:
    ran = process("start", "bow-receptacle", "--asset", "Tern", folder=tmp_path, typed=b"48 \xff\xfe A\n48 A\n")
    assert b"no readable text" in ran.stdout
    assert b"recorded: 48 A" in ran.stdout
    log = next(tmp_path.glob("*.toml")).read_text(encoding="utf-8")
    assert [line for line in log.splitlines() if line.startswith("raw")] == ['raw = "48 A"']


@pytest.mark.parametrize("words", [["lint", "x\x1b[31m.toml"], ["list", "--x\x1b[31m"], ["home\x1b[2J"]], ids=repr)
def test_what_is_wrong_cannot_colour_the_terminal(words: list[str], tugtest: Tugtest) -> None:
    ran = tugtest(*words)
    assert ran.status == 2
    assert "<U+001B>[" in ran.out + ran.err
    assert "\x1b" not in ran.out + ran.err


CLOSED = [
    (["home"], "<&-", 0), (["home"], ">&-", 0), (["list"], ">&- <&- 2>&-", 0), (["strat"], "2>&-", 2),
    (["start", "bow-receptacle", "--asset", "Tern"], "<&-", 0),
    (["start", "bow-receptacle", "--asset", "Tern"], ">&-", 0),
]  # fmt: skip


@pytest.mark.skipif(os.name != "posix", reason="a shell closes the streams")
@pytest.mark.parametrize(("words", "closed", "status"), CLOSED, ids=str)
def test_a_program_started_without_its_streams_makes_no_mistake(
    words: list[str], closed: str, status: int, tmp_path: Path
) -> None:
    line = f"{shlex.join([sys.executable, '-m', 'tui.cli', *words])} {closed}"
    ran = subprocess.run(["/bin/sh", "-c", line], capture_output=True, env=environment(tmp_path), check=False)
    assert (ran.returncode, ran.stderr) == (status, b"")


@pytest.mark.skipif(os.name != "posix", reason="there are no such pipes")
@pytest.mark.parametrize(
    "words",
    [
        ["lint", "FILE.toml"],
        ["start", "outlet-12v", "--answers", "FILE.toml"],
        ["plan", "outlet-12v", "--answers", "FILE.toml"],
        ["review", "FOLDER", "--rubric", "FILE.toml"],
        ["review", "FOLDER", "--rig", "FILE.toml"],
        ["export", "FOLDER", "--rubric", "FILE.toml"],
    ],
    ids=named,
)
@pytest.mark.parametrize("kind", ["pipe", "device", "large"])
def test_a_file_that_never_ends_is_refused_before_it_is_read(
    words: list[str], kind: str, tugtest: Tugtest, tmp_path: Path
) -> None:
    (tmp_path / "logs").mkdir()
    file = tmp_path / "file.toml"
    if kind == "pipe":
        os.mkfifo(file)
    elif kind == "device":
        file.symlink_to("/dev/zero")
    else:
        file.touch()
        os.truncate(file, 10**10)
    ran = tugtest(*(w.replace("FILE.toml", str(file)).replace("FOLDER", str(tmp_path / "logs")) for w in words))
    assert ran.status == 2
    assert f"file.toml: it is {'larger than 2 MB' if kind == 'large' else 'a folder, pipe or device'}" in ran.err
