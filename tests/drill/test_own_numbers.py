"""Numbers from a file of the student's own, which a teacher's secret makes and marking knows."""

from __future__ import annotations

import io
import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from helpers.drill_sittings import END, SHELF, entry, record, right_entries
from helpers.material import CATALOGUE
from leverstep.dialogue.door_dialogue import DoorDialogue, DoorRefusal
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import read_drill
from leverstep.drill.own_numbers import file_name, place_of_secret, with_number_secret
from leverstep.drill.sitting import Closed, Sitting
from leverstep.faces.commands.cli import main
from leverstep.marking.as_shown import OTHER_NUMBERS
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.odd_records import NO_OWN, OTHER_OWN, OTHER_VERSION

TEXT = """id = "room"
title = "Room"
roster = "class.csv"

[[item]]
problem = "plain-wheelbarrow"
"""


pytestmark = pytest.mark.usefixtures("home_in_use")


@pytest.fixture(autouse=True)
def nothing_is_typed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(""))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Return a drill with its secret made, and the files of two students in `own` beside it."""
    found = tmp_path / "room.toml"
    found.write_text(TEXT, "utf-8")
    (tmp_path / "class.csv").write_text("id,name\nS 1,Ida Example\ns2,Jo Sample\n", "utf-8")
    assert main(["drill", "numbers", str(found), "--out", str(tmp_path / "own")]) == 0
    return found


def drill_at(path: Path) -> Drill:
    """Return the drill of a file, without its secret."""
    return read_drill(path, SHELF.problems)


def give(path: Path, student: str, as_of: str = "") -> Path:
    """Put a student's file beside the drill, or under the name of another's; return its path."""
    drill = drill_at(path)
    target = path.parent / file_name(drill, as_of or student)
    shutil.copy(path.parent / "own" / file_name(drill, student), target)
    return target


def at_door(path: Path, typed: str) -> Sitting | DoorRefusal:
    door = DoorDialogue(drill_at(path), CATALOGUE, path, path.parent / "records")
    door.enter("s2")  # who stood there before leaves nothing behind
    reply = door.enter(typed)
    if isinstance(reply, DoorRefusal):
        return reply
    sitting = door.begin()
    assert isinstance(sitting, Sitting)
    return sitting


def marked(path: Path, data: bytes, drill: Drill | None = None) -> Marked:
    """Return a record marked on the teacher's computer."""
    return mark_record(with_number_secret(drill or drill_at(path)), CATALOGUE, "r", data)


def sat(path: Path, student: str) -> bytes:
    """Return the record of who worked all lines right."""
    sitting = at_door(path, student)
    assert isinstance(sitting, Sitting)
    (task,) = sitting.tasks
    for key, text in right_entries(task.question).items():
        sitting.benches[0].enter(key, text)
    sitting.hand_in()
    return sitting.place.read_bytes()


def test_each_student_has_numbers_that_the_ids_do_not_tell(path: Path) -> None:
    give(path, "S 1")
    found = marked(path, sat(path, "s 1"))
    assert (found.total, found.remarks) == (10, ())
    (own,) = with_number_secret(drill_at(path)).tasks("S 1")
    (other,) = with_number_secret(drill_at(path)).tasks("s2")
    (bare,) = replace(drill_at(path), own_numbers="").tasks("S 1")
    written = [task.question.givens_written for task in (own, other, bare)]
    assert written[0] not in written[1:]
    assert written[1] != written[2]


def test_a_sitting_goes_on_without_the_file(path: Path) -> None:
    file = give(path, "S 1")
    sitting = at_door(path, "S 1")
    assert isinstance(sitting, Sitting)
    sitting.pause()
    file.unlink()
    again = at_door(path, "S 1")
    assert isinstance(again, Sitting)
    assert again.tasks[0].question.exact == sitting.tasks[0].question.exact


def test_without_the_file_it_is_said_and_nothing_is_begun(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    told = "Your numbers come from a file of your own, and room-s-1-"
    refused = at_door(path, "S 1")
    assert isinstance(refused, DoorRefusal)
    assert refused.told.startswith(told)
    assert not list(path.parent.glob("records/**/*.jsonl"))
    assert main(["drill", "sit", str(path), "--student", "S 1", "--plain"]) != 0
    said = capsys.readouterr()
    assert told[1:] in said.out + said.err
    with pytest.raises(Closed, match="needs the student's own file of numbers"):
        Sitting.start(drill_at(path), CATALOGUE, "S 1")


@pytest.mark.parametrize(
    ("fault", "told"),
    [
        ("other student", "is not the file of S 1 for this drill, or it was changed"),
        ("key", "is not the file of S 1 for this drill, or it was changed"),
        ("no key", "can't be read"),
        ("broken", "can't be read"),
        ("a list", "can't be read"),
        ("a folder", "can't be read"),
        ("large", "can't be read"),
    ],
)
def test_another_file_or_a_changed_one_is_refused(path: Path, fault: str, told: str) -> None:
    file = give(path, "s2" if fault == "other student" else "S 1", "S 1")
    said = json.loads(file.read_text("utf-8"))
    if fault == "key":
        file.write_text(json.dumps({**said, "key": "0" * 64}), "utf-8")
    elif fault == "no key":
        file.write_text(json.dumps({"drill": "room"}), "utf-8")
    elif fault == "broken":
        file.write_bytes(b"{\xff")
    elif fault == "a list":
        file.write_text("[" * 500, "utf-8")
    elif fault == "large":
        file.write_text(json.dumps(said) + " " * 9000, "utf-8")
    elif fault == "a folder":
        file.unlink()
        file.mkdir()
    refused = at_door(path, "S 1")
    assert isinstance(refused, DoorRefusal)
    assert told in refused.told


def test_numbers_of_another_key_gain_nothing_and_are_remarked_on(path: Path) -> None:
    drill = drill_at(path)
    for key, remark in (("", NO_OWN), ("0" * 64, OTHER_OWN)):
        forged = drill.with_key(key)
        (task,) = forged.tasks("S 1")
        lines = [entry(line, text) for line, text in right_entries(task.question).items()]
        first = {"start_key": key} if key else {}
        found = marked(path, record(forged, "S 1", [*lines, END], **first))
        assert remark in found.remarks
        assert any(one.startswith(OTHER_NUMBERS) for one in found.remarks)
        assert found.total < 10


def test_marking_elsewhere_says_what_it_can_not_check(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    give(path, "S 1")
    sat(path, "S 1")
    place_of_secret(drill_at(path).own_numbers).unlink()
    records, out = str(path.parent / "records"), str(path.parent / "marks")
    assert main(["drill", "mark", str(path), records, "--out", out]) == 0
    assert "had their own numbers in room was not checked: the secret" in capsys.readouterr().out
    for call in (["drill", "preview", str(path)], ["sheet", str(path)]):
        assert main(call) == 2
        assert "students come from is not on this computer" in capsys.readouterr().err
    assert main(["drill", "numbers", str(path), "--out", out]) == 2


def test_a_record_from_before_is_marked_by_the_numbers_in_it(path: Path) -> None:
    drill = drill_at(path)
    before = replace(drill, own_numbers="", text=TEXT)
    (task,) = before.tasks("S 1")
    lines = [entry(key, text) for key, text in right_entries(task.question).items()]
    data = record(before, "S 1", [*lines, END])
    assert marked(path, data).total == 10
    found = marked(path, data, replace(drill, sat_with=(before,)))
    assert found.total == 10
    assert set(found.remarks) == {NO_OWN, OTHER_VERSION}


def test_a_student_who_comes_later_gets_a_file_and_the_others_keep_theirs(
    path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = path.parent / "own"
    before = {file.name: file.read_bytes() for file in own.iterdir()}
    text = "id,name\nS 1,Ida Example\ns2,Jo Sample\ns3,Al Third\n"
    (path.parent / "class.csv").write_text(text, "utf-8")
    assert main(["drill", "numbers", str(path), "--out", str(own)]) == 0
    assert "1 file written, and 2 there already" in capsys.readouterr().out
    after = {file.name: file.read_bytes() for file in own.iterdir()}
    assert before.items() < after.items()
    assert len(after) == 3
    assert main(["drill", "numbers", str(path), "--out", str(own), "--student", "s9"]) == 2
    assert "s9 is not on the roster" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ('numbers = "fixed"\n', 'an item has the same numbers for all, by numbers = "fixed"'),
        ('own_numbers = "1234"\n', "what `leverstep drill numbers` writes"),
    ],
)
def test_what_can_not_stand_beside_it_is_a_fault(
    path: Path, more: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    text = path.read_text("utf-8")
    if "own_numbers" in more:
        text = "\n".join(o for o in text.splitlines() if "own_numbers" not in o)
        path.write_text(more + text + "\n", "utf-8")
    else:
        path.write_text(text + more, "utf-8")
    assert main(["vet", str(path)]) == 2
    said = capsys.readouterr()
    assert told in said.out + said.err
