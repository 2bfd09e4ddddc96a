"""The note beside a record: what it says, whatever stands in it, and that nothing rests on it."""

from __future__ import annotations

import errno
import json
import threading
from pathlib import Path

import pytest
from helpers.drills import right_entry
from helpers.material import CATALOGUE
from leverstep.bench.kept_workings import kept_workings, unfinished
from leverstep.bench.practice import Practice
from leverstep.bench.record_note import (
    LONGEST_TYPED,
    NOTHING_NOTED,
    HalfTyped,
    NoteText,
    RecordNote,
)
from leverstep.course.shelf import load_shelf

SHELF = load_shelf()
BARROW = SHELF.problems["plain-wheelbarrow"]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    return tmp_path


def begun() -> Practice:
    return Practice.start(BARROW, "1", CATALOGUE)


def note_of(practice: Practice) -> RecordNote:
    assert practice.place is not None
    return RecordNote(practice.place)


def test_a_note_says_how_far_a_working_came_and_goes_at_its_end(home: Path) -> None:
    practice = begun()
    practice.enter("W_s", "5.00 N")
    assert note_of(practice).noted == NoteText(0, len(practice.working.asked))
    practice.enter("W_s", "529.7 N")
    assert note_of(practice).noted.done == 1
    for step in practice.working.steps:
        practice.enter(step.key, right_entry(practice, step))
    assert practice.working.complete
    assert list((home / "notes").iterdir()) == []
    assert kept_workings(SHELF).done == {BARROW.id}


def test_what_is_taken_off_the_list_is_kept_and_comes_back_when_it_is_gone_on_with() -> None:
    practice = begun()
    practice.enter("W_s", "5.00 N")
    note_of(practice).hide(True)
    kept = kept_workings(SHELF)
    assert (kept.unfinished, [one.path for one in kept.hidden]) == ((), [practice.place])
    assert practice.place is not None
    Practice.resume(practice.place, SHELF, CATALOGUE)
    assert [one.path for one in unfinished(SHELF)] == [practice.place]


def test_a_working_of_which_nothing_but_half_a_line_was_typed_can_be_gone_on_with() -> None:
    practice = begun()
    assert unfinished(SHELF) == []
    note_of(practice).keep_typed([HalfTyped("12.5 lb *", "W_s")])
    (found,) = unfinished(SHELF)
    assert found.noted.typed == (HalfTyped("12.5 lb *", "W_s"),)


@pytest.mark.parametrize(
    "text",
    [
        "", "{", "[]", "5", "\0", '{"typed": 5}', '{"typed": [5, {}, {"text": " "}, {"text": 5}]}',
        '{"done": 3, "asked": 2}', '{"done": -1, "asked": 2}', '{"done": true, "asked": 2}',
        '{"done": 1}', '{"hidden": "yes"}', "[" * 100_000, '{"typed": [{"text": "a", "task": -1}]}',
    ],
)  # fmt: skip
def test_a_note_that_makes_no_sense_says_nothing(text: str, home: Path) -> None:
    (home / "notes").mkdir()
    (home / "notes" / "one.jsonl.json").write_text(text, "utf-8")
    assert RecordNote(Path("one.jsonl")).noted == NOTHING_NOTED


def test_a_hostile_text_in_a_note_is_made_plain_and_short(home: Path) -> None:
    typed = [{"text": "5\x1b[2J\n\u202e N" + "x" * 10_000, "step": "W_s"}]
    (home / "notes").mkdir()
    (home / "notes" / "one.jsonl.json").write_text(json.dumps({"typed": typed}), "utf-8")
    (found,) = RecordNote(Path("one.jsonl")).noted.typed
    assert found.text.isprintable()
    assert len(found.text) == LONGEST_TYPED


def test_a_note_that_is_a_link_is_not_followed_to_be_written(home: Path) -> None:
    (home / "notes").mkdir()
    (home / "other").write_text("mine", "utf-8")
    (home / "notes" / "one.jsonl.json").symlink_to(home / "other")
    RecordNote(Path("one.jsonl")).hide(True)
    assert (home / "other").read_text("utf-8") == "mine"
    assert RecordNote(Path("one.jsonl")).noted.hidden


def test_a_full_disk_costs_the_note_alone(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    practice = begun()
    practice.enter("W_s", "5.00 N")
    note = note_of(practice)

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "the disk is full")

    with monkeypatch.context() as patch:
        patch.setattr("leverstep.course.sharing.put", full)
        note.keep_typed([HalfTyped("12.5")])
        note.hide(True)
    assert note_of(practice).noted == NoteText(0, len(practice.working.asked))
    assert len(list((home / "notes").iterdir())) == 1, "no draft is left"
    assert practice.enter("W_s", "529.7 N").settled


def test_nothing_is_mixed_where_two_threads_write_a_note() -> None:
    note = RecordNote(Path("one.jsonl"))
    texts = [HalfTyped(f"text {number}") for number in range(20)]
    threads = [threading.Thread(target=note.keep_typed, args=([text],)) for text in texts]
    threads += [threading.Thread(target=note.keep_far, args=(number, 20)) for number in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert RecordNote(Path("one.jsonl")).noted == note.noted
    assert note.noted.asked == 20
    assert note.noted.typed[0] in texts


def test_a_note_changes_nothing_of_its_record() -> None:
    practice = begun()
    practice.enter("W_s", "5.00 N")
    assert practice.place is not None
    before = practice.place.read_bytes()
    note_of(practice).keep_typed([HalfTyped("529.7 N", "W_s")])
    assert practice.place.read_bytes() == before
    assert Practice.resume(practice.place, SHELF, CATALOGUE).working.attempts == {"W_s": 1}
