"""Drills under faults: nothing is lost that was told of, and marking survives any record.

`tests/benchmarks/faults.py` does the same many times over and prints what came of it.
"""

from __future__ import annotations

import csv
import errno
import itertools
import json
import os
import re
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from helpers.classes import write_tables
from helpers.drill_disks import (
    DRILL,
    FAULTS,
    NOT_TRIED_AGAIN,
    STEPS_OF_A_SITTING,
    TYPED,
    Disk,
    Fault,
    fail_in_turn,
)
from helpers.drill_killing import LINES, TESTS, kill_sittings, left_of, nursery, told
from helpers.drill_sittings import (
    BEGUN,
    END,
    chain,
    entry,
    first_line,
    hint,
    record,
    right_entries,
    small_drill,
    timed,
)
from helpers.material import CATALOGUE
from helpers.source import SOURCE
from leverstep.bench.contents import LONGEST_LINE
from leverstep.bench.record import LARGEST_RECORD, RecordError
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Closed, Sitting
from leverstep.marking import collecting
from leverstep.marking.collecting import gather
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.odd_records import UNAWARES
from leverstep.marking.tables import MARKS, STEPS
from leverstep.slips.catalogue import Catalogue
from leverstep.working.verdict import Outcome

RIGHT = right_entries(DRILL.tasks("s1")[0].question)
KILLS = 12
TAKEN_UP, WENT_ON = {"kind": "resumed", "host": "0a1b2c3d"}, {"kind": "resumed"}
POSIX = os.name != "nt"  # Windows has no fork, no limit on files, and no files without an end


def tables(drill: Drill, folder: Path, out: Path) -> list[dict[str, str]]:
    """Return the rows of the table of marks over a folder of records."""
    with ThreadPoolExecutor(1) as pool:
        assert write_tables(drill, folder, out, pool)
    with (out / MARKS).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def remarks(drill: Drill, *records: bytes, folder: Path) -> dict[str, str]:
    """Return the remarks on each student (or record without one) over some records."""
    (folder / "records").mkdir()
    for number, data in enumerate(records):
        (folder / "records" / f"{number}.jsonl").write_bytes(data)
    rows = tables(drill, folder / "records", folder / "out")
    found = dict(told_of(row) for row in rows)
    assert len(found) == len(rows), "one row for each"
    return found


def told_of(row: Mapping[str, str]) -> tuple[str, str]:
    """Return a row's id and remarks; a record that can't be marked is named by its remark."""
    if row["id"]:
        return row["id"], row["remarks"]
    name, _, remark = row["remarks"].partition(": ")
    return name, remark


# Programs that are killed, and several at once.


if POSIX:

    def test_no_entry_that_was_told_of_is_lost_when_the_program_is_killed(tmp_path: Path) -> None:
        left = list(kill_sittings(KILLS, 20270301, tmp_path))
        assert [one.lost for one in left] == [0] * KILLS
        assert all(one.kept <= one.told + 1 and one.marked == one.kept for one in left)
        assert sum(0 < one.told < LINES for one in left) >= KILLS // 2, "most were in the middle"


if POSIX:

    def test_a_killed_sitting_is_gone_on_with_and_marked_whole(tmp_path: Path) -> None:
        with nursery(tmp_path) as program:
            shown = len(told(program, 60.5, ["s1"]))
        (path,) = tmp_path.rglob("s1-*.jsonl")
        resumed = Sitting.resume(path, DRILL, CATALOGUE)
        kept = sum(resumed.benches[0].working.attempts.values())
        assert kept in (shown, shown + 1)
        for key, text in RIGHT.items():
            resumed.benches[0].enter(key, text)
        resumed.hand_in()
        marked = mark_record(DRILL, CATALOGUE, "", path.read_bytes())
        assert (marked.total, len(marked.entries)) == (DRILL.marks, kept + len(RIGHT))
        assert (marked.remarks, marked.ended) == ((f"continued once {UNAWARES}",), True)


if POSIX:

    def test_eight_sittings_at_once_into_one_folder_are_all_whole(tmp_path: Path) -> None:
        students = [f"at-once-{number}" for number in range(8)]
        with nursery(tmp_path) as program:
            lines = told(program, None, students)
        assert Counter(line.split()[0] for line in lines) == dict.fromkeys(students, LINES + 1)
        rows = tables(DRILL, tmp_path / "all", tmp_path / "out")
        assert [(row["id"], row["entries"], row["remarks"]) for row in rows] == [
            (student, str(LINES), "") for student in students
        ]


# Records that were cut or changed.


@pytest.fixture(scope="module")
def whole() -> bytes:
    """Return a record with right entries, a wrong one and a hint, handed in."""
    lines = [entry("W_s", "54 N"), hint("W_s"), *(entry(key, text) for key, text in TYPED), END]
    return record(DRILL, "s1", lines)


def test_a_whole_record_has_no_remark(whole: bytes) -> None:
    marked = mark_record(DRILL, CATALOGUE, "", whole)
    assert marked.remarks == ()
    assert [one.text for one in marked.entries] == ["54 N", *(text for _, text in TYPED)]


def test_a_record_cut_at_any_byte_is_marked_by_its_whole_lines(whole: bytes) -> None:
    texts = ["54 N", *(text for _, text in TYPED)]
    ends = [place for place, byte in enumerate(whole, 1) if byte == ord("\n")]
    entries_by = {end: list(texts[: (n > 0) + max(0, n - 2)]) for n, end in enumerate(ends)}
    for size in range(len(whole) + 1):
        marked = mark_record(DRILL, CATALOGUE, "", whole[:size])
        if size < ends[0]:
            assert marked.remarks == ("this is not a record of this drill",), size
            continue
        last = max(end for end in ends if end <= size)
        assert [one.text for one in marked.entries] == entries_by[last][: len(texts)], size
        cut = ("the end of the record file is missing",)
        assert marked.remarks == (() if last == size else cut), size


def test_a_remark_names_the_line_of_the_working_where_a_record_was_changed(whole: bytes) -> None:
    lines = whole.splitlines(keepends=True)
    edited = whole.replace(b'"54 N"', b'"55 N"')
    changed = "the record was changed after it was written, from"
    assert mark_record(DRILL, CATALOGUE, "", edited).remarks == (f"{changed} W_s of task 1 on",)
    beginning = whole.replace(b'"digest": "', b'"digest": "0', 1)
    assert f"{changed} its beginning on" in mark_record(DRILL, CATALOGUE, "", beginning).remarks
    twice = edited.replace(TYPED[1][1].encode(), b"7.25 N")
    assert mark_record(DRILL, CATALOGUE, "", twice).remarks == (
        f"{changed} W_s of task 1 on, in 2 places",
    )
    unread = b"".join([*lines[:2], b"?\n", *lines[2:]])
    assert mark_record(DRILL, CATALOGUE, "", unread).remarks == (
        "a part of the record can't be read",
    )


@pytest.mark.parametrize("flip", [0x01, 0x80])
def test_a_byte_that_is_changed_is_remarked_on_or_harmless(whole: bytes, flip: int) -> None:
    unchanged = mark_record(DRILL, CATALOGUE, "", whole)
    for place in range(len(whole)):
        changed = bytearray(whole)
        changed[place] ^= flip
        marked = mark_record(DRILL, CATALOGUE, "", bytes(changed))
        assert marked.remarks or marked == unchanged, place
        assert len(marked.marks) == 1, place


# Disks that fail.


@pytest.mark.parametrize("fault", FAULTS)
def test_whichever_call_of_the_system_fails_the_record_is_as_before_or_whole(
    fault: str, tmp_path: Path
) -> None:
    tried = list(fail_in_turn(fault, tmp_path))
    assert sum(one.fired > 0 for one in tried) >= len(STEPS_OF_A_SITTING)
    assert tried[-1].fired == 0, "the last call was tried too"
    assert all(one.is_as_shown for one in tried)
    refused = {name for one in tried for name in one.refused}
    if FAULTS[fault].count == 1:
        assert refused <= set(NOT_TRIED_AGAIN), "one failure of the disk is got over"
    else:
        assert refused >= {"start", *STEPS_OF_A_SITTING} - {"move"}


def test_tables_that_cannot_be_replaced_stay_as_they_were(whole: bytes, tmp_path: Path) -> None:
    records, out = tmp_path / "records", tmp_path / "out"
    records.mkdir()
    (records / "one.jsonl").write_bytes(whole)
    tables(DRILL, records, out)
    before = (out / MARKS).read_bytes()
    (records / "one.jsonl").write_bytes(record(DRILL, "s1", [END]))
    disk = Disk(Fault(frozenset({"replace"}), float("inf")), 1)
    with disk.standing_in(), pytest.raises(OSError, match=re.escape(os.strerror(errno.EIO))):
        tables(DRILL, records, out)
    assert disk.fired == 1
    assert (out / MARKS).read_bytes() == before
    tables(DRILL, records, out)
    assert (out / MARKS).read_bytes() != before


FILL_THE_DISK = """
import resource, sys
from pathlib import Path
from helpers.drill_sittings import small_drill
from helpers.material import CATALOGUE
from leverstep.drill import sitting
from leverstep.bench.record import RecordError

sitting._PAUSE = 0
one = sitting.Sitting.start(small_drill(), CATALOGUE, "s1", Path(sys.argv[1]))
resource.setrlimit(resource.RLIMIT_FSIZE, (4001, 4001))
for number in range(100):
    try:
        one.benches[0].enter("W_s", f"{500 + number}.5 N")
    except RecordError as error:
        print(error)
        break
    print(number, flush=True)
print(len(one.benches[0].working.attempts) and one.benches[0].working.attempts["W_s"])
"""


if POSIX:

    def test_on_a_full_disk_what_fitted_is_kept_and_the_rest_refused(tmp_path: Path) -> None:
        """The disk is full by RLIMIT_FSIZE, which needs no rights; faults.py fills a small disk."""
        paths = os.pathsep.join([str(SOURCE), str(TESTS)])
        printed = subprocess.check_output(
            [sys.executable, "-c", FILL_THE_DISK, str(tmp_path)],
            text=True,
            env=os.environ | {"PYTHONPATH": paths},
        ).splitlines()
        *numbers, error, judged = printed
        assert 3 < len(numbers) < 100
        assert int(judged) == len(numbers), "what was refused was not judged"
        assert re.search("disk is full|File too large", error)
        left = left_of("s1", tmp_path, len(numbers))
        assert (left.lost, left.kept, left.is_cut) == (0, len(numbers), False)


def test_a_sitting_needs_a_folder_that_can_be_written(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder", "utf-8")
    with pytest.raises(RecordError, match=r"Not a directory|File exists"):
        Sitting.start(DRILL, CATALOGUE, "s1", tmp_path / "file")
    one = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path / "first")
    one.benches[0].enter(*TYPED[0])
    with pytest.raises(RecordError, match=r"Not a directory|File exists"):
        one.move(tmp_path / "file")
    assert one.place.is_relative_to(tmp_path / "first")
    one.benches[0].enter(*TYPED[1])
    one.move(tmp_path / "second")
    one.benches[0].enter(*TYPED[2])
    assert one.place.is_relative_to(tmp_path / "second")
    marked = mark_record(DRILL, CATALOGUE, "", one.place.read_bytes())
    assert [e.text for e in marked.entries] == [text for _, text in TYPED]
    assert len(gather([tmp_path]).records) == 1, "the record left behind is a copy"


def refused_where_locked(folder: Path) -> bool:
    """Return whether a sitting in a folder is refused to who has no right to write there."""
    child = os.fork()
    if child == 0:
        if os.geteuid() == 0:  # whoever is root writes anywhere
            os.setuid(65534)
        try:
            Sitting.start(DRILL, CATALOGUE, "s1", folder)
        except RecordError as error:
            os._exit(0 if "Permission denied" in str(error) else 2)
        os._exit(1)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


if POSIX:

    def test_a_folder_without_the_right_to_write_is_told_of() -> None:
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            folder.chmod(0o755)
            (folder / "locked").mkdir(mode=0o555)
            assert refused_where_locked(folder / "locked")
            assert list((folder / "locked").iterdir()) == []


def test_a_record_that_is_gone_or_locked_away_takes_no_more(tmp_path: Path) -> None:
    one = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
    one.place.unlink()
    with pytest.raises(RecordError, match="No such file"):
        one.benches[0].enter(*TYPED[0])
    assert one.benches[0].working.lines == {}


def test_as_many_workings_as_a_drill_may_have_fit_into_a_record(tmp_path: Path) -> None:
    drill = small_drill(problem="shoulder-raised-arm-bag", count=50)
    one = Sitting.start(drill, CATALOGUE, "s1", tmp_path)
    one.benches[49].enter(one.benches[49].working.steps[0].key, "1 N")
    assert [e.task for e in mark_record(drill, CATALOGUE, "", one.place.read_bytes()).entries] == [
        50
    ]


# What is odd about honest records.


def moved(line: Mapping[str, object], seconds: float) -> dict[str, object]:
    """Return a line whose moment lies elsewhere."""
    moment = BEGUN + timedelta(seconds=seconds)
    return {**line, "time": moment.isoformat(timespec="milliseconds")}


ODD: dict[str, tuple[str, Callable[[], bytes]]] = {
    "a clock set back": (
        "a clock was set back",
        lambda: record(DRILL, "s1", [moved(entry("W_s", "1 N"), 9), moved(END, 8)]),
    ),
    "a clock of the sitting that runs back": (
        "a clock was set back",
        lambda: record(DRILL, "s1", [entry("W_s", "1 N"), {**END, "used": 1}]),
    ),
    "a second machine": (
        "worked on 2 machines",
        lambda: record(
            DRILL, "s1", [{"kind": "away"}, {"kind": "resumed", "host": "ffffffff"}, END]
        ),
    ),
    "gone on with though it was not left": (
        "continued once without having been left: a crash, or lines cut from the end",
        lambda: record(DRILL, "s1", [entry("W_s", "1 N"), TAKEN_UP, END]),
    ),
    "continued twice, once after it was left": (
        "continued twice without having been left: a crash, or lines cut from the end",
        lambda: record(
            DRILL,
            "s1",
            [TAKEN_UP, {"kind": "away"}, TAKEN_UP, {"kind": "clock"}, TAKEN_UP, WENT_ON, END],
        ),
    ),
    "another version of the drill": (
        "sat with another version of the drill's file",
        lambda: record(replace(DRILL, text="other"), "s1", [END]),
    ),
    "numbers of another student": (
        "other numbers were shown for task 1",
        lambda: record(DRILL, "s2", [END], student="s1"),
    ),
    "not handed in": ("not handed in", lambda: record(DRILL, "s1", [])),
    "lines after the end": (
        "continued after it was handed in, which is not counted",
        lambda: record(DRILL, "s1", [END, entry("W_s", "1 N")]),
    ),
    "a moment that is none": (
        "some of its times make no sense",
        lambda: record(DRILL, "s1", [{**END, "time": "yesterday"}]),
    ),
}


@pytest.mark.parametrize("odd", ODD)
def test_what_is_odd_about_a_record_is_remarked_on(odd: str, tmp_path: Path) -> None:
    expected, made = ODD[odd]
    found = remarks(DRILL, made(), record(DRILL, "s2", [END]), folder=tmp_path)
    assert found["s1"].split("; ") == [expected]
    assert found["s2"] == ""


def test_two_sittings_at_once_are_remarked_on(tmp_path: Path) -> None:
    later = BEGUN + timedelta(seconds=15)
    long = [entry("W_s", "1 N"), entry("W_s", "2 N"), END]
    found = remarks(
        DRILL,
        record(DRILL, "s1", long),
        record(DRILL, "S1 ", long, later),
        record(DRILL, "s2", long),
        record(DRILL, "s2", long, BEGUN + timedelta(hours=1)),
        folder=tmp_path,
    )
    assert found == {"S1": "two sittings at the same time", "s2": ""}


def test_copies_and_what_another_record_goes_on_from_count_once(
    whole: bytes, tmp_path: Path
) -> None:
    earlier = whole[: whole.rindex(b"\n", 0, -1) + 1]
    torn = earlier + b'{"kind": "en'
    fork = chain([first_line(DRILL, "s1"), *timed([entry("W_s", "9 N")])])
    for number, data in enumerate([earlier, whole, torn, whole, b"", b""]):
        folder = tmp_path / "records" / str(number)
        folder.mkdir(parents=True)
        (folder / "same.jsonl").write_bytes(data)
    rows = tables(DRILL, tmp_path / "records", tmp_path / "out")
    assert [(row["id"], row["sittings"], row["remarks"]) for row in rows] == [
        ("", "1", "4/same.jsonl: this is not a record of this drill"),
        ("", "1", "5/same.jsonl: this is not a record of this drill"),
        ("s1", "1", ""),
    ]
    assert str(gather([tmp_path / "records"])) == "6 files: 3 records, 3 copies."
    (tmp_path / "records" / "fork.jsonl").write_bytes(fork)
    rows = tables(DRILL, tmp_path / "records", tmp_path / "out")
    assert rows[-1]["sittings"] == "2", "two that went on from one are two sittings"
    assert "two sittings at the same time" in rows[-1]["remarks"]


def test_what_is_of_another_drill_or_student_leaves_the_others_alone(tmp_path: Path) -> None:
    roster = tmp_path / "roster.csv"
    roster.write_text("id,name\ns1,Ada\ns2,Ben\ns3,Cem\n", "utf-8")
    drill = small_drill('roster = "roster.csv"', folder=tmp_path)
    hour = timedelta(hours=1)
    found = remarks(
        drill,
        record(drill, "s1", [END]),
        record(drill, "s1", [END], BEGUN + hour, drill="other"),
        record(drill, "s1", [END], BEGUN + 2 * hour),
        record(drill, "s2", [END], kind="practice"),
        record(drill, "stranger", [END]),
        folder=tmp_path,
    )
    nothing = "this is not a record of this drill"
    assert found == {
        "s1": "",
        "1.jsonl": nothing,
        "3.jsonl": nothing,
        "stranger": "not on the roster",
        "s2": "no record",
        "s3": "no record",
    }


# Hostile records.

NASTY_IDS = [
    "../../x",
    "=cmd|' /C calc'!A0",
    "+1",
    "-2+3",
    "@SUM(1)",
    "<b>x</b>",
    "[bold]x[/]",
    "a,b;\"c'",
    "＝1+1",
    "x" * 40,
]
NO_IDS: list[object] = [
    *("", " ", "a\nb", "a\x1b[31m", "x" * 41, "\udcff", "a\u202eb"),
    *(None, True, 5, 1.5, [], ["s1"], {"id": "s1"}),
]
VALUES: list[object] = [
    *(None, True, False, 0, -1, 2, 5.5, 10**400, -(10**400), float("nan"), float("inf")),
    *(float("-inf"), 1e308, "", "x", "\x00", "\udcff", "=1", [], [1], {}, {"a": []}, "9" * 5000),
]
FIELDS = ("kind", "task", "step", "text", "used", "time", "link", "host")
FIRST_FIELDS = (
    *("format", "drill", "digest", "student", "host", "time", "tasks", "kind", "used", "items"),
)


def test_an_id_is_shown_as_data_wherever_it_goes(tmp_path: Path) -> None:
    data = [record(DRILL, student, [END]) for student in NASTY_IDS]
    found = remarks(DRILL, *data, folder=tmp_path)
    assert {one.removeprefix("'") for one in found} == set(NASTY_IDS)
    assert_tables_are_data(tmp_path / "out")
    one = Sitting.start(DRILL, CATALOGUE, "../../=x", tmp_path / "home")
    assert one.place.parent == tmp_path / "home" / DRILL.id


@pytest.mark.parametrize("student", NO_IDS, ids=lambda one: ascii(one)[:20])
def test_what_is_no_id_is_no_record(student: object) -> None:
    data = record(DRILL, "s1", [END], student=student)
    assert mark_record(DRILL, CATALOGUE, "", data).remarks == (
        "this is not a record of this drill",
    )


def assert_tables_are_data(out: Path) -> None:
    """Check that tables can be read, and that no cell is a formula or holds a control character."""
    for name in (MARKS, STEPS):
        with (out / name).open(encoding="utf-8", newline="") as file:
            header, *rows = csv.reader(file, strict=True)
        for row in rows:
            assert len(row) == len(header)
            for cell in row:
                assert cell.isprintable()
                assert len(cell) < 1000
                is_number = re.fullmatch(r"-?\d+(\.\d+)?", cell)
                assert is_number or not cell.startswith(tuple("=+-@\t\r＝＋－＠")), cell


@pytest.mark.parametrize("name", FIELDS)
def test_any_value_in_any_field_of_an_entry_stops_nothing(name: str, tmp_path: Path) -> None:
    records = tmp_path / "records"
    records.mkdir()
    for number, value in enumerate(VALUES):
        lines = [entry(*TYPED[0]), {**entry(*TYPED[1]), name: value}, entry(*TYPED[2]), END]
        data = record(DRILL, f"s{number}", lines, tasks=first_line(DRILL, f"s{number}")["tasks"])
        if name == "link":
            changed = [json.loads(line) for line in data.splitlines()]
            changed[2]["link"] = value
            data = b"".join(json.dumps(line).encode() + b"\n" for line in changed)
        (records / f"{number}.jsonl").write_bytes(data)
    rows = tables(DRILL, records, tmp_path / "out")
    assert [row["id"] for row in rows] == sorted(f"s{number}" for number in range(len(VALUES)))
    for row in rows:
        assert int(row["entries"]) >= 2, "the others count"
        assert not row["remarks"].startswith("it can't be marked")
    assert_tables_are_data(tmp_path / "out")


@pytest.mark.parametrize("name", FIRST_FIELDS)
def test_any_value_in_any_field_of_the_first_line_stops_nothing(name: str, tmp_path: Path) -> None:
    records = tmp_path / "records"
    records.mkdir()
    for number, value in enumerate(VALUES):
        data = record(DRILL, f"s{number:02}", [entry("W_s", "54 N"), END], **{name: value})
        (records / f"{number}.jsonl").write_bytes(data)
    (records / "good.jsonl").write_bytes(record(DRILL, "good", [entry("W_s", "54 N"), END]))
    rows = tables(DRILL, records, tmp_path / "out")
    assert sum(int(row["sittings"]) for row in rows) == len(VALUES) + 1
    (good,) = (row for row in rows if row["id"] == "good")
    assert (good["entries"], good["remarks"]) == ("1", "")
    assert not [row for row in rows if row["remarks"].startswith("it can't be marked")]
    assert_tables_are_data(tmp_path / "out")


@pytest.mark.parametrize("used", [float("nan"), -5, 10**400, None, "0", True])
def test_a_clock_that_makes_no_sense_does_not_stand_still(used: object) -> None:
    drill = small_drill("minutes = 1")
    late = [{**entry(*TYPED[0]), "used": 200}, {**entry(*TYPED[1]), "used": used}]
    marked = mark_record(drill, CATALOGUE, "", record(drill, "s1", late))
    assert marked.entries == ()
    assert marked.remarks == (
        "some of its times make no sense",
        "2 entries after the time was up are not counted",
    )
    assert marked.seconds == 200


def deep(open_: str, close: str, depth: int) -> bytes:
    """Return a line with one value within another, many times over."""
    return f'{{"a": {open_ * depth}{close * depth}}}\n'.encode()


HOSTILE_LINES = {
    "lists in lists": deep("[", "]", 20_000),
    "lists nearly too deep": b"".join(deep("[", "]", depth) for depth in range(900, 1000)),
    "tables nearly too deep": b"".join(
        deep('{"a": ', "}", depth).replace(b'{"a": }', b'{"a": 1}') for depth in range(900, 1000)
    ),
    "an open list": b"[" * 40_000 + b"\n",
    "a long number": b"1" * 40_000 + b"\n",
    "a long line": b'{"a": "' + b"x" * LONGEST_LINE + b'"}\n',
    "no text": bytes(range(256)).replace(b"\n", b"") + b"\n",
    "empty lines": b"\n" * 3000,
    "other encodings": '{"kind": "entry"}\n'.encode("utf-16") + b"\n",
    "another link": b'{"link": "\\udcff", "kind": "entry", "task": 1, "text": "5 N"}\n',
    "the line before again": b"",
}


@pytest.mark.parametrize("name", HOSTILE_LINES)
def test_a_hostile_line_is_one_remark_and_the_others_are_marked(name: str) -> None:
    lines = record(DRILL, "s1", [entry(*TYPED[0]), entry(*TYPED[1]), END]).splitlines(True)
    data = b"".join([*lines[:2], HOSTILE_LINES[name] or lines[1], *lines[2:]])
    marked = mark_record(DRILL, CATALOGUE, "", data)
    texts = [one.text for one in marked.entries]
    assert texts[0] == TYPED[0][1]
    assert TYPED[1][1] in texts
    assert marked.remarks
    assert len("; ".join(marked.remarks)) < 300


def test_names_of_files_are_shown_as_data(tmp_path: Path) -> None:
    names = [
        "=1+1",
        "-x",
        "+x",
        "@x",
        " =x",
        "a\nb",
        "a\tb",
        "\x1b[31m",
        "＝x",
        "'",
        '"',
        "n" * 240,
    ]
    names += ["\udcff"] if sys.platform == "linux" else []
    for name in names:
        (tmp_path / "records").mkdir(exist_ok=True)
        (tmp_path / "records" / f"{name}.jsonl").write_bytes(os.fsencode(name) + b"\n")
    good = record(DRILL, "good", [entry(*TYPED[0]), END])
    (tmp_path / "records" / "=good\n.jsonl").write_bytes(good)
    rows = tables(DRILL, tmp_path / "records", tmp_path / "out")
    assert len(rows) == len(names) + 1
    assert rows[-1]["id"] == "good"
    assert_tables_are_data(tmp_path / "out")
    with (tmp_path / "out" / STEPS).open(encoding="utf-8", newline="") as file:
        assert [row["record"] for row in csv.DictReader(file)] == ["'=good?.jsonl"]


def test_what_is_no_file_or_too_large_is_one_remark_each(tmp_path: Path) -> None:
    records = tmp_path / "records"
    (records / "folder.jsonl").mkdir(parents=True)
    with (records / "gigabyte.jsonl").open("wb") as file:
        file.truncate(2**30)
    (records / "gone.jsonl").symlink_to(tmp_path / "nowhere")
    (records / "notes.txt").write_text("no record", "utf-8")
    (records / "good.jsonl").write_bytes(record(DRILL, "good", [END]))
    rows = tables(DRILL, records, tmp_path / "out")
    assert [(row["id"], row["remarks"]) for row in rows] == [
        ("", "gigabyte.jsonl: too large for a record"),
        ("", "gone.jsonl: it is a link, and links are not followed here"),
        ("good", ""),
    ]
    found = gather([tmp_path / "nowhere.jsonl", tmp_path / "also.jsonl"]).records
    assert [one.trouble for one in found] == ["No such file or directory"] * 2


def test_what_lies_beside_the_records_is_counted_and_no_record_is_missed(tmp_path: Path) -> None:
    """A record may have any ending; what marking wrote there before is none."""
    records = tmp_path / "records"
    records.mkdir()
    data = record(DRILL, "s1", [entry(*TYPED[0]), END])
    (records / "s1.jsonl.txt").write_bytes(data)
    (records / "s1 (1).jsonl").write_bytes(data)
    (records / "s2").write_bytes(record(DRILL, "s2", [END]))
    (records / "notes.txt").write_text('{"kind": "note"}\n', "utf-8")
    (records / "other.jsonl").write_text('{"kind": "practice"}\n', "utf-8")
    (records / "statements.jsonl").write_text('{"actor": {}, "id": "1", "verb": {}}\n', "utf-8")
    found = gather([records])
    assert [one.name for one in found.records] == ["other.jsonl", "s1 (1).jsonl", "s2"]
    assert str(found) == "6 files: 3 records, 1 copy, 2 others."
    assert str(gather([records / "s2"])) == "1 file: 1 record."


if POSIX:

    def test_a_file_without_an_end_is_no_record() -> None:
        (found,) = gather([Path("/dev/zero")]).records
        assert found.trouble == "it is a pipe or a device, not a file"


def test_a_full_record_is_marked_within_its_limits() -> None:
    line = len(record(DRILL, "s1", [entry("W_s", "x")])) - len(record(DRILL, "s1"))
    count = LARGEST_RECORD // line - 10
    marked = mark_record(DRILL, CATALOGUE, "", record(DRILL, "s1", [entry("W_s", "x")] * count))
    assert len(marked.entries) == count


def test_a_fault_of_the_program_on_one_record_leaves_the_others_marked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(drill: Drill, catalogue: Catalogue, name: str, data: bytes) -> Marked:
        if b'"bad"' in data:
            raise KeyError("step")
        return mark_record(drill, catalogue, name, data)

    monkeypatch.setattr(collecting, "mark_record", breaks)
    data = [record(DRILL, student, [END]) for student in ("s1", "bad", "s2")]
    found = remarks(DRILL, *data, folder=tmp_path)
    fault = "1.jsonl: a fault of the program keeps it from being marked (KeyError)"
    assert found == {"s1": "", "bad": fault, "s2": ""}


@pytest.mark.parametrize("name", FIELDS)
def test_a_hostile_record_is_gone_on_with_or_refused_in_words(name: str, tmp_path: Path) -> None:
    for number, value in enumerate(VALUES):
        path = tmp_path / f"{number}.jsonl"
        lines = [{**entry(*TYPED[0]), name: value}, entry(*TYPED[1])]
        path.write_bytes(record(DRILL, "s1", lines))
        before = path.read_bytes()
        one = Sitting.resume(path, DRILL, CATALOGUE)
        assert one.benches[0].enter(*TYPED[2]).outcome is Outcome.RIGHT
        assert one.place.read_bytes().endswith(b"\n")
        assert path.read_bytes().startswith(before)
    # Behind a link that does not follow anybody may have written: it is kept, but not gone on from.
    assert one.benches[0].working.stands(TYPED[1][0]) == (name != "link")


@pytest.mark.parametrize("name", FIRST_FIELDS)
def test_a_hostile_first_line_is_gone_on_with_or_refused_in_words(
    name: str, tmp_path: Path
) -> None:
    refusals: Iterator[type[Exception]] = iter(())
    for number, value in enumerate(VALUES):
        path = tmp_path / f"{number}.jsonl"
        path.write_bytes(record(DRILL, "s1", [entry(*TYPED[0])], **{name: value}))
        before = path.read_bytes()
        try:
            one = Sitting.resume(path, DRILL, CATALOGUE)
        except (Closed, RecordError):
            refusals = itertools.chain(refusals, [Closed])
            assert path.read_bytes() == before
            continue
        assert one.benches[0].enter(*TYPED[1]).counts
    assert (len(list(refusals)) == len(VALUES)) == (
        name in ("kind", "drill", "student", "tasks")  # other numbers were shown than these
    )
