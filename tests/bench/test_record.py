"""The record of a sitting: what was typed is on the disk before anything is made of it."""

from __future__ import annotations

import errno
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from helpers.drill_sittings import chain
from helpers.material import CATALOGUE
from helpers.records import fields_in
from helpers.source import SOURCE
from helpers.step_lines import right_line
from leverstep.bench.contents import LONGEST_LINE, MOST_LINES, contents
from leverstep.bench.kept_workings import Unfinished, unfinished
from leverstep.bench.practice import Practice
from leverstep.bench.record import LARGEST_RECORD, Record, RecordError, read_record
from leverstep.bench.record_lines import (
    DrillBegun,
    EntryLine,
    PracticeBegun,
    WrittenLine,
    fields_of,
)
from leverstep.bench.record_note import NoteText
from leverstep.course.faults import Fault, FileError
from leverstep.course.problem import Problem
from leverstep.course.shelf import Problems, Shelf, load_shelf
from leverstep.working.guidance import Guidance
from leverstep.working.own import OwnError, read_own
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working

SHELF = load_shelf()
BARROW = SHELF.problems["plain-wheelbarrow"]
FIRST = PracticeBegun(problem=BARROW.id, seed="1")


@pytest.fixture
def practice(tmp_path: Path) -> Practice:
    """Return a new practice of the barrow, always with the same numbers."""
    return Practice.start(BARROW, "1", CATALOGUE, tmp_path)


def place_of(practice: Practice) -> Path:
    """Return where a practice lies that has a record."""
    assert practice.place is not None
    return practice.place


def entries(path: Path) -> list[object]:
    """Return the texts of all entries of a record."""
    return [line.text for line in read_record(path) if isinstance(line, EntryLine)]


def work_to_the_end(practice: Practice) -> None:
    """Enter the right answer on every line that is not right yet."""
    while (step := practice.working.current()) is not None:
        practice.enter(step.key, right_line(practice.question, step))


def broken(error: int) -> Callable[..., int]:
    """Return a call of the system that fails."""

    def call(*_: Any) -> int:
        raise OSError(error, os.strerror(error))

    return call


def short_write(descriptor: int, data: bytes, write: Callable[..., int] = os.write) -> int:
    """Write a few bytes only, as on a disk that fills up."""
    return write(descriptor, data[:7])


FAILURES = {
    "the disk takes a part": ("write", short_write),
    "the disk is full": ("write", broken(errno.ENOSPC)),
    "the disk cannot be written": ("write", broken(errno.EIO)),
    "the disk does not flush": ("fsync", broken(errno.EIO)),
}


@pytest.fixture(params=FAILURES)
def failing(request: pytest.FixtureRequest) -> tuple[str, Callable[..., int]]:
    """Return a call of the system, by name, and what it does on a failing disk."""
    return FAILURES[request.param]


def test_an_entry_is_on_the_disk_before_it_is_judged(
    practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    judge, seen = Working.enter, []

    def look_then_judge(working: Working, key: str, text: str) -> Verdict:
        seen.append(read_record(place_of(practice))[-1])
        return judge(working, key, text)

    monkeypatch.setattr(Working, "enter", look_then_judge)
    typed = [("W_s", "529.7 N"), ("W_b", "rubbish"), ("W_b", "5 N")]
    for key, text in typed:
        practice.enter(key, text)
    times = [line.time for line in seen]
    assert seen == [
        EntryLine(time=time, step=key, text=text)
        for time, (key, text) in zip(times, typed, strict=True)
    ]


def test_an_entry_is_flushed_to_the_disk_before_it_is_judged(
    practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls = []
    flush, judge = os.fsync, Working.enter
    monkeypatch.setattr(os, "fsync", lambda fd: (calls.append("flush"), flush(fd)))
    monkeypatch.setattr(Working, "enter", lambda *a: (calls.append("judge"), judge(*a))[1])
    practice.enter("W_s", "529.7 N")
    assert calls == ["flush", "judge"]


def test_the_first_line_says_what_was_shown(practice: Practice) -> None:
    first = fields_in(place_of(practice))[0]
    assert (first["problem"], first["seed"], first["format"]) == (BARROW.id, "1", 1)
    assert first["givens"] == {
        given.key: practice.question.written(given) for given in practice.question.givens
    }


def test_a_record_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "new folder" / "one.jsonl"
    Record.create(path, FIRST)
    with pytest.raises(RecordError, match="File exists"):
        Record.create(path, DrillBegun())
    assert read_record(path) == (FIRST,)


def test_a_record_is_for_its_owner_alone(practice: Practice) -> None:
    assert os.name == "nt" or place_of(practice).stat().st_mode & 0o077 == 0


def test_any_text_comes_back_as_it_was_typed(tmp_path: Path) -> None:
    record = Record.create(tmp_path / "one.jsonl", FIRST)
    texts = ["θ = 35°", "a\nb\r\u2028c", '"\\', "\x00\x1b", "\udcff", "𝟙"]
    for text in texts:
        record.append(EntryLine(text=text))
    assert entries(record.path) == texts


def test_a_record_cut_anywhere_keeps_its_whole_lines_and_grows_on(
    practice: Practice, tmp_path: Path
) -> None:
    typed = {"W_s": "529.7 N", "W_b": "98.1 N", "d_s": "0.425 m"}
    for key, text in typed.items():
        practice.enter(key, text)
    data = place_of(practice).read_bytes()
    cut = tmp_path / "cut.jsonl"
    for size in range(data.index(b"\n") + 1, len(data) + 1):
        cut.write_bytes(data[:size])
        whole = list(typed.values())[: data[:size].count(b"\n") - 1]
        resumed = Practice.resume(cut, SHELF, CATALOGUE)
        assert [line.text for line in resumed.working.lines.values()] == whole
        Record.reopen(cut).append(EntryLine(text="more"))
        assert entries(cut) == [*whole, "more"]


def test_a_record_cut_within_its_first_line_is_no_record(
    practice: Practice, tmp_path: Path
) -> None:
    data = place_of(practice).read_bytes()
    cut = tmp_path / "cut.jsonl"
    for size in range(len(data)):
        cut.write_bytes(data[:size])
        with pytest.raises(RecordError, match="not a record of practice"):
            Practice.resume(cut, SHELF, CATALOGUE)
    assert cut.read_bytes() == data[:-1], "a file that is no record is left as it is"


GARBAGE = [
    b"",
    b"not json",
    b"{",
    b"[]",
    b"5",
    b"null",
    b"\xff\xfe",
    b"[" * 5000,
    b"1" * 5000,
    b'{"kind": "entry"}',
    b'{"kind": "entry", "step": "W_s"}',
    b'{"kind": "entry", "step": "W_s", "text": 5}',
    b'{"kind": "entry", "step": ["W_s"], "text": "5 N"}',
    b'{"kind": "entry", "step": "Q", "text": "5 N"}',
    b'{"kind": ["entry"], "step": "W_s", "text": "5 N"}',
    b'{"kind": "leave", "step": null}',
    b'{"kind": "hint", "step": {}}',
    b'{"kind": "unheard of", "step": "W_s"}',
    b'{"kind": "entry", "step": "W_s", "text": "5 N", "more": "%s"}' % (b"5" * LONGEST_LINE),
]


@pytest.mark.parametrize("garbage", GARBAGE, ids=lambda piece: repr(piece[:40]))
def test_a_line_that_makes_no_sense_is_passed_over(practice: Practice, garbage: bytes) -> None:
    practice.enter("W_s", "529.7 N")
    path = place_of(practice)
    with path.open("ab") as file:
        file.write(garbage + b"\n")
    Record.reopen(path).append(EntryLine(step="W_b", text="98.1 N"))
    resumed = Practice.resume(path, SHELF, CATALOGUE)
    assert {key: line.text for key, line in resumed.working.lines.items()} == {
        "W_s": "529.7 N",
        "W_b": "98.1 N",
    }
    assert resumed.working.left == set()
    assert [found.path for found in unfinished(SHELF, path.parent)] == [path]


@pytest.mark.parametrize(
    "change",
    [
        {"kind": "other"}, {"problem": 5}, {"problem": "gone"}, {"seed": 1}, {"seed": None},
        {"seed": ""}, {"seed": "x" * 25}, {"seed": "a\tb"}, {"format": 2}, {"format": "1"},
    ],
)  # fmt: skip
def test_a_file_that_is_no_practice_is_not_opened(
    tmp_path: Path, change: dict[str, object]
) -> None:
    path = tmp_path / "one.jsonl"
    first = fields_of(FIRST) | change
    path.write_bytes(chain([first, {"kind": "entry", "step": "W_s", "text": "5 N"}]))
    with pytest.raises(RecordError):
        Practice.resume(path, SHELF, CATALOGUE)
    assert unfinished(SHELF, tmp_path) == []


def test_a_practice_whose_problem_was_broken_since_is_not_opened(practice: Practice) -> None:
    """The fault of its file is told, and the lists leave it out."""
    path = place_of(practice)
    practice.enter("W_s", "5 N")

    def broken_file() -> Problem:
        raise FileError([Fault("plain-wheelbarrow.toml", "", "no TOML", "a TOML file")])

    shelf = replace(SHELF, problems=Problems({BARROW.id: broken_file}))
    with pytest.raises(RecordError, match=re.escape("plain-wheelbarrow.toml: no TOML")):
        Practice.resume(path, shelf, CATALOGUE)
    assert unfinished(shelf, path.parent) == []
    assert [found.path for found in unfinished(SHELF, path.parent)] == [path]


def test_a_line_too_long_to_be_read_again_is_refused(practice: Practice) -> None:
    before = place_of(practice).read_bytes()
    verdict = practice.enter("W_s", "5" * LONGEST_LINE)
    assert verdict.outcome is Outcome.UNREAD
    assert "too long" in practice.trouble
    assert place_of(practice).read_bytes() == before


def test_a_file_too_large_for_a_record_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "large.jsonl"
    with path.open("wb") as file:
        file.truncate(LARGEST_RECORD + 1)
    with pytest.raises(RecordError, match="too large"):
        read_record(path)


def test_a_record_that_is_gone_says_so(tmp_path: Path) -> None:
    path = tmp_path / "gone.jsonl"
    for use in (read_record, Record.reopen, lambda path: Record(path).append(FIRST)):
        with pytest.raises(RecordError, match="No such file"):
            use(path)
    assert not path.exists()


def test_a_line_that_cannot_be_written_whole_leaves_the_record_as_it_was(
    tmp_path: Path, failing: tuple[str, Callable[..., int]], monkeypatch: pytest.MonkeyPatch
) -> None:
    record = Record.create(tmp_path / "one.jsonl", FIRST)
    before = record.path.read_bytes()
    with monkeypatch.context() as disk:
        disk.setattr(os, *failing)
        with pytest.raises(RecordError, match=re.escape(str(record.path))):
            record.append(EntryLine(text="5 N"))
    assert record.path.read_bytes() == before
    record.append(EntryLine(text="6 N"))
    assert entries(record.path) == ["6 N"]


def test_a_record_that_cannot_be_begun_leaves_no_file(
    tmp_path: Path, failing: tuple[str, Callable[..., int]], monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as disk:
        disk.setattr(os, *failing)
        practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path)
    assert practice.trouble
    assert practice.place is None
    assert list(tmp_path.iterdir()) == []


def test_on_a_failing_disk_the_verdict_is_given_and_the_trouble_told(
    practice: Practice, failing: tuple[str, Callable[..., int]], monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as disk:
        disk.setattr(os, *failing)
        assert practice.enter("W_s", "529.7 N").outcome is Outcome.RIGHT
        assert str(place_of(practice)) in practice.trouble
        assert not practice.saved
    practice.enter("W_b", "98.1 N")
    assert practice.saved
    assert entries(place_of(practice)) == ["529.7 N", "98.1 N"], "what failed is written later"


def test_without_a_folder_the_practice_goes_on_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("no folder", "utf-8")
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "file" / "home"))
    practice = Practice.start(BARROW, "1", CATALOGUE)
    assert "Not a directory" in practice.trouble
    assert practice.enter("W_s", "529.7 N").outcome is Outcome.RIGHT
    assert practice.hint("W_b") is not None
    assert not practice.saved
    assert unfinished(SHELF) == []


def test_records_lie_in_the_folder_that_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path))
    assert place_of(Practice.start(BARROW, "1", CATALOGUE)).parent == tmp_path / "practice"


def test_going_on_gives_the_same_verdicts_hints_and_lines(practice: Practice) -> None:
    practice.enter("W_s", "54 N")
    practice.hint("W_s")
    practice.leave("W_s")
    practice.enter("W_b", "98.1 N")
    practice.enter("d_s", "42.5 furlongs")
    practice.hint("d_s")
    practice.hint("d_s")
    practice.enter("M_s", "-22.95 N m")
    resumed = Practice.resume(place_of(practice), SHELF, CATALOGUE)
    assert resumed.working.lines == practice.working.lines
    for key, line in practice.working.lines.items():
        found = resumed.explained(resumed.working.lines[key].verdict)
        assert found == practice.explained(line.verdict)
    assert resumed.working.lines["M_s"].verdict.outcome is Outcome.FOLLOWED
    assert resumed.explained(resumed.working.lines["W_s"].verdict).explanations
    assert resumed.working.attempts == practice.working.attempts
    assert resumed.working.left == practice.working.left == {"W_s"}
    for key in ("W_s", "W_b", "d_s"):
        assert resumed.hints_given.shown(key) == practice.hints_given.shown(key)
    assert len(resumed.hints_given.shown("d_s")) == 2
    assert resumed.hint("d_s") == practice.hint("d_s")


def test_the_hints_begin_anew_with_each_entry_that_counts(practice: Practice) -> None:
    first = [practice.hint("W_s"), practice.hint("W_s")]
    practice.enter("W_s", "rubbish")
    assert list(practice.hints_given.shown("W_s")) == first
    practice.enter("W_s", "54 N")
    assert practice.hints_given.shown("W_s") == ()
    assert practice.hint("W_s") not in first


def test_a_hint_that_was_given_on_a_line_is_not_asked_for_again(practice: Practice) -> None:
    """A second wrong entry without a known slip has the same hints as none; a slip has its own."""
    first = [practice.hint("W_s"), practice.hint("W_s")]
    practice.enter("W_s", "426.9 N")
    assert list(practice.hints_given.shown("W_s")) == first
    practice.enter("W_s", "54 N")
    slip = [practice.hint("W_s"), practice.hint("W_s")]
    practice.enter("W_s", "426.9 N")
    practice.enter("W_s", "54 N")
    assert list(practice.hints_given.shown("W_s")) == slip
    assert not set(slip) & set(first)
    assert practice.hints_given.count == 4
    assert practice.hint("W_s")
    assert practice.hint("W_s")
    assert practice.hint("W_s") is None
    practice.enter("W_s", "426.9 N")
    assert (
        len(practice.hints_given.shown("W_s")) == 4
    )  # the formula and the line worked out are the same
    assert practice.hint("W_s") is None
    assert practice.hints_given.count == 6
    assert practice.place is not None
    again = Practice.resume(practice.place, SHELF, CATALOGUE)
    assert again.hints_given.shown("W_s") == practice.hints_given.shown("W_s")
    assert again.hints_given.count == 6


def test_going_on_changes_nothing_in_the_record(practice: Practice) -> None:
    practice.enter("W_s", "54 N")
    before = place_of(practice).read_bytes()
    Practice.resume(place_of(practice), SHELF, CATALOGUE)
    assert place_of(practice).read_bytes() == before


def test_an_unfinished_practice_is_listed_with_how_far_it_came(practice: Practice) -> None:
    practice.enter("W_s", "54 N")
    practice.enter("W_s", "529.7 N")
    path = place_of(practice)
    (found,) = unfinished(SHELF, path.parent)
    given, noted = practice.question.givens_written, NoteText(1, len(practice.working.asked))
    latest = datetime.fromisoformat(str(fields_in(path)[-1]["time"]))
    assert found == Unfinished(path, BARROW, "1", 2, latest, given, False, noted)


def test_a_working_made_wrong_after_its_end_is_offered_again(practice: Practice) -> None:
    folder = place_of(practice).parent
    work_to_the_end(practice)
    assert unfinished(SHELF, folder) == []
    practice.enter("W_s", "5.00 N")
    assert len(unfinished(SHELF, folder)) == 1
    practice.enter("W_s", "529.7 N")
    assert unfinished(SHELF, folder) == []


def test_what_is_finished_or_not_begun_is_not_listed(practice: Practice) -> None:
    folder = place_of(practice).parent
    assert unfinished(SHELF, folder) == [], "nothing was entered yet"
    practice.enter("W_s", "54 N")
    assert len(unfinished(SHELF, folder)) == 1
    work_to_the_end(practice)
    assert unfinished(SHELF, folder) == []
    assert [line.kind for line in read_record(place_of(practice))].count("end") == 1


def test_what_cannot_be_opened_is_not_listed(practice: Practice) -> None:
    practice.enter("W_s", "54 N")
    folder = place_of(practice).parent
    (folder / "folder.jsonl").mkdir()
    (folder / "empty.jsonl").touch()
    (folder / "notes.txt").write_text("notes", "utf-8")
    assert [found.path for found in unfinished(SHELF, folder)] == [place_of(practice)]
    assert unfinished(Shelf((), {}, ()), folder) == []
    assert unfinished(SHELF, folder / "nowhere") == []


def test_the_latest_practice_is_listed_first(tmp_path: Path) -> None:
    for name in ("20250102T", "20260102T", "20250103T"):
        record = Record.create(tmp_path / f"{name}.jsonl", FIRST)
        record.append(EntryLine(step="W_s", text="5 N"))
    listed = [found.path.stem for found in unfinished(SHELF, tmp_path)]
    assert listed == ["20260102T", "20250103T", "20250102T"]


KEEP_UNTIL_KILLED = """
import itertools, sys
from pathlib import Path

folder = Path(sys.argv[1])
if sys.argv[2] == "practice":
    from leverstep.bench.practice import Practice
    from leverstep.course.libraries import Libraries
    from leverstep.faces.material import Material

    there = Material(Libraries())
    barrow = there.shelf.problems["plain-wheelbarrow"]
    practice = Practice.start(barrow, "1", there.catalogue, folder)
    keep = lambda text: practice.enter("W_s", text)
else:
    from leverstep.bench.record import Record
    from leverstep.bench.record_lines import EntryLine, PracticeBegun

    record = Record.create(folder / "one.jsonl", PracticeBegun())
    keep = lambda text: record.append(EntryLine(text=text))
for number in itertools.count(1000):
    keep(f"{number} furlongs")
    print(number, flush=True)
"""


@pytest.mark.parametrize(("kept_by", "rounds"), [("practice", 1), ("record", 10)])
def test_nothing_is_lost_that_was_acknowledged_before_the_program_is_killed(
    kept_by: str, rounds: int, tmp_path: Path
) -> None:
    for number in range(1, rounds + 1):
        folder = tmp_path / str(number)
        program = subprocess.Popen(
            [sys.executable, "-c", KEEP_UNTIL_KILLED, str(folder), kept_by],
            stdout=subprocess.PIPE,
            env=os.environ | {"PYTHONPATH": str(SOURCE)},
        )
        assert program.stdout is not None
        for place in range(7 * number):
            assert program.stdout.readline().split() == [b"%d" % (1000 + place)]
        program.kill()
        told = 7 * number + program.communicate()[0].count(b"\n")
        (path,) = folder.iterdir()
        kept = entries(path)
        assert kept == [f"{1000 + place} furlongs" for place in range(len(kept))]
        assert told <= len(kept) <= told + 1


def test_a_killed_practice_can_be_gone_on_with(practice: Practice) -> None:
    practice.enter("W_s", "529.7 N")
    with place_of(practice).open("ab") as file:
        file.write(json.dumps({"kind": "entry", "step": "W_b"})[:20].encode())
    (found,) = unfinished(SHELF, place_of(practice).parent)
    resumed = Practice.resume(found.path, SHELF, CATALOGUE)
    work_to_the_end(resumed)
    assert resumed.working.complete
    assert Practice.resume(found.path, SHELF, CATALOGUE).working.lines == resumed.working.lines


TWO_ENDS = SHELF.problems["elbow-both-attachments"]


def test_numbers_of_the_own_body_are_kept_and_gone_on_with(tmp_path: Path) -> None:
    own = read_own(TWO_ENDS, ["m_b = 154 lb; L = 26,5"])
    practice = Practice.start(TWO_ENDS, "3", CATALOGUE, tmp_path, own)
    assert "a mass of 69.853 kg" in practice.question.statement
    assert "26.5 cm long" in practice.question.statement
    practice.enter("m_f", "1.537 kg")
    again = Practice.resume(place_of(practice), SHELF, CATALOGUE)
    assert again.question.numbers == practice.question.numbers
    assert again.working.lines["m_f"].verdict.outcome is Outcome.RIGHT
    assert [one.path for one in unfinished(SHELF, tmp_path)] == [place_of(practice)]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("m_b = 20 kg", "m_b of 20 kg is outside 35 to 150 kg"),
        ("L = 5 kg", 'L is asked for in "cm"'),
        ("m_l = 3", "is not a number you can give here"),
        ("rubbish", "is not a number you can give here"),
        ("L =", "L: nothing was typed"),
        ("L = 26 pc", "L: pc is not a unit of this course"),
        ("m_b = 1e999", "m_b: "),
    ],
)
def test_an_own_number_that_is_not_plausible_is_refused(typed: str, said: str) -> None:
    with pytest.raises(OwnError) as caught:
        read_own(TWO_ENDS, [typed])
    assert said in str(caught.value)


@pytest.mark.parametrize("own", [3, {"m_b": "x"}, {"m_b": "1/0"}, {"m_b": "999"}, {"W_l": "3"}])
def test_a_record_with_impossible_own_numbers_is_refused(own: object, tmp_path: Path) -> None:
    practice = Practice.start(TWO_ENDS, "3", CATALOGUE, tmp_path)
    first = {**fields_in(place_of(practice))[0], "own": own}
    (tmp_path / "other.jsonl").write_bytes(chain([first]))
    with pytest.raises(RecordError):
        Practice.resume(tmp_path / "other.jsonl", SHELF, CATALOGUE)


@pytest.mark.parametrize("guidance", [*Guidance])
def test_a_working_that_is_gone_on_with_keeps_its_guidance(
    guidance: Guidance, tmp_path: Path
) -> None:
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path, guidance=guidance, stage=1)
    for text in ("W_s = 54 N", "2 = 2", "0 = -W_s*d_s", "second", "-5.00 N·m"):
        practice.write(text)
    practice.hint(practice.hint_line())
    practice.leave(practice.working.asked[0].key)
    practice.enter("W_b", "98.1 N")
    again = Practice.resume(place_of(practice), SHELF, CATALOGUE)
    assert again.working.guidance is guidance
    assert again.working.lines == practice.working.lines
    assert again.working.attempts == practice.working.attempts
    assert again.working.left == practice.working.left
    assert again.hint_line() == practice.hint_line()
    assert again.hints_given.count == practice.hints_given.count == 1
    assert [one.entries for one in unfinished(SHELF, tmp_path)] == [6]


def test_a_record_without_guidance_asks_for_every_line(practice: Practice, tmp_path: Path) -> None:
    first = fields_in(place_of(practice))[0]
    del first["guidance"]
    (tmp_path / "older.jsonl").write_bytes(chain([first]))
    assert (
        Practice.resume(tmp_path / "older.jsonl", SHELF, CATALOGUE).working.guidance
        is Guidance.LINES
    )


@pytest.mark.parametrize("guidance", ["none", "", 3, None, ["lines"]])
def test_a_record_with_a_guidance_that_there_is_none_of_is_refused(
    practice: Practice, guidance: object, tmp_path: Path
) -> None:
    first = {**fields_in(place_of(practice))[0], "guidance": guidance}
    (tmp_path / "other.jsonl").write_bytes(chain([first]))
    with pytest.raises(RecordError, match="this version has no such guidance"):
        Practice.resume(tmp_path / "other.jsonl", SHELF, CATALOGUE)


def test_a_free_line_is_on_the_disk_before_it_is_judged(
    practice: Practice, monkeypatch: pytest.MonkeyPatch
) -> None:
    judge, seen = Working.write, []

    def look_then_judge(working: Working, text: str) -> Verdict:
        seen.append(read_record(place_of(practice))[-1])
        return judge(working, text)

    monkeypatch.setattr(Working, "write", look_then_judge)
    practice.write("W_s = 529.7 N")
    assert seen == [WrittenLine(time=seen[0].time, text="W_s = 529.7 N")]


@pytest.mark.parametrize("guidance", [Guidance.LANDMARKS, Guidance.BLANK])
def test_a_working_ends_when_all_that_is_asked_for_stands(
    guidance: Guidance, tmp_path: Path
) -> None:
    practice = Practice.start(BARROW, "1", CATALOGUE, tmp_path, guidance=guidance)
    practice.write("W_s = 529.7 N")
    assert len(unfinished(SHELF, tmp_path)) == 1
    work_to_the_end(practice)
    assert unfinished(SHELF, tmp_path) == []
    assert practice.hint_line() == ""


def chained(path: Path) -> bytes:
    """Return a record of some entries as it lies on the disk."""
    record = Record.create(path, FIRST)
    for number in range(4):
        record.append(EntryLine(step="W_s", text=f"{number}.5 N", used=0.1 * number))
    return path.read_bytes()


def test_a_whole_record_has_nothing_to_remark_on(tmp_path: Path) -> None:
    found = contents(chained(tmp_path / "one.jsonl"))
    assert found.remarks == ()
    assert len(found.lines) == 5


def test_every_byte_that_is_changed_is_noticed_or_changes_nothing(tmp_path: Path) -> None:
    """Each byte of a record is flipped in turn."""
    data = chained(tmp_path / "one.jsonl")
    whole = contents(data).lines
    for place in range(len(data)):
        changed = bytearray(data)
        changed[place] ^= 0x01
        found = contents(bytes(changed))
        assert found.remarks or found.lines == whole, place


def test_a_line_taken_out_or_put_in_is_noticed(tmp_path: Path) -> None:
    lines = chained(tmp_path / "one.jsonl").splitlines(keepends=True)
    for number in range(1, 4):
        without = b"".join(lines[:number] + lines[number + 1 :])
        assert contents(without).remarks == (
            "the record was changed after it was written, from W_s on",
        )
    twice = b"".join([*lines[:3], lines[2], *lines[3:]])
    assert contents(twice).remarks
    assert contents(b"".join(lines[:-1])).remarks == ()  # what is gone leaves no trace in a chain


def test_a_record_gone_on_with_stays_one_chain(tmp_path: Path) -> None:
    path = tmp_path / "one.jsonl"
    chained(path)
    Record.reopen(path).append(EntryLine(text="more"))
    path.write_bytes(path.read_bytes() + b'{"cut sh')
    Record.reopen(path).append(EntryLine(text="again"))
    found = contents(path.read_bytes())
    assert found.remarks == ()
    assert found.lines[-2:] == (EntryLine(text="more"), EntryLine(text="again"))


def test_a_second_window_on_one_record_is_noticed(tmp_path: Path) -> None:
    """What the other window wrote stays; this one is told, and nothing of it is mixed in."""
    path = tmp_path / "one.jsonl"
    here = Record.create(path, FIRST)
    there = Record.reopen(path)
    there.append(EntryLine(text="there"))
    before = path.read_bytes()
    with pytest.raises(RecordError, match="changed outside, perhaps in a second window"):
        here.append(EntryLine(text="here"))
    assert path.read_bytes() == before
    there.append(EntryLine(text="there"))
    assert read_record(path) == (FIRST, EntryLine(text="there"), EntryLine(text="there"))
    elsewhere = here.copied(tmp_path / "two.jsonl")
    elsewhere.append(EntryLine(text="here"))
    assert read_record(elsewhere.path) == (FIRST, EntryLine(text="here"))


@pytest.mark.parametrize("junk", [b"\n", b"{}\n", b'{"kind": "entry"}\n', b"[]\n"])
def test_however_many_lines_a_file_has_no_more_are_read_than_a_record_can_have(
    junk: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What stands behind them counts as one line that can't be read, and for the code."""
    data = chained(tmp_path / "one.jsonl")
    data += junk * ((LARGEST_RECORD - len(data)) // len(junk))
    read: list[bytes] = []
    loads = json.loads
    monkeypatch.setattr("json.loads", lambda piece: [read.append(piece), loads(piece)][1])
    found = contents(data)
    assert len(read) == min(MOST_LINES, data.count(b"\n"))
    assert len(found.reckoned) == min(MOST_LINES + 1, data.count(b"\n"))
    assert found.lines[:5] == contents(chained(tmp_path / "two.jsonl")).lines
    assert found.size == len(data)
    last = data[:-2] + b" \n"
    assert contents(last).reckoned[-1] != found.reckoned[-1], "no byte can be changed unseen"


def test_what_is_cut_behind_very_many_lines_is_told_of() -> None:
    junk = b"\n" * (MOST_LINES + 10)
    assert contents(junk).remarks == (f"{MOST_LINES + 1} parts of the record can't be read",)
    assert contents(junk[:MOST_LINES]).remarks == (
        f"{MOST_LINES} parts of the record can't be read",
    )
    found = contents(junk + b"cut")
    assert found.remarks[-1] == "the end of the record file is missing"
    assert found.size == len(junk)
    assert found.reckoned == contents(junk).reckoned
