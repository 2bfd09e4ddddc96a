"""A drill in line mode: from the student's id to handing in, in plain lines."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest
from drills import SHELF, Disk, drill_file, let_pass, right_entry, wrong_entry

from tutor.cli import main
from tutor.drill.bench import TAKEN
from tutor.drill.drill_file import read_drill
from tutor.drill.earlier import sittings_of
from tutor.drill.record import read_record
from tutor.drill.sitting import Closed, Sitting
from tutor.drill_line import NOT_UNDERSTOOD, DrillLines, sit

END = 'feedback = "at the end"'
Typed = Iterable[str | Callable[[], str]]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


class Student:
    """Types lines, or what a call returns when its turn comes, and hears what is said."""

    def __init__(self, typed: Typed) -> None:
        self.said: list[str] = []
        self._typed: Iterator[str | Callable[[], str]] = iter(typed)

    def listen(self, prompt: str) -> str:
        """Return what is typed at a prompt."""
        self.said.append(prompt)
        for entry in self._typed:
            return entry if isinstance(entry, str) else entry()
        raise EOFError

    def sits(self, path: Path, student: str = "", folder: Path | None = None) -> None:
        """Sit the drill of a file."""
        drill = read_drill(path, SHELF.problems)
        sit(drill, (path, student, folder), self.said.append, self.listen, lambda _: None)

    def heard(self, start: str) -> list[str]:
        """Return the lines said that begin so."""
        return [line for line in self.said if line.startswith(start)]


def works(sitting: Sitting, typed: Typed) -> Student:
    """Have a sitting that has begun worked."""
    student = Student(typed)
    DrillLines(sitting, student.said.append, student.listen, "come", lambda _: None).run()
    return student


def begun(folder: Path, rules: str = "") -> Sitting:
    return Sitting.start(read_drill(drill_file(folder, rules), SHELF.problems), "s01", folder / "r")


def test_a_whole_sitting_from_the_id_to_handing_in(tmp_path: Path) -> None:
    path = drill_file(tmp_path, f"{END}\nminutes = 30")
    drill = read_drill(path, SHELF.problems)
    benches = Sitting.start(drill, "s01", tmp_path / "other").benches
    typed = ["s03", " S01 ", ""]
    for bench in benches:
        typed += [right_entry(bench, step) for step in bench.working.steps] + ["next"]
    student = Student([*typed, "time", "hand in", "no", "hand in", "yes"])
    student.sits(path)
    said = student.said
    assert "This id is not on the list of this drill." in said
    assert "You are s01, Ida Example." in said
    assert "Task 2 of 2: A pail in the hand (4 marks)" in said
    assert "30 min left, all tasks done." in said
    assert len(student.heard(TAKEN)) == sum(len(b.working.steps) for b in benches)
    end = next(n for n, line in enumerate(said) if line.startswith("Handed in: Levers, of s01"))
    assert not any("Right" in line or "Not yet" in line for line in said[:end])
    assert sum("Right." in line for line in said[end:]) == len(student.heard(TAKEN))
    assert not sittings_of(drill, "s01")


def test_outcomes_are_hidden_until_it_is_handed_in(tmp_path: Path) -> None:
    sitting = begun(tmp_path, END)
    bench = sitting.benches[0]
    first, second, *_ = bench.working.steps
    right, wrong = right_entry(bench, first), wrong_entry(second)
    student = works(
        sitting,
        [right, wrong, "lines", "back", "leave", f"back {first.key}", "hint", wrong, "help"],
    )
    assert f"W_s: {right}. Taken." in student.said
    assert f"W_b: {wrong}. Taken." in student.said
    assert "There is no further hint for this line." in student.said
    for outcome in ("Right", "Not yet", "right now", "It looks like"):
        assert not any(outcome in line for line in student.said)
    assert not student.heard("hint: ")


def test_a_sitting_is_left_and_come_back_to(tmp_path: Path) -> None:
    path = drill_file(tmp_path, "minutes = 30")
    drill = read_drill(path, SHELF.problems)
    student = Student(["", "1.00 N", "stop"])
    student.sits(path, "s01")
    assert (
        "The clock stands still (30 min left). To come back: leverstep drill sit"
        in student.said[-1]
    )
    (place,) = sittings_of(drill, "s01")
    kinds = [line["kind"] for line in read_record(place)]
    assert kinds == ["drill", "entry", "away"]
    again = Student(["", "lines"])
    again.sits(path, "s01")
    assert again.heard("You have a sitting that is not handed in.")[0].endswith(
        "So far: 1 entry, 30 min left."
    )
    assert "W_s: 1.00 N. Not yet." in again.said
    assert "The input has ended." in again.said
    assert list(sittings_of(drill, "s01")) == [place]


def test_the_words_lead_from_task_to_task(tmp_path: Path) -> None:
    student = works(begun(tmp_path), ["task 2", "next", "task 3", "task", "time"])
    tasks = [line.partition(":")[0] for line in student.heard("Task ")]
    assert tasks == ["Task 1 of 2", "Task 2 of 2", "Task 1 of 2"]
    assert "The tasks are 1 to 2." in student.said
    assert "No limit of time, 2 tasks left." in student.said


def test_where_no_line_is_asked_for_an_entry_is_not_swallowed(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    bench = sitting.benches[0]
    for step in bench.working.steps:
        bench.enter(step.key, right_entry(bench, step))
    written = len(read_record(sitting.place))
    student = works(sitting, ["task 1", "38.26 N", "stop"])
    told = student.said.index(NOT_UNDERSTOOD)
    done = "All lines of task 1 are done. Type next, back, or hand in."
    assert done in student.said[told:]
    kinds = [line["kind"] for line in read_record(sitting.place)[written:]]
    assert "entry" not in kinds


def test_when_the_time_is_up_nothing_more_is_taken_and_it_is_handed_in(tmp_path: Path) -> None:
    sitting = begun(tmp_path, "minutes = 30")

    def late() -> str:
        let_pass(sitting, 1800)
        return "1.00 N"

    def later() -> str:
        let_pass(sitting, 1500)
        return "time"

    student = works(sitting, [later, late])
    assert "5 minutes are left." in student.said
    assert "This came too late and is not taken." in student.said
    assert "The time is up; what is on the disk is handed in." in student.said
    assert sitting.ended
    assert [line["kind"] for line in read_record(sitting.place)] == ["drill", "end"]


def test_what_is_not_on_the_disk_is_not_judged_and_goes_on_by_enter(
    tmp_path: Path, disk: Disk
) -> None:
    sitting = begun(tmp_path)
    bench = sitting.benches[0]

    def breaks() -> str:
        disk.broken.append(tmp_path / "r")
        return right_entry(bench, bench.working.steps[0])

    def mended() -> str:
        assert not bench.working.lines
        assert not student_said("Right.")
        disk.broken.clear()
        return ""

    student = Student([breaks, "", mended])
    student_said = student.heard
    DrillLines(sitting, student.said.append, student.listen, "come", lambda _: None).run()
    assert len(student.heard("Not on the disk, so nothing came of it yet: ")) == 2
    assert student.heard("It is still not on the disk. Enter tries again")
    assert len(student.heard("Right.")) == 1


def test_what_is_not_on_the_disk_goes_on_in_another_folder(tmp_path: Path, disk: Disk) -> None:
    sitting = begun(tmp_path)
    bench = sitting.benches[0]

    def breaks() -> str:
        disk.broken.append(tmp_path / "r")
        return right_entry(bench, bench.working.steps[0])

    student = works(
        sitting, [breaks, f"folder {tmp_path / 'r' / 'x'}", f"folder {tmp_path / 'stick'}"]
    )
    assert student.heard("That can't be written: ")
    assert student.heard("The record lies at ")
    assert len(student.heard("Right.")) == 1
    assert sitting.place.is_relative_to(tmp_path / "stick")


def test_a_sitting_that_can_not_be_begun_in_one_folder_is_in_another(
    tmp_path: Path, disk: Disk
) -> None:
    disk.broken.append(tmp_path / "share")
    student = Student(["", "", str(tmp_path / "stick"), "stop"])
    student.sits(drill_file(tmp_path), "s01", tmp_path / "share")
    assert len(student.heard("The record can't be kept: ")) == 2
    assert list((tmp_path / "stick").rglob("s01-*.jsonl"))
    assert f'--records "{tmp_path / "stick"}"' in student.said[-1]


@pytest.mark.parametrize(
    ("rules", "student", "said"),
    [
        ("", "s09", "id is not on the list"),
        ("opens = 2999-03-01T09:00:00Z", "s01", "opens on 01 March 2999"),
        ("closes = 2001-03-01T09:00:00Z", "s01", "closed on 01 March 2001"),
    ],
)
def test_who_is_not_admitted_is_told_why(
    rules: str, student: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = drill_file(tmp_path, rules)
    with pytest.raises(Closed, match=said):
        Student([]).sits(path, student)
    assert main(["drill", "sit", str(path), "--plain", "--student", student]) == 2
    assert said in capsys.readouterr().err


def test_a_line_whose_tries_are_used_is_closed(tmp_path: Path) -> None:
    student = works(begun(tmp_path, "attempts = 1"), ["1.00 N", "back", "back W_s"])
    assert any(line.endswith("No try is left for this line.") for line in student.said)
    assert student.said.count("No try is left for this line.") == 2
    assert student.heard("W_b: ")


def test_the_end_of_the_input_before_it_has_begun_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def ended(prompt: str) -> str:
        raise EOFError(prompt)

    monkeypatch.setattr("builtins.input", ended)
    assert main(["drill", "sit", str(drill_file(tmp_path)), "--plain"]) == 2
    assert "before the drill was begun" in capsys.readouterr().err
