"""The time that is worked, counted alike whether a system's clock runs on in its sleep or not."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest
from helpers.drills import drill_with
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.contents import contents
from leverstep.bench.record import LARGEST_RECORD
from leverstep.drill.drill_file import MOST_MINUTES
from leverstep.drill.lines import used_in
from leverstep.drill.sitting import KEPT_EVERY, KEPT_EVERY_WITHOUT_LIMIT, Sitting
from leverstep.drill.stopwatch import ASLEEP, Stopwatch
from leverstep.marking.marking import mark_record

MOST_LOST = KEPT_EVERY + 1
"""Seconds between a sitting's clock and its record, where it is looked at each second."""


@dataclass
class Computer:
    """A computer with a clock that runs on while it sleeps, or stands still."""

    counts_sleep: bool
    clock: float = 1000.0

    def now(self) -> float:
        """Return the seconds of its clock."""
        return self.clock

    def sleep(self, seconds: float) -> None:
        """Let it sleep."""
        self.clock += seconds if self.counts_sleep else 0.0


def worked(sitting: Sitting, computer: Computer, seconds: int) -> None:
    """Work for some seconds, as the faces do it: the clock is looked at each second."""
    for _ in range(seconds):
        computer.clock += 1
        if sitting.is_due:
            sitting.note()


def begun(folder: Path, computer: Computer, rules: str = "minutes = 45") -> Sitting:
    sitting = Sitting.start(drill_with(rules), CATALOGUE, "s01", folder)
    sitting.stopwatch = Stopwatch(0.0, computer.now)
    return sitting


@pytest.mark.parametrize("counts_sleep", [True, False])
def test_the_clock_of_a_sitting_stands_still_while_the_computer_sleeps(
    counts_sleep: bool, tmp_path: Path
) -> None:
    computer = Computer(counts_sleep)
    sitting = begun(tmp_path, computer)
    for _ in range(3):
        worked(sitting, computer, 100)
        computer.sleep(3600)
    worked(sitting, computer, 100)
    assert sitting.used == pytest.approx(400, abs=3)
    assert sitting.left == pytest.approx(45 * 60 - 400, abs=3)
    assert not sitting.over


def test_a_pause_between_looks_counts_as_long_as_nobody_can_have_slept() -> None:
    computer = Computer(counts_sleep=True)
    watch = Stopwatch(5.0, computer.now)
    computer.clock += ASLEEP
    assert watch.look() == 5 + ASLEEP
    computer.clock += ASLEEP + 0.1
    assert watch.look() == 5 + ASLEEP
    computer.clock += 1
    assert watch.look() == 6 + ASLEEP


def test_a_stopwatch_that_is_stopped_counts_nothing_until_it_goes_on() -> None:
    computer = Computer(counts_sleep=True)
    watch = Stopwatch(0.0, computer.now)
    computer.clock += 2
    watch.stop()
    computer.clock += 30
    assert (watch.look(), watch.runs) == (2, False)
    watch.go_on()
    watch.go_on()
    computer.clock += 1
    assert (watch.look(), watch.runs) == (3, True)


@pytest.mark.parametrize("seconds", [0, 1, 9, 10, 11, 59, 60, 61, 119, 1000])
def test_who_is_killed_has_no_more_time_than_the_clock_is_kept_by(
    seconds: int, tmp_path: Path
) -> None:
    """What is charged is what stands on the disk: all but the last seconds, and never more."""
    computer = Computer(counts_sleep=False)
    sitting = begun(tmp_path, computer)
    worked(sitting, computer, seconds)
    charged = used_in(contents(sitting.place.read_bytes()))
    assert seconds - MOST_LOST <= charged <= seconds
    again = Sitting.resume(sitting.place, sitting.drill, CATALOGUE)
    assert again.used == pytest.approx(charged, abs=2)


def test_the_clock_is_kept_only_where_no_other_line_has_kept_it(tmp_path: Path) -> None:
    computer = Computer(counts_sleep=False)
    sitting = begun(tmp_path, computer)
    bench = sitting.benches[0]
    for number in range(20):
        worked(sitting, computer, 9)
        bench.enter(bench.working.steps[0].key, f"{number} N")
    assert "clock" not in {line["kind"] for line in fields_in(sitting.place)}
    worked(sitting, computer, 25)
    assert [line["kind"] for line in fields_in(sitting.place)][-3:] == ["entry", "clock", "clock"]


def test_the_longest_sitting_fits_into_a_record_with_its_clock(tmp_path: Path) -> None:
    """The clock of a drill with a limit takes a fraction of the largest record."""
    computer = Computer(counts_sleep=False)
    sitting = begun(tmp_path, computer, f"minutes = {MOST_MINUTES}")
    before = sitting.place.stat().st_size
    worked(sitting, computer, 600)
    grown = sitting.place.stat().st_size - before
    assert contents(sitting.place.read_bytes()).remarks == ()
    assert grown * MOST_MINUTES / 10 < LARGEST_RECORD / 3
    assert mark_record(sitting.drill, CATALOGUE, "a", sitting.place.read_bytes()).remarks == ()


def test_where_there_is_no_limit_the_clock_is_kept_less_often(tmp_path: Path) -> None:
    computer = Computer(counts_sleep=False)
    sitting = begun(tmp_path, computer, "")
    worked(sitting, computer, 600)
    lines = len(fields_in(sitting.place)) - 1
    assert lines == 600 // KEPT_EVERY_WITHOUT_LIMIT


def test_a_disk_that_fails_is_not_asked_each_second(tmp_path, disk) -> None:  # type: ignore[no-untyped-def]
    computer = Computer(counts_sleep=False)
    sitting = begun(tmp_path, computer)
    disk.broken.append(tmp_path)
    tried = 0
    for _ in range(60):
        computer.clock += 1
        if sitting.is_due:
            tried += 1
            assert not sitting.note()
    assert tried == 6
