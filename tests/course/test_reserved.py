"""Names that Windows keeps for devices are refused wherever a name is given, in one sentence."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.drill_disks import DRILL
from helpers.drill_sittings import END, SHELF, record
from helpers.material import CATALOGUE
from helpers.problem_texts import read_text
from leverstep.course.faults import FileError
from leverstep.course.new_file import write_new
from leverstep.course.reserved import NOT_RESERVED, is_reserved
from leverstep.drill.drill_file import drill_of
from leverstep.drill.roster import roster_of, roster_table
from leverstep.drill.sitting import NotListed, admitted
from leverstep.faces.commands.cli import main
from leverstep.marking.marking import mark_record

DISGUISED = ["con", "NUL", "Aux", "prn.", "com1", "lpt³ ", "lpt1.txt", "nul.tar.gz", "con .x"]
FREE = ["cone", "com", "com10", "com-1", "null", "s01", "Con Nor", "a.con", ".con", "nul-1", ""]


@pytest.mark.parametrize("name", DISGUISED)
def test_a_device_is_known_in_any_disguise(name: str) -> None:
    assert is_reserved(name)


@pytest.mark.parametrize("name", FREE)
def test_other_names_are_free(name: str) -> None:
    assert not is_reserved(name)


@pytest.mark.parametrize("ident", ["con", "NUL", "Com1"])
def test_a_drill_is_not_called_as_a_device(ident: str) -> None:
    text = DRILL.text.replace('id = "levers"', f'id = "{ident}"')
    with pytest.raises(FileError) as refused:
        drill_of(text, SHELF.problems, "levers.toml")
    assert str(refused.value) == f"levers.toml: id: found '{ident}'; expected {NOT_RESERVED}"


def test_a_problem_is_not_called_as_a_device() -> None:
    path = SHELF.problems["plain-seesaw"].path
    assert path is not None
    text = path.read_text("utf-8").replace('id = "plain-seesaw"', 'id = "nul"')
    with pytest.raises(FileError) as refused:
        read_text(text)
    assert str(refused.value) == f'nul.toml: id: found "nul"; expected {NOT_RESERVED}'


@pytest.mark.parametrize("student", DISGUISED)
def test_a_student_is_not_called_as_a_device(student: str, tmp_path: Path) -> None:
    with pytest.raises(NotListed, match=NOT_RESERVED):
        admitted(DRILL, student, datetime.now(UTC))
    path = tmp_path / "roster.csv"
    path.write_text(f'id,name\ns01,Ida\n"{student}",Odo\n', "utf-8")
    faults: list[tuple[str, str]] = []
    assert roster_of(roster_table(path), lambda *told: faults.append(told)).names == {"s01": "Ida"}
    assert faults == [(f"roster.csv, line 3: {student.strip()!r}", NOT_RESERVED)]


def test_a_command_says_it_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "levers.toml"
    path.write_text(DRILL.text, "utf-8")
    with pytest.raises(SystemExit):
        main(["drill", "preview", str(path), "--student", "CON"])
    assert f"expected {NOT_RESERVED}" in capsys.readouterr().err
    assert main(["drill", "sit", str(path), "--student", "con", "--plain"]) == 2
    assert capsys.readouterr().err == f"A student's id is {NOT_RESERVED}.\n"
    assert main(["drill", "new", str(tmp_path / "aux.toml"), "plain-seesaw"]) == 2
    assert f"found 'aux.toml'; expected {NOT_RESERVED}" in capsys.readouterr().err
    assert [one.name for one in tmp_path.iterdir()] == ["levers.toml"]


def test_a_new_file_is_not_called_as_a_device(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"found .COM1\.html."):
        write_new(tmp_path / "COM1.html", "text")
    assert list(tmp_path.iterdir()) == []


def test_a_record_made_before_under_such_a_name_is_marked_all_the_same() -> None:
    marked = mark_record(DRILL, CATALOGUE, "", record(DRILL, "con", [END]))
    assert (marked.student, marked.ended, marked.remarks) == ("con", True, ())
