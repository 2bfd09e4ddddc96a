"""Marks as the scheme has them, worked by hand; the same records give the same files."""

from __future__ import annotations

import csv
import random
from collections.abc import Callable, Mapping
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from helpers.classes import write_tables
from helpers.drill_sittings import (
    BEGUN,
    END,
    SHELF,
    entry,
    first_line,
    hint,
    record,
    right_entries,
    small_drill,
)
from helpers.material import CATALOGUE
from helpers.records import fields_in
from helpers.source import ROOT
from leverstep.course.decimals import number
from leverstep.course.faults import FileError
from leverstep.drill.drill import Drill
from leverstep.drill.drill_file import drill_of
from leverstep.drill.drill_writing import write_drill
from leverstep.drill.sitting import Sitting
from leverstep.faces.commands.cli import main
from leverstep.marking.against import AGAINST, Total, totals_of
from leverstep.marking.collecting import by_student, gather, mark_all, shared_remarks
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.tables import MARKS, STEPS, marks_columns, steps_columns
from leverstep.slips.finding import Explanation
from leverstep.working.verdict import Outcome

LINES = 15
"""So many lines does the wheelbarrow ask for: with as many marks, each is worth one."""

Lines = list[Mapping[str, object]]
RIGHT = right_entries(small_drill().tasks("s1")[0].question)
ALL_RIGHT: Lines = [entry(key, text) for key, text in RIGHT.items()]
WRONG = entry("W_s", "426.9 N")  # 416.9 N is right
OTHERS: Lines = [entry("W_s", f"42{n}.9 N") for n in (7, 8, 9, 5)]
"""Wrong entries of the same line that are each another."""
CARRIED = RIGHT | {
    "W_s": "426.9 N",
    "M_s": "-181.4 N m",  # 426.9 × 0.425
    "M_sum": "-239.8 N m",  # 181.4 + 58.4
    "F_h": "191.1 N",  # 239.8 ÷ 1.255
    "R_y": "333.9 N",  # 426.9 + 98.1 − 191.1
}
FOLLOWING: Lines = [entry(key, text) for key, text in CARRIED.items()]


def marked(drill: Drill, lines: Lines, student: str = "s1") -> Marked:
    """Return what a record of some lines is marked with."""
    return mark_record(drill, CATALOGUE, "one.jsonl", record(drill, student, lines))


def test_a_record_made_for_tests_begins_like_one_of_a_sitting(tmp_path: Path) -> None:
    drill = small_drill()
    sat = fields_in(Sitting.start(drill, CATALOGUE, "s1", tmp_path).place)[0]
    made = first_line(drill, "s1")
    assert {**sat, "time": "", "host": ""} == {**made, "time": "", "host": ""}


SCHEMES: dict[str, tuple[str, str, Lines, str]] = {
    "all right at once": ("", "", ALL_RIGHT, "15"),
    "nothing": ("", "", [], "0"),
    "one line of fifteen": ("", "", ALL_RIGHT[:1], "1"),
    "wrong tries are free": ("", "", [WRONG, WRONG, *ALL_RIGHT], "15"),
    "two wrong tries at a cost": ("", "wrong_try = 0.3", [WRONG, *OTHERS[:1], *ALL_RIGHT], "14.4"),
    "the same entry again costs nothing": ("", "wrong_try = 0.3", [WRONG] * 3 + ALL_RIGHT, "14.7"),
    "a line costs no more than itself": ("", "wrong_try = 0.3", [WRONG, *OTHERS, *ALL_RIGHT], "14"),
    "what can't be read is no try": (
        "attempts = 1",
        "wrong_try = 0.5",
        [entry("W_s", "rubbish"), entry("W_s", "416.9"), entry("W_s", "4 N"), *ALL_RIGHT[1:]],
        "14",
    ),
    "hints are free": ("", "hint = 0.5", [hint("W_s"), *ALL_RIGHT], "15"),
    "two hints at a cost": ('hints = "at a cost"', "", [hint("W_s")] * 2 + ALL_RIGHT, "14.5"),
    "hints and a wrong try": (
        'hints = "at a cost"',
        "hint = 0.1\nwrong_try = 0.2",
        [hint("W_s"), WRONG, hint("W_s"), *ALL_RIGHT],
        "14.6",
    ),
    "a wrong formula in symbols is no try": (
        'guidance = "blank"',
        "wrong_try = 0.5",
        [{"kind": "line", "task": 1, "text": "AR = d_s/d_h"}, *ALL_RIGHT],
        "15",
    ),
    "a line has four hints": (
        'hints = "at a cost"',
        "hint = 0.2",
        [hint("W_s")] * 6 + ALL_RIGHT,
        "14.2",
    ),
    "each hint has its own price": (
        'hints = "at a cost"',
        "hint = [0.05, 0.1, 0.25, 0.5]",
        [hint("W_s")] * 3 + [hint("W_b")] + ALL_RIGHT,
        "14.55",  # 0.4 of one line and 0.05 of another
    ),
    "hints that there are none of": ('hints = "none"', "", [hint("W_s"), *ALL_RIGHT], "15"),
    "a hint for a line that leads to a landmark": (
        'hints = "at a cost"\nguidance = "landmarks"',
        "",
        [hint("W_s"), *ALL_RIGHT],
        "14.46",  # a quarter of one line of seven
    ),
    "hints for a line that leads to what is found": (
        'hints = "at a cost"\nguidance = "blank"',
        "",
        [hint("equation"), hint("M_s"), *ALL_RIGHT],
        "13.75",  # two quarters of one line of six
    ),
    "following through": ("", "", FOLLOWING, "14"),
    "following through for a half": ("", "follow_through = 0.5", FOLLOWING, "12"),
    "following through for nothing": ("", "follow_through = 0", FOLLOWING, "10"),
    "a mended line mends what follows": (
        "",
        "follow_through = 0",
        [*FOLLOWING, ALL_RIGHT[0], ALL_RIGHT[6], ALL_RIGHT[8], ALL_RIGHT[9], ALL_RIGHT[13]],
        "15",
    ),
    "the last entry of a line stands": ("", "", [*ALL_RIGHT, WRONG], "14"),
    "feedback at the end": (
        'feedback = "at the end"',
        "wrong_try = 0.3",
        [WRONG, WRONG, *ALL_RIGHT],
        "15",
    ),
    "no tries are left": ("attempts = 2", "", [WRONG, *OTHERS[:1], *ALL_RIGHT], "14"),
    "a try is left": ("attempts = 3", "", [WRONG, *OTHERS[:1], *ALL_RIGHT], "15"),
    "the same entry again is no try": ("attempts = 2", "", [WRONG, WRONG, *ALL_RIGHT], "15"),
    "a right entry is no try": (
        "attempts = 2",
        "",
        [*ALL_RIGHT, WRONG, entry("W_s", "416.90 N")],
        "15",
    ),
    "with feedback at the end a right entry is a try": (
        'attempts = 2\nfeedback = "at the end"',
        "",
        [*ALL_RIGHT, WRONG, entry("W_s", "416.90 N")],
        "14",
    ),
    "time runs out after 65 s": ("minutes = 1", "", ALL_RIGHT, "6"),
    "the drill closes after 95 s": ("closes = 2027-03-01T09:01:35Z", "", ALL_RIGHT, "9"),
    "landmarks": ('guidance = "landmarks"', "", ALL_RIGHT[8:11], "6.43"),  # 3 of 7
    "a blank sheet": ('guidance = "blank"', "", ALL_RIGHT[8:11], "5"),  # 2 of 6
    "lines that were not asked for cost nothing": (
        'guidance = "blank"',
        "wrong_try = 1",
        [WRONG, *ALL_RIGHT[9:10]],
        "2.5",
    ),
}


@pytest.mark.parametrize("name", SCHEMES)
def test_marks_are_those_that_the_scheme_gives(name: str) -> None:
    rules, marking, lines, total = SCHEMES[name]
    drill = small_drill(rules, marking, marks=LINES)
    assert len(RIGHT) == LINES
    assert number(marked(drill, lines).total) == total


def test_a_student_s_own_values_count_as_followed() -> None:
    found = {line.step: line.outcome for line in marked(small_drill(), FOLLOWING).lines}
    followed = {key for key, outcome in found.items() if outcome is Outcome.FOLLOWED}
    assert followed == {"M_s", "M_sum", "F_h", "R_y"}
    assert found["W_s"] is Outcome.WRONG


def test_an_entry_that_was_begun_in_time_counts() -> None:
    drill = small_drill("minutes = 1")
    late = [{**ALL_RIGHT[0], "used": 65.0}, {**ALL_RIGHT[1], "used": 65.1}]
    one = marked(drill, late)
    assert [e.step for e in one.entries] == ["W_s"]
    assert one.remarks == ("1 entry after the time was up is not counted",)


AWAY = {"kind": "away", "used": 20.0, "time": "2027-03-01T09:00:20+00:00"}
BACK = {"kind": "resumed", "used": 20.0, "time": "2027-03-01T11:00:20+00:00"}
AFTER = {**ALL_RIGHT[1], "used": 30.0, "time": "2027-03-01T11:00:30+00:00"}


@pytest.mark.parametrize(("clock", "count"), [("working", 2), ("wall", 1)])
def test_what_was_entered_after_two_hours_away_counts_by_the_clock(clock: str, count: int) -> None:
    drill = small_drill(f'minutes = 5\nclock = "{clock}"')
    one = marked(drill, [ALL_RIGHT[0], AWAY, BACK, AFTER])
    assert len(one.entries) == count
    assert one.away == 2 * 60 * 60
    assert ("1 entry after the time was up is not counted" in one.remarks) is (count == 1)


def test_a_clock_on_the_wall_that_is_set_back_gains_no_time_worked() -> None:
    drill = small_drill('minutes = 1\nclock = "wall"')
    late = {**ALL_RIGHT[0], "used": 90.0, "time": "2027-03-01T09:00:05+00:00"}
    assert marked(drill, [late]).entries == ()


def test_marks_of_a_line_are_told_with_its_tries_and_hints() -> None:
    one = marked(small_drill(), [WRONG, hint("W_s"), ALL_RIGHT[0], ALL_RIGHT[1]])
    tried, at_once, untouched, *_ = one.lines
    assert (tried.tries, tried.hints, tried.first_right, tried.share) == (2, 1, False, 1)
    assert (at_once.tries, at_once.hints, at_once.first_right, at_once.share) == (1, 0, True, 1)
    assert (untouched.tries, untouched.outcome, untouched.share) == (0, None, 0)
    assert [e.first for e in one.entries] == [True, False, True]
    assert one.entries[0].slips == ()
    (gravity,) = marked(small_drill(), [entry("W_s", "42.5 N")]).entries
    assert (gravity.slips, gravity.sure) != ((), False), "the slip is named"


@pytest.mark.parametrize(
    ("guidance", "key", "bears"),
    [
        ("lines", "W_h", "W_h"),
        ("landmarks", "W_h", "M_sum"),
        ("landmarks", "d_m", "F_m"),
        ("landmarks", "r_m", "F_m"),
        ("landmarks", "equation", "F_m"),
        ("blank", "W_h", "F_m"),
        ("blank", "equation", "F_m"),
        ("blank", "R_x", "R"),
        ("blank", "phi_R", "R_dir"),
    ],
)
def test_a_hint_is_charged_to_the_first_line_asked_for_that_it_leads_to(
    guidance: str, key: str, bears: str
) -> None:
    """Entries show the hints of their own line, marks those that a line bears."""
    drill = small_drill(f'hints = "at a cost"\nguidance = "{guidance}"', problem="wrist-hammer")
    one = marked(drill, [hint(key)])
    assert {line.step: line.hints for line in one.lines if line.hints} == {bears: 1}


def test_of_very_many_entries_the_last_are_judged_without_slips_and_then_not_at_all(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Where that is so is counted in what is judged, so that it is the same on every machine."""
    looked_for: list[object] = []

    def explain(*attempt: object) -> tuple[Explanation, ...]:
        looked_for.append(attempt)
        return ()

    drill = small_drill()
    wrong = [entry("W_s", f"(3.1*{n}.7+2.2) N") for n in range(10, 50)]
    whole = marked(drill, [*wrong, *ALL_RIGHT])
    assert not any("entries" in remark for remark in whole.remarks)
    monkeypatch.setattr("leverstep.slips.explained.explain", explain)
    monkeypatch.setattr("leverstep.bench.replaying.MOST_EXPLAINED", 30)
    found = marked(drill, [*wrong, *ALL_RIGHT])
    assert len(looked_for) == 31
    remark = f"too many entries: {len(wrong) + LINES - 31} entries are judged without looking "
    assert any(one.startswith(remark) for one in found.remarks)
    assert (found.lines, found.marks) == (whole.lines, whole.marks)
    monkeypatch.setattr("leverstep.bench.replaying.MOST_JUDGED", 41)
    cut = marked(drill, [*wrong, *ALL_RIGHT])
    assert "too many entries: the last 13 entries are not judged" in cut.remarks
    assert cut.entries == found.entries[:42]
    assert [line.share for line in cut.lines] == [1, 1, *[0] * (LINES - 2)]


def test_marks_of_several_workings_add_up() -> None:
    drill = small_drill(count=2, marks=LINES)
    second = right_entries(drill.tasks("s1")[1].question)
    lines: Lines = [*ALL_RIGHT, *(entry(k, text, 2) for k, text in list(second.items())[:5])]
    assert [number(mark) for mark in marked(drill, lines).marks] == ["15", "5"]
    assert drill.marks == 30


def table(drill: Drill, records: Mapping[str, bytes], folder: Path) -> list[dict[str, str]]:
    """Return the rows of the table of marks over records by name."""
    for name, data in records.items():
        (folder / "records" / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / "records" / name).write_bytes(data)
    write(drill, folder / "records", folder / "out")
    with (folder / "out" / MARKS).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write(
    drill: Drill,
    records: Path,
    out: Path,
    pool: Callable[[], Executor] = lambda: ThreadPoolExecutor(1),
    before: Path | None = None,
) -> list[str]:
    """Mark a folder of records into tables; return what is printed."""
    with pool() as executor:
        return write_tables(drill, records, out, executor, before)


@pytest.mark.parametrize(("counts", "total"), [("best", "10"), ("last", "0.67")])
def test_the_best_or_the_last_sitting_counts(counts: str, total: str, tmp_path: Path) -> None:
    drill = small_drill(marking=f'counts = "{counts}"')
    hour = timedelta(hours=1)
    sittings: list[Lines] = [ALL_RIGHT[:3], ALL_RIGHT, ALL_RIGHT[:1]]
    records = {
        f"{3 - number}.jsonl": record(drill, "s1", [*lines, END], BEGUN + number * hour)
        for number, lines in enumerate(sittings)
    }
    (row,) = table(drill, records, tmp_path)
    assert (row["total"], row["sittings"], row["remarks"]) == (total, "3", "")


@pytest.mark.parametrize("counts", ["best", "last"])
def test_a_sitting_that_was_only_begun_does_not_stand_for_one_handed_in(
    counts: str, tmp_path: Path
) -> None:
    drill = small_drill(marking=f'counts = "{counts}"')
    records = {
        "a.jsonl": record(drill, "s1", [WRONG, END]),
        "b.jsonl": record(drill, "s1", [], BEGUN + timedelta(hours=1)),
    }
    (row,) = table(drill, records, tmp_path)
    assert (row["entries"], row["sittings"], row["remarks"]) == ("1", "2", "")


def test_of_sittings_as_good_the_latest_counts(tmp_path: Path) -> None:
    drill = small_drill()
    records = {
        "b.jsonl": record(drill, "s1", [*ALL_RIGHT, END]),
        "a.jsonl": record(drill, "s1", [WRONG, *ALL_RIGHT, END], BEGUN + timedelta(hours=1)),
    }
    (row,) = table(drill, records, tmp_path)
    assert row["entries"] == str(LINES + 1)


def test_the_table_of_marks_has_a_row_for_each_student(tmp_path: Path) -> None:
    (tmp_path / "roster.csv").write_text("id,name\ns1,Ada A.\nS2,Ben B.\ns3,Cem C.\n", "utf-8")
    drill = small_drill('roster = "roster.csv"', folder=tmp_path)
    records = {
        "x.jsonl": record(drill, "s2", [hint("W_s"), *ALL_RIGHT[:1]]),
        "y.jsonl": record(drill, "s1", [*ALL_RIGHT, END]),
    }
    columns = ("id", "name", "task 1", "total", "out of", "percentage", "hints", "entries")
    ends = ("began", "handed in", "minutes", "away", "sittings", "remarks", "code")
    rows = table(drill, records, tmp_path)
    assert tuple(rows[0]) == tuple(marks_columns(drill)) == (*columns, *ends)
    handed_in, at = (
        mark_record(drill, CATALOGUE, "y", records["y.jsonl"]).code,
        "2027-03-01 09:00:00+00:00",
    )
    assert [row.pop("code") for row in rows] == [handed_in, "", ""] != ["", "", ""]
    assert [tuple(row.values()) for row in rows] == [
        (
            "s1",
            "Ada A.",
            "10",
            "10",
            "10",
            "100",
            "0",
            "15",
            at,
            "2027-03-01 09:02:40+00:00",
            "2.7",
            "0",
            "1",
            "",
        ),
        ("S2", "Ben B.", "0", "0", "10", "0", "1", "1", at, "", "0.3", "0", "1", "not handed in"),
        ("s3", "Cem C.", "", "", "10", "", "", "", "", "", "", "", "0", "no record"),
    ]


@pytest.mark.parametrize(("counts", "total"), [("best", "0.67"), ("last", "0")])
def test_of_more_sittings_than_are_allowed_the_first_count(
    counts: str, total: str, tmp_path: Path
) -> None:
    drill = small_drill("sittings = 2", f'counts = "{counts}"')
    hour = timedelta(hours=1)
    sittings: list[Lines] = [ALL_RIGHT[:1], [], ALL_RIGHT]
    records = {
        f"{3 - number}.jsonl": record(drill, "s1", [*lines, END], BEGUN + number * hour)
        for number, lines in enumerate(sittings)
    }
    (row,) = table(drill, records, tmp_path)
    assert (row["total"], row["sittings"]) == (total, "3")
    assert row["remarks"] == "3 sittings, of which only the first 2 count"


def test_marks_of_tasks_add_up_to_the_total_as_shown(tmp_path: Path) -> None:
    """Each of three tasks earns 14 of 15 lines: 9.333… marks."""
    drill = small_drill(count=3)
    lines: Lines = []
    for place, task in enumerate(drill.tasks("s1"), 1):
        typed = list(right_entries(task.question).items())[:-1]
        lines += [entry(key, text, place) for key, text in typed]
    (row,) = table(drill, {"one.jsonl": record(drill, "s1", lines)}, tmp_path)
    assert [row[f"task {number}"] for number in (1, 2, 3)] == ["9.33"] * 3
    assert row["total"] == "27.99"


def test_the_table_of_entries_has_a_row_for_each_entry_and_each_hint(tmp_path: Path) -> None:
    drill = small_drill()
    table(drill, {"one.jsonl": record(drill, "s1", [hint("W_s"), WRONG, ALL_RIGHT[0]])}, tmp_path)
    with (tmp_path / "out" / STEPS).open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    assert rows == [
        ["id", "record", "task", "line", "kind", "typed", "outcome", "slips", "told", "first try",
         "hints", "seconds"],
        ["s1", "one.jsonl", "1", "W_s", "force", "", "hint", "", "", "", "1", "10.0"],
        ["s1", "one.jsonl", "1", "W_s", "force", "426.9 N", "not yet", "", "", "yes", "1", "20.0"],
        ["s1", "one.jsonl", "1", "W_s", "force", "416.9 N", "right", "", "", "", "1", "30.0"],
    ]  # fmt: skip


def test_hints_taken_on_a_line_stand_beside_its_entries(tmp_path: Path) -> None:
    drill = small_drill()
    lines: Lines = [hint("W_s"), WRONG, hint("W_s"), hint("d_s"), *ALL_RIGHT[:2]]
    table(drill, {"one.jsonl": record(drill, "s1", lines)}, tmp_path)
    with (tmp_path / "out" / STEPS).open(encoding="utf-8", newline="") as file:
        rows = [(row["line"], row["outcome"], row["hints"]) for row in csv.DictReader(file)]
    judged = [(line, hints) for line, outcome, hints in rows if outcome != "hint"]
    assert judged == [("W_s", "1"), ("W_s", "2"), ("W_b", "0")]
    assert [row[::2] for row in rows if row[1] == "hint"] == [
        ("W_s", "1"),
        ("W_s", "2"),
        ("d_s", "1"),
    ]


def test_a_hint_after_the_last_entry_of_a_line_is_in_the_table(tmp_path: Path) -> None:
    drill = small_drill()
    lines: Lines = [WRONG, hint("W_s"), hint("W_s")]
    table(drill, {"one.jsonl": record(drill, "s1", lines)}, tmp_path)
    with (tmp_path / "out" / STEPS).open(encoding="utf-8", newline="") as file:
        rows = [(row["line"], row["outcome"], row["hints"]) for row in csv.DictReader(file)]
    assert rows == [("W_s", "not yet", "0"), ("W_s", "hint", "1"), ("W_s", "hint", "2")]


def hinted(drill: Drill, lines: Lines) -> dict[str, int]:
    """Return the hints that lines bear."""
    return {line.step: line.hints for line in marked(drill, lines).lines if line.hints}


def test_a_hint_asked_where_a_line_is_right_already_is_borne_by_the_one_that_it_serves() -> None:
    drill = small_drill('hints = "at a cost"\nguidance = "landmarks"', problem="wrist-hammer")
    right = right_entries(drill.tasks("s1")[0].question)
    assert hinted(drill, [hint("W_h")]) == {"M_sum": 1}
    assert hinted(drill, [entry("M_sum", right["M_sum"]), hint("d_m")]) == {"F_m": 1}
    assert hinted(drill, [hint("W_h"), entry("M_sum", right["M_sum"])]) == {"M_sum": 1}


def test_a_hint_asked_where_no_try_is_left_is_not_free() -> None:
    rules = 'hints = "at a cost"\nguidance = "landmarks"\nattempts = 1'
    drill = small_drill(rules, problem="wrist-hammer")
    lost = entry("M_sum", "99.9 N*m")
    assert hinted(drill, [lost, hint("W_h"), hint("W_h")]) == {"F_m": 2}


def test_a_hint_for_what_comes_after_a_line_that_was_left_is_not_free() -> None:
    drill = small_drill('hints = "at a cost"\nguidance = "landmarks"', problem="wrist-hammer")
    right = right_entries(drill.tasks("s1")[0].question)
    left = [{"kind": "leave", "task": 1, "step": "M_sum"}, hint("W_h"), hint("d_h")]
    assert hinted(drill, left) == {"F_m": 2}
    found = [*left, entry("F_m", right["F_m"]), entry("M_sum", right["M_sum"])]
    assert hinted(drill, found) == {"F_m": 2}
    assert hinted(drill, [entry("M_sum", "99.9 N*m"), left[0], hint("W_h")]) == {"F_m": 1}


def test_a_hint_costs_no_line_that_needs_it_only_for_what_is_right_already() -> None:
    drill = small_drill('hints = "at a cost"\nguidance = "landmarks"', problem="wrist-hammer")
    right = right_entries(drill.tasks("s1")[0].question)
    found = [entry(key, right[key]) for key in ("M_sum", "F_m")]
    assert hinted(drill, [*found, hint("d_h")]) == {"class": 1}
    assert hinted(drill, [*found, hint("W_h")]) == {"MA": 1}
    assert hinted(drill, [*found, hint("r_m")]) == {"AR": 1}


def test_every_column_of_a_table_is_explained() -> None:
    text = (ROOT / "problems" / "DRILLS.md").read_text("utf-8")
    drill = small_drill("predict = true\nsense = true\nsure = true")
    for column in (*marks_columns(drill), *steps_columns(drill)):
        assert f"| `{column}` |" in text or column.startswith("task "), column


def test_a_changed_file_is_remarked_on_once_where_all_were_taken_with_another() -> None:
    taken, now = small_drill(), replace(small_drill(), text="changed since")
    first = [record(taken, student, [END]) for student in ("s1", "s2")]

    def remarks(*records: bytes) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
        with TemporaryDirectory() as name:
            for number, data in enumerate(records):
                (Path(name) / f"{number}.jsonl").write_bytes(data)
            found = gather([Path(name)]).records
            shared = shared_remarks(now, found)
            with ThreadPoolExecutor(1) as pool:
                students = by_student(now, mark_all(now, CATALOGUE, found, pool), shared)
                return shared, [student.remarks for student in students]

    said = "sat with another version of the drill's file"
    assert remarks(*first) == ((said,), [(), ()])
    assert remarks(*first, record(now, "s3", [END])) == ((), [(said,), (said,), ()])
    assert remarks(first[0]) == ((), [(said,)])


@pytest.mark.parametrize(
    ("value", "text"),
    [("0", "0"), ("2/3", "0.67"), ("1/8", "0.13"), ("5", "5"), ("100", "100"), ("999/1000", "1")],
)
def test_numbers_are_rounded_half_up(value: str, text: str) -> None:
    assert number(Fraction(value)) == text


def class_of(drill: Drill, folder: Path, count: int) -> None:
    """Write the records of a class: some lines right, some wrong, some missing."""
    for place in range(count):
        student = f"s{place:03}"
        chance = random.Random(student)
        lines: Lines = []
        for key, text in right_entries(drill.tasks(student)[0].question).items():
            if chance.random() < 0.3:
                lines.append(entry(key, "54 N"))
            if chance.random() < 0.8:
                lines.append(entry(key, text))
        path = folder / f"{chance.randrange(10**6)}-{student}.jsonl"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(record(drill, student, [*lines, END]))


def test_the_same_records_give_the_same_files(tmp_path: Path) -> None:
    drill, records = small_drill(), tmp_path / "records"
    class_of(drill, records, 40)
    ways: dict[str, Callable[[], Executor]] = {
        "once": lambda: ThreadPoolExecutor(1),
        "again": lambda: ThreadPoolExecutor(1),
        "one worker": lambda: ProcessPoolExecutor(1),
        "two workers": lambda: ProcessPoolExecutor(2),
    }
    found = set()
    for name, pool in ways.items():
        write(drill, records, tmp_path / name, pool)
        found.add(tuple((tmp_path / name / file).read_bytes() for file in (MARKS, STEPS)))
    ((marks, steps),) = found
    assert (marks.count(b"\r\n"), steps.count(b"\r\n") > 400) == (41, True)


def test_another_layout_of_folders_gives_the_same_rows(tmp_path: Path) -> None:
    drill, records, other = small_drill(), tmp_path / "records", tmp_path / "other"
    class_of(drill, records, 20)
    for place, path in enumerate(sorted(records.iterdir(), reverse=True)):
        folder = other / f"{place % 7}" / f"{place}"
        folder.mkdir(parents=True)
        (folder / "record.jsonl").write_bytes(path.read_bytes())
    write(drill, records, tmp_path / "one")
    write(drill, other, tmp_path / "two")
    one, two = tmp_path / "one", tmp_path / "two"
    assert (one / MARKS).read_bytes() == (two / MARKS).read_bytes()
    steps = []
    for out in (one, two):
        with (out / STEPS).open(encoding="utf-8", newline="") as file:
            steps.append([{**row, "record": ""} for row in csv.DictReader(file)])
    assert steps[0] == steps[1] != []


def test_marking_again_tells_whose_total_has_changed(tmp_path: Path) -> None:
    drill, records = small_drill(marks=LINES), tmp_path / "records"
    records.mkdir()
    near = right_entries(drill.tasks("s2")[0].question)
    near["W_s"] = f"{float(near['W_s'].split()[0]) * 1.015:.1f} N"  # 1.5 % off
    lines = {"s1": ALL_RIGHT, "s2": [entry(key, text) for key, text in near.items()]}
    for student, found in lines.items():
        (records / f"{student}.jsonl").write_bytes(record(drill, student, [*found, END]))
    before = tmp_path / "before"
    write(drill, records, before)
    same = tmp_path / "same"
    told = [f"No total has changed: {same / AGAINST}"]
    assert write(drill, records, same, before=before)[1:] == told
    wider = replace(drill, tolerance=Fraction(1, 50))
    assert write(wider, records, tmp_path / "wider", before=before)[1:-1] == [
        "s2: 14 of 15 before, 15 of 15 now"
    ]
    costly = replace(drill, scheme=replace(drill.scheme, wrong_try=Fraction(1, 2)))
    (records / "s1.jsonl").write_bytes(record(drill, "s1", [WRONG, *ALL_RIGHT, END]))
    assert write(costly, records, tmp_path / "scheme", before=before)[1:-1] == [
        "s1: 15 of 15 before, 14.5 of 15 now"
    ]
    (records / "s1.jsonl").unlink()
    (records / "s3.jsonl").write_bytes(record(drill, "s3", [END]))
    assert write(drill, records, tmp_path / "others", before=before)[1:] == [
        "s3: no marks before, 0 of 15 now",
        "s1: 15 of 15 before, no marks now",
        f"2 totals have changed: {tmp_path / 'others' / AGAINST}",
    ]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_tables_that_a_spreadsheet_saved_again_are_compared_with(
    separator: str, tmp_path: Path
) -> None:
    """With a mark of the byte order, another separator, and a comma in numbers."""
    (tmp_path / "roster.csv").write_text("id,name\n=s1,Ida\ns2,Odo\n", "utf-8")
    roster = small_drill('roster = "roster.csv"', marks=LINES, folder=tmp_path)
    files = {"s2.jsonl": record(roster, "s2", [WRONG, END])}
    right = right_entries(roster.tasks("=s1")[0].question)
    found = [entry(key, text) for key, text in right.items()]
    files["s1.jsonl"] = record(roster, "=s1", [*found, END])
    table(roster, files, tmp_path)
    with (tmp_path / "out" / MARKS).open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    point = "." if separator == "," else ","
    rows[1][rows[0].index("total")] = f"15{point}00"
    again = tmp_path / "again"
    again.mkdir()
    with (again / MARKS).open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file, delimiter=separator).writerows(rows)
    now = tmp_path / "now"
    records = tmp_path / "records"
    assert write(roster, records, now, before=again)[1:] == [
        f"No total has changed: {now / AGAINST}"
    ]
    twice = replace(roster, items=(replace(roster.items[0], marks=Fraction(30)),))
    assert write(twice, records, now, before=again)[1:] == [
        "'=s1, Ida: 15 of 15 before, 30 of 30 now",
        "s2, Odo: 0 of 15 before, 0 of 30 now",
        f"1 total has changed; for 1 student the most that can be had has changed: {now / AGAINST}",
    ]
    with (now / AGAINST).open(encoding="utf-8", newline="") as file:
        assert list(csv.reader(file)) == [
            ["id", "name", "total before", "out of before", "total now", "out of now"],
            ["'=s1", "Ida", "15", "15", "30", "30"],
            ["s2", "Odo", "0", "15", "0", "30"],
        ]


def test_a_row_of_a_table_that_ends_early_is_passed_over(tmp_path: Path) -> None:
    (tmp_path / MARKS).write_text("name,total,out of,id\nOdo\nIda,15,15,s1\n", "utf-8")
    assert totals_of(tmp_path / MARKS) == {"s1": Total("Ida", "15", "15")}


def test_a_faulty_problem_is_mended_and_marked_again(tmp_path: Path) -> None:
    """A problem takes the wrong sense of rotation as positive; its file is set right later on."""
    path = SHELF.problems["plain-wheelbarrow"].path
    assert path is not None
    mended = path.read_text("utf-8").replace('"plain-wheelbarrow"', '"own-barrow"')
    drills = {}
    for name, sense in (("faulty", "clockwise"), ("mended", "counter-clockwise")):
        own = tmp_path / name / "own-barrow.toml"
        own.parent.mkdir()
        own.write_text(f'positive = "{sense}"\n{mended}', "utf-8")
        write_drill(own.with_name("levers.toml"), [str(own)], SHELF)
        drills[name] = drill_of(own.with_name("levers.toml").read_text("utf-8"), {}, "levers")
    right = right_entries(drills["mended"].tasks("s1")[0].question)
    lines: Lines = [*(entry(key, text) for key, text in right.items()), END]
    (tmp_path / "records").mkdir()
    (tmp_path / "records" / "s1.jsonl").write_bytes(record(drills["faulty"], "s1", lines))
    before, after = tmp_path / "before", tmp_path / "after"
    write(drills["faulty"], tmp_path / "records", before)
    told = write(drills["mended"], tmp_path / "records", after, before=before)
    assert (
        told[1] == "s1: 8.67 of 10 before, 10 of 10 now"
    )  # of 15 lines two moments had the other sign
    assert "sat with another version of the drill's file" in (after / MARKS).read_text("utf-8")


def test_tables_to_compare_with_that_are_none_are_told_of(tmp_path: Path) -> None:
    drill = small_drill()
    table(drill, {"s1.jsonl": record(drill, "s1", [END])}, tmp_path)
    (tmp_path / "odd").mkdir()
    for before in (tmp_path / "nowhere", tmp_path / "odd"):
        with pytest.raises(FileError, match="expected a table of marks"):
            write(drill, tmp_path / "records", tmp_path / "again", before=before)
        (tmp_path / "odd" / MARKS).write_text("a,b\n1,2\n", "utf-8")


def test_the_command_marks_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, records, out = tmp_path / "levers.toml", tmp_path / "records", tmp_path / "out"
    assert main(["drill", "new", str(file), "plain-wheelbarrow"]) == 0
    drill = drill_of(file.read_text("utf-8"), SHELF.problems, file.name)
    class_of(drill, records, 3)
    mark = ["drill", "mark", str(file), str(records), "--out", str(out)]
    assert main(mark) == 0
    assert main([*mark, "--against", str(out)]) == 0
    printed = capsys.readouterr().out.splitlines()
    told = f"3 students are marked: {out / MARKS}, {out / STEPS}"
    assert printed.count(told) == 2
    assert printed.count(f"No total has changed: {out / AGAINST}") == 1
    assert main([*mark, "--against", str(tmp_path / "nowhere")]) == 2
    assert "expected a table of marks" in capsys.readouterr().err
    one = next(records.rglob("*.jsonl"))
    assert main(["drill", "mark", str(file), str(one), "--out", str(out), "--pages"]) == 0
    printed = capsys.readouterr().out.splitlines()
    assert printed[:2] == ["1 file: 1 record.", told.replace("3 students are", "1 student is")]
    assert f"1 page to give back: {out / 'students'}" in printed
    (tmp_path / "empty").mkdir()
    assert main(["drill", "mark", str(file), str(tmp_path / "empty"), "--out", str(out)]) == 2
    assert (
        capsys.readouterr().err
        == f"{tmp_path / 'empty'}: no records are there; expected records, or a folder of them\n"
    )


# Numbers.

CLASS_DRILL = drill_of(
    """
    id = "levers"
    title = "Levers"
    [[item]]
    problem = "elbow-full-pail"
    [[item]]
    problem = "knee-half-straight"
    [[item]]
    problem = "plain-seesaw"
    numbers = "fixed"
    """,
    SHELF.problems,
    "levers.toml",
)


def test_the_numbers_of_a_student_never_change() -> None:
    """These stood in records of the first version, and must come out of every later one."""
    elbow, _, seesaw = CLASS_DRILL.tasks("s1234567")
    assert elbow.question.givens_written == {
        "m_f": "1.70 kg",
        "m_l": "20.5 lb",
        "given_L": "27.5 cm",
        "given_d_l": "34.0 cm",
        "given_d_m": "3.8 cm",
        "fraction_d_f": "0.682",
    }
    assert seesaw.question.givens_written == {
        "m_c": "68.0 lb",
        "m_y": "35.5 lb",
        "given_d_c": "4.90 ft",
        "given_d_y": "3.55 ft",
        "given_d_h": "5.45 ft",
    }


def test_no_two_of_a_thousand_students_have_the_same_numbers() -> None:
    found = [
        tuple(tuple(task.question.exact.items()) for task in CLASS_DRILL.tasks(f"s{number:04}"))
        for number in range(1000)
    ]
    assert len(set(found)) == 1000
    assert len({whole[2] for whole in found}) == 1, "fixed numbers are everyone's"


def test_the_number_of_a_student_does_not_depend_on_how_the_id_is_typed() -> None:
    found = {
        tuple(tuple(task.question.exact.items()) for task in CLASS_DRILL.tasks(student))
        for student in ("s1234567", "S1234567", " s1234567 ", "\tS1234567")
    }
    assert len(found) == 1
