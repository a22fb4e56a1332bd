"""Photos beside the log, the one file to hand in, and the dated looks after closing."""

import io
import zipfile
from datetime import UTC, datetime, timedelta
from errno import ENOSPC
from pathlib import Path

import pytest

from engine.procedure.load import load
from engine.session import commands as c
from engine.session.answers import load_answers
from engine.session.attach import NotAttached, check_files, copy_beside, files_folder
from engine.session.clock import GivenClock
from engine.session.due import answer, due_lines
from engine.session.outcome import Recorded, Refusal
from engine.session.pack import NotPacked, pack
from engine.session.play import play
from engine.session.runner import Runner
from engine.session.scan import read_log, short_head
from engine.session.shelf import shelf
from engine.session.state import State
from engine.session.trouble import LogRefused
from engine.shipped import find, folder
from tests.review.forging import rebuilt

CLOCK = datetime(2026, 5, 2, 9, tzinfo=UTC)


def begun(where: Path) -> Runner:
    return Runner.start(load(find("bow-receptacle")), c.Start("Test Tern", "A. T."), where, GivenClock(CLOCK, 5))


def closed(where: Path) -> Path:
    answers = load_answers(folder("sample_sessions") / "grey-heron-clean.answers.toml")
    return play(load(find(answers.procedure)), answers, where).path


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "..Wiring; old?.JPG"
    path.write_bytes(b"not really a photo")
    return path


def test_a_photo_is_copied_beside_the_log_under_a_plain_name_and_recorded(tmp_path: Path, photo: Path) -> None:
    job = begun(tmp_path / "s")
    command = copy_beside(job.path, photo, "motor")
    assert command.name == "wiring-old.jpg"
    assert isinstance(job.send(command), Recorded)
    job.close()
    assert (files_folder(job.path) / command.name).read_bytes() == photo.read_bytes()
    assert [x.verdict for x in check_files(job.path, job.state)] == ["whole"]


def test_the_same_photo_twice_is_two_files(tmp_path: Path, photo: Path) -> None:
    job = begun(tmp_path / "s")
    names = [copy_beside(job.path, photo, "motor").name for _ in range(2)]
    job.close()
    assert names == ["wiring-old.jpg", "wiring-old-2.jpg"]


def full(*given: object) -> None:
    raise OSError(ENOSPC, "No space left on device")


def test_a_photo_that_finds_no_room_is_refused_and_leaves_nothing_behind(
    tmp_path: Path, photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shutil.copyfileobj", full)
    with pytest.raises(NotAttached, match="cannot be attached: No space left on device"):
        copy_beside(tmp_path / "log.toml", photo, "one")
    assert list((tmp_path / "log").iterdir()) == []


def test_the_photos_go_along_when_the_log_goes_on_elsewhere(tmp_path: Path, photo: Path) -> None:
    job = begun(tmp_path / "card")
    for _ in range(2):
        assert isinstance(job.send(copy_beside(job.path, photo, "motor")), Recorded)
    (files_folder(job.path) / "wiring-old-2.jpg").unlink()
    assert isinstance(job.move(tmp_path / "stick", "the card is full"), Recorded)
    job.close()
    assert [check.verdict for check in check_files(job.path, job.state)] == ["whole", "missing"]


def test_a_log_goes_on_elsewhere_though_its_photos_cannot_be_read(
    tmp_path: Path, photo: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = begun(tmp_path / "card")
    assert isinstance(job.send(copy_beside(job.path, photo, "motor")), Recorded)
    with monkeypatch.context() as patched:
        patched.setattr(Path, "read_bytes", full)
        assert isinstance(job.move(tmp_path / "stick", "the card is full"), Recorded)
    job.close()


def test_a_changed_and_a_missing_photo_are_found(tmp_path: Path, photo: Path) -> None:
    job = begun(tmp_path / "s")
    for _ in range(2):
        job.send(copy_beside(job.path, photo, "motor"))
    job.close()
    (files_folder(job.path) / "wiring-old.jpg").write_bytes(b"another photo")
    (files_folder(job.path) / "wiring-old-2.jpg").unlink()
    assert [x.verdict for x in check_files(job.path, job.state)] == ["changed", "missing"]


@pytest.mark.parametrize("name", ["../outside.jpg", "a/b.jpg", "c:\\x.jpg", ".hidden", ""])
def test_a_name_that_leads_elsewhere_is_refused(name: str, tmp_path: Path) -> None:
    job = begun(tmp_path)
    assert isinstance(job.send(c.Attach("motor", name, "0" * 64, 1)), Refusal)
    job.close()


@pytest.mark.parametrize(("sha256", "size"), [("0" * 63, 1), ("Z" * 64, 1), ("0" * 64, -1)])
def test_a_file_is_recorded_only_with_a_whole_sum_and_a_size(sha256: str, size: int, tmp_path: Path) -> None:
    job = begun(tmp_path)
    assert job.send(c.Attach("motor", "a.jpg", sha256, size)) == Refusal(
        "a file is recorded with its SHA-256 and its size"
    )
    job.close()


def test_a_files_folder_that_is_a_link_is_not_written_through(tmp_path: Path, photo: Path) -> None:
    job = begun(tmp_path / "s")
    (tmp_path / "elsewhere").mkdir()
    files_folder(job.path).symlink_to(tmp_path / "elsewhere")
    with pytest.raises(NotAttached, match="is a link; files are only put into a folder beside the log"):
        copy_beside(job.path, photo, "motor")
    job.close()
    assert list((tmp_path / "elsewhere").iterdir()) == []


def test_a_log_that_is_not_there_is_not_packed(tmp_path: Path) -> None:
    with pytest.raises(NotPacked, match=r"none\.toml cannot be read: "):
        pack(tmp_path / "none.toml")


@pytest.mark.parametrize("name", ["x" * 300, "nul\0inside", "photo.jpg/inside.jpg"])
def test_a_recorded_name_that_no_file_can_have_is_missing(name: str, tmp_path: Path) -> None:
    """A forged log may name anything; a look at a folder of logs goes on all the same."""
    log = tmp_path / "boat.toml"
    files_folder(log).mkdir()
    assert [check.verdict for check in check_files(log, State(files=[(name, "0" * 64, 1)]))] == ["missing"]


def test_a_photo_that_cannot_be_read_is_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    log = tmp_path / "boat.toml"
    files_folder(log).mkdir()
    (files_folder(log) / "photo.jpg").write_bytes(b"seen")

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert [check.verdict for check in check_files(log, State(files=[("photo.jpg", "0" * 64, 4)]))] == ["missing"]


def test_a_link_and_a_folder_are_not_attached(tmp_path: Path, photo: Path) -> None:
    job = begun(tmp_path / "s")
    link = tmp_path / "link.jpg"
    link.symlink_to(photo)
    for path in (link, tmp_path):
        with pytest.raises(NotAttached, match="is not a plain file; attach the file itself"):
            copy_beside(job.path, path, "motor")
    job.close()


def test_a_packed_session_holds_log_photos_and_head_and_is_the_same_bytes_each_time(
    tmp_path: Path, photo: Path
) -> None:
    job = begun(tmp_path / "s")
    job.send(copy_beside(job.path, photo, "motor"))
    job.close()
    packed = pack(job.path)
    again = pack(job.path, tmp_path / "again.zip")
    assert packed.read_bytes() == again.read_bytes()
    with zipfile.ZipFile(io.BytesIO(packed.read_bytes())) as found:
        assert found.namelist() == ["head.txt", job.path.name, f"{job.path.stem}/wiring-old.jpg"]
        assert short_head(read_log(job.path).head) in found.read("head.txt").decode()


def test_a_pack_that_finds_no_room_leaves_no_half_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    log = tmp_path / "log.toml"
    log.write_bytes((folder("sample_sessions") / "grey-heron-clean.toml").read_bytes())
    monkeypatch.setattr("zipfile.ZipFile.writestr", full)
    with pytest.raises(NotPacked, match=r"log\.zip cannot be written: no space left on device"):
        pack(log)
    assert not (tmp_path / "log.zip").exists()


def test_an_altered_log_is_not_packed_and_nothing_is_overwritten(tmp_path: Path) -> None:
    log = closed(tmp_path)
    pack(log)
    with pytest.raises(NotPacked, match="is there already"):
        pack(log)
    log.write_bytes(log.read_bytes().replace(b'raw = "24.36"', b'raw = "24.16"'))
    with pytest.raises(NotPacked, match="only a whole log is packed"):
        pack(log, tmp_path / "other.zip")


def test_the_dated_looks_of_a_folder_are_listed_earliest_first(tmp_path: Path) -> None:
    closed(tmp_path)
    lines = due_lines(tmp_path)
    assert [line.item for line in lines] == ["first-day", "first-month"]
    assert lines[0].overdue(CLOCK + timedelta(days=3))
    assert not lines[1].overdue(CLOCK + timedelta(days=3))


def test_a_dated_look_is_answered_in_a_closed_log_and_nothing_else_is_written(tmp_path: Path) -> None:
    log = closed(tmp_path)
    count = len(read_log(log).events)
    clock = GivenClock(CLOCK + timedelta(days=2))
    assert isinstance(answer(log, "first-day", "cool, no smell", "A. T.", clock), Recorded)
    found = read_log(log)
    assert (found.state, len(found.events)) == ("whole", count + 1)
    assert due_lines(tmp_path)[0].outcome == "cool, no smell"


def test_a_look_that_is_not_due_here_is_refused(tmp_path: Path) -> None:
    log = closed(tmp_path)
    assert isinstance(answer(log, "never", "cool", "", GivenClock(CLOCK)), Refusal)


@pytest.mark.parametrize("at", ["yesterday", "2026-05-02T09:00:00", ""])
def test_a_log_with_a_time_that_is_none_is_neither_listed_resumed_nor_packed(at: str, tmp_path: Path) -> None:
    """A forger can seal anything; each way in says what is wrong instead of failing later on."""
    log = tmp_path / "forged.toml"
    log.write_bytes(rebuilt(lambda events: [{**event, "at": at} for event in events]))
    said = f'event 1 has no readable time: "{at}"'
    assert [line.problem for line in shelf(tmp_path).lines] == [said]
    with pytest.raises(LogRefused, match=said):
        Runner.resume(log, GivenClock(CLOCK, 5))
    with pytest.raises(NotPacked, match=said):
        pack(log)
