"""What marking writes: all of it new or all as before, and tables whose cells are only data."""

from __future__ import annotations

import csv
import errno
import os
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from helpers.drill_disks import DRILL
from helpers.drill_sittings import END, entry, record, right_entries
from leverstep.course.faults import FileError
from leverstep.drill.spreadsheet import cell, table_of, table_writer
from leverstep.faces.commands.cli import main
from leverstep.marking.outputs import Outputs

NAMES = ["against.csv", "marks.csv", "report.html", "report.md", "statements.jsonl", "steps.csv"]


@pytest.fixture
def mark(tmp_path: Path) -> Callable[[bool], int]:
    """Return what marks a class of two with all that marking writes, right or wrong on a line."""
    drill, records, out = tmp_path / "levers.toml", tmp_path / "records", tmp_path / "out"
    drill.write_text(DRILL.text, "utf-8")
    records.mkdir()

    def marks(right: bool) -> int:
        for student in ("s1", "s2"):
            entries = right_entries(DRILL.tasks(student)[0].question)
            lines = [entry("W_s", entries["W_s"] if right else "54 N"), END]
            (records / f"{student}.jsonl").write_bytes(record(DRILL, student, lines))
        options = ["--pages", "--statements"]
        if (out / "marks.csv").exists():
            options += ["--against", str(out)]
        return main(["drill", "mark", str(drill), str(records), "--out", str(out), *options])

    assert marks(False) == 0
    assert marks(False) == 0
    return marks


def held(name: str, call: Callable[..., Any]) -> Callable[..., Any]:
    """Return a call that moves files, but not one of a name, as where a spreadsheet holds it."""

    def moves(source: Any, target: Any, **more: Any) -> Any:
        if name in (Path(source).name, Path(target).name):
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(source))
        return call(source, target, **more)

    return moves


def files_in(folder: Path) -> dict[str, bytes]:
    """Return all that lies in a folder, by name."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.mark.parametrize("name", NAMES)
def test_while_a_spreadsheet_holds_one_file_all_stay_as_they_were(
    name: str,
    mark: Callable[[bool], int],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = files_in(tmp_path / "out")
    assert len(before) == len(NAMES) + 2
    assert sorted(path for path in before if "/" not in path) == NAMES
    capsys.readouterr()
    with monkeypatch.context() as system:
        for call in ("replace", "rename"):
            system.setattr(os, call, held(name, getattr(os, call)))
        assert mark(True) == 2
    told = capsys.readouterr()
    assert re.fullmatch(
        rf"\S+{name}: it can't be replaced, perhaps because a spreadsheet has it open; "
        "expected a closed file: close it and mark again\n",
        told.err,
    )
    assert "are marked" not in told.out, "nothing is called written that is not"
    assert files_in(tmp_path / "out") == before
    assert mark(True) == 0
    after = files_in(tmp_path / "out")
    assert after.keys() == before.keys(), "no draft is left"
    assert after[name] != before[name] or name == "against.csv"


def test_a_page_that_is_no_longer_of_anyone_stays_where_the_tables_do(
    mark: Callable[[bool], int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    (out / "students" / "gone-0123abcd.html").write_text("gone", "utf-8")
    (out / "students" / "folder-0123abcd.html").mkdir()
    before = files_in(out)
    with monkeypatch.context() as system:
        system.setattr(os, "replace", held("marks.csv", os.replace))
        assert mark(True) == 2
    assert files_in(out) == before
    assert mark(True) == 0
    assert files_in(out).keys() == before.keys() - {"students/gone-0123abcd.html"}
    assert (out / "students" / "folder-0123abcd.html").is_dir(), "it is no page"
    assert not any(path.name.startswith(".") for path in (out / "students").iterdir())


def test_where_marking_is_broken_off_nothing_is_left(tmp_path: Path) -> None:
    def breaks() -> None:
        with Outputs(tmp_path) as out, out.open("marks.csv") as file:
            file.write("half")
            assert len(list(tmp_path.iterdir())) == 1
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        breaks()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", [*NAMES, "students/s1-0123abcd.html"])
def test_a_folder_in_the_place_of_a_file_is_told_of_and_stays(name: str, tmp_path: Path) -> None:
    (tmp_path / name / "inside").mkdir(parents=True)
    with (
        pytest.raises(FileError, match=f"{name}: it is a folder; expected a file, or nothing"),
        Outputs(tmp_path) as out,
    ):
        out.open(name)
    assert [path.name for path in (tmp_path / name).iterdir()] == ["inside"]
    assert [path.name for path in tmp_path.iterdir()] == [name.split("/")[0]]


def test_a_file_in_the_place_of_the_folder_of_pages_is_told_of(
    mark: Callable[[bool], int], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    students = tmp_path / "out" / "students"
    shutil.rmtree(students)
    students.write_text("kept", "utf-8")
    before = files_in(tmp_path / "out")
    capsys.readouterr()
    assert mark(True) == 2
    assert capsys.readouterr().err == f"{students}: it is a file; expected a folder of its own\n"
    assert files_in(tmp_path / "out") == before


def test_one_name_written_twice_has_what_was_written_last(tmp_path: Path) -> None:
    for text in ("first", "second"):
        with Outputs(tmp_path) as out:
            for part in (text, f"{text} again"):
                with out.open("a/b.html") as file:
                    file.write(part)
        assert files_in(tmp_path) == {"a/b.html": f"{text} again".encode()}


def test_a_disk_that_fills_up_while_marking_leaves_all_as_it_was(
    mark: Callable[[bool], int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = files_in(tmp_path / "out")
    real = Outputs.open

    def fills_up(out: Outputs, name: str) -> Any:
        if name == "report.html":
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return real(out, name)

    monkeypatch.setattr(Outputs, "open", fills_up)
    monkeypatch.setattr("leverstep.faces.commands.cli._forget_output", lambda: None)
    assert mark(True) == 2
    assert files_in(tmp_path / "out") == before


DATA = {
    "=1+1": "'=1+1",
    "a;=1+1;b": "a;'=1+1;b",
    "a;  =1+1": "a;'  =1+1",
    " @x": "' @x",
    ";+x;-y": ";'+x;'-y",
    "a;＝1": "a;'＝1",
    "a\t=1+1": "a?=1+1",
    "\t=1+1": "?=1+1",
    "-1+1": "'-1+1",
    "-12.5 N": "'-12.5 N",
    "a;-1|x": "a;'-1|x",
    "-12.5": "-12.5",
    "-3": "-3",
    "a;-3;b": "a;-3;b",
    "- 3": "'- 3",
    "F_m = -3 N": "F_m = -3 N",
    "a-b": "a-b",
    "x;y": "x;y",
}


@pytest.mark.parametrize("typed", DATA)
def test_no_part_of_a_cell_is_a_formula_and_a_negative_number_is_one(typed: str) -> None:
    assert cell(typed) == DATA[typed]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_however_a_spreadsheet_parts_the_cells_none_is_a_formula(
    separator: str, tmp_path: Path
) -> None:
    path = tmp_path / "table.csv"
    hostile = [*DATA, 'a";=1+1', 'a";"=1+1', "a,=1+1", '"', "''=1", ";" * 9 + "=x"]
    with path.open("w", encoding="utf-8", newline="") as file:
        table = table_writer(file)
        for one in hostile:
            table.writerow([cell(one), "x", cell(one)])
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file, delimiter=separator))
    assert len(rows) == len(hostile)
    for part in (part for row in rows for part in row):
        is_number = re.fullmatch(r"-\d+(\.\d+)?(,.*)?", part)  # no formula has that behind it
        assert is_number or not part.strip(' "').startswith(tuple("=+-@＝")), part


def test_every_cell_of_every_table_is_in_quotes(
    mark: Callable[[bool], int], tmp_path: Path
) -> None:
    del mark
    for name in ("marks.csv", "steps.csv", "against.csv"):
        lines = (tmp_path / "out" / name).read_text("utf-8").splitlines()
        assert lines
        for line in lines:
            assert re.fullmatch(r'"[^"]*"(,"[^"]*")*', line), line


def test_a_table_too_large_to_read_is_told_of(tmp_path: Path) -> None:
    with (tmp_path / "table.csv").open("wb") as file:
        file.truncate(2**30)
    with pytest.raises(ValueError, match="it is too large"):
        table_of(tmp_path / "table.csv", 10)


def test_a_file_in_place_of_the_folder_is_told_of(tmp_path: Path) -> None:
    (tmp_path / "drill.toml").write_text(DRILL.text, "utf-8")
    with pytest.raises((OSError, FileError)), Outputs(tmp_path / "drill.toml") as out:
        out.open("marks.csv")
    assert (tmp_path / "drill.toml").read_text("utf-8") == DRILL.text
