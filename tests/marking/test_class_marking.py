"""A class marked in one go: each record is read once, and what is kept does not grow with it."""

from __future__ import annotations

import gc
import os
import tracemalloc
import weakref
from collections import Counter
from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from helpers.drill_sittings import END, entry, first_line, record, right_entries, small_drill
from helpers.material import CATALOGUE
from leverstep.bench import record as records
from leverstep.drill.drill import Drill
from leverstep.faces.commands import machines
from leverstep.faces.commands.cli import main
from leverstep.marking import collecting
from leverstep.marking.collecting import CHUNK, Student, gather, mark_class
from leverstep.marking.outputs import Outputs
from leverstep.marking.statements import STATEMENTS, Statements
from leverstep.marking.tables import MARKS, STEPS, MarkTables
from leverstep.reports.gathering import ClassFigures

DRILL = small_drill()
FIXED = replace(DRILL, items=tuple(replace(item, fixed=True) for item in DRILL.items))
TASKS = first_line(FIXED, "s1")["tasks"]
RIGHT = [entry(key, text) for key, text in right_entries(DRILL.tasks("s1")[0].question).items()]


def a_class(folder: Path, count: int, lines: int = 0) -> int:
    """Write the records of a class with the same numbers; return how many bytes they have.

    Each holds some lines that can't be read, and are so marked at once.
    """
    folder.mkdir(parents=True)
    typed = [entry("W_s", "x" * 3000)] * lines
    for number in range(count):
        data = record(FIXED, f"s{number:04}", [*typed, END], tasks=TASKS)
        (folder / f"{number}.jsonl").write_bytes(data)
    return sum(path.stat().st_size for path in folder.iterdir())


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> tuple[Counter[str], Counter[str]]:
    """Return how often each file is opened from here on, and how often one is read as a whole."""
    opened: Counter[str] = Counter()
    whole: Counter[str] = Counter()
    open_file, read_plain = os.open, records.read_plain

    def opens(path: Any, *more: Any) -> int:
        opened[Path(path).name] += 1
        return open_file(path, *more)

    def reads(path: Path, most: int) -> bytes:
        whole[path.name] += 1
        return read_plain(path, most)

    monkeypatch.setattr(os, "open", opens)
    monkeypatch.setattr(records, "read_plain", reads)
    return opened, whole


def test_with_tables_reports_pages_and_statements_each_record_is_read_once(
    tmp_path: Path, read: tuple[Counter[str], Counter[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before that only its first line is looked at, which says whose it is; nothing else is."""
    monkeypatch.setattr(machines, "workers", lambda _: ThreadPoolExecutor(1))
    (tmp_path / "levers.toml").write_text(DRILL.text, "utf-8")
    (tmp_path / "records").mkdir()
    for student in ("s1", "s2", "s3"):
        data = record(DRILL, student, [*RIGHT, END])
        (tmp_path / "records" / f"{student}.jsonl").write_bytes(data)
    (tmp_path / "records" / "notes.txt").write_text("notes\n", "utf-8")
    (tmp_path / "codes.csv").write_text("id,code\ns1,K7WM-3RXA\n", "utf-8")
    names = ("levers.toml", "records", "codes.csv", "out")
    drill, folder, codes, out = (str(tmp_path / name) for name in names)
    more = ["--pages", "--statements", "--codes", codes, "--out", out]
    assert main(["drill", "mark", drill, folder, *more]) == 0
    opened, whole = read
    for student in ("s1", "s2", "s3"):
        assert (opened[f"{student}.jsonl"], whole[f"{student}.jsonl"]) == (2, 1)
    assert (opened["notes.txt"], whole["notes.txt"]) == (1, 0)
    for name in (MARKS, STEPS, STATEMENTS, "report.html"):
        assert (tmp_path / "out" / name).stat().st_size > 100


def test_records_that_begin_alike_are_read_once_more_to_compare_them(
    tmp_path: Path, read: tuple[Counter[str], Counter[str]]
) -> None:
    data = record(DRILL, "s1", [*RIGHT, END])
    for name in ("a", "b", "c"):
        (tmp_path / f"{name}.jsonl").write_bytes(data)
    (tmp_path / "other.jsonl").write_bytes(record(DRILL, "s2", [END]))
    with ThreadPoolExecutor(1) as pool:
        mark_class(DRILL, CATALOGUE, gather([tmp_path]).records, pool, [])
    assert read[1] == {"a.jsonl": 2, "b.jsonl": 1, "c.jsonl": 1, "other.jsonl": 1}


class Notes:
    """Notes what it takes, and how many of all that was taken are still there."""

    def __init__(self, said: list[str], name: str) -> None:
        self.said = said
        self.name = name
        self.taken: list[weakref.ref[Student]] = []
        self.most = 0

    def add(self, student: Student) -> None:
        """Take a student."""
        self.said.append(f"{self.name} {student.id}")
        self.taken.append(weakref.ref(student))
        self.most = max(self.most, sum(one() is not None for one in self.taken))


def test_each_student_goes_to_all_takers_in_their_order_and_is_not_kept(tmp_path: Path) -> None:
    a_class(tmp_path / "records", 3 * CHUNK)
    said: list[str] = []
    first, second = Notes(said, "first"), Notes(said, "second")
    with ThreadPoolExecutor(1) as pool:
        mark_class(FIXED, CATALOGUE, gather([tmp_path / "records"]).records, pool, [first, second])
    ids = [f"s{number:04}" for number in range(3 * CHUNK)]
    assert said == [f"{name} {one}" for one in ids for name in ("first", "second")]
    gc.collect()
    assert max(first.most, second.most) <= 2, "the one at hand, and the one before"


class Late(Executor):
    """Marks at once, and knows how many bytes of records wait to be asked for."""

    def __init__(self) -> None:
        self.waiting = self.most = 0

    def submit(self, call: Callable[..., Any], /, *args: Any, **_: Any) -> Future[Any]:
        """Do what is asked for."""
        size = sum(found.path.stat().st_size for found in args[1])
        self.waiting += size
        self.most = max(self.most, self.waiting)
        found: Future[Any] = Asked(lambda: self._gone(size))
        found.set_result(call(*args))
        return found

    def _gone(self, size: int) -> None:
        self.waiting -= size


class Asked(Future[Any]):
    """What tells when it is asked for."""

    def __init__(self, tell: Callable[[], None]) -> None:
        super().__init__()
        self._tell = tell

    def result(self, timeout: float | None = None) -> Any:
        """Return what came of it."""
        self._tell()
        return super().result(timeout)


def test_no_more_is_handed_out_at_once_than_fits_into_memory(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    size = a_class(tmp_path / "records", 8 * CHUNK, lines=4)
    of_a_job = size // 8
    monkeypatch.setattr(collecting, "MOST_AHEAD", 2 * of_a_job + of_a_job // 2)
    late, notes = Late(), Notes([], "")
    mark_class(FIXED, CATALOGUE, gather([tmp_path / "records"]).records, late, [notes])
    assert len(notes.taken) == 8 * CHUNK
    assert 2 * of_a_job < late.most <= 3 * of_a_job + 1000
    assert late.waiting == 0


def peak(drill: Drill, folder: Path, out: Path) -> int:
    """Return the most bytes held while a class is marked, with all that is made of it."""
    found = gather([folder]).records
    tracemalloc.start()
    with Outputs(out) as files, ThreadPoolExecutor(1) as pool:
        tables, figures = MarkTables(drill, files), ClassFigures(drill, CATALOGUE)
        mark_class(drill, CATALOGUE, found, pool, [figures, tables, Statements(drill, files)])
        assert figures.figures().sat == len(found)
        assert tables.finish()
    held = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return held


def test_memory_does_not_grow_with_the_records_of_a_thousand_students(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Tenfold the bytes cost little more: of each student an id, a row of figures, a path stay."""
    monkeypatch.setattr(collecting, "MOST_AHEAD", 300_000)
    few = a_class(tmp_path / "few", 100, lines=4)
    many = a_class(tmp_path / "many", 1000, lines=4)
    least = peak(FIXED, tmp_path / "few", tmp_path / "out-few")
    most = peak(FIXED, tmp_path / "many", tmp_path / "out-many")
    assert many > 10_000_000
    assert most - least < (many - few) / 5
