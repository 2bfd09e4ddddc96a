"""Rosters from an export in OneRoster CSV, and results for its classes.

The columns are those of the standard's tables (1EdTech, OneRoster CSV 1.1 and 1.2), as its public
descriptions have them.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.classes import marked_in
from helpers.drill_sittings import END, SHELF, entry, record, right_entries
from helpers.drills import drill_text
from leverstep.course.faults import FileError
from leverstep.drill.drill_file import read_drill
from leverstep.drill.one_roster_export import read_export
from leverstep.faces.commands.cli import main
from leverstep.marking.one_roster_results import ONE_ROSTER, OneRosterResults
from leverstep.marking.outputs import Outputs

Tables = dict[str, str]
ROLES = {"1.1": ",role", "1.2": ""}
"""What the older version has of people beside what both have."""


def tables(version: str = "1.1") -> Tables:
    """Return an export of two sections of a lecture, with a teacher and somebody who has left."""
    role, said = ROLES[version], ("student" if version == "1.1" else "")
    comma = "," if said else ""
    people = [
        ("u1", "", "ada", "Ada", "Alder", "1001"),
        ("u2", "active", "bo", "Bo", "Birch", "1002"),
        ("u3", "active", "cy", "Cy", '"Cedar, Jr"', "1003"),
        ("u4", "tobedeleted", "di", "Di", "Date", "1004"),
        ("u9", "active", "teach", "Eve", "Elm", ""),
    ]
    users = (
        f"sourcedId,status,enabledUser,username,givenName,familyName,identifier,password{role}\n"
    )
    users += "".join(
        f"{i},{s},true,{u},{g},{f},{n},secret{comma}{said}\n" for i, s, u, g, f, n in people
    )
    enrolled = "c1 u1 student,c1 u2 student,c2 u3 student,c0 u1 student,c0 u3 student,c1 u9 teacher"
    rows = (one.split() for one in enrolled.split(","))
    enrollments = "sourcedId,status,classSourcedId,schoolSourcedId,userSourcedId,role\n"
    enrollments += "".join(f"e{n},,{c},s1,{u},{r}\n" for n, (c, u, r) in enumerate(rows))
    return {
        "manifest": f"propertyName,value\nmanifest.version,1.0\noneroster.version,{version}\n"
        "file.users,bulk\nfile.classes,bulk\nfile.enrollments,bulk\nfile.results,absent\n",
        "users": users,
        "classes": "sourcedId,status,title,classCode,schoolSourcedId,termSourcedIds\n"
        'c0,,Lecture,,s1,t1\nc1,,Lab one,L1,s1,"t1,t2"\nc2,,Lab two,L2,s1,t1\nc3,,Empty,,s1,t1\n',
        "enrollments": enrollments,
    }


def write(folder: Path, parts: Mapping[str, str], packed: bool = False) -> Path:
    """Write an export into a folder or a zip; return its path."""
    if packed:
        path = folder / "export.zip"
        with zipfile.ZipFile(path, "w") as file:
            for name, text in parts.items():
                file.writestr(f"{name}.csv", text)
        return path
    path = folder / "export"
    path.mkdir()
    for name, text in parts.items():
        (path / f"{name}.csv").write_text(text, "utf-8")
    return path


Set = Callable[..., int]


@pytest.fixture
def set_roster(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Set:
    """Return what runs `drill roster` on an export, with answers as they are typed."""
    (tmp_path / "levers.toml").write_text(drill_text(""), "utf-8")

    def run(export: Path, *answers: str) -> int:
        typed: Iterator[str] = iter(answers)

        def listen(prompt: str) -> str:
            print(prompt)
            try:
                return next(typed)
            except StopIteration:
                raise EOFError from None

        monkeypatch.setattr("builtins.input", listen)
        return main(["drill", "roster", str(tmp_path / "levers.toml"), str(export)])

    return run


@pytest.mark.parametrize(("version", "packed"), [("1.1", False), ("1.2", True)])
def test_a_roster_has_the_classes_chosen_and_nothing_private(
    version: str,
    packed: bool,
    set_roster: Set,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    export = write(tmp_path, tables(version), packed)
    assert set_roster(export, "all", "lab three", "L1, 3", "") == 0
    said = capsys.readouterr().out
    assert "  2  L1 Lab one: 2 students" in said
    assert "Empty" not in said, "a class without students can't be chosen"
    assert "In several of them: Ada Alder, Cy Cedar, Jr. Choose each student once." in said
    assert "There is none such (did you mean" in said
    roster = (tmp_path / "roster.csv").read_text("utf-8")
    assert list(csv.reader(io.StringIO(roster))) == [
        ["id", "name", "section"],
        ["1001", "Ada Alder", "L1"],
        ["1002", "Bo Birch", "L1"],
        ["1003", "Cy Cedar, Jr", "L2"],
    ]
    assert "secret" not in roster
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert list(drill.students.values()) == ["Ada Alder", "Bo Birch", "Cy Cedar, Jr"]
    assert [drill.carried(one) for one in drill.students] == [("L1",), ("L1",), ("L2",)]
    assert set_roster(export, "L1", "") == 2, "nothing is written over"
    assert "it already exists" in capsys.readouterr().err


def test_where_the_input_ends_nothing_is_written(set_roster: Set, tmp_path: Path) -> None:
    before = (tmp_path / "levers.toml").read_bytes()
    assert set_roster(write(tmp_path, tables())) == 2
    assert not (tmp_path / "roster.csv").exists()
    assert (tmp_path / "levers.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("part", "old", "new", "told"),
    [
        ("manifest", "1.1", "1.0", "manifest.csv: oneroster.version is '1.0'; expected 1.1 or 1.2"),
        ("manifest", "users,bulk", "users,delta", "manifest.csv: file.users is 'delta'"),
        ("manifest", "file.classes,bulk\n", "", "manifest.csv: file.classes is 'absent'"),
        ("users", "username", "name", "users.csv: it has no column username"),
        ("users", "u1,", "u7,", "enrollments.csv: it refers to 'u1', which is not there"),
        ("classes", "c2,", "c7,", "enrollments.csv: it refers to 'c2', which is not there"),
        ("enrollments", "student", "guardian", "enrollments.csv: nobody is enrolled"),
        ("enrollments", None, "", "enrollments.csv: it is empty"),
        ("users", None, None, "users.csv: it is not there"),
        ("users", None, '"\x00\n', "users.csv: "),
    ],
)
@pytest.mark.parametrize("packed", [False, True])
def test_a_broken_export_is_told_in_one_sentence(
    part: str, old: str | None, new: str | None, told: str, packed: bool, tmp_path: Path
) -> None:
    parts = tables()
    if new is None:
        del parts[part]
    else:
        assert old is None or old in parts[part]
        parts[part] = new if old is None else parts[part].replace(old, new)
    path = write(tmp_path, parts, packed)
    with pytest.raises(FileError) as raised:
        read_export(path)
    assert f"{path}: {told}" in str(raised.value)


def test_what_is_no_zip_or_is_cut_short_is_told(tmp_path: Path) -> None:
    whole = write(tmp_path, tables(), packed=True).read_bytes()
    for name, data in (("no.zip", b"no zip"), ("cut.zip", whole[: len(whole) // 2])):
        (tmp_path / name).write_bytes(data)
        with pytest.raises(FileError, match=rf"{name}: it is no zip, or not a whole one; expected"):
            read_export(tmp_path / name)
    with zipfile.ZipFile(tmp_path / "odd.zip", "w", zipfile.ZIP_LZMA) as file:
        file.writestr("manifest.csv", "propertyName,value\n")
    with pytest.raises(FileError, match="packed in an unusual way"):
        read_export(tmp_path / "odd.zip")
    bent = bytearray(whole)
    bent[40:60] = bytes(20)
    (tmp_path / "bent.zip").write_bytes(bent)
    with pytest.raises(FileError, match=r"it can't be read|it is not there"):
        read_export(tmp_path / "bent.zip")


RESULTS = (
    "sourcedId,status,dateLastModified,lineItemSourcedId,studentSourcedId,scoreStatus,score,"
    "scoreDate,comment"
)
HEADERS = {
    "1.1": {
        "categories": "sourcedId,status,dateLastModified,title",
        "lineItems": "sourcedId,status,dateLastModified,title,description,assignDate,dueDate,"
        "classSourcedId,categorySourcedId,gradingPeriodSourcedId,resultValueMin,resultValueMax",
        "results": RESULTS,
    },
    "1.2": {
        "categories": "sourcedId,status,dateLastModified,title,weight",
        "lineItems": "sourcedId,status,dateLastModified,title,description,assignDate,dueDate,"
        "classSourcedId,categorySourcedId,academicSessionSourcedId,resultValueMin,resultValueMax,"
        "schoolSourcedId",
        "results": f"{RESULTS},textScore,classSourcedId,inProgress,incomplete,late,missing",
    },
}


@pytest.mark.parametrize("version", ["1.1", "1.2"])
def test_results_refer_to_the_export_and_have_the_columns_of_its_version(
    version: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    export = write(tmp_path, tables(version))
    roster = "id,name,section\n1001,Ada,L1\n1002,Bo,L1\n1003,Cy,L2\n1009,=Zoe,L2\n"
    (tmp_path / "class.csv").write_text(roster, "utf-8")
    excused = '[[student]]\nid = "1003"\nexcused = true\nreason = "was ill"\n'
    (tmp_path / "exceptions.toml").write_text(excused, "utf-8")
    (tmp_path / "levers.toml").write_text(drill_text('roster = "class.csv"'), "utf-8")
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    right = list(right_entries(drill.tasks("1001")[0].question).items())[:4]
    (tmp_path / "records").mkdir()
    lines = [*(entry(*one) for one in right), END]
    (tmp_path / "records" / "a.jsonl").write_bytes(record(drill, "1001", lines))
    out = tmp_path / "out"
    call = ["drill", "mark", str(tmp_path / "levers.toml"), str(tmp_path / "records")]
    assert main([*call, "--out", str(out), "--oneroster", str(export)]) == 0
    said = capsys.readouterr().out
    assert f"OneRoster {version}: {3 if version == '1.2' else 2} results by the column" in said
    assert "No result for those not in the export: 1009" in said
    found = {}
    for name, header in HEADERS[version].items():
        with (out / ONE_ROSTER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            reader = csv.DictReader(file)
            found[name] = list(reader)
        assert ",".join(reader.fieldnames or ()) == header
        assert {row["status"] for row in found[name]} == {"active"}
    with (out / ONE_ROSTER / "manifest.csv").open(encoding="utf-8", newline="") as file:
        manifest = dict(csv.reader(file))
    assert manifest["oneroster.version"] == version
    files = {key.removeprefix("file.") for key in manifest if key.startswith("file.")}
    assert len(files) == {"1.1": 13, "1.2": 21}[version]
    assert {name for name in files if manifest[f"file.{name}"] == "delta"} == set(found)
    marked = {one.id: one.counted for one in marked_in(drill, tmp_path / "records")}
    ada = marked["1001"]
    assert ada is not None
    by_student = {row["studentSourcedId"]: row for row in found["results"]}
    assert float(by_student["u1"]["score"]) == pytest.approx(float(ada.total), abs=0.005)
    assert by_student["u1"]["scoreStatus"] == "fully graded"
    assert by_student["u2"]["scoreStatus"] == "not submitted"
    assert ("u3" in by_student) == (version == "1.2")
    items = {row["sourcedId"]: row for row in found["lineItems"]}
    assert items[by_student["u1"]["lineItemSourcedId"]]["classSourcedId"] == "c1"
    assert {row["categorySourcedId"] for row in items.values()} == {
        row["sourcedId"] for row in found["categories"]
    }
    assert {float(row["resultValueMax"]) for row in items.values()} == {float(drill.marks)}
    term = {"1.1": "gradingPeriodSourcedId", "1.2": "academicSessionSourcedId"}[version]
    assert {row[term] for row in items.values()} == {"t1"}


def test_results_are_known_again_and_no_cell_is_a_formula(tmp_path: Path) -> None:
    parts = tables()
    parts["users"] = parts["users"].replace("u1,", "=u1,")
    parts["enrollments"] = parts["enrollments"].replace("u1,", "=u1,")
    export = read_export(write(tmp_path, parts))
    (tmp_path / "class.csv").write_text("id,name,section\nada,Ada,L1\n", "utf-8")
    (tmp_path / "levers.toml").write_text(drill_text('roster = "class.csv"'), "utf-8")
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    (tmp_path / "records").mkdir()
    idents = []
    for hour in (9, 10):
        with Outputs(tmp_path / f"out{hour}") as out:
            results = OneRosterResults(drill, export, out)
            for one in marked_in(drill, tmp_path / "records"):
                results.add(one)
            told = results.finish(datetime(2027, 3, 1, hour, tzinfo=UTC))
        assert told[0].startswith("OneRoster 1.1: 1 result by the column username")
        text = (tmp_path / f"out{hour}" / ONE_ROSTER / "results.csv").read_text("utf-8")
        (row,) = csv.DictReader(io.StringIO(text))
        assert row["studentSourcedId"] == "'=u1"
        assert row["dateLastModified"] == f"2027-03-01T{hour:02}:00:00.000Z"
        idents.append(row["sourcedId"])
    assert idents[0] == idents[1]
