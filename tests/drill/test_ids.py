"""One student is one, however the id is typed: in capitals, with spaces, or composed otherwise."""

from __future__ import annotations

import csv
import json
import unicodedata
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from helpers.classes import write_tables
from helpers.drill_sittings import BEGUN, END, record, small_drill
from helpers.drills import drill_file, drill_with
from helpers.material import CATALOGUE
from leverstep.course.faults import FileError
from leverstep.drill.begun import remember
from leverstep.drill.drill import LONGEST_STUDENT, is_student, same_student, student_id
from leverstep.drill.earlier import earlier
from leverstep.drill.sitting import Sitting, admitted, next_turn
from leverstep.faces.commands.usage import student as typed_student
from leverstep.marking.against import AGAINST
from leverstep.marking.marking import mark_record
from leverstep.marking.tables import MARKS

COMPOSED = unicodedata.normalize("NFC", "Zoë")
APART = unicodedata.normalize("NFD", "Zoë")
WAYS = (COMPOSED, APART, f" {APART} ", COMPOSED.upper(), APART.upper())


def test_the_two_ways_of_writing_a_letter_are_one_id() -> None:
    assert COMPOSED != APART
    assert {same_student(way) for way in WAYS} == {"zoë"}
    assert student_id(f" {APART} ") == typed_student(APART) == COMPOSED
    assert is_student(unicodedata.normalize("NFD", "ë" * LONGEST_STUDENT))
    assert same_student("S01") == "s01", "numbers of ids that were given out stay as they are"


@pytest.mark.parametrize("way", WAYS)
def test_all_ways_have_the_same_numbers_and_the_same_sitting(way: str, tmp_path: Path) -> None:
    drill = drill_with()
    sitting = Sitting.start(drill, CATALOGUE, COMPOSED, tmp_path)
    assert [t.question.givens_written for t in drill.tasks(way)] == [
        t.question.givens_written for t in sitting.tasks
    ]
    assert list(earlier(drill, way, tmp_path).records) == [sitting.place]
    assert next_turn(drill, earlier(drill, way, tmp_path).records).path == sitting.place
    assert admitted(drill, way, datetime.now(UTC)) in (COMPOSED, COMPOSED.upper())


@pytest.mark.parametrize("listed", [COMPOSED, APART])
@pytest.mark.parametrize("way", WAYS)
def test_who_is_on_the_roster_is_found_there(listed: str, way: str, tmp_path: Path) -> None:
    (tmp_path / "roster.csv").write_text(f"id,name\n{listed},Ida\n", "utf-8")
    drill = small_drill('roster = "roster.csv"', folder=tmp_path)
    assert admitted(drill, way, datetime.now(UTC)) == COMPOSED
    marked = mark_record(drill, CATALOGUE, "a", record(drill, way, [END]))
    assert (marked.student, marked.name, marked.remarks) == (COMPOSED, "Ida", ())


def test_a_roster_has_each_student_once(tmp_path: Path) -> None:
    (tmp_path / "roster.csv").write_text(f"id,name\n{COMPOSED},Ida\n{APART},Odo\n", "utf-8")
    with pytest.raises(FileError, match="line 3: 'Zoë' is there twice"):
        small_drill('roster = "roster.csv"', folder=tmp_path)


def marks_of(folder: Path, records: list[bytes], before: Path | None = None) -> list[list[str]]:
    """Return the ids and the number of sittings of the marks of some records."""
    (folder / "records").mkdir(parents=True)
    for number, data in enumerate(records):
        (folder / "records" / f"{number}.jsonl").write_bytes(data)
    drill = small_drill()
    with ThreadPoolExecutor(1) as pool:
        assert write_tables(drill, folder / "records", folder, pool, before)
    with (folder / MARKS).open(encoding="utf-8", newline="") as file:
        return [[row["id"], row["sittings"]] for row in csv.DictReader(file)]


def test_records_and_marks_of_one_student_come_together(tmp_path: Path) -> None:
    hours = [BEGUN + timedelta(hours=hour) for hour in range(3)]
    ways = [COMPOSED, APART, COMPOSED.upper()]
    drill = small_drill()
    records = [record(drill, way, [END], hour) for way, hour in zip(ways, hours, strict=True)]
    assert marks_of(tmp_path / "all", records) == [[COMPOSED.upper(), "3"]]
    assert marks_of(tmp_path / "one", records[1:2], before=tmp_path / "all") == [[COMPOSED, "1"]]
    with (tmp_path / "one" / AGAINST).open(encoding="utf-8", newline="") as file:
        assert list(csv.DictReader(file)) == [], "the same student has the same total"


def test_a_drill_is_remembered_once_for_one_student(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    path = drill_file(tmp_path)
    for way in WAYS:
        remember(Sitting.start(drill_with(), CATALOGUE, way), path)
    assert len(json.loads((tmp_path / "home" / "begun.json").read_text("utf-8"))) == 1
