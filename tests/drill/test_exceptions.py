"""Exceptions for single students: read, honoured at a sitting, and told with their reason."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction
from pathlib import Path

import pytest
from helpers.drill_sittings import SHELF, small_drill
from helpers.material import CATALOGUE
from leverstep.course.faults import FileError
from leverstep.dialogue.admission import admission
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of, read_drill
from leverstep.drill.exceptions import EXCEPTIONS, all_told, exception_for, exceptions_of
from leverstep.drill.sitting import Closed, Sitting
from leverstep.faces.commands import drill_cli
from leverstep.faces.commands.cli import main
from leverstep.faces.screens import app

RULES = "minutes = 45\nattempts = 2\nsittings = 1\ncloses = 2001-01-01T00:00:00Z\n"
DUE = "late = { due = 2000-12-01T00:00:00Z }\n"
LATER = datetime(2999, 1, 1, tzinfo=UTC)


def student(more: str, ident: str = "s1", reason: str = 'reason = "exam board"') -> str:
    return f'[[student]]\nid = "{ident}"\n{reason}\n{more}\n'


def drill_in(folder: Path, exceptions: str, rules: str = RULES + DUE) -> Drill:
    """Return a drill that lies in a folder, with a file of exceptions beside it."""
    (folder / "levers.toml").write_text(small_drill(rules).text, "utf-8")
    (folder / EXCEPTIONS).write_text(exceptions, "utf-8")
    return read_drill(folder / "levers.toml", SHELF.problems)


@pytest.mark.parametrize(
    ("more", "rule", "value"),
    [
        ("minutes = 60", "minutes", 60),
        ("factor = 1.25", "minutes", 57),  # 56.25, rounded up
        ("closes = 2999-01-01T00:00:00Z", "closes", LATER),
        ("attempts = 5", "attempts", 5),
        ("sittings = 2", "sittings", 2),
    ],
)
def test_an_exception_holds_for_its_student_alone_and_once(
    more: str, rule: str, value: object, tmp_path: Path
) -> None:
    drill = drill_in(tmp_path, student(more))
    own = drill.for_student(" S1 ")
    assert getattr(own, rule) == getattr(own.for_student("s1"), rule) == value
    assert drill.for_student("s2") is drill
    others = {"minutes", "closes", "attempts", "sittings"} - {rule}
    assert all(getattr(own, one) == getattr(drill, one) for one in others)
    assert own.digest == drill.digest


def test_no_exception_makes_a_rule_that_the_drill_has_not(tmp_path: Path) -> None:
    every = "minutes = 5\ncloses = 2001-01-01T00:00:00Z\nattempts = 1\nsittings = 1\n"
    own = drill_in(tmp_path, student(every + "due = 2001-01-01T00:00:00Z"), "").for_student("s1")
    assert [own.minutes, own.closes, own.attempts, own.sittings, own.late] == [None] * 5


def test_one_for_this_drill_takes_the_place_of_one_for_all(tmp_path: Path) -> None:
    text = student("factor = 2\nattempts = 9") + student('drill = "levers"\nminutes = 50')
    own = drill_in(tmp_path, text + student('drill = "other"\nattempts = 1')).for_student("s1")
    assert (own.minutes, own.attempts) == (50, 9)


FAULTS = {
    student("minutes = 0"): "student[1].minutes: found 0; expected a whole number from 1 to 1000",
    student("factor = 0.5"): "student[1].factor: found 0.5; expected a number from 1 to 10",
    student("factor = 2\nminutes = 50"): "factor: minutes stand beside it; expected one of the two",
    student("closes = 2027-03-01T09:00:00"): "without an offset; expected for example",
    student("minutes = 50", reason=""): "student[1].reason: missing; expected why it is made",
    student(""): "student[1]: it makes no exception; expected one of minutes, factor, due,",
    student("minuts = 50"): 'minuts: unknown key (did you mean "minutes"?)',
    student("minutes = 50", ident="x" * 41): "expected a student's id",
    student("minutes = 50") * 2: "student[2].id: 's1' is there twice",
    student("marks = { 2 = 3 }"): "marks.2: found task '2'; expected task 1, the only one",
    student('drill = "levers"\nmarks = { one = 3 }'): (
        "marks.one: found task 'one'; expected task 1, the only one; "
        'drill = "..." names the drill'
    ),
    student("marks = { 1 = 11 }"): "marks.1: found 11; expected marks from 0 to 10",
    student("marks = { 1 = -1 }"): "marks.1: found -1; expected marks from 0 to 10",
    student("marks = { 1 = 0.333 }"): "marks.1: found 0.333; expected at most two decimals",
    student('marks = { 1 = "all" }'): "marks.1: found 'all'; expected marks",
    student("excused = 1"): "student[1].excused: found 1",
    "": "exceptions.toml: student: missing; expected at least one [[student]]",
    "student = 5": "student: found 5; expected at least one [[student]]",
    "[[student": "exceptions.toml: it ends too early, after: [[student",
}


def test_an_id_of_another_drill_is_passed_over_and_told(tmp_path: Path) -> None:
    drill = drill_in(tmp_path, student("marks = { warm-up-2 = 3, 1 = 2 }"))
    assert drill.allowances["s1"].marks == {1: 2}
    (told,) = all_told(drill)
    assert "marks for 'warm-up-2', which is no task of this drill" in told


@pytest.mark.parametrize("more", ["", 'drill = "week"\n'])
def test_the_id_of_a_mixed_set_is_refused_with_its_parts(more: str) -> None:
    text = 'id = "week"\ntitle = "W"\n[[item]]\nid = "warm-up"\nmixed = 3\n'
    drill = drill_of(text, SHELF.problems, "week.toml")
    with pytest.raises(FileError, match='one of its parts, "warm-up-1" to "warm-up-3"'):
        exceptions_of(student(f"{more}marks = {{ warm-up = 3 }}"), drill)
    assert exceptions_of(student("marks = { warm-up-2 = 3 }"), drill)["s1"].marks == {2: 3}


@pytest.mark.parametrize("text", FAULTS)
def test_what_is_no_exception_is_told_in_one_sentence(text: str) -> None:
    with pytest.raises(FileError) as caught:
        exceptions_of(text, small_drill(RULES))
    assert FAULTS[text] in str(caught.value)
    assert len(str(caught.value).splitlines()) == 1


def test_a_sitting_is_under_the_rules_of_its_student(tmp_path: Path) -> None:
    drill = drill_in(tmp_path, student("closes = 2999-01-01T00:00:00Z\nfactor = 2\nattempts = 5"))
    sitting = Sitting.start(drill, CATALOGUE, "s1", tmp_path / "records")
    assert sitting.drill.minutes == 90
    assert sitting.left is not None
    assert 89 * 60 < sitting.left <= 90 * 60
    assert sitting.benches[0].working.rules.attempts == 5
    sitting.pause()
    again = Sitting.resume(sitting.place, drill, CATALOGUE)
    assert again.drill.minutes == 90
    known = admission(drill, "s1", tmp_path / "records", datetime.now(UTC))
    assert known.turn is not None
    assert "For you alone: 90 minutes; closes on 01 January 2999" in known.told
    assert "exam board" not in known.told
    with pytest.raises(Closed, match="closed on"):
        Sitting.start(drill, CATALOGUE, "s2", tmp_path / "records")


@pytest.mark.parametrize(
    ("named", "typed", "in_lines"),
    [("S1", "", True), ("", "s1 ", True), ("", "s2", False), ("s2", "", False)],
)
def test_a_student_sits_in_plain_lines_by_an_exception(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, named: str, typed: str, in_lines: bool
) -> None:
    drill = drill_in(tmp_path, student("plain = true") + student("minutes = 60", "s2"))
    assert list(all_told(drill, "s1")) == [
        "s1: in plain lines, not on the full screen (exam board)"
    ]
    assert exceptions_of(exception_for(drill, "s1") or "", drill)["s1"].plain
    opened: list[tuple[str, bool]] = []
    monkeypatch.setattr(drill_cli, "is_plain", bool)
    monkeypatch.setattr(drill_cli, "_sit_in_lines", lambda *a: opened.append((a[1], True)) or 0)
    monkeypatch.setattr(app, "run_app", lambda *a: opened.append((a[2].student, False)) or 0)
    monkeypatch.setattr("builtins.input", lambda _: typed)
    assert main(["drill", "sit", str(tmp_path / "levers.toml"), "--student", named]) == 0
    assert opened == [(named or typed, in_lines)]


def test_a_file_for_one_student_has_what_a_sitting_needs_and_no_reason(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    closes = "closes = 2999-01-01T00:00:00Z"
    whole = student(f"factor = 1.5\n{closes}\nmarks = {{ 1 = 3 }}") + student("attempts = 7", "s2")
    drill = drill_in(tmp_path, whole)
    call = ["drill", "exceptions", str(tmp_path / "levers.toml")]
    small = tmp_path / "small.toml"
    assert main([*call, "--student", "S1", "--out", str(small)]) == 0
    text = small.read_text("utf-8")
    assert "exam board" not in text
    assert "marks" not in text
    found = exceptions_of(text, drill)["s1"]
    assert (found.factor, found.closes, found.marks) == (Fraction(3, 2), LATER, {})
    assert main([*call, "--student", "s9", "--out", str(tmp_path / "no.toml")]) == 2
    assert "no exception in exceptions.toml matters" in capsys.readouterr().err
    assert main(call) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[0].startswith("s1: 68 minutes, closes on 01 January 2999")
    assert told[0].endswith("task 1 by hand: 3 (exam board)")
    assert told[1] == "s2: a line may be tried 7 times (exam board)"


def test_vetting_a_drill_tells_what_is_wrong_with_its_exceptions(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "roster.csv").write_text("id\ns1\n", "utf-8")
    drill_in(tmp_path, student("minutes = 50") + student("minutes = 50", "sl"), 
             'roster = "roster.csv"\nminutes = 45\n')  # fmt: skip
    assert main(["vet", str(tmp_path / "levers.toml")]) == 0
    assert "remark: exceptions.toml: 'sl' is not on the roster" in capsys.readouterr().out
    (tmp_path / EXCEPTIONS).write_text(student("minutes = 0"), "utf-8")
    assert main(["vet", str(tmp_path / "levers.toml")]) == 2
    assert "student[1].minutes: found 0" in capsys.readouterr().out


def test_vetting_a_folder_holds_its_exceptions_against_the_drill_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    title = drill_in(tmp_path, student("marks = { 1 = 3 }"), "").items[0].problem.title
    assert main(["vet", str(tmp_path)]) == 0
    told = capsys.readouterr().out
    assert f"remark: exceptions.toml: 's1': task 1 by hand: 3 ({title})" in told
    assert main(["vet", str(tmp_path / EXCEPTIONS)]) == 2
    assert (
        "exceptions.toml is vetted with its drill; expected the file of the drill"
        in capsys.readouterr().err
    )


def test_an_exception_to_a_rule_that_a_drill_lacks_is_told(tmp_path: Path) -> None:
    (tmp_path / "levers.toml").write_text(
        'id = "a"\ntitle = "A"\n[[item]]\nproblem = "plain-seesaw"\n', "utf-8"
    )
    (tmp_path / EXCEPTIONS).write_text(
        '[[student]]\nid = "s01"\nminutes = 90\nreason = "extra time"\n', "utf-8"
    )
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert list(all_told(drill)) == ["s01: changes no rule that this drill has (extra time)"]
