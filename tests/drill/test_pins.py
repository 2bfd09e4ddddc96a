"""PINs: what students' computers get of them, who is let in, and what marking tells of it."""

from __future__ import annotations

import json
import re
import secrets
import stat
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from helpers.drill_screens import all_text, app_at, drill_screen
from helpers.drills import SHELF, drill_file
from helpers.line_students import Student
from helpers.material import CATALOGUE
from helpers.pilots import press, settle
from helpers.records import fields_in
from helpers.screens import text_of
from leverstep.course.faults import FileError
from leverstep.dialogue.admission import Admission
from leverstep.dialogue.door_dialogue import DoorAsks, DoorDialogue, DoorRefusal
from leverstep.drill import slow_hash
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import read_drill
from leverstep.drill.pin_tries import MOST_WRONG, WAIT, note_right, note_wrong, seconds_to_wait
from leverstep.drill.pins import BY_TEACHER, Pins
from leverstep.drill.pins_file import PINS, pins_in, pins_of
from leverstep.drill.sitting import Sitting
from leverstep.drill.slow_hash import Cost, SlowHash, hash_in, hash_of
from leverstep.faces.commands.cli import main
from leverstep.faces.lines.drill_door import sit
from leverstep.marking.marking import mark_record
from leverstep.marking.odd_records import LET_IN, NO_PIN, OTHER_PIN
from textual.widgets import Input

QUICK = Cost(2, 1, 1)
TEACHER, IDA, ODO = "K7WM-3RXA-9CFH", "0417 23", "blue-7"
NOW = datetime(2027, 3, 1, 9, tzinfo=UTC)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have hashes made quickly; how slow they are by rights is tried by the first tests."""

    def quickly(secret: str) -> SlowHash:
        salt = secrets.token_bytes(16)
        data = secret.encode(errors="backslashreplace")
        return SlowHash(salt, slow_hash.stretched(data, salt, QUICK), QUICK)

    monkeypatch.setattr("leverstep.drill.pins_file.hash_of", quickly)
    monkeypatch.setattr(Cost, "is_sound", property(lambda _: True))


def a_class(folder: Path) -> tuple[Path, Path]:
    """Write a drill that asks for the PINs of its two students; return it and the cards."""
    path, cards, table = drill_file(folder), folder / "cards.txt", folder / "mine.csv"
    table.write_text(f"id,pin\nS01,{IDA}\ns02,{ODO}\n", "utf-8")
    assert main(["drill", "pins", str(path), str(table), "--cards", str(cards)]) == 0
    return path, cards


def word_on(cards: Path) -> str:
    (word,) = re.findall(r"forgot the PIN: (\S+)", cards.read_text("utf-8"))
    return str(word)


def door_of(path: Path) -> DoorDialogue:
    drill = read_drill(path, SHELF.problems)
    return DoorDialogue(drill, CATALOGUE, path, path.parent / "share")


def opened(reply: object) -> Sitting:
    assert isinstance(reply, Sitting)
    return reply


# What computers get.


def test_a_hash_has_its_cost_and_salt_beside_it_and_is_slow(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.undo()
    one, other = hash_of("041723"), hash_of("041723")
    assert str(one) != str(other)
    assert hash_in(str(one)) == one
    assert (one.cost.n, one.cost.r, one.cost.p) == (2**15, 8, 1)
    assert one.is_of("041723")
    assert not other.is_of("041724")
    assert "041723" not in str(one)


@pytest.mark.parametrize(
    "cost", [(2**13, 8, 1), (2**15 + 2, 8, 1), (2**15, 1, 1), (2**20, 99, 9), (0, 8, 1)]
)
def test_a_hash_that_is_quick_to_try_or_fills_the_memory_is_none(
    cost: tuple[int, int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.undo()
    written = ":".join(map(str, ("scrypt", *cost, "0" * 32, "1" * 64)))
    assert hash_in(written) is None
    assert hash_in(written.replace(f"{cost[0]}:{cost[1]}:{cost[2]}", "32768:8:1")) is not None


def test_what_is_copied_to_students_has_no_pin(tmp_path: Path) -> None:
    path, cards = a_class(tmp_path)
    copied = (tmp_path / PINS).read_text("utf-8") + path.read_text("utf-8")
    for secret in (IDA, "041723", ODO, "blue7", word_on(cards), word_on(cards).replace("-", "")):
        assert secret not in copied
        assert secret.casefold() not in copied
    assert "pins = true" in path.read_text("utf-8")
    assert IDA in cards.read_text("utf-8")
    assert stat.S_IMODE(cards.stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / PINS).stat().st_mode) == stat.S_IMODE(path.stat().st_mode)


def test_a_pin_is_known_however_it_is_typed_and_by_its_own_student_alone(tmp_path: Path) -> None:
    path, cards = a_class(tmp_path)
    pins = pins_in(path.parent)
    for typed in (IDA, "041723", " 04-17-23 "):
        assert pins.shown_by("s01", typed) == pins.mark("s01") != ""
        assert pins.shown_by("s02", typed) == ""
    assert pins.shown_by("s02", "BLUE 7") == pins.mark("s02")
    for whose in ("s01", "s02", "s03"):
        assert pins.shown_by(whose, word_on(cards).lower()) == BY_TEACHER
        for typed in ("", "0417", "\udcff", pins.mark("s01"), str(pins.students["s01"])):
            assert pins.shown_by(whose, typed) == ""
    assert Pins().shown_by("s01", "") == ""


# The command.


def test_pins_are_made_for_who_has_none_and_one_anew_for_who_lost_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = drill_file(tmp_path)
    assert main(["drill", "pins", str(path)]) == 2
    assert "secrets to hand out; expected --cards" in capsys.readouterr().err
    assert not (tmp_path / PINS).exists()
    first = tmp_path / "first.txt"
    assert main(["drill", "pins", str(path), "--cards", str(first), "--digits", "4"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("2 PINs are new.")
    assert re.search(
        r"A try takes this computer \d+ ms: with pins.toml it can try all PINs of 4 ", said
    )
    given = dict(re.findall(r"For (s\d\d), .*\nYour PIN: (\d{4})\n", first.read_text("utf-8")))
    pins, word = pins_in(tmp_path), word_on(first)
    assert {one: pins.shown_by(one, pin) for one, pin in given.items()} == {
        one: pins.mark(one) for one in ("s01", "s02")
    }
    with (tmp_path / "roster.csv").open("a") as roster:
        roster.write("s03,New Here\n")
    assert main(["vet", str(tmp_path)]) == 0
    assert "remark: pins.toml: no PIN for 's03'" in capsys.readouterr().out
    second, third = tmp_path / "second.txt", tmp_path / "third.txt"
    assert main(["drill", "pins", str(path), "--cards", str(second)]) == 0
    assert re.findall(r"For (\S+?),", second.read_text("utf-8")) == ["s03"]
    assert main(["drill", "pins", str(path), "--student", "S01", "--cards", str(third)]) == 0
    after = pins_in(tmp_path)
    assert after.mark("s01") != pins.mark("s01")
    assert after.mark("s02") == pins.mark("s02")
    assert after.by_teacher(word) == BY_TEACHER
    assert main(["drill", "pins", str(path), "--cards", str(third)]) == 2
    assert pins_in(tmp_path) == after


def test_a_second_drill_of_the_folder_takes_the_pins_that_there_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    a_class(tmp_path)
    before = pins_in(tmp_path)
    other = tmp_path / "other.toml"
    other.write_text(
        (tmp_path / "levers.toml").read_text("utf-8").replace("pins = true", ""), "utf-8"
    )
    assert main(["drill", "pins", str(other)]) == 0
    assert "0 PINs are new" in capsys.readouterr().out
    assert read_drill(other, SHELF.problems).pins == before


@pytest.mark.parametrize(
    ("rows", "more", "told"),
    [
        ("id,pin\ns01,123", [], "line 2: what is no PIN; expected a PIN of 4 to 40 letters"),
        ("id,pin\ns09,1234", [], "line 2: 's09'; expected a student on the roster"),
        ("id,pin\n,1234", [], "expected a student's id"),
        ("id,code\ns01,1234", [], "it has no column pin; expected a CSV file with the columns"),
        ("id,pin\ns01,1234", ["--student", "s01"], "expected one of the two"),
        ("id,pin\ns01,1234", ["--digits", "8"], "--digits stands beside a table"),
        (None, ["--digits", "3"], "--digits 3; expected a number from 4 to 12"),
        (None, ["--student", "s09"], "s09 is not on the roster"),
    ],
)
def test_what_makes_no_pins_is_told_and_changes_nothing(
    rows: str | None,
    more: list[str],
    told: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    path, table = drill_file(tmp_path), tmp_path / "mine.csv"
    before = path.read_bytes()
    if rows is not None:
        table.write_text(rows, "utf-8")
        more = [str(table), *more]
    assert main(["drill", "pins", str(path), *more, "--cards", str(tmp_path / "s.txt")]) == 2
    error = capsys.readouterr().err
    assert told in error
    assert "123" not in error or "--digits" in more
    assert path.read_bytes() == before
    assert not (tmp_path / PINS).exists()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "pins.toml: teacher: missing; expected what `leverstep drill pins` writes"),
        ('teacher = "1234"', "teacher: found '1234'; expected what `leverstep drill pins` writes"),
        ("teacher = 5\n[students]\ns01 = 5", "students.s01: found 5; expected what"),
        ("[students]\ns01 = 'scrypt:1:1:1'", "students.s01: found 'scrypt:1:1:1'; expected"),
        ("students = 5", "students: found 5; expected a table"),
        ("more = 1", "more: unknown key"),
        ("[[[", "pins.toml: "),
    ],
)
def test_a_broken_file_of_pins_is_told_with_its_drill(
    text: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = drill_file(tmp_path, "pins = true")
    (tmp_path / PINS).write_text(text, "utf-8")
    with pytest.raises(FileError) as caught:
        pins_of(text)
    assert told in str(caught.value)
    assert main(["vet", str(path)]) == 2
    assert told in capsys.readouterr().out


def test_two_ids_that_are_one_have_no_two_pins(tmp_path: Path) -> None:
    path, _ = a_class(tmp_path)
    text = (path.parent / PINS).read_text("utf-8")
    doubled = text + text[text.index('"s01"') :].split("\n")[0].replace("s01", "S01")
    with pytest.raises(FileError, match="'S01' is there twice; expected each student once"):
        pins_of(doubled)


# At the door.


def test_nothing_is_told_of_a_student_before_the_pin_is_right(tmp_path: Path) -> None:
    path, _ = a_class(tmp_path)
    first = Sitting.start(read_drill(path, SHELF.problems), CATALOGUE, "s01", tmp_path / "share")
    first.hand_in()
    door = door_of(path)
    reply = door.enter("s01")
    assert door.asks is DoorAsks.PIN
    assert isinstance(reply, Admission)
    assert (reply.name, reply.turn, reply.result) == ("", None, None)
    assert "handed in" not in reply.told
    assert door.enter("s01") == reply
    refused = door.show_pin("041724")
    assert isinstance(refused, DoorRefusal)
    assert refused.told == "That is not the PIN of this id. 4 more tries before a wait."
    assert door.asks is DoorAsks.PIN
    let_in = door.show_pin(IDA)
    assert isinstance(let_in, Admission)
    assert "handed in" in let_in.told
    assert let_in.whose == "You are s01, Ida Example."
    assert door.asks is DoorAsks.BEGIN
    assert opened(door.read_result()).code == first.code
    door.enter("s02")
    assert door.asks is DoorAsks.PIN, "another student is asked for another PIN"


def test_a_pin_is_asked_for_to_begin_to_go_on_and_on_another_computer(tmp_path: Path) -> None:
    path, cards = a_class(tmp_path)
    pins = pins_in(tmp_path)
    door = door_of(path)
    door.enter("s01")
    door.show_pin(IDA)
    sitting = opened(door.begin())
    sitting.pause()
    again = door_of(path)
    again.enter("s01")
    assert again.asks is DoorAsks.PIN
    again.show_pin(word_on(cards))
    sitting = opened(again.begin())
    sitting.hand_in()
    lines = fields_in(sitting.place)
    assert lines[0]["pin"] == pins.mark("s01")
    assert [line["pin"] for line in lines if line["kind"] == "resumed"] == [BY_TEACHER]
    drill = read_drill(path, SHELF.problems)
    assert mark_record(drill, CATALOGUE, "", sitting.place.read_bytes()).remarks == (LET_IN,)


@pytest.mark.parametrize(
    ("pin", "remarks"), [("", (NO_PIN,)), ("f" * 16, (OTHER_PIN,)), (BY_TEACHER, (LET_IN,))]
)
def test_a_record_begun_otherwise_is_remarked_on(
    pin: str, remarks: tuple[str, ...], tmp_path: Path
) -> None:
    path, _ = a_class(tmp_path)
    drill = read_drill(path, SHELF.problems)
    sitting = Sitting.start(drill, CATALOGUE, "s01", tmp_path / "share", pin)
    sitting.hand_in()
    data = sitting.place.read_bytes()
    assert mark_record(drill, CATALOGUE, "", data).remarks == remarks
    lost = replace(drill, pins=Pins())
    told = tuple(one for one in remarks if one != OTHER_PIN)
    assert mark_record(lost, CATALOGUE, "", data).remarks == told, "without the file of hashes"
    assert mark_record(replace(drill, pins=None), CATALOGUE, "", data).remarks == ()


def test_after_five_wrong_pins_there_is_a_wait_that_outlives_the_program(tmp_path: Path) -> None:
    path, cards = a_class(tmp_path)
    for left in (4, 3, 2, 1):
        door = door_of(path)
        door.enter("s01")
        refused = door.show_pin("1234")
        assert isinstance(refused, DoorRefusal)
        assert f" {left} more tr" in refused.told
    door.show_pin("1234")
    again = door_of(path)
    again.enter("S01")
    refused = again.show_pin(IDA)
    assert isinstance(refused, DoorRefusal), "not even the right one is looked at"
    assert refused.told == "Too many wrong PINs: wait 5 minutes, or ask your teacher to let you in."
    again.enter("s02")
    assert isinstance(again.show_pin(ODO), Admission), "it is this student's wait alone"
    again.enter("s01")
    assert isinstance(again.show_pin(word_on(cards)), Admission)
    assert isinstance(again.enter("s01"), Sitting)


def test_a_wait_ends_and_a_clock_that_is_set_back_makes_it_no_longer() -> None:
    for _ in range(MOST_WRONG):
        assert seconds_to_wait("levers", "s01", NOW) == 0
        note_wrong("levers", "S01", NOW)
    assert seconds_to_wait("levers", "s01", NOW) == WAIT.total_seconds()
    assert seconds_to_wait("other", "s01", NOW) == 0
    assert seconds_to_wait("levers", "s01", NOW + WAIT) == 0
    back = NOW - timedelta(days=400)
    assert seconds_to_wait("levers", "s01", back) == WAIT.total_seconds()
    assert seconds_to_wait("levers", "s01", back + WAIT) == 0
    for _ in range(MOST_WRONG - 1):
        note_wrong("levers", "s01", NOW + WAIT)
    assert seconds_to_wait("levers", "s01", NOW + WAIT) == 0
    note_wrong("levers", "s01", NOW + WAIT)
    assert seconds_to_wait("levers", "s01", NOW + WAIT) == WAIT.total_seconds()
    note_right("levers", "s01")
    assert seconds_to_wait("levers", "s01", NOW + WAIT) == 0


@pytest.mark.parametrize("kept", ["", "[]", "{", '{"levers s01": [5]}', "[" * 9999, "\0"])
def test_whatever_is_kept_of_tries_lets_nobody_in_and_keeps_nobody_out(
    kept: str, home: Path
) -> None:
    home.mkdir()
    (home / "pin-tries.json").write_text(kept, "utf-8")
    assert seconds_to_wait("levers", "s01", NOW) == 0
    note_wrong("levers", "s01", NOW)
    assert json.loads((home / "pin-tries.json").read_text("utf-8"))["levers s01"][0] == 1


def test_who_has_no_pin_is_let_in_by_the_teacher_alone(tmp_path: Path) -> None:
    path, cards = a_class(tmp_path)
    (tmp_path / "roster.csv").unlink()
    drill = read_drill(path, SHELF.problems, roster_needed=False)
    door = DoorDialogue(drill, CATALOGUE, path, tmp_path / "share")
    reply = door.enter("s44")
    assert isinstance(reply, Admission)
    assert reply.told == "There is no PIN for this id: ask your teacher to let you in."
    assert isinstance(door.show_pin(IDA), DoorRefusal)
    assert isinstance(door.show_pin(word_on(cards)), Admission)


def test_without_the_file_of_hashes_nobody_is_let_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, cards = a_class(tmp_path)
    (tmp_path / PINS).unlink()
    capsys.readouterr()
    assert main(["vet", str(path)]) == 0
    assert "remark: pins.toml: it is not beside the drill" in capsys.readouterr().out
    door = door_of(path)
    reply = door.enter("s01")
    assert isinstance(reply, Admission)
    assert reply.told == "The file pins.toml is not beside the drill: ask your teacher for it."
    for typed in (IDA, word_on(cards), ""):
        assert isinstance(door.show_pin(typed), DoorRefusal)


def test_a_pin_is_asked_for_unseen_line_by_line(tmp_path: Path) -> None:
    path, _ = a_class(tmp_path)
    student = Student(["s01", "0000", "", IDA, "", "stop"])
    student.sits(path)
    asks = "Your PIN, or stop: "
    assert student.said.count(asks) == 3
    first = student.said.index(asks)
    assert not any("Ida Example" in line for line in student.said[:first])
    assert student.heard("You are s01, Ida Example.")
    leaves = Student(["s02", "stop"])
    leaves.sits(path)
    assert leaves.said[-1] == "You have left; nothing was begun or changed."
    unseen = Student([IDA])
    seen = Student(["stop"])
    drill: Drill = read_drill(path, SHELF.problems)
    entrance = (path, "s01", None)
    sit(
        drill, CATALOGUE, entrance, seen.said.append, seen.listen, lambda _: None,
        listen_unseen=unseen.listen,
    )  # fmt: skip
    assert unseen.said == [asks]


async def test_a_pin_is_asked_for_unseen_on_the_full_screen(tmp_path: Path) -> None:
    path, _ = a_class(tmp_path)
    app = app_at(path, "s01")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        field = app.screen.query_one("#pin", Input)
        assert app.focused is field
        assert "Ida Example" not in text_of(app.screen, "#whose")
        field.value = "9876"
        await settle(pilot)
        assert "9876" not in all_text(pilot)
        await press(pilot, "enter")
        assert "4 more tries before a wait." in text_of(app.screen, "#whose")
        assert field.value == ""
        field.value = IDA
        await press(pilot, "enter")
        assert text_of(app.screen, "#whose").startswith("You are s01, Ida Example.")
        assert not app.screen.query_one("#let-in").display
        await press(pilot, "enter")
        (line, *_) = fields_in(drill_screen(pilot).sitting.place)
        assert line["pin"] == pins_in(tmp_path).mark("s01")
