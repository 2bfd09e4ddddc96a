"""While a drill is in progress on a computer, what tells answers there refuses its numbers."""

from __future__ import annotations

import io
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

import pytest
from helpers.drill_sittings import SHELF
from helpers.material import CATALOGUE
from helpers.pilots import settle
from leverstep.course.faults import FileError
from leverstep.course.libraries import Libraries
from leverstep.drill.begun import remember
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.drill.in_progress import in_progress, refuse_problem
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.faces.material import Material
from leverstep.faces.openings import Opening, open_practice, to_explore
from leverstep.faces.screens.app import LeverstepApp
from leverstep.faces.screens.entrances import Exploring, Showing
from leverstep.marking.collecting import Student, gather, mark_class
from leverstep.marking.odd_records import PRACTISED
from textual.widgets import Static

TEXT = 'id = "room"\ntitle = "Room"\n{rules}[[item]]\nproblem = "plain-seesaw"\n'
TOLD = "which s01 has begun here and not handed in"


pytestmark = pytest.mark.usefixtures("home_in_use")


@pytest.fixture(autouse=True)
def nothing_is_typed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO(""))


def drill_at(folder: Path, rules: str = "") -> tuple[Drill, Path]:
    path = folder / "room.toml"
    path.write_text(TEXT.format(rules=rules), "utf-8")
    return drill_of(path.read_text("utf-8"), SHELF.problems, "room.toml"), path


def begun(folder: Path, rules: str = "", records: Path | None = None) -> Sitting:
    """Return a sitting that goes on, as opening a drill remembers it."""
    drill, path = drill_at(folder, rules)
    sitting = Sitting.start(drill, CATALOGUE, "s01", records)
    remember(sitting, path)
    return sitting


def seed_of(sitting: Sitting) -> str:
    return sitting.tasks[0].question.seed


def refused(capsys: pytest.CaptureFixture[str], *call: str) -> bool:
    """Return whether a call is refused, with one sentence and nothing else."""
    code = main(list(call))
    said = capsys.readouterr()
    if TOLD not in said.err:
        assert code != 2, said.err
        return False
    assert (code, said.out, said.err.count("\n")) == (2, "", 1)
    return True


def calls(sitting: Sitting, path: Path) -> dict[str, tuple[str, ...]]:
    """Return a call of each command that tells answers, with the numbers of the sitting."""
    seed, page = seed_of(sitting), path.with_name("page.txt")
    page.write_text("W_c = 1 N\n", "utf-8")
    named = ("plain-seesaw", "--seed", seed)
    return {
        "working": ("working", *named),
        "as data": ("working", *named, "--json"),
        "check": ("check", *named, "--step", "W_c", "1 N"),
        "page": ("page", "plain-seesaw", str(page), "--seed", seed),
        "practise": ("practise", *named, "--plain"),
        "a slip": ("practise", *named, "--plain", "--find-slip"),
        "explore": ("explore", *named, "--csv"),
        "explore with others": ("explore", "plain-seesaw", "--seed", "7", "--plain"),
        "board": ("board", "plain-seesaw", "--seed", "7", "--plain"),
        "key": ("sheet", "plain-seesaw", "--seed", seed, "--key"),
        "key of the drill": ("sheet", str(path), "--student", "s01", "--key"),
        "preview": ("drill", "preview", str(path), "--student", "S01"),
        "report": ("drill", "report", str(path), str(sitting.place), "--plain"),
    }


def test_every_command_that_tells_answers_refuses_them_until_they_are_handed_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sitting = begun(tmp_path)
    there = calls(sitting, tmp_path / "room.toml")
    told = {name: refused(capsys, *call) for name, call in there.items()}
    assert told == dict.fromkeys(there, True)
    sitting.hand_in()
    remember(sitting, tmp_path / "room.toml")
    told = {name: refused(capsys, *call) for name, call in there.items()}
    assert told == dict.fromkeys(there, False)


def test_a_practice_of_the_numbers_from_before_is_neither_gone_on_with_nor_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drill, _ = drill_at(tmp_path)
    practice = Opening(SHELF.problems["plain-seesaw"], drill.tasks("s01")[0].question.seed)
    open_practice(practice, Material(Libraries(), SHELF)).enter("W_c", "1 N")
    begun(tmp_path)
    page = tmp_path / "own.html"
    assert refused(capsys, "practise", "plain-seesaw", "--page", str(page))
    assert not page.exists()
    assert refused(capsys, "practise", "plain-seesaw", "--go-on", "--plain")


def test_other_numbers_and_problems_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seed = seed_of(begun(tmp_path))
    path = str(tmp_path / "room.toml")
    for call in (
        ("working", "plain-seesaw", "--seed", "7"),
        ("working", "plain-wheelbarrow", "--seed", seed),
        ("explore", "plain-wheelbarrow", "--csv"),
        ("sheet", "plain-seesaw", "--seed", seed),
        ("drill", "preview", path, "--student", "s02"),
    ):
        assert not refused(capsys, *call)


def test_it_is_known_in_another_folder_and_where_the_file_of_the_drill_is_gone(
    tmp_path: Path,
) -> None:
    sitting = begun(tmp_path, records=tmp_path / "share")
    sitting.pause()
    (tmp_path / "room.toml").unlink()
    (one,) = in_progress(SHELF.problems)
    assert one.task_of(sitting.tasks[0].question) == 1


def test_a_sitting_that_is_moved_and_handed_in_is_over(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    sitting.move(tmp_path / "stick")
    remember(sitting, tmp_path / "room.toml")
    assert len(in_progress(SHELF.problems)) == 1
    sitting.hand_in()
    remember(sitting, tmp_path / "room.toml")
    assert in_progress(SHELF.problems) == ()


@pytest.mark.parametrize("rules", ['minutes = 1\nclock = "wall"\n', "closes = {soon}\n"])
def test_a_sitting_that_is_out_of_time_is_over(tmp_path: Path, rules: str) -> None:
    soon = (datetime.now(UTC) + timedelta(hours=1)).isoformat(timespec="seconds")
    sitting = begun(tmp_path, rules.format(soon=soon))
    assert len(in_progress(SHELF.problems)) == 1
    later = datetime.now(UTC) + timedelta(hours=2)
    assert len(in_progress(SHELF.problems, later)) == 0
    changed = rules.format(soon="2020-01-01T00:00:00Z") if "soon" in rules else "minutes = 2\n"
    drill_at(tmp_path, changed)  # not the file that the record names: it may not end the sitting
    assert len(in_progress(SHELF.problems, later)) == 1
    assert sitting.place.exists()


@pytest.mark.parametrize("written", [b"", b"{", b"\xff\xfe", b'[{"title": 1}]', b"[" * 10_000])
def test_what_is_remembered_may_be_broken(
    home_in_use: Path, tmp_path: Path, written: bytes
) -> None:
    begun(tmp_path)
    (home_in_use / "begun.json").write_bytes(written)
    assert in_progress(SHELF.problems) == ()


def test_a_record_that_is_gone_or_broken_keeps_nobody_from_anything(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    whole = sitting.place.read_bytes()
    sitting.place.write_bytes(b"\x00" * 100)
    assert in_progress(SHELF.problems) == ()
    sitting.place.unlink()
    assert in_progress(SHELF.problems) == ()
    sitting.place.mkdir()
    assert in_progress(SHELF.problems) == ()
    sitting.place.rmdir()
    sitting.place.write_bytes(whole[: len(whole) // 2 + 2] + b"\n" + whole)
    assert in_progress(SHELF.problems) == ()


def test_screens_and_lists_open_none_of_them(tmp_path: Path) -> None:
    sitting = begun(tmp_path)
    material, problem = Material(Libraries(), SHELF), SHELF.problems["plain-seesaw"]
    with pytest.raises(FileError, match=TOLD):
        open_practice(Opening(problem, seed_of(sitting)), material)
    with pytest.raises(FileError, match=TOLD):
        to_explore(Opening(problem), SHELF)
    with pytest.raises(FileError, match=TOLD):
        refuse_problem(problem, SHELF.problems)
    assert open_practice(Opening(problem, "7"), material).question.seed == "7"


async def test_the_full_screen_says_why_nothing_is_shown(tmp_path: Path) -> None:
    """Board and exploring, at the smallest size, and Esc leads back as ever."""
    sitting = begun(tmp_path)
    there = Material(Libraries(), SHELF)
    question = sitting.tasks[0].question
    make = partial(to_explore, Opening(question.problem), SHELF)
    for opening in (Showing(question), Exploring(question.problem.title, make)):
        app = LeverstepApp(there, opening)
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            screen = pilot.app.screen
            texts = " ".join(str(one.content) for one in screen.query(Static) if one.display)
            assert TOLD in " ".join(texts.split())
            await pilot.press("right", "escape")
            await settle(pilot)
            assert pilot.app.screen is not screen


def test_who_marks_a_class_is_kept_from_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    share, path = tmp_path / "share", str(tmp_path / "room.toml")
    sitting = begun(tmp_path, records=share)
    assert refused(capsys, "drill", "mark", path, str(share), "--out", str(tmp_path / "marks"))
    Sitting.start(sitting.drill, CATALOGUE, "s02", share).hand_in()
    marking = ("drill", "mark", path, str(share), "--out", str(tmp_path / "marks"), "--pages")
    assert not refused(capsys, *marking)


def test_a_page_to_give_back_waits_until_the_sitting_is_handed_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Beside the records of others, too, since it has the answers worked out."""
    share = tmp_path / "share"
    sitting = begun(tmp_path, records=share)
    Sitting.start(sitting.drill, CATALOGUE, "s02", share).hand_in()
    marking = ["drill", "mark", str(tmp_path / "room.toml"), str(share), "--pages", "--out"]
    assert main([*marking, str(tmp_path / "during")]) == 0
    assert "is not handed in: s01" in capsys.readouterr().out
    assert [path.name[:4] for path in (tmp_path / "during" / "students").iterdir()] == ["s02-"]
    sitting.hand_in()
    assert main([*marking, str(tmp_path / "after")]) == 0
    assert "is not handed in" not in capsys.readouterr().out
    assert len(list((tmp_path / "after" / "students").iterdir())) == 2


class Class:
    """Takes the students of a class."""

    def __init__(self) -> None:
        self.students: list[Student] = []

    def add(self, student: Student) -> None:
        """Take one."""
        self.students.append(student)


def marked_with_practice(drill: Drill, folder: Path) -> list[Student]:
    """Return the students of the records in a folder, where records of practice lie too."""
    found, taken = gather([folder]), Class()
    assert len(found.practised) == 1
    with ThreadPoolExecutor(1) as pool:
        mark_class(drill, CATALOGUE, found.records, pool, [taken], practised=found.practised)
    return [student for student in taken.students if student.id]


def test_practice_that_can_not_be_read_keeps_nobody_from_sitting(
    home_in_use: Path, tmp_path: Path
) -> None:
    practice = home_in_use / "practice"
    practice.mkdir(parents=True)
    (practice / "a.jsonl").write_bytes(b"\xff")
    (practice / "b.jsonl").mkdir()
    (practice / "c.jsonl").write_text('{"kind": "practice", "givens": 5}\n', "utf-8")
    assert begun(tmp_path).place.exists()


def test_marking_remarks_on_numbers_that_were_practised(tmp_path: Path) -> None:
    """Begun before the drill was over; with a record of practice in the same folder."""
    drill, _ = drill_at(tmp_path)
    seed = drill.tasks("s01")[0].question.seed
    material, problem = Material(Libraries(), SHELF), SHELF.problems["plain-seesaw"]
    practice = open_practice(Opening(problem, seed), material)
    practice.enter("W_c", "1 N")
    records = tmp_path / "records"
    for student in ("s01", "s02"):
        Sitting.start(drill, CATALOGUE, student, records).hand_in()
    kept = records / "practice.jsonl"
    assert practice.place is not None
    kept.write_bytes(practice.place.read_bytes())
    first, second = marked_with_practice(drill, records)
    by_file = "the numbers of task 1 were practised: practice.jsonl"
    assert {by_file, f"{PRACTISED} task 1"} <= set(first.remarks)
    assert second.remarks == ()
    fixed = drill_of(f'{drill.text}numbers = "fixed"\n', SHELF.problems, "room.toml")
    for student in marked_with_practice(fixed, records):
        assert not any("practised: " in one for one in student.remarks)
    fresh = Sitting.start(fixed, CATALOGUE, "s03", tmp_path / "again")
    assert b'"practised"' not in fresh.place.read_bytes()


@pytest.mark.parametrize("others", [True, False])
def test_a_course_is_marked_without_them(
    others: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sitting = begun(tmp_path, records=tmp_path / "records")
    if others:
        Sitting.start(sitting.drill, CATALOGUE, "s02", tmp_path / "records").hand_in()
    plan, out = tmp_path / "course.toml", tmp_path / "out"
    plan.write_text('[[drill]]\nfile = "room.toml"\nrecords = "records"\n', "utf-8")
    told = "room: Not marked: {}begun on this computer and not handed in{}."
    call = ["course", str(plan), "--out", str(out), "--pages"]
    assert main(call) == 0
    assert told.format("", ": s01") in capsys.readouterr().out
    assert main([*call, "--without-names"]) == 0
    assert told.format("1 sitting ", "") in capsys.readouterr().out
    written = [path.read_text("utf-8") for path in out.rglob("*.*")]
    assert written
    assert not any("s01" in text for text in written)
    assert any("s02" in text for text in written) == others
    sitting.hand_in()
    remember(sitting, tmp_path / "room.toml")
    assert main(call) == 0
    assert "Not marked" not in capsys.readouterr().out
    assert "s01" in (out / "course.csv").read_text("utf-8")
