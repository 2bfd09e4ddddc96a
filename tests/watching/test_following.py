"""Records followed while they grow: each line once, whatever happens to the file meanwhile."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.drill_sittings import END, entry, record, right_entries, small_drill
from helpers.material import CATALOGUE
from leverstep.bench.replaying import Replay
from leverstep.watching.class_at_work import ClassAtWork, Need, StudentRow
from leverstep.watching.class_watch import NOT_READ, ClassWatch
from leverstep.watching.watch_told import news
from leverstep.watching.watched_folder import WatchedFolder

DRILL = small_drill("attempts = 9", problem="elbow-full-pail")
NOW = datetime(2027, 3, 1, 9, 1, tzinfo=UTC)
RIGHT = right_entries(DRILL.tasks("s01")[0].question)
FIRST, SECOND, *_ = RIGHT
ONE_LINE = [entry(FIRST, RIGHT[FIRST])]
STUCK_AT_SECOND = [*ONE_LINE, *(entry(SECOND, f"{n}.11 N") for n in (701, 702, 703))]


class Room:
    """A folder with the record of a student, and who watches it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.path = folder / "levers" / "s01.jsonl"
        self.path.parent.mkdir()
        self.watch = ClassWatch(DRILL, CATALOGUE, folder)

    def look(self) -> ClassAtWork:
        """Look at the folder."""
        return self.watch.look(NOW)

    def row(self) -> StudentRow:
        """Look, and return the only row that there is."""
        (row,) = self.look().rows
        return row


@pytest.fixture
def room(tmp_path: Path) -> Room:
    return Room(tmp_path)


def test_a_line_that_is_cut_in_the_middle_is_waited_for(room: Room) -> None:
    whole = record(DRILL, "s01", STUCK_AT_SECOND)
    for cut in (10, whole.index(b"\n") + 30, len(whole) - 1):
        room.path.write_bytes(whole[:cut])
        room.look()
    assert room.row().wrong == 2
    room.path.write_bytes(whole)
    now = room.look()
    assert (now.rows[0].wrong, now.rows[0].need, now.troubles) == (3, Need.STUCK, ())


def test_each_line_is_judged_once_and_only_what_was_added_is(
    room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    taken: list[object] = []
    take = Replay.take
    monkeypatch.setattr(
        Replay, "take", lambda self, lines: taken.extend(lines) or take(self, lines)
    )
    for count in range(len(STUCK_AT_SECOND) + 1):
        room.path.write_bytes(record(DRILL, "s01", STUCK_AT_SECOND[:count]))
        room.look()
        room.look()
    assert room.row().wrong == 3
    assert len(taken) == len(STUCK_AT_SECOND)


def test_a_record_that_is_begun_anew_is_followed_anew_and_one_that_vanishes_is_gone(
    room: Room,
) -> None:
    room.path.write_bytes(record(DRILL, "s01", STUCK_AT_SECOND))
    assert room.row().need is Need.STUCK
    room.path.write_bytes(record(DRILL, "s01", [entry(SECOND, "1.2 N"), *STUCK_AT_SECOND], NOW))
    assert room.row().wrong == 4
    room.path.write_bytes(record(DRILL, "s01", ONE_LINE))
    assert room.row().wrong == 0
    room.path.unlink()
    room.look()
    assert room.look().rows == ()
    room.path.write_bytes(record(DRILL, "s01", [*ONE_LINE, END]))
    assert room.row().need is Need.HANDED_IN


def test_a_broken_record_is_told_of_and_harms_no_other(room: Room) -> None:
    whole = record(DRILL, "s01", STUCK_AT_SECOND)
    room.path.write_bytes(whole)
    room.path.with_name("changed.jsonl").write_bytes(
        record(DRILL, "s02", STUCK_AT_SECOND).replace(b"702.11", b"705.11")
    )
    room.path.with_name("junk.jsonl").write_bytes(b"\x00\xff\n" * 9)
    room.path.with_name("begins.jsonl").write_bytes(whole[:20])
    room.path.with_name("notes.txt").write_bytes(b"no record")
    room.path.with_name("linked.jsonl").symlink_to(room.path)
    other = small_drill("attempts = 9", problem="plain-seesaw")
    renamed = record(other, "s03").replace(b'"levers"', b'"others"')
    room.path.with_name("other.jsonl").write_bytes(renamed)
    now = room.look()
    assert {row.student for row in now.rows} == {"s01", "s02"}
    told = "\n".join(now.troubles)
    assert "levers/changed.jsonl: the record was changed after it was written" in told
    assert "levers/junk.jsonl: it holds no record of a drill." in told
    assert "levers/begins.jsonl: its first line is not whole yet." in told
    assert "levers/linked.jsonl: it is a link, and links are not followed here." in told
    assert now.others == 1
    assert "notes" not in told


def test_a_folder_that_is_gone_for_a_moment_leaves_all_as_it_was(room: Room) -> None:
    room.path.write_bytes(record(DRILL, "s01", STUCK_AT_SECOND))
    room.look()
    away = room.folder.with_name("away")
    room.folder.rename(away)
    now = room.look()
    assert "can't be read at the moment" in now.folder_trouble
    assert now.rows[0].need is Need.STUCK
    away.rename(room.folder)
    assert room.look().folder_trouble == ""


def test_a_fault_in_one_look_leaves_all_as_it_was_and_says_so(
    room: Room, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def fails(*_: object) -> None:
        raise RuntimeError

    with monkeypatch.context() as patch:
        patch.setattr("leverstep.watching.class_watch.class_at_work", fails)
        now = room.look()
        assert (now.rows, now.folder_trouble) == ((), NOT_READ)
    room.path.write_bytes(record(DRILL, "s01", STUCK_AT_SECOND))
    before = room.look()
    with monkeypatch.context() as patch:
        patch.setattr(WatchedFolder, "look", fails)
        now = room.look()
    assert now == replace(before, folder_trouble=NOT_READ)
    assert "can't be looked at" in caplog.text
    assert news(before, now, with_names=True) == [NOT_READ]
    assert room.look() == before


def test_a_record_that_is_gone_for_one_look_is_not_judged_anew(
    room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = record(DRILL, "s01", STUCK_AT_SECOND)
    taken: list[object] = []
    take = Replay.take
    monkeypatch.setattr(
        Replay, "take", lambda self, lines: taken.extend(lines) or take(self, lines)
    )
    for _ in range(2):
        room.path.write_bytes(whole)
        assert room.row().wrong == 3
        room.path.unlink()
        now = room.look()
        assert (now.rows[0].wrong, now.troubles) == (3, ())
    assert len(taken) == len(STUCK_AT_SECOND)
    assert room.look().rows == ()


def test_of_several_records_of_a_student_the_whole_and_latest_counts(room: Room) -> None:
    begun_later = NOW.replace(second=10)
    changed = record(DRILL, "s01", STUCK_AT_SECOND, NOW).replace(b"702.11", b"705.11")
    room.path.write_bytes(record(DRILL, "s01", [*ONE_LINE, END]))
    room.path.with_name("again.jsonl").write_bytes(record(DRILL, "S01", ONE_LINE, begun_later))
    room.path.with_name("changed.jsonl").write_bytes(changed)
    assert (room.row().need, room.row().done) == (Need.WORKING, 1)
