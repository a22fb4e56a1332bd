"""The journal on a healthy disk: what it writes, what it refuses, and who may write."""

import errno
import os
import re

import pytest

from engine.session.block import digest_of_header
from engine.session.journal import Journal, LogBusy, LogRefused, NotRecorded
from engine.session.scan import read_log, scan
from tests.session.journal_fakes import EVENTS, HEADER, FailingDisk, refused, sample


@pytest.fixture
def journal(tmp_path):
    with Journal.create(tmp_path, "boat", HEADER) as made:
        yield made


def record(journal, events):
    for event in events:
        journal.append([event])


def test_a_new_log_holds_its_header_and_no_events(tmp_path):
    with Journal.create(tmp_path / "2025" / "june", "boat", HEADER) as journal:
        found = read_log(journal.path)
    assert (found.state, found.events) == ("whole", [])
    assert found.header == {"format": 2, **HEADER}


def test_a_new_log_starts_from_the_digest_of_its_header(journal):
    assert journal.head == digest_of_header(HEADER) == scan(journal.path.read_bytes()).head


def test_a_log_is_never_overwritten(tmp_path):
    names = []
    for _ in range(3):
        with Journal.create(tmp_path, "boat", HEADER) as journal:
            names.append(journal.path.name)
    assert names == ["boat.toml", "boat-2.toml", "boat-3.toml"]


def test_recorded_events_are_read_back_as_given(journal):
    for event in EVENTS:
        journal.append([event])
    assert read_log(journal.path).events == list(EVENTS)


def test_the_file_is_the_header_and_one_block_for_each_event(journal):
    for event in EVENTS:
        journal.append([event])
    assert journal.path.read_bytes() == sample()


def test_head_and_count_are_those_of_the_file(journal):
    heads = [journal.append([event]) for event in EVENTS]
    found = read_log(journal.path)
    assert found.heads[1:] == heads
    assert (journal.head, journal.count) == (found.head, len(EVENTS))


def test_one_entry_costs_one_write_and_one_sync(tmp_path):
    disk = FailingDisk()
    with Journal.create(tmp_path, "boat", HEADER, disk=disk) as journal:
        disk.calls.clear()
        journal.append(EVENTS)
        assert disk.calls == ["standing", "standing_at", "write", "sync"]


def test_a_new_log_is_synced_and_then_its_folder(tmp_path):
    disk = FailingDisk()
    with Journal.create(tmp_path, "boat", HEADER, disk=disk):
        written = [call for call in disk.calls if call in ("create", "lock", "write", "sync", "sync_folder")]
    assert written[:5] == ["create", "lock", "write", "sync", "sync_folder"]


def test_nothing_to_record_writes_nothing(journal):
    before = journal.path.read_bytes()
    assert journal.append([]) == journal.head
    assert journal.path.read_bytes() == before


def test_writing_goes_on_after_opening_again(journal):
    journal.append(EVENTS[:2])
    journal.close()
    with Journal.open(journal.path) as again:
        assert (again.count, again.set_aside) == (2, None)
        assert again.found is not None
        assert again.found.events == list(EVENTS[:2])
        again.append(EVENTS[2:])
    assert read_log(journal.path).events == list(EVENTS)


def test_a_log_is_read_from_the_disk_and_not_from_memory_before_it_is_written_on(journal):
    journal.close()
    disk = FailingDisk()
    with Journal.open(journal.path, disk=disk):
        assert disk.calls[:4] == ["open", "lock", "settle", "read"]


def test_a_disk_that_cannot_confirm_what_is_there_already_is_not_written_to(journal):
    journal.close()
    disk = FailingDisk()
    disk.fail_next("settle", refused(errno.EIO))
    with pytest.raises(LogRefused, match=r"boat\.toml cannot be written: input/output error"):
        Journal.open(journal.path, disk=disk)


def test_a_log_reached_through_a_link_is_the_same_log(journal, tmp_path):
    (tmp_path / "link.toml").symlink_to(journal.path)
    with pytest.raises(LogBusy):
        Journal.open(tmp_path / "link.toml")


def test_a_second_writer_is_told_who_the_first_is(journal):
    with pytest.raises(LogBusy, match=rf"boat\.toml is being written by process {os.getpid()} on .+, since \d{{4}}-"):
        Journal.open(journal.path)


def test_a_second_writer_is_refused_even_without_the_note(journal):
    journal.path.with_name("boat.toml.lock").unlink()
    with pytest.raises(LogBusy, match="another program"):
        Journal.open(journal.path)


def test_a_note_left_by_a_killed_writer_stops_nobody(journal):
    journal.close()
    journal.path.with_name("boat.toml.lock").write_text("process 1 on elsewhere, since long ago\n")
    with Journal.open(journal.path) as again:
        assert again.append([{"event": "note"}])
        with pytest.raises(LogBusy, match=rf"process {os.getpid()} on"):
            Journal.open(journal.path)


def test_a_note_cannot_steer_the_terminal(journal):
    journal.path.with_name("boat.toml.lock").write_bytes(b"\x1b]0;owned\x07 [red]me[/red] \xff\n")
    with pytest.raises(LogBusy) as caught:
        Journal.open(journal.path)
    assert re.fullmatch(r"[\w .:,-]+", str(caught.value))


def test_closing_takes_the_note_away(journal, tmp_path):
    journal.close()
    assert [path.name for path in tmp_path.iterdir()] == ["boat.toml"]


def test_a_closed_journal_records_nothing(journal):
    journal.close()
    journal.close()
    with pytest.raises(NotRecorded, match="the log is closed"):
        journal.append([{"event": "note"}])


@pytest.mark.parametrize(
    ("event", "says"),
    [
        ({"number": float("nan")}, 'key "number" holds nan'),
        ({"number": float("-inf")}, 'key "number" holds -inf'),
        ({"number": 2**63}, 'key "number" holds 9223372036854775808'),
        ({"nested": {"a": 1}}, 'key "nested" holds'),
        ({"numbers": [1, 2]}, 'key "numbers" holds'),
        ({"nothing": None}, 'key "nothing" holds None'),
        ({"digest": "0" * 64}, 'key "digest" is written by the journal itself'),
        ({"more": True}, 'key "more" is written by the journal itself'),
        ({"a.b": 1}, "key 'a.b' is not"),
        ({"": 1}, "key '' is not"),
        ({1: "a"}, "key 1 is not"),
        ({"k" * 65: 1}, "is not 1 to 64 letters"),
        ({"text": "half \ud83d"}, r"U\+D83D, half of a character"),
    ],
)
def test_what_a_log_cannot_hold_is_refused_and_leaves_no_trace(journal, event, says):
    before = journal.path.read_bytes()
    with pytest.raises(NotRecorded, match=says):
        journal.append([{"event": "note"}, event])
    assert journal.path.read_bytes() == before
    assert journal.append([{"event": "note"}]) == read_log(journal.path).head


def test_a_header_that_a_log_cannot_hold_begins_none(tmp_path):
    with pytest.raises(LogRefused, match='key "started" holds None'):
        Journal.create(tmp_path, "boat", {"started": None})
    assert list(tmp_path.iterdir()) == []


def test_a_log_does_not_grow_past_what_is_read_again(journal, monkeypatch):
    monkeypatch.setattr("engine.session.journal.MAX_BYTES", len(journal.path.read_bytes()) + 100)
    with pytest.raises(NotRecorded, match="would grow beyond"):
        journal.append(EVENTS)


def test_a_removed_file_is_noticed_before_writing(journal):
    journal.path.unlink()
    with pytest.raises(NotRecorded, match="removed or renamed; carry on in another folder"):
        journal.append(EVENTS)


def test_a_replaced_file_is_noticed_and_left_as_it_is(journal, tmp_path):
    (tmp_path / "other").write_bytes(sample())
    (tmp_path / "other").replace(journal.path)
    with pytest.raises(NotRecorded, match="was replaced by another file"):
        journal.append(EVENTS)
    assert journal.path.read_bytes() == sample()


def test_a_file_that_another_program_wrote_to_is_noticed(journal):
    with journal.path.open("ab") as file:
        file.write(b"# hello\n")
    with pytest.raises(NotRecorded, match="was changed by another program"):
        journal.append(EVENTS)


def test_a_folder_that_cannot_be_reached_for_a_moment_does_not_end_the_journal(tmp_path):
    disk = FailingDisk()
    with Journal.create(tmp_path, "boat", HEADER, disk=disk) as journal:
        disk.fail_next("standing_at", refused(errno.EHOSTDOWN))
        with pytest.raises(NotRecorded, match=r"boat\.toml cannot be reached: host is down"):
            journal.append(EVENTS)
        assert journal.append(EVENTS) == read_log(journal.path).head


def test_a_moved_log_carries_on_the_same_chain(journal, tmp_path):
    record(journal, EVENTS[:2])
    head = journal.head
    with journal.move(tmp_path / "stick") as moved:
        assert (moved.head, moved.count, moved.path.name) == (head, 2, "boat.toml")
        record(moved, EVENTS[2:])
    assert (tmp_path / "stick" / "boat.toml").read_bytes() == sample()


def test_a_log_moves_even_if_its_file_is_gone(journal, tmp_path):
    journal.append(EVENTS)
    journal.path.unlink()
    with journal.move(tmp_path / "stick") as moved:
        assert read_log(moved.path).events == list(EVENTS)


def test_after_a_move_the_first_file_takes_no_more(journal, tmp_path):
    with journal.move(tmp_path / "stick") as moved, pytest.raises(NotRecorded, match="the log goes on as") as caught:
        journal.append(EVENTS)
    assert str(moved.path) in str(caught.value)


def test_a_move_to_a_folder_that_refuses_leaves_the_journal_as_it_is(journal, tmp_path):
    (tmp_path / "taken").write_text("a file")
    with pytest.raises(LogRefused, match="choose another folder"):
        journal.move(tmp_path / "taken")
    assert journal.append(EVENTS) == read_log(journal.path).head


def test_a_torn_tail_is_set_aside_cut_and_said(journal, tmp_path):
    record(journal, EVENTS[:2])
    journal.close()
    with journal.path.open("ab") as file:
        file.write(b'[[event]]\nevent = "no')
    with Journal.open(journal.path) as again:
        assert again.set_aside is not None
        assert (again.set_aside.name, again.set_aside.size) == ("boat.torn", 21)
        record(again, EVENTS[2:])
    assert (tmp_path / "boat.torn").read_bytes() == b'[[event]]\nevent = "no'
    assert journal.path.read_bytes() == sample()


def test_an_earlier_torn_tail_is_not_overwritten(journal, tmp_path):
    (tmp_path / "boat.torn").write_bytes(b"from last week")
    journal.close()
    with journal.path.open("ab") as file:
        file.write(b"[[ev")
    with Journal.open(journal.path) as again:
        assert again.set_aside is not None
        assert again.set_aside.name == "boat-2.torn"
    assert (tmp_path / "boat.torn").read_bytes() == b"from last week"


@pytest.mark.parametrize("missing", [1, 2])
def test_missing_line_ends_are_put_back_and_the_event_is_kept(tmp_path, missing):
    path = tmp_path / "boat.toml"
    path.write_bytes(sample()[:-missing])
    with Journal.open(path) as journal:
        assert (journal.count, journal.set_aside) == (len(EVENTS), None)
    assert path.read_bytes() == sample()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (sample().replace(b"12.4", b"12.5"), "boat.toml: altered: event 2, at byte"),
        (sample().replace(b"\n", b"\r\n"), "boat.toml: touched by an editor: the line ends were changed to CRLF"),
        (b"hello\n", "boat.toml: not a session log"),
        (b"", "boat.toml: cut short in its header"),
        (sample()[:200], "boat.toml: cut short in its header"),
    ],
)
def test_what_is_not_as_it_was_written_is_not_written_on(tmp_path, data, says):
    path = tmp_path / "boat.toml"
    path.write_bytes(data)
    with pytest.raises(LogRefused, match=re.escape(says)):
        Journal.open(path)
    assert path.read_bytes() == data
    assert [entry.name for entry in tmp_path.iterdir()] == ["boat.toml"]


def test_a_refused_log_can_still_be_read(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_bytes(sample().replace(b"lid", b"LID"))
    with pytest.raises(LogRefused) as caught:
        Journal.open(path)
    assert caught.value.found is not None
    assert caught.value.found.events == list(EVENTS[:3])


def test_a_refused_log_is_let_go(tmp_path):
    path = tmp_path / "boat.toml"
    path.write_bytes(sample() + b"\n")
    with pytest.raises(LogRefused):
        Journal.open(path)
    path.write_bytes(sample())
    with Journal.open(path) as journal:
        assert journal.count == len(EVENTS)


def test_a_missing_log_is_a_sentence(tmp_path):
    with pytest.raises(LogRefused, match=r"boat\.toml cannot be written: no such file or directory"):
        Journal.open(tmp_path / "boat.toml")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write everywhere")
def test_a_read_only_folder_is_a_sentence(tmp_path):
    tmp_path.chmod(0o555)
    with pytest.raises(LogRefused, match="permission denied; choose another folder"):
        Journal.create(tmp_path, "boat", HEADER)


def test_an_entry_of_several_events_counts_only_as_a_whole(journal):
    journal.append(EVENTS[:1])
    head = journal.head
    journal.append(EVENTS[1:])
    journal.close()
    data = journal.path.read_bytes()
    last_block = data.rfind(b"[[event]]")
    journal.path.write_bytes(data[:last_block])
    with Journal.open(journal.path) as again:
        assert (again.head, again.count) == (head, 1)
        assert again.set_aside is not None
