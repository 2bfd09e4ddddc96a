"""The dialogue at the door of a drill, driven without any face."""

from __future__ import annotations

from pathlib import Path

import pytest
from helpers.drills import SHELF, Disk, drill_file, drill_with
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.dialogue.admission import Admission
from leverstep.dialogue.door_dialogue import (
    MEANWHILE,
    DoorAsks,
    DoorDialogue,
    DoorRefusal,
    DoorReply,
)
from leverstep.drill.begun import drills_begun
from leverstep.drill.drill_file import read_drill
from leverstep.drill.sitting import Sitting
from leverstep.drill.start_word import NOT_THE_WORD, lock_of

WORD = "blue heron"


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture(scope="module")
def lock() -> str:
    """Return a rule with a start word, made once since that is slow."""
    return f'start_word = "{lock_of(WORD)}"'


def door_of(folder: Path, rules: str = "") -> DoorDialogue:
    """Return the door of a drill with records in a folder beside its file."""
    path = drill_file(folder, rules)
    return DoorDialogue(read_drill(path, SHELF.problems), CATALOGUE, path, folder / "share")


def known(reply: DoorReply) -> Admission:
    assert isinstance(reply, Admission)
    return reply


def opened(reply: DoorReply) -> Sitting:
    assert isinstance(reply, Sitting)
    return reply


def refused(reply: DoorReply | None) -> DoorRefusal:
    assert isinstance(reply, DoorRefusal)
    return reply


def records(folder: Path) -> list[Path]:
    return sorted(folder.rglob("s01-*.jsonl"))


# Who it is.


def test_an_id_is_recognised_first_and_begins_when_it_is_entered_again(tmp_path: Path) -> None:
    door = door_of(tmp_path)
    assert door.asks is DoorAsks.STUDENT
    admitted = known(door.enter(" S01 "))
    assert (admitted.whose, admitted.does) == ("You are s01, Ida Example.", "begins")
    assert door.asks is DoorAsks.BEGIN
    assert not records(tmp_path)
    sitting = opened(door.enter("S01"))
    assert (sitting.student, sitting.place.parent) == ("s01", tmp_path / "share" / "levers")
    assert [one.path for one in drills_begun()] == [tmp_path / "levers.toml"]
    sitting.pause()
    again = door_of(tmp_path)
    admitted = known(again.enter("s01"))
    assert admitted.does == "goes on"
    assert admitted.told.startswith("You have a sitting that is not handed in yet.")
    assert opened(again.begin()).place == sitting.place


def test_another_id_is_recognised_anew_and_begins_nothing(tmp_path: Path) -> None:
    door = door_of(tmp_path)
    door.enter("s01")
    assert door.is_known("s01 ")
    assert not door.is_known("s02")
    assert known(door.enter("s02")).whose == "You are s02, Odo Example."
    door.forget()
    assert (door.known, door.asks) == (None, DoorAsks.STUDENT)
    assert not door.is_known("s02")
    known(door.enter("s02"))
    assert not list(tmp_path.rglob("*.jsonl"))


@pytest.mark.parametrize(
    ("rules", "typed", "told", "is_of_id"),
    [
        ("", "s09", "This id is not on the list for this drill.", True),
        ("", "", "A student's id is 1 to 40 printable characters.", True),
        ("opens = 2999-03-01T09:00:00Z", "s01", "This drill opens on ", False),
        ("closes = 2001-03-01T09:00:00Z", "s01", "This drill closed on ", False),
    ],
)
def test_who_is_not_admitted_is_told_why(
    rules: str, typed: str, told: str, is_of_id: bool, tmp_path: Path
) -> None:
    door = door_of(tmp_path, rules)
    refusal = refused(door.enter(typed))
    assert refusal.told.startswith(told)
    assert refusal.told.lower() == f"{refusal.why}.".lower()
    assert refusal.is_of_id is is_of_id
    assert door.asks is DoorAsks.STUDENT


def test_one_id_that_is_refused_leaves_nobody_known(tmp_path: Path) -> None:
    door = door_of(tmp_path)
    door.enter("s01")
    refused(door.enter("s09"))
    assert not door.is_known("s01")
    assert known(door.enter("s01")).student == "s01"


def test_the_rules_say_how_the_face_at_hand_is_left(tmp_path: Path) -> None:
    rules = door_of(tmp_path).rules("sing", "walk away")
    assert "To hand in, sing. After that nothing can be changed." in rules
    assert "To leave, walk away: you can come back until you hand in." in rules
    assert any(str(tmp_path / "share") in rule for rule in rules)


# The start word.


def test_a_start_word_is_asked_for_to_begin_and_not_to_go_on(lock: str, tmp_path: Path) -> None:
    door = door_of(tmp_path, lock)
    admitted = known(door.enter("s01"))
    assert door.asks is DoorAsks.START_WORD
    assert door.enter("s01") == admitted, "an id alone begins nothing here"
    assert refused(door.unlock("grey wagtail")).told == NOT_THE_WORD
    assert door.asks is DoorAsks.START_WORD
    assert not records(tmp_path)
    assert door.unlock("Blue  HERON") is None
    assert door.asks is DoorAsks.BEGIN
    opened(door.begin()).pause()
    again = door_of(tmp_path, lock)
    again.enter("s01")
    assert again.asks is DoorAsks.BEGIN
    assert opened(again.enter("s01")).place == records(tmp_path)[0]


# Where the record lies.


def test_another_folder_is_asked_for_where_no_record_can_be_kept(
    tmp_path: Path, disk: Disk
) -> None:
    disk.broken.append(tmp_path / "share")
    (tmp_path / "stick").mkdir()
    door = door_of(tmp_path)
    door.enter("s01")
    refusal = refused(door.begin())
    assert door.asks is DoorAsks.FOLDER
    assert refusal.why.endswith("the disk is full")
    ask = f"Ask your teacher about the folder {tmp_path / 'share' / 'levers'}, or name another one."
    assert refusal.told == f"The record can't be saved: {refusal.why}. {ask}"
    none = refused(door.name_folder(str(tmp_path / "none")))
    assert none.why == f"there is no folder {tmp_path / 'none'}"
    assert (door.asks, records(tmp_path)) == (DoorAsks.FOLDER, [])
    assert door.name_folder(str(tmp_path / "stick")) is None
    sitting = opened(door.begin())
    assert sitting.folder == tmp_path / "stick"
    assert [one.folder for one in drills_begun()] == [tmp_path / "stick"]


def test_in_a_folder_of_the_users_own_no_teacher_is_to_be_asked(
    tmp_path: Path, disk: Disk, home: Path
) -> None:
    disk.broken.append(home)
    door = DoorDialogue(drill_with(), CATALOGUE, tmp_path / "levers.toml", None)
    door.enter("s01")
    refusal = refused(door.begin())
    assert refusal.told == f"The record can't be saved: {refusal.why}."


def test_the_same_folder_is_tried_again_and_no_copy_is_made_of_the_record(
    tmp_path: Path, disk: Disk
) -> None:
    door = door_of(tmp_path)
    door.enter("s01")
    first = opened(door.begin())
    first.pause()
    disk.broken.append(tmp_path / "share")
    again = door_of(tmp_path)
    again.enter("s01")
    refused(again.begin())
    disk.broken.clear()
    assert again.name_folder(" ") is None
    assert opened(again.enter("s01")).place == first.place
    assert records(tmp_path) == [first.place]
    assert [line["kind"] for line in fields_in(first.place)] == ["drill", "away", "resumed"]


def test_who_is_another_is_not_asked_for_the_folder_of_the_first(
    tmp_path: Path, disk: Disk
) -> None:
    disk.broken.append(tmp_path / "share")
    door = door_of(tmp_path)
    door.enter("s01")
    refused(door.begin())
    known(door.enter("s02"))
    assert door.asks is DoorAsks.BEGIN


# A second window, and results.


@pytest.mark.parametrize("locked", [False, True])
def test_who_has_begun_in_a_second_window_begins_no_second_sitting(
    locked: bool, lock: str, tmp_path: Path
) -> None:
    door = door_of(tmp_path, lock if locked else "")
    door.enter("s01")
    assert not locked or door.unlock(WORD) is None
    first = Sitting.start(door.drill, CATALOGUE, "s01", tmp_path / "share")
    again = known(door.begin())
    assert again.told.startswith(f"{MEANWHILE} You have a sitting that is not handed in yet.")
    assert (again.does, door.asks) == ("goes on", DoorAsks.BEGIN)
    assert records(tmp_path) == [first.place]
    assert opened(door.begin()).place == first.place


def test_what_was_handed_in_meanwhile_does_not_go_on(tmp_path: Path) -> None:
    first = Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path / "share")
    door = door_of(tmp_path)
    door.enter("s01")
    first.hand_in()
    refusal = refused(door.begin())
    assert (refusal.told, refusal.is_of_id) == ("This sitting has been handed in.", False)
    assert door.asks is DoorAsks.STUDENT


def test_a_result_is_read_again_also_where_nothing_may_be_begun(tmp_path: Path) -> None:
    first = Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path / "share")
    first.hand_in()
    before = first.place.read_bytes()
    for rules, asks in (("", DoorAsks.BEGIN), ("sittings = 1", DoorAsks.NOTHING)):
        door = door_of(tmp_path, rules)
        admitted = known(door.enter("s01"))
        assert door.asks is asks
        sitting = opened(door.read_result())
        assert (sitting.ended, sitting.code) == (True, first.code)
        assert door.asks is asks
        if asks is DoorAsks.NOTHING:
            assert door.enter("s01") == admitted
    assert first.place.read_bytes() == before
    assert records(tmp_path) == [first.place]


def test_a_result_that_is_gone_is_told_and_a_sitting_may_be_begun_still(tmp_path: Path) -> None:
    first = Sitting.start(drill_with(), CATALOGUE, "s01", tmp_path / "share")
    first.hand_in()
    door = door_of(tmp_path)
    door.enter("s01")
    first.place.unlink()
    refusal = refused(door.read_result())
    assert str(first.place) in refusal.told
    assert door.asks is DoorAsks.BEGIN
    opened(door.begin())
