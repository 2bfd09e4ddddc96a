"""A gradebook has the columns that a teacher's file names, and no cell is a formula."""

from __future__ import annotations

import csv
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.classes import marked_in
from helpers.drill_sittings import END, entry, record, right_entries
from helpers.drills import SHELF, drill_text
from helpers.terms import write_term
from leverstep.course.faults import FileError
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import read_drill
from leverstep.faces.commands.cli import main
from leverstep.marking.gradebook import GRADEBOOK, Gradebook, GradebookColumn, Rounding, sources_of
from leverstep.marking.gradebook_file import gradebook_of
from leverstep.marking.outputs import Outputs

BOOK = """\
separator = ";"
decimal_mark = ","

[[column]]
heading = "Student number"
from = "id"

[[column]]
heading = "Term"
text = "=1+1"

[[column]]
heading = "Lab 3"
from = "total"
out_of = 20
decimals = 1
rounding = "down"
missing = "0"
excused = "EX"

[[column]]
heading = "@blank"
text = ""

[[column]]
heading = "raw"
from = "total"
"""
ILL = '[[student]]\nid = "s3"\nexcused = true\nreason = "was ill"\n'


@pytest.fixture
def drill(tmp_path: Path) -> Drill:
    """Return a drill with records of two students, one more excused, and one without a record."""
    (tmp_path / "class.csv").write_text("id,name\ns1,Ida\n=s2,Odo\ns3,Una\ns4,Eve\n", "utf-8")
    (tmp_path / "exceptions.toml").write_text(ILL, "utf-8")
    text = drill_text('roster = "class.csv"')
    (tmp_path / "levers.toml").write_text(text, "utf-8")
    (tmp_path / "gradebook.toml").write_text(BOOK, "utf-8")
    (tmp_path / "records").mkdir()
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    for number, student in enumerate(("s1", "=s2"), 1):
        right = list(right_entries(drill.tasks(student)[0].question).items())
        lines = [*(entry(*one) for one in right[: 4 * number]), END]
        (tmp_path / "records" / f"{number}.jsonl").write_bytes(record(drill, student, lines))
    (tmp_path / "records" / "odd.jsonl").write_bytes(b"no record\n")
    return drill


def rows_in(path: Path, separator: str = ";") -> list[list[str]]:
    """Return the rows of a table."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file, delimiter=separator))


def test_a_map_gives_names_order_scale_rounding_and_constants(
    drill: Drill, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    mark = ["drill", "mark", str(tmp_path / "levers.toml"), str(tmp_path / "records")]
    mark += ["--out", str(out)]
    assert main([*mark, "--columns", str(tmp_path / "gradebook.toml")]) == 0
    assert f"For the import: {out / GRADEBOOK}" in capsys.readouterr().out.splitlines()
    found = {one.id: one.counted for one in marked_in(drill, tmp_path / "records") if one.id}
    expected = [["Student number", "Term", "Lab 3", "'@blank", "raw"]]
    for student in ("=s2", "s1", "s3", "s4"):
        sitting = found[student]
        if sitting is None:
            scaled, raw = ("EX" if student == "s3" else "0"), ""
        else:
            tenths = 10 * 20 * sitting.total // drill.marks
            scaled = f"{tenths // 10},{tenths % 10}"
            hundredths = 100 * sitting.total
            assert hundredths.denominator == 1
            raw = f"{float(sitting.total):.2f}".rstrip("0").rstrip(".").replace(".", ",")
        expected.append([("'" if student[0] == "=" else "") + student, "'=1+1", scaled, "", raw])
    assert rows_in(out / GRADEBOOK) == expected
    assert expected[1][2] not in ("0,0", expected[2][2]), "the two earned something, and not alike"
    assert main(mark) == 0
    told = f"Left over from an earlier run: {out / GRADEBOOK}"
    assert told in capsys.readouterr().out.splitlines()


@pytest.mark.parametrize(
    ("rounding", "decimals", "value", "written"),
    [
        (Rounding.HALF_UP, 0, "5/2", "3"),
        (Rounding.HALF_EVEN, 0, "5/2", "2"),
        (Rounding.HALF_EVEN, 1, "7/20", "0.4"),
        (Rounding.UP, 1, "301/100", "3.1"),
        (Rounding.DOWN, 1, "309/100", "3.0"),
        (Rounding.DOWN, 3, "1/200", "0.005"),
        (Rounding.HALF_UP, None, "2/3", "0.67"),
        (Rounding.HALF_UP, None, "15/2", "7.5"),
        (Rounding.UP, None, "0", "0"),
    ],
)
def test_numbers_are_rounded_as_is_said(
    rounding: Rounding, decimals: int | None, value: str, written: str
) -> None:
    column = GradebookColumn("mark", "total", decimals=decimals, rounding=rounding)
    assert column.written(Fraction(value)) == written


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "column: missing"),
        ('separator = "|"\n[[column]]\nheading = "a"\ntext = ""\n', "separator: found '|'"),
        ('[[column]]\nfrom = "id"\n', "column[1].heading: missing"),
        ('[[column]]\nheading = "a"\n', "column[1].from: missing"),
        ('[[column]]\nheading = "a"\nfrom = "id"\ntext = "b"\n', "from: both are there"),
        ('[[column]]\nheading = "a"\ntext = "b"\nout_of = 5\n', "out_of: the column has a text"),
        ('[[column]]\nheading = "a"\nfrom = "id"\nout_of = 0\n', "column[1].out_of: found 0"),
        ('[[column]]\nheading = "a"\nfrom = "id"\ndecimals = 7\n', "column[1].decimals: found 7"),
        (
            '[[column]]\nheading = "a"\nfrom = "id"\nround = "up"\n',
            'unknown key (did you mean "rou',
        ),
        ('[[column]]\nheading = "a"\ntext = "b\\u0007"\n', "column[1].text: found"),
        ('[[column]]\nheading = "a"\ntext = 5\n', "column[1].text: found 5"),
    ],
)
def test_a_broken_map_names_its_fault(text: str, told: str) -> None:
    with pytest.raises(FileError) as raised:
        gradebook_of(text, "gradebook.toml")
    assert told in str(raised.value)


def test_a_map_is_vetted_as_what_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    good, bad = tmp_path / "good.toml", tmp_path / "bad.toml"
    good.write_text(BOOK, "utf-8")
    bad.write_text(BOOK.replace('"down"', '"off"'), "utf-8")
    assert main(["vet", str(good), str(bad)]) == 2
    said = capsys.readouterr().out.splitlines()
    assert said[0] == f"{good}: no faults"
    assert said[1].startswith(f"{bad}: column[3].rounding: found 'off'; expected one of ")


@pytest.mark.parametrize(
    ("source", "said", "told"),
    [
        ("totall", "", "found 'totall' (did you mean \"total\"?)"),
        ("task 3", "", "found 'task 3'"),
        ("name", "decimals = 1", "'name' has no scale, decimals or rounding"),
    ],
)
def test_what_can_not_be_filled_is_told_before_anything_is_written(
    source: str, said: str, told: str, drill: Drill, tmp_path: Path
) -> None:
    columns = gradebook_of(f'[[column]]\nheading = "a"\nfrom = "{source}"\n{said}\n', "book.toml")
    with pytest.raises(FileError) as raised, Outputs(tmp_path / "out") as out:
        Gradebook(columns, sources_of(drill), out)
    assert f"book.toml: column[1].from: {told}" in str(raised.value)
    assert not (tmp_path / "out").exists()


def test_every_column_of_the_table_of_marks_may_stand_in_a_gradebook(
    drill: Drill, tmp_path: Path
) -> None:
    students = marked_in(drill, tmp_path / "records")
    sources = sources_of(drill)
    columns = tuple(GradebookColumn(name, name) for name in sources.told)
    book = replace(gradebook_of(BOOK, "book.toml"), columns=columns, decimal_mark=".")
    with Outputs(tmp_path / "out") as out:
        gradebook = Gradebook(book, sources, out)
        for one in students:
            gradebook.add(one)
    assert gradebook.count == 4
    main(["drill", "mark", str(tmp_path / "levers.toml"), str(tmp_path / "records"),
          "--out", str(tmp_path / "marks")])  # fmt: skip
    marks = [row for row in rows_in(tmp_path / "marks" / "marks.csv", ",") if row[0]]
    assert rows_in(tmp_path / "out" / GRADEBOOK) == marks


def test_a_term_has_a_gradebook_too(tmp_path: Path) -> None:
    plan = write_term(tmp_path / "term")
    book = tmp_path / "book.toml"
    book.write_text(
        '[[column]]\nheading = "ID"\nfrom = "id"\n'
        '[[column]]\nheading = "One"\nfrom = "one %"\nout_of = 10\n'
        'excused = "x"\nmissing = "none"\n'
        '[[column]]\nheading = "All"\nfrom = "total %"\ndecimals = 0\nrounding = "up"\n',
        "utf-8",
    )
    out = tmp_path / "out"
    assert main(["course", str(plan), "--out", str(out), "--columns", str(book)]) == 0
    marks = {row[0]: row for row in rows_in(out / "course.csv", ",")}
    head = marks["id"]
    found = rows_in(out / GRADEBOOK, ",")
    assert found[0] == ["ID", "One", "All"]
    assert [row[0] for row in found[1:]] == ["a1", "b2", "c3", "d4"]
    for ident, one, whole in found[1:]:
        per_cent = marks[ident][head.index("one %")]
        assert one == (
            ("x" if ident == "d4" else "none")
            if not per_cent
            else f"{float(per_cent) / 10:.2f}".rstrip("0").rstrip(".")
        )
        assert 0 <= int(whole) - float(marks[ident][head.index("total %")]) < 1.06
