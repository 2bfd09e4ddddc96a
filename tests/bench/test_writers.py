"""One writer to a record at a time, and records, queues and disks that are full."""

from __future__ import annotations

import errno
import importlib
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from helpers.drill_disks import DRILL, TYPED
from helpers.drill_screens import app_at, begin, sitting_of
from helpers.drill_sittings import SHELF
from helpers.drills import drill_file
from helpers.line_students import begun, works
from helpers.material import CATALOGUE
from helpers.pilots import press
from helpers.screens import said
from helpers.source import SOURCE
from leverstep.bench import alone as locking
from leverstep.bench import record as records
from leverstep.bench.alone import alone
from leverstep.bench.contents import LONGEST_LINE
from leverstep.bench.practice import Practice
from leverstep.bench.record import (
    LARGEST_RECORD,
    NeverKept,
    Record,
    RecordError,
    read_bytes,
    read_record,
)
from leverstep.bench.record_lines import (
    AwayLine,
    ClockLine,
    EndLine,
    EntryLine,
    LeaveLine,
    PracticeBegun,
    ResumedLine,
)
from leverstep.course.faults import FileError
from leverstep.course.new_file import write_new
from leverstep.drill.earlier import earlier
from leverstep.drill.sitting import Sitting
from leverstep.faces.screens.desk import Desk
from leverstep.faces.screens.handed import HandedScreen
from leverstep.marking.marking import mark_record
from leverstep.working.verdict import Outcome

POSIX = os.name != "nt"
FIRST = PracticeBegun(seed="1")
BARROW = SHELF.problems["plain-wheelbarrow"]


# One writer at a time.


class Msvcrt:
    """Locks as Windows has them: of one byte of a file, for one open file at a time."""

    LK_NBLCK, LK_UNLCK = 2, 0

    def __init__(self) -> None:
        self.held: dict[tuple[int, int], int] = {}
        self.places: list[int] = []

    def locking(self, descriptor: int, what: int, count: int) -> None:
        """Lock or unlock the byte where a file stands."""
        place = os.lseek(descriptor, 0, os.SEEK_CUR)
        self.places.append(place)
        key = (os.fstat(descriptor).st_ino, place)
        assert count == 1
        if what == self.LK_UNLCK:
            assert self.held.pop(key) == descriptor
        elif self.held.setdefault(key, descriptor) != descriptor:
            raise PermissionError(errno.EACCES, "Permission denied")


@pytest.fixture(params=["here", "Windows"])
def system(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Msvcrt | None:
    """Have locks as this system has them, or as Windows has, without waiting for long."""
    monkeypatch.setattr(locking, "PAUSE", 0.001)
    if request.param == "here":
        return None
    windows = Msvcrt()
    monkeypatch.setitem(sys.modules, "msvcrt", windows)  # type: ignore[arg-type]
    monkeypatch.setattr(locking, "os", SimpleNamespace(**{**vars(os), "name": "nt"}))
    return windows


def test_while_one_program_writes_no_other_does(system: Msvcrt | None, tmp_path: Path) -> None:
    record = Record.create(tmp_path / "one.jsonl", FIRST)
    other = os.open(record.path, os.O_WRONLY | os.O_APPEND)
    try:
        with alone(other), pytest.raises(RecordError, match="another program is writing to it"):
            record.append(EntryLine())
    finally:
        os.close(other)
    assert read_record(record.path) == (FIRST,)
    record.append(EntryLine())
    record.append(EndLine())
    assert [line.kind for line in read_record(record.path)] == ["practice", "entry", "end"]
    if system is not None:
        assert system.held == {}, "no lock is left"
        assert min(system.places) > LARGEST_RECORD, "readers never meet it"


def test_who_waited_for_the_lock_writes_nothing_over(
    system: Msvcrt | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other window has written, and has gone, while this one waited."""
    del system
    here = Record.create(tmp_path / "one.jsonl", FIRST)
    there = Record.reopen(here.path)
    other = os.open(here.path, os.O_WRONLY)
    held = alone(other)
    held.__enter__()

    def writes(_: float) -> None:
        held.__exit__(None, None, None)
        there.append(EntryLine(text="there"))

    monkeypatch.setattr(locking.time, "sleep", writes)
    with pytest.raises(RecordError, match="changed outside"):
        here.append(EntryLine(text="here"))
    os.close(other)
    assert read_record(here.path) == (FIRST, EntryLine(text="there"))


def test_a_disk_without_locks_is_written_to_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(_: int) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    record = Record.create(tmp_path / "one.jsonl", FIRST)
    monkeypatch.setattr(locking, "_lock" if POSIX else "_lock_on_windows", none)
    record.append(EntryLine())
    assert len(read_record(record.path)) == 2


HOLD = """
import os, sys, time
from leverstep.bench.alone import alone

descriptor = os.open(sys.argv[1], os.O_WRONLY)
with alone(descriptor):
    print("held", flush=True)
    time.sleep(60)
"""


def test_a_lock_goes_with_the_program_that_held_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    record = Record.create(tmp_path / "one.jsonl", FIRST)
    monkeypatch.setattr(locking, "PAUSE", 0.001)
    command = [sys.executable, "-c", HOLD, str(record.path)]
    with subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": str(SOURCE)},
    ) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "held\n"
        with pytest.raises(RecordError, match="another program"):
            record.append(EntryLine())
        program.kill()
    record.append(EntryLine())
    assert len(read_record(record.path)) == 2


def test_the_lock_of_windows_is_the_one_this_python_knows() -> None:
    """Where there is no Windows, the module is absent and a stand-in plays it above."""
    if POSIX:
        with pytest.raises(ModuleNotFoundError):
            importlib.import_module("msvcrt")
        return
    msvcrt: Any = importlib.import_module("msvcrt")
    assert {"locking", "LK_NBLCK", "LK_UNLCK"} <= set(dir(msvcrt))


# Records that are full.


@pytest.fixture
def small(monkeypatch: pytest.MonkeyPatch) -> int:
    """Have records be full early; return the bytes that one may have."""
    size = 4 * LONGEST_LINE
    monkeypatch.setattr(records, "LARGEST_RECORD", size)
    return size


def fill(sitting: Sitting) -> str:
    """Keep lines, long ones first, until not even a short one is taken; return what is told."""
    told = ""
    for length in (40_000, 4000, 400, 40, 4):
        told = refused(lambda n=length: sitting._keep(LeaveLine(task=1, step="Q" * n)))
    return told


def refused(deed: Callable[[], object]) -> str:
    """Do something over and over until it is refused as full; return what is told then."""
    for _ in range(1000):
        try:
            deed()
        except NeverKept as error:
            return str(error)
    raise AssertionError("it was never full")


def test_a_full_record_is_told_of_and_can_be_gone_on_with_handed_in_and_marked(
    small: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("leverstep.drill.sitting._PAUSE", 60)
    one = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
    told = fill(one)
    assert told == f"the record {one.place} is full: hand in, or end here and begin another"
    before = one.place.read_bytes()
    with pytest.raises(NeverKept, match="is full"):
        one.benches[0].enter(*TYPED[0])
    assert one.place.read_bytes() == before
    assert one.benches[0].working.lines == {}, "what is not kept is not judged"
    assert one.note(), "the clock is kept on"
    one.pause()
    assert list(earlier(DRILL, "s1", tmp_path).records) == [one.place], "it can be read"
    again = Sitting.resume(one.place, DRILL, CATALOGUE)
    again.hand_in()
    data = read_bytes(one.place)
    assert len(data) <= small
    assert mark_record(DRILL, CATALOGUE, "", data).ended


def test_a_clock_that_runs_for_ever_leaves_room_to_go_on_and_to_hand_in(
    small: int, tmp_path: Path
) -> None:
    record = Record.create(tmp_path / "one.jsonl", FIRST)
    for kind in (EntryLine, ClockLine, AwayLine, ResumedLine):
        line = kind(step="x" * (LONGEST_LINE // 2))
        assert "is full" in refused(lambda one=line: record.append(one))
    record.append(EndLine(step="x" * (LONGEST_LINE // 2)))
    assert record.path.stat().st_size <= small
    kinds = [line.kind for line in read_record(record.path)]
    assert list(dict.fromkeys(kinds))[1:] == ["entry", "clock", "away", "end"]


def test_every_record_that_is_written_can_be_read(tmp_path: Path) -> None:
    record = Record.create(tmp_path / "one.jsonl", FIRST)
    line = EntryLine(text="x" * (LONGEST_LINE - 200))
    assert "is full" in refused(lambda: record.append(line))
    record.append(EndLine())
    assert LARGEST_RECORD - 4 * LONGEST_LINE < len(read_bytes(record.path)) <= LARGEST_RECORD


def test_line_mode_tells_of_a_full_record_and_hands_in(small: int, tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    fill(sitting)
    student = works(sitting, ["1.00 N", "hand in", "yes"])
    (told,) = student.heard("Not taken: ")
    assert told.endswith("is full: hand in, or end here and begin another.")
    assert not student.heard("Trying again"), "it would never do"
    assert sitting.ended
    assert small >= len(read_bytes(sitting.place))


async def test_the_screen_tells_of_a_full_record_and_hands_in(small: int, tmp_path: Path) -> None:
    app = app_at(drill_file(tmp_path), folder=tmp_path / "share")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        sitting = sitting_of(pilot)
        fill(sitting)
        screen.query_one(Desk).entry.value = "1.00 N"
        await press(pilot, "enter")
        assert said(pilot).startswith("Not taken: The record ")
        assert "is full: hand in" in " ".join(said(pilot).split())
        assert "Trying again" not in said(pilot)
        assert screen._again is None
        await press(pilot, "f10", "enter")
        assert isinstance(app.screen, HandedScreen)
    assert sitting.ended
    assert len(read_bytes(sitting.place)) <= small


# Queues and disks that are full.


def test_an_entry_too_long_to_be_kept_leaves_those_after_it_alone(tmp_path: Path) -> None:
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path)
    assert practice.enter("W_s", "5" * LONGEST_LINE).outcome is Outcome.UNREAD
    assert "too long to be kept" in practice.trouble
    practice.enter("W_s", "529.7 N")
    assert practice.saved
    practice.enter("W_b", "98.1 N")
    assert practice.place is not None
    texts = [line.text for line in read_record(practice.place) if isinstance(line, EntryLine)]
    assert texts == ["529.7 N", "98.1 N"]


def test_a_long_entry_among_those_that_wait_for_the_disk_is_left_out_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path)
    with monkeypatch.context() as disk:
        disk.setattr(os, "write", lambda *_: 0)
        practice.enter("W_s", "529.7 N")
        practice.enter("W_s", "5" * LONGEST_LINE)
        practice.enter("W_b", "98.1 N")
    practice.enter("d_s", "0.425 m")
    assert practice.place is not None
    texts = [line.text for line in read_record(practice.place) if isinstance(line, EntryLine)]
    assert texts == ["529.7 N", "98.1 N", "0.425 m"]


def test_practice_goes_on_when_its_record_is_full_and_says_so(small: int, tmp_path: Path) -> None:
    del small
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path)
    for length in (4000, 400, 40, 4):
        for _ in range(60):
            practice.enter("W_s", "5" * length)
    assert practice.trouble.endswith("is full: hand in, or end here and begin another")
    assert practice.enter("W_s", "529.7 N").outcome is Outcome.RIGHT
    assert not practice.saved
    assert practice._waiting == []


@pytest.mark.parametrize("error", [OSError(errno.ENOSPC, "No space left"), KeyboardInterrupt()])
def test_a_new_file_that_can_not_be_written_whole_is_not_there(
    error: BaseException, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(_: int) -> None:
        raise error

    path = tmp_path / "sheet.html"
    with monkeypatch.context() as disk:
        disk.setattr(os, "fsync", fails)
        with pytest.raises((FileError, KeyboardInterrupt)) as raised:
            write_new(path, "text")
    if isinstance(error, OSError):
        assert "sheet.html: No space left; expected the path of a new file" in str(raised.value)
    assert not path.exists()
    write_new(path, "text\n")
    with pytest.raises(FileError, match="it already exists"):
        write_new(path, "other")
    assert path.read_bytes() == b"text\n"


FULL = """
import resource, signal, sys
from pathlib import Path
from leverstep.course.new_file import write_new

resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
write_new(Path(sys.argv[1]), "x" * 5000)
"""


if POSIX:

    def test_on_a_full_disk_a_new_file_leaves_nothing_behind(tmp_path: Path) -> None:
        path = tmp_path / "sheet.html"
        done = subprocess.run(
            [sys.executable, "-c", FULL, str(path)],
            env=os.environ | {"PYTHONPATH": str(SOURCE)},
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 1
        assert "File too large; expected the path of a new file" in done.stderr
        assert list(tmp_path.iterdir()) == []


def test_a_lock_that_can_not_be_let_go_costs_no_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The line is on the disk by then, and the system lets the lock go with the file."""

    def fails(_: int) -> None:
        raise OSError(errno.EIO, "it can't be let go")

    monkeypatch.setattr(locking, "_unlock", fails)
    record = Record.create(tmp_path / "a.jsonl", FIRST)
    for number in range(3):
        record.append(EntryLine(text=str(number)))
    assert len(read_record(record.path)) == 4
