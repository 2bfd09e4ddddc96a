"""Marking a part of a class: another roster, or one section, and who is on none."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.classes import figures_of
from helpers.drill_sittings import END, entry, record
from helpers.drills import SHELF, drill_text
from helpers.material import CATALOGUE
from leverstep.documents.text import text as in_text
from leverstep.drill.drill_file import drill_of
from leverstep.drill.roster_columns import RosterColumns, section_column
from leverstep.faces.commands.cli import main
from leverstep.marking.collecting import Student
from leverstep.marking.marking import mark_record
from leverstep.reports.class_report import class_report

WHOLE = "number;name;lab\ns1;Ida;L1\ns2;Odo;L2\ns3;Una;l2\ns4;Eve;\n"
COLUMNS = 'roster = "all.csv"\nroster_columns = { id = "number", section = "lab" }\n'


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Return a drill with a roster of four, and records of two of them and of a stranger."""
    (tmp_path / "all.csv").write_text(WHOLE, "utf-8")
    path = tmp_path / "levers.toml"
    path.write_text(drill_text(COLUMNS), "utf-8")
    drill = drill_of(path.read_text("utf-8"), SHELF.problems, "levers.toml")
    (tmp_path / "records").mkdir()
    for student in ("s1", "S2", "52"):
        data = record(drill, student, [entry("W_s", "1 N"), END])
        (tmp_path / "records" / f"{student}.jsonl").write_bytes(data)
    return path


def marked(file: Path, *options: str) -> tuple[int, list[dict[str, str]]]:
    """Mark the records beside a drill; return what it ended with, and the rows of the table."""
    out = file.parent / "out"
    code = main(
        ["drill", "mark", str(file), str(file.parent / "records"), "--out", str(out), *options]
    )
    if code:
        return code, []
    with (out / "marks.csv").open(encoding="utf-8", newline="") as table:
        return code, list(csv.DictReader(table))


def test_who_is_not_on_the_roster_is_listed_apart_and_not_counted(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, rows = marked(file)
    assert [(row["id"], row["section"]) for row in rows] == [
        ("52", ""), ("s1", "L1"), ("s2", "L2"), ("s3", "l2"), ("s4", ""),
    ]  # fmt: skip
    assert rows[0]["remarks"] == "not on the roster"
    told = capsys.readouterr().out.splitlines()[-1]
    assert told.startswith("2 students sat, 2 handed in. 2 of the roster have no record.")
    assert "Not on the roster, and not counted: 1." in told
    report = (file.parent / "out" / "report.html").read_text("utf-8")
    assert "otherwise than the roster has it: 52." in report
    assert "s1 Ida (L1)" in report


@pytest.mark.parametrize(
    ("options", "ids", "told"),
    [
        (("--section", "L2"), ["s2", "s3"],
         "Not marked: 1 record of other parts of the class; not on the roster: 52."),
        (("--section", "L1"), ["s1"],
         "Not marked: 1 record of other parts of the class; not on the roster: 52."),
        (("--roster", "part.csv"), ["s2", "s9"],
         "Not marked: 1 record of other parts of the class; not on the roster: 52."),
    ],
)  # fmt: skip
def test_a_part_of_a_class_is_marked_alone(
    options: tuple[str, str], ids: list[str], told: str, file: Path,
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    (file.parent / "part.csv").write_text("Number,lab,name\ns2,L2,Odo\nS9,L2,Ira\n", "utf-8")
    monkeypatch.chdir(file.parent)
    _, rows = marked(file, *options)
    assert [row["id"].casefold() for row in rows] == ids
    printed = capsys.readouterr().out
    assert told in printed.splitlines()
    assert "Not on the roster, and not counted: 1." in printed
    assert main(["drill", "report", str(file), "records", "--plain", *options]) == 0
    printed = capsys.readouterr().out
    assert f"{len(set(ids) & {'s1', 's2'})} student sat" in printed
    assert told in printed.splitlines()
    report = ["drill", "report", str(file), "records", "--plain", "--without-names", *options]
    assert main(report) == 0
    unnamed = "Not marked: 1 record of other parts of the class; 1 id not on the roster."
    assert unnamed in capsys.readouterr().out.splitlines()


def test_a_list_of_ids_and_names_does_whatever_the_drill_calls_its_own(file: Path) -> None:
    (file.parent / "part.csv").write_text("id,name\ns2,Odo\n", "utf-8")
    _, rows = marked(file, "--roster", str(file.parent / "part.csv"))
    assert [row["id"] for row in rows] == ["s2"]


@pytest.mark.parametrize(
    ("more", "there", "column"),
    [
        ({"lab-section": "Lab section"}, ("id", "lab section"), "lab section"),
        ({"lab-section": "Lab"}, ("id", "lab"), "lab"),
        ({}, ("id", "section no."), "section no."),
        ({"section": "Lab"}, ("id", "lab", "section"), "Lab"),
        ({}, ("id", "section", "lab section"), "section"),
        ({}, ("id", "lab section", "lecture section"), None),
    ],
)
def test_a_column_with_section_in_its_name_or_heading_has_the_sections(
    more: dict[str, str], there: tuple[str, ...], column: str | None
) -> None:
    assert section_column(RosterColumns(more=more), there) == column


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--section", "L9"), "--section: nobody is in section 'L9'"),
        (("--roster", "none.csv"), "--roster: none.csv: there is no such file"),
        (("--roster", "odd.csv"), "--roster: odd.csv: it has no column number; its columns are 'a"),
        (("--roster", "bare.csv", "--section", "L1"), "it has no column lab"),
    ],
)
def test_a_part_that_is_none_is_told_in_one_sentence(
    options: tuple[str, ...], told: str, file: Path,
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    (file.parent / "odd.csv").write_text("a,b\ns1,Ida\n", "utf-8")
    (file.parent / "bare.csv").write_text("number,name\ns1,Ida\n", "utf-8")
    monkeypatch.chdir(file.parent)
    assert marked(file, *options) == (2, [])
    assert told in capsys.readouterr().err
    assert not (file.parent / "out").exists()


def test_the_report_has_the_median_of_each_group_that_tells_of_nobody() -> None:
    """The group of eight stands there, the group of one does not."""
    drill = drill_of(drill_text(COLUMNS), SHELF.problems, "levers.toml")
    ids = [f"s{number}" for number in range(9)]
    details = {one: {"section": "L2" if one == "s8" else "L1"} for one in ids}
    drill = replace(drill, students=dict.fromkeys(ids, ""), details=details)
    sat = [mark_record(drill, CATALOGUE, one, record(drill, one, [END])) for one in ids]
    figures = figures_of(drill, [Student(one.student, "", one, (one,), ()) for one in sat])
    ((heading, groups),) = figures.groups
    assert heading == "section"
    assert [(one.name, one.sat, one.median) for one in groups] == [("L1", 8, 0)]
    shown = in_text(class_report(figures, with_names=False))
    assert re.search(r"Section +Students +Median", shown)
    assert re.search(r"L1 +8 +0 %", shown)
    assert "L2" not in shown


def test_without_a_column_of_sections_none_is_marked_alone(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (file.parent / "all.csv").write_text("id,name\ns1,Ida\n", "utf-8")
    file.write_text(drill_text('roster = "all.csv"'), "utf-8")
    assert marked(file, "--section", "L1") == (2, [])
    assert "the roster does not say who is in which section" in capsys.readouterr().err
    (file.parent / "all.csv").write_text("id,name,Section\ns1,Ida,L1\ns2,Odo,L2\n", "utf-8")
    _, rows = marked(file, "--section", "l1")
    assert [(row["id"], "section" in row) for row in rows] == [("s1", False)]


def test_sheets_are_printed_for_a_section(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", str(file), "--section", "L2", "--format", "md"]) == 0
    printed = capsys.readouterr().out
    assert "Odo" in printed
    assert "Una" in printed
    assert "Ida" not in printed
    assert main(["sheet", str(file), "--section", "x"]) == 2
