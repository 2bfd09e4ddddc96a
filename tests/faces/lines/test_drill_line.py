"""A drill in line mode: from the student's id to handing in, in plain lines."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from queue import Queue

import pytest
from helpers.drills import SHELF, Disk, drill_file, let_pass, right_entry, wrong_entry
from helpers.line_students import LEFT, Student, begun, works
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.bench import TAKEN
from leverstep.drill.drill_file import read_drill
from leverstep.drill.earlier import earlier, unfinished
from leverstep.drill.sitting import Closed, Sitting
from leverstep.faces.commands.cli import main
from leverstep.faces.lines.drill_line import NOT_UNDERSTOOD, DrillLines
from leverstep.marking.marking import mark_record

END = 'feedback = "at the end"'


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


class Ear:
    """Hears what the clock says while a line is typed, and waits for it."""

    def __init__(self) -> None:
        self.heard: Queue[str] = Queue()

    def until(self, part: str, typed: str = "") -> Callable[[], str]:
        """Return what types a line once something has been heard."""

        def waits() -> str:
            while part not in self.heard.get(timeout=30):
                pass
            return typed

        return waits


def test_a_whole_sitting_from_the_id_to_handing_in(tmp_path: Path) -> None:
    path = drill_file(tmp_path, f"{END}\nminutes = 30")
    drill = read_drill(path, SHELF.problems)
    benches = Sitting.start(drill, CATALOGUE, "s01", tmp_path / "other").benches
    typed = ["s03", " S01 ", ""]
    for bench in benches:
        typed += [right_entry(bench, step) for step in bench.working.steps] + ["next"]
    student = Student([*typed, "time", "hand in", "no", "hand in", "yes"])
    student.sits(path)
    said = student.said
    assert "This id is not on the list for this drill." in said
    assert "You are s01, Ida Example." in said
    assert "Task 2 of 2: A pail in the hand (4 marks)" in said
    assert "30 min left, all tasks done." in said
    assert len(student.heard(TAKEN)) == sum(len(b.working.steps) for b in benches)
    end = next(n for n, line in enumerate(said) if line.startswith("Handed in: Levers, of s01"))
    assert not any("Right" in line or "Not yet" in line for line in said[:end])
    assert sum("Right." in line for line in said[end:]) == len(student.heard(TAKEN))
    assert not unfinished(earlier(drill, "s01").records)


def test_outcomes_are_hidden_until_it_is_handed_in(tmp_path: Path) -> None:
    sitting = begun(tmp_path, END)
    bench = sitting.benches[0]
    first, second, *_ = bench.working.steps
    right, wrong = right_entry(bench, first), wrong_entry(second)
    student = works(
        sitting,
        [right, wrong, "lines", "back", "skip", f"back {first.key}", "hint", wrong, "help"],
    )
    assert f"W_s: {right}. Saved." in student.said
    assert f"W_b: {wrong}. Saved." in student.said
    assert "There are no hints in this drill." in student.said
    for outcome in ("Right", "Not yet", "right now", "It looks like"):
        assert not any(outcome in line for line in student.said)
    assert not student.heard("hint: ")


def test_a_sitting_is_left_and_come_back_to(tmp_path: Path) -> None:
    path = drill_file(tmp_path, "minutes = 30")
    drill = read_drill(path, SHELF.problems)
    student = Student(["", "1.00 N", "stop"])
    student.sits(path, "s01")
    assert (
        "The clock is stopped (30 min left). To come back: leverstep drill sit" in student.said[-1]
    )
    (place,) = unfinished(earlier(drill, "s01").records)
    kinds = [line["kind"] for line in fields_in(place)]
    assert kinds == ["drill", "entry", "away"]
    again = Student(["", "lines"])
    again.sits(path, "s01")
    assert again.heard("You have a sitting that is not handed in yet.")[0].endswith(
        "So far: 1 entry, 30 min left."
    )
    assert again.heard("W_s: 1.00 N. Not yet")
    assert "The input has ended." in again.said
    assert list(unfinished(earlier(drill, "s01").records)) == [place]


def sits(path: Path, *typed: str | Callable[[], str]) -> Student:
    student = Student(typed)
    student.sits(path, "s01")
    return student


def test_a_result_is_heard_again_and_a_new_sitting_begins_only_at_enter(tmp_path: Path) -> None:
    path = drill_file(tmp_path, f"{END}\nattempts = 1")
    drill = read_drill(path, SHELF.problems)
    first = sits(path, "", "1.00 N", "hand in", "yes")
    result = first.said[first.said.index(first.heard("Handed in: ")[0]) : -1]
    assert any(line.startswith("W_s: 1.00 N. Not right") for line in result)
    (place,) = earlier(drill, "s01").records
    code = mark_record(drill, CATALOGUE, "", place.read_bytes()).code
    assert result[1] == f"Its code is {code}. Write it down: your teacher may ask for it."
    assert first.said[-1].startswith("To hear this again, type result after leverstep drill sit ")
    again = sits(path, "result", "stop")
    asks = "Enter begins, result reads the one handed in, stop leaves: "
    start = again.said.index(asks)
    assert again.said[start + 1 :] == [*result, asks, LEFT]
    assert again.heard("You have handed in a sitting, on ")[0].endswith(
        "This is sitting 2; the numbers are the same as before. The best one counts."
    )
    assert not unfinished(earlier(drill, "s01").records)
    sits(path, "", "stop")
    third = sits(path, "stop")
    asks = "Enter goes on, result reads the one handed in, stop leaves: "
    assert third.said[-2:] == [asks, LEFT]


def test_where_there_are_no_hints_none_is_read_again_at_the_diagram(tmp_path: Path) -> None:
    path = drill_file(tmp_path, 'picture = "asked"\nhints = "none"')
    assert sits(path, "", "hints", "stop").heard("There are no hints in this drill.")


def test_a_drill_is_begun_and_gone_on_with_by_a_word_too(tmp_path: Path) -> None:
    path = drill_file(tmp_path)
    assert sits(path, "begin", "stop").heard("Task 1 of ")
    assert sits(path, "go on", "stop").heard("Task 1 of ")


def test_the_rules_are_heard_again_at_the_door_and_what_is_not_understood_is_told(
    tmp_path: Path,
) -> None:
    student = sits(drill_file(tmp_path), "what", "rules", "stop")
    assert student.heard("Not understood. To hear the rules again, type rules.")
    assert len(student.heard("To hand in, type hand in.")) == 2
    assert len(student.heard("You are s01")) == 2
    assert student.said[-1] == LEFT


@pytest.mark.parametrize("rules", ["sittings = 1", "closes = {closes}"])
def test_a_result_is_heard_where_nothing_may_be_begun(rules: str, tmp_path: Path) -> None:
    sits(drill_file(tmp_path), "", "1.00 N", "hand in", "yes")
    path = drill_file(tmp_path, rules.format(closes="2001-03-01T09:00:00Z"))
    student = sits(path, "result", "")
    assert student.heard("You have handed in a sitting, on ")[0].endswith(
        "and you have done so." if "sittings" in rules else "."
    )
    assert student.heard("W_s: 1.00 N. Not right")
    assert student.said[-2:] == ["Enter leaves, result reads the one handed in: ", LEFT]
    rules = "To hand in, type hand in."
    assert not student.heard(rules)
    assert sits(path, "rules", "").heard(rules)
    other = Student([])
    with pytest.raises(Closed):
        other.sits(drill_file(tmp_path, "closes = 2001-03-01T09:00:00Z"), "s02")


def test_the_words_lead_from_task_to_task(tmp_path: Path) -> None:
    student = works(begun(tmp_path), ["task 2", "next", "previous", "task 3", "task", "time"])
    tasks = [line.partition(":")[0] for line in student.heard("Task ")]
    assert tasks == ["Task 1 of 2", "Task 2 of 2", "Task 1 of 2", "Task 2 of 2"]
    assert "The tasks are 1 to 2." in student.said
    assert "No time limit, 2 tasks left." in student.said


def test_where_no_line_is_asked_for_an_entry_is_not_swallowed(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    bench = sitting.benches[0]
    for step in bench.working.steps:
        bench.enter(step.key, right_entry(bench, step))
    written = len(fields_in(sitting.place))
    student = works(sitting, ["task 1", "38.26 N", "stop"])
    told = student.said.index(NOT_UNDERSTOOD)
    done = "Task 1: All 15 lines are right. Well done. Type next, back, or hand in."
    assert done in student.said[told:]
    kinds = [line["kind"] for line in fields_in(sitting.place)[written:]]
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
    assert "This came too late and does not count." in student.said
    assert "Time is up; what has been saved is handed in." in student.said
    assert sitting.ended
    kinds = [line["kind"] for line in fields_in(sitting.place)]
    assert [kind for kind in kinds if kind != "clock"] == ["drill", "end"]


@pytest.fixture
def quick_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the clock look so often that it sees when a test lets time pass."""
    monkeypatch.setattr("leverstep.faces.lines.drill_clock.LOOK", 0.05)
    monkeypatch.setattr("leverstep.faces.lines.drill_clock.AGAIN", 0.05)


@pytest.mark.usefixtures("quick_clock")
def test_the_clock_speaks_while_a_line_is_typed_and_hands_in(tmp_path: Path) -> None:
    sitting, heard = begun(tmp_path, "minutes = 30"), []
    ear = Ear()

    def hears(told: str) -> None:
        heard.append(told)
        ear.heard.put(told)

    def late() -> str:
        let_pass(sitting, 60 - 0.2)
        return ear.until("Press Enter", "1.00 N")()

    let_pass(sitting, 1500 - 0.2)

    def later() -> str:
        let_pass(sitting, 240 - 0.2)
        return ear.until("1 minute is left.", "2.00 N")()

    student = works(sitting, [ear.until("5 minutes are left."), later, late], hears)
    assert heard == [
        "\n5 minutes are left.\nW_s: ",
        "\n1 minute is left.\nW_s: ",
        "\nTime is up; what has been saved is handed in. Press Enter for the result.\n",
    ]
    assert "This came too late and does not count." in student.said
    assert student.heard("Handed in: Levers, of s01")
    assert student.heard("W_s: 2.00 N. Not right")
    kinds = [line["kind"] for line in fields_in(sitting.place)]
    assert [kind for kind in kinds if kind != "clock"] == ["drill", "entry", "end"]


@pytest.mark.usefixtures("quick_clock")
def test_the_clock_hands_in_as_soon_as_the_disk_takes_it(tmp_path: Path, disk: Disk) -> None:
    sitting, ear = begun(tmp_path, "minutes = 30"), Ear()

    def breaks() -> str:
        disk.broken.append(tmp_path / "r")
        let_pass(sitting, 1800)
        ear.until("Trying again.")()
        disk.broken.clear()
        return ear.until("Press Enter")()

    let_pass(sitting, 1500 - 0.2)
    student = works(sitting, [ear.until("5 minutes"), breaks], ear.heard.put)
    assert sitting.ended
    assert "This came too late and does not count." not in student.said
    assert student.heard("Handed in: ")


def test_a_warning_is_due_too_where_a_sitting_begins_with_little_time(tmp_path: Path) -> None:
    student = works(begun(tmp_path, "minutes = 1"), ["1.00 N", "time"])
    assert student.said.count("1 minute is left.") == 1
    assert student.heard("1 min left, 2 tasks left.") or student.heard("60 seconds left")


def test_the_end_of_the_input_at_handing_in_leaves_the_sitting_open(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    student = works(sitting, ["hand in"])
    assert "The input has ended." in student.said
    assert student.heard("You have left Levers; it is not handed in yet.")
    assert not sitting.ended


def test_an_interruption_leaves_the_sitting_open(tmp_path: Path) -> None:
    def interrupted() -> str:
        raise KeyboardInterrupt

    sitting = begun(tmp_path)
    student = works(sitting, ["1.00 N", interrupted])
    assert student.heard("You have left Levers; it is not handed in yet.")
    assert [line["kind"] for line in fields_in(sitting.place)] == ["drill", "entry", "away"]


def test_what_a_hint_costs_is_said_with_it_and_the_rules_when_asked_for(tmp_path: Path) -> None:
    sitting = begun(tmp_path, 'hints = "at a cost"')
    student = works(sitting, ["hint", "hints", "rules", "hand in", "no", ""])
    assert student.heard("Hint 1 of 4 for W_s, costs 25 % of this line's marks: ")
    assert student.heard("Hint 1 of 4 for W_s, which cost 25 % of this line's marks: ")
    assert student.heard("Each hint costs 25 % of the marks of its line.")
    assert "To hand in, type hand in. After that nothing can be changed." in student.said
    assert "Not handed in." in student.said
    assert student.heard("Type the line, or a word: ")


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
    assert len(student.heard("Not saved: ")) == 2
    assert student.heard("It is still not saved. Enter tries again")
    assert len(student.heard("Right.")) == 1


def test_what_is_not_on_the_disk_goes_on_in_another_folder(tmp_path: Path, disk: Disk) -> None:
    sitting = begun(tmp_path)
    bench = sitting.benches[0]
    places = [tmp_path / "none", tmp_path / "r" / "x", tmp_path / "stick"]
    for place in places[1:]:
        place.mkdir(parents=True)

    def breaks() -> str:
        disk.broken.append(tmp_path / "r")
        return right_entry(bench, bench.working.steps[0])

    student = works(sitting, [breaks, *(f"folder {place}" for place in places)])
    assert student.heard(f"That can't be used: there is no folder {places[0]}.")
    assert len(student.heard("Not saved: ")) == 2
    assert student.heard("The record is now at ")
    assert len(student.heard("Right.")) == 1
    assert sitting.place.is_relative_to(tmp_path / "stick")


def test_a_sitting_that_can_not_be_begun_in_one_folder_is_in_another(
    tmp_path: Path, disk: Disk
) -> None:
    disk.broken.append(tmp_path / "share")
    (tmp_path / "stick").mkdir()
    student = Student(["", "", str(tmp_path / "Not"), str(tmp_path / "stick"), "stop"])
    student.sits(drill_file(tmp_path), "s01", tmp_path / "share")
    assert len(student.heard("The record can't be saved: ")) == 3
    assert student.heard(f"That can't be used: there is no folder {tmp_path / 'Not'}.")
    assert list((tmp_path / "stick").rglob("s01-*.jsonl"))
    assert f'--records "{tmp_path / "stick"}"' in student.said[-1]


def test_who_has_begun_in_a_second_window_goes_on_with_that_sitting(tmp_path: Path) -> None:
    path = drill_file(tmp_path)
    drill = read_drill(path, SHELF.problems)

    def begins_elsewhere() -> str:
        Sitting.start(drill, CATALOGUE, "s01")
        return ""

    student = sits(path, begins_elsewhere, "", "1.00 N", "stop")
    (told,) = student.heard("It has been begun meanwhile, perhaps in a second window")
    assert student.said[student.said.index(told) + 1] == "Enter goes on, stop leaves: "
    (place,) = earlier(drill, "s01").records
    assert [line["kind"] for line in fields_in(place)] == ["drill", "resumed", "entry", "away"]


@pytest.mark.parametrize("word", ["stop", "Quit", " exit "])
@pytest.mark.parametrize("asked", ["id", "folder"])
def test_the_words_that_leave_do_so_at_every_prompt_of_the_door(
    asked: str, word: str, tmp_path: Path, disk: Disk
) -> None:
    disk.broken.append(tmp_path / "share")
    student = Student([word] if asked == "id" else ["", word])
    student.sits(drill_file(tmp_path), "" if asked == "id" else "s01", tmp_path / "share")
    assert student.said[-1] == LEFT
    assert not list(tmp_path.rglob("*.jsonl"))


@pytest.mark.parametrize("kind", ["closed", "file"] + ["link", "pipe"] * (os.name != "nt"))
def test_where_no_record_can_be_put_it_is_said_of_which_folder_to_ask(
    kind: str, tmp_path: Path, disk: Disk
) -> None:
    """A folder of another, or what is no folder, where that of the drill is to be."""
    place = tmp_path / "share" / "levers"
    place.parent.mkdir()
    place.parent.chmod(0o1777)
    match kind:
        case "closed":
            place.mkdir()
            disk.broken.append(place)
        case "file":
            place.write_text("no folder")
        case "link":
            place.symlink_to(tmp_path)
        case "pipe":
            os.mkfifo(place)
    student = Student(["", "stop"])
    student.sits(drill_file(tmp_path), "s01", tmp_path / "share")
    (told,) = student.heard("The record can't be saved: ")
    assert told.endswith(f" Ask your teacher about the folder {place}, or name another one.")


def gone(sitting: Sitting) -> str:
    sitting.place.unlink()
    return "stop"


def replaced(sitting: Sitting) -> str:
    data = sitting.place.read_bytes()
    sitting.place.write_bytes(b"x" * len(data))
    return "stop"


@pytest.mark.parametrize("ends", [gone, replaced])
def test_who_leaves_is_told_where_the_record_is_gone_and_can_keep_the_lines(
    ends: Callable[[Sitting], str], tmp_path: Path
) -> None:
    sitting = begun(tmp_path)
    place, bench = sitting.place, sitting.benches[0]
    (tmp_path / "stick").mkdir()
    entry = right_entry(bench, bench.working.steps[0])
    typed = [entry, lambda: ends(sitting), f"folder {tmp_path / 'stick'}", "stop"]
    student = works(sitting, typed)
    told = f"The record is no longer at {place}: it was removed or replaced."
    assert student.said.index(told) < student.said.index(student.heard("The record is now at ")[0])
    assert student.heard(f"Every line that you entered is saved at {sitting.place}")
    kinds = [line["kind"] for line in fields_in(sitting.place)]
    assert kinds == ["drill", "entry", "away"]


def test_who_leaves_all_the_same_is_not_told_that_the_lines_are_kept(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    student = works(sitting, [lambda: gone(sitting), "stop"])
    told = f"The record is no longer at {sitting.place}: it was removed or replaced."
    assert student.heard(told) == [told, f"{told} Tell your teacher."]
    assert not student.heard("Every line that you entered is saved")


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
    assert any(line.endswith("No tries are left for this line.") for line in student.said)
    assert student.said.count("W_s can't be changed: no tries are left for it.") == 2
    assert student.said.count("W_s: 1.00 N. Not right, and no slip we know explains it.") == 2
    assert student.heard("W_b: ")


def test_the_end_of_the_input_before_it_has_begun_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def ended(prompt: str) -> str:
        raise EOFError(prompt)

    monkeypatch.setattr("builtins.input", ended)
    assert main(["drill", "sit", str(drill_file(tmp_path)), "--plain"]) == 2
    assert "before the drill was begun" in capsys.readouterr().err
