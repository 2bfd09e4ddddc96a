"""Drill files: what the reader says of a broken one, and that what is written reads back."""

from __future__ import annotations

import json
import re
import tomllib
from dataclasses import fields
from datetime import timedelta, timezone
from fractions import Fraction
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from helpers.drill_sittings import SHELF
from helpers.drills import drill_with
from helpers.sealed import RULE
from helpers.source import ROOT
from hypothesis import given, settings
from hypothesis import strategies as st
from leverstep.course.faults import FileError
from leverstep.course.phrases import moment as told_at
from leverstep.course.problem import Problem
from leverstep.course.shelf import Problems, Shelf, load_shelf
from leverstep.course.toml import top_keys
from leverstep.drill.allowance import Allowance
from leverstep.drill.drill import Counts, Drill, Feedback, Hints, Scheme, is_student
from leverstep.drill.drill_file import (
    LARGEST_DRILL,
    drill_of,
    is_drill_file,
    read_drill,
)
from leverstep.drill.drill_writing import write_drill
from leverstep.drill.exceptions import exceptions_of
from leverstep.drill.roster import MOST_STUDENTS, roster_of, roster_table
from leverstep.drill.roster_columns import TAKEN, RosterColumns
from leverstep.drill.start_word import key_of
from leverstep.faces.commands.cli import main
from leverstep.marking.tables import marks_columns
from leverstep.statics.choices import CONVENTIONS
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Reasons

DOCUMENT = (ROOT / "problems" / "DRILLS.md").read_text("utf-8")
EXAMPLE, EXCEPTIONS_EXAMPLE, *_ = re.findall(r"```toml\n(.*?)```", DOCUMENT, re.DOTALL)
ROSTER = "id,name\ns1,Ada\ns2,Ben\n"
LEAST = 'id = "levers"\ntitle = "Levers"\n[[item]]\nproblem = "plain-seesaw"\n'


def faults(text: str, folder: Path | None = None) -> list[str]:
    """Return every fault of a drill."""
    with pytest.raises(FileError) as caught:
        drill_of(text, SHELF.problems, "levers.toml", folder)
    return [str(fault) for fault in caught.value.faults]


def example(folder: Path, text: str = EXAMPLE) -> Drill:
    """Return the drill of the document's example, with its roster beside it."""
    (folder / "class-3b.csv").write_text(ROSTER, "utf-8")
    (folder / "levers.toml").write_text(text, "utf-8")
    return read_drill(folder / "levers.toml", SHELF.problems)


def test_the_example_of_the_document_is_read_as_it_says(tmp_path: Path) -> None:
    drill = example(tmp_path)
    assert (drill.id, drill.title, drill.text) == ("levers-week-3", "Levers, week 3", EXAMPLE)
    assert drill.guidance is Guidance.LANDMARKS
    assert (drill.feedback, drill.hints) == (Feedback.EACH, Hints.COST)
    assert (drill.attempts, drill.tolerance, drill.minutes) == (3, Fraction(1, 50), 45)
    assert drill.sittings == 2
    assert drill.opens is not None
    assert drill.closes is not None
    moments = [moment.isoformat() for moment in (drill.opens, drill.closes)]
    assert moments == ["2027-03-01T09:00:00+01:00", "2027-03-08T18:00:00+01:00"]
    hint = tuple(Fraction(cost, 20) for cost in (1, 2, 5, 10))
    assert drill.scheme == Scheme(Fraction(1, 5), hint, Fraction(4, 5), Counts.BEST)
    assert drill.reasons is Reasons.WHEN_ASKED
    assert drill.accepted == {"g": (9.81, 9.8), "pounds_per_kilogram": (2.205,)}
    assert [(i.problem.id, i.count, i.fixed, i.marks) for i in drill.items] == [
        ("elbow-pail-of-water", 2, False, 12),
        ("my-plank", 1, False, 10),
        ("plain-seesaw", 1, False, 10),
    ]
    assert [i.open_lines for i in drill.items] == [None, 3, None]
    assert [i.id for i in drill.items[2].bank] == ["plain-seesaw", "plain-wheelbarrow"]
    assert drill.items[2].weights == {"F_h": 3, "class": Fraction(1, 2)}
    assert drill.students == {"s1": "Ada", "s2": "Ben"}
    word = re.search(r"^start_word = .*# none: this one is (.*)$", EXAMPLE, re.MULTILINE)
    assert word is not None
    assert key_of(drill.start_word, word[1])


def test_what_is_left_out_has_the_value_that_the_document_names(tmp_path: Path) -> None:
    """Every comment of the example that begins with a value names what stands behind the key."""
    least = drill_of(LEAST, SHELF.problems, "levers.toml")
    drill = example(tmp_path)
    rules_of = {key: value for key, value in vars(least).items() if key not in NOT_IN_THE_FILE}
    none = {key for key, value in rules_of.items() if value is None or value == {}}
    rules = {"attempts", "sittings", "tolerance", "minutes", "opens", "closes", "late"}
    assert none == rules | {"students", "accepted", "pins"}
    for key in rules:
        assert re.search(rf"^{key} = .*# none: ", EXAMPLE, re.MULTILINE), key
    assert least.start_word == ""
    assert re.search(r"^pins = true +# false; ", EXAMPLE, re.MULTILINE)
    hint = (Fraction(1, 4),) * 4
    assert least.scheme == Scheme(Fraction(0), hint, Fraction(1), Counts.BEST)
    assert least.reasons is Reasons.WHEN_ASKED
    for key, value in (("wrong_try", "0"), ("hint", "0.25"), ("follow_through", "1")):
        assert re.search(rf"^{key} = .*# {re.escape(value)}: ", EXAMPLE, re.MULTILINE), key
    assert (least.guidance, least.feedback, least.hints) == ("lines", "each line", "free")
    assert (least.items[0].count, least.items[0].fixed, least.items[0].marks) == (1, False, 10)
    assert drill.items[1].count == 1


def test_the_document_names_every_key(tmp_path: Path) -> None:
    """A key that the reader asks for and the example leaves out would be named as unknown."""
    example(tmp_path)
    (fault,) = faults(f"nothing = 1\n{LEAST}")
    known = re.findall(r'"(\w+)"', fault.split("expected")[1])
    named = set(re.findall(r"^(?:# )?\[*(\w+)(?: =|\])", EXAMPLE, re.MULTILINE))
    assert set(known) <= named
    assert {"wrong_try", "hint", "follow_through", "counts", "count", "numbers", "marks"} <= named
    assert {field.name for field in fields(Scheme)} <= named


def test_the_exceptions_of_the_document_are_read_and_name_every_key(tmp_path: Path) -> None:
    drill = example(tmp_path)
    found = exceptions_of(EXCEPTIONS_EXAMPLE, drill)
    assert list(found) == ["s07", "s15", "s20", "s12"]
    assert [of for of, one in found.items() if one.plain] == ["s15"]
    assert (found["s07"].factor, found["s20"].excused) == (Fraction(5, 4), True)
    assert (found["s12"].sittings, found["s12"].marks) == (3, {2: Fraction(15, 2)})
    named = set(re.findall(r"\b(\w+) = ", EXCEPTIONS_EXAMPLE))
    assert {field.name for field in fields(Allowance)} - {"numbered", "passed"} <= named


def test_the_document_names_every_constant() -> None:
    (named,) = re.findall(r"\*\*Constants\*\* that may be named: (.*?);", DOCUMENT, re.DOTALL)
    assert re.findall(r"`(\w+)`", named) == [*CONVENTIONS]


CALLED = {"items": "item", "accepted": "constants", "scheme": "marking", "students": "roster"}
"""What a file calls some fields of a drill."""

NOT_IN_THE_FILE = {
    "text", "start_key", "number_secret", "sat_with", "details", "elsewhere", "allowances",
    "seal_keys",
}  # fmt: skip
"""What comes of the file, of the roster, or of how a drill is marked."""


def test_every_rule_is_read_from_the_file_and_named_in_a_new_one(tmp_path: Path) -> None:
    """A new one leaves out constants, which few courses set, and problems where none are own."""
    (fault,) = faults(f"nothing = 1\n{LEAST}")
    known = set(re.findall(r'"(\w+)"', fault.split("expected")[1]))
    rules = {CALLED.get(field.name, field.name) for field in fields(Drill)}
    assert rules - NOT_IN_THE_FILE == known - {"problems"}
    write_drill(tmp_path / "levers.toml", ["plain-seesaw"], SHELF)
    new = (tmp_path / "levers.toml").read_text("utf-8")
    named = set(re.findall(r"^(?:# )?\[*(\w+)(?: =| +#|\])", new, re.MULTILINE))
    assert known - named == {"constants", "problems"}
    assert {field.name for field in fields(Scheme)} <= named


BROKEN = f"""
id = "no spaces"
title = 5
guidance = "line"
feedback = true
hints = "at cost"
attempts = 0
tolerance = 0.5
minutes = 1.5
opens = 2027-03-01T09:00:00
closes = "soon"
rooster = "roster.csv"
[marking]
wrong_try = 2
hint = "a quarter"
follow_thru = 1
counts = "first"
[constants]
g = 1.62
gee = 9.81
pounds_per_kilogram = [2.2, "2.205"]
newtons_per_pound = true
[[item]]
problem = "plain-sesaw"
count = 51
numbers = "same"
marks = 0
points = 5
[[item]]
[[item]]
problem = "plain-seesaw"
marks = 3.333
[problems]
mine = "id = 'mine'"
other = 5
broken = {json.dumps('id = "broken')}
"""
TOLD = [
    "id: found 'no spaces'; expected up to 60 letters, digits and hyphens",
    "title: found 5; expected a text",
    "guidance: found 'line' (did you mean \"lines\"?)",
    "feedback: found True; expected",
    "hints: found 'at cost' (did you mean \"at a cost\"?)",
    "attempts: found 0; expected a whole number from 1 to 100",
    "tolerance: found 0.5; expected a number from 0.0001 to 0.1",
    "minutes: found 1.5; expected a whole number from 1 to 1000",
    "opens: found 2027-03-01 09:00, without an offset; expected for example "
    "2027-03-01T09:00:00+01:00",
    "closes: found 'soon'; expected for example 2027-03-01T09:00:00+01:00",
    'rooster: unknown key (did you mean "roster"?)',
    "marking.wrong_try: found 2; expected a number from 0 to 1",
    "marking.hint: found 'a quarter'; expected a number",
    'marking.follow_thru: unknown key (did you mean "follow_through"?)',
    'marking.counts: found \'first\'; expected one of "best", "last"',
    "constants.g: found 1.62; expected numbers near 9.81",
    "constants.gee: unknown constant; expected one of g,",
    "constants.pounds_per_kilogram: found [2.2, '2.205']; expected a number or",
    "constants.newtons_per_pound: found True; expected a number or",
    'item[1].problem: found "plain-sesaw" (did you mean "plain-seesaw"?)',
    "item[1].count: found 51; expected a whole number from 1 to 50",
    'item[1].numbers: found \'same\'; expected one of "individual", "fixed"',
    "item[1].marks: found 0; expected a number from 0.01 to 1000",
    "item[1].points: unknown key",
    "item[3].marks: found 3.333; expected at most two decimals",
    "item[2].problem: missing",
    "levers.toml: mine: title: missing",
    "problems.other: found 5; expected the text of a problem file",
    "levers.toml: broken: ",
]


@pytest.mark.parametrize("told", TOLD)
def test_every_fault_is_told_at_once(told: str) -> None:
    found = faults(BROKEN)
    assert [fault for fault in found if told in fault], found


def test_a_rule_of_the_drill_in_an_item_is_told_to_be_one() -> None:
    text = 'id = "levers"\ntitle = "Levers"\n[[item]]\nproblem = "plain-seesaw"\n'
    rules = ('picture = "asked"', "sittings = 3", "late = {}", "pictur = 1")
    found = faults(text + "\n".join(rules))
    told = "it is a rule of the whole drill; expected it in the lines above the first [[item]]"
    assert [told in fault for fault in found] == [True, True, True, False]
    assert "item[1].pictur: unknown key" in found[-1]


def test_nothing_is_told_that_is_no_fault() -> None:
    """Beside the faults above there are only those of the problem inside that is no problem."""
    others = [f for f in faults(BROKEN) if not any(told in f for told in TOLD)]
    assert all(fault.startswith("levers.toml: mine: ") for fault in others)


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        (("closes = 2027-03-08", "closes = 2027-02-08"), "expected a moment after it opens"),
        (
            ("due = 2027-03-08T17", "due = 2027-03-08T19"),
            "late.due: found 2027-03-08 19:00:00+01:00",
        ),
        (("due = 2027-03-08T17:00:00+01:00, ", ""), "late.due: missing; expected the moment when"),
        (("grace = 10", "grace = 1.5"), "late.grace: found 1.5; expected a whole number from 0"),
        (("per_day = 0.1", "per_day = 2"), "late.per_day: found 2; expected a number from 0 to 1"),
        (("floor = 0.5", "flor = 0.5"), 'late.flor: unknown key (did you mean "floor"?)'),
        (("count = 2", "count = 50"), "item: too many workings; expected at most 50 workings"),
        (('id = "levers-week-3"', f'id = "{"x" * 61}"'), "expected up to 60 letters"),
        (('id = "levers-week-3"', 'id = "../x"'), "expected up to 60 letters"),
        (('unit = "kg"', 'unit = "N"'), "my-plank: load[1].mass.unit: found 'N'"),
        (("title = ", "titel = "), 'titel: unknown key (did you mean "title"?)'),
        (('[[item]]\nproblem = "my-plank"', "[item]"), "[item]; expected [[item]] for one more"),
        (("class-3b.csv", "class-4.csv"), "roster: class-4.csv: "),
    ],
)
def test_a_fault_is_told_in_words(changed: tuple[str, str], told: str, tmp_path: Path) -> None:
    assert changed[0] in EXAMPLE
    with pytest.raises(FileError) as caught:
        example(tmp_path, EXAMPLE.replace(*changed))
    assert told in str(caught.value)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "levers.toml: id: missing; expected a text"),
        ("id = ", "levers.toml: it ends too early, after: id =; expected a value, or a closing"),
        (f"x = {'[' * 3000}", "line 1 has tables or lists nested too deeply"),
        (f"opens = 2027-03-01T09:00\n{LEAST}", "line 1 can't be read: opens = 2027-03-01T09:00; "),
        (
            f"tolerance = 0,02\n{LEAST}",
            "line 1 can't be read: tolerance = 0,02; expected a point for the comma: 0.02",
        ),
        (f"hints = “free”\n{LEAST}", "line 1 can't be read: hints = “free”; expected straight"),
        (f"minutes = 4\nminutes = 5\n{LEAST}", "line 2 repeats what is above: minutes = 5"),
        (LEAST.replace("[[item]]", "item = 5\n[x]"), "item: found 5; expected at least one"),
        (f"{LEAST}marks = nan\n", "item[1].marks: found nan"),
        (f"{LEAST}marks = 1e999999999\n", "item[1].marks: found inf"),
        (
            f"{LEAST}count = {'9' * 4000}\n",
            "line 5 has a number or a key of 4000 characters; expected at most 100",
        ),
    ],
)
def test_what_is_no_drill_is_told(text: str, told: str) -> None:
    assert told in "\n".join(faults(text))


ROSTERS = {
    "student,name\ns1,Ada\n": "roster.csv: it has no column id; its columns are 'student, name'",
    "no,name\ns1,Ada\n": "or to be told which they are by leverstep drill roster",
    "": "roster.csv: it has no column id; it is empty",
    "\ufeffid;name\r\n": "roster.csv: nobody is on it; expected a row for each student",
    "id,name\n,Ada\n": "line 2: ''; expected a student's id",
    f"id,name\n{'x' * 41},Ada\n": "line 2: 'xxxxx",
    "id,name\ns1,Ada\nS1 ,Ben\n": "line 3: 'S1' is there twice",
    "id\n" + "".join(f"s{n}\n" for n in range(MOST_STUDENTS + 1)): "more than 20000 rows",
}


@pytest.mark.parametrize("roster", ROSTERS, ids=lambda roster: repr(roster[:30]))
def test_the_faults_of_a_roster_are_told(roster: str, tmp_path: Path) -> None:
    (tmp_path / "roster.csv").write_text(roster, "utf-8")
    (fault,) = faults(f'roster = "roster.csv"\n{LEAST}', tmp_path)
    assert ROSTERS[roster] in fault


NO_ROSTER = {
    b"\xff\xfe": "it has no column id; it is empty",
    b"\xff\xfei\x00d\x00": "nobody is on it",
    b"\xff\xfei\x00d\x00\n\x00s": "it is not a table in text: save it as CSV in UTF-8",
    b"PK\x03\x04\x00\x00": "it is not a table in text: save it as CSV in UTF-8",
}


@pytest.mark.parametrize("roster", [*NO_ROSTER, b'id\n"s1', b"id,name\ns1,A\ns2,B\n"])
def test_a_roster_of_any_bytes_is_read_or_told_of(roster: bytes, tmp_path: Path) -> None:
    (tmp_path / "roster.csv").write_bytes(roster)
    text = f'roster = "roster.csv"\n{LEAST}'
    if told := NO_ROSTER.get(roster):
        assert f"roster.csv: {told}" in faults(text, tmp_path)[0]
        return
    drill = drill_of(text, SHELF.problems, "levers.toml", tmp_path)
    assert next(iter(drill.students)) == "s1"


def test_a_roster_as_a_spreadsheet_writes_it_is_read(tmp_path: Path) -> None:
    (tmp_path / "roster.csv").write_bytes(
        b'\xef\xbb\xbfname,id,group\r\n"Ada, A.", s1 ,3b\r\n\x1b[31m,s2,3b\r\n'
    )
    drill = drill_of(f'roster = "roster.csv"\n{LEAST}', SHELF.problems, "levers", tmp_path)
    assert drill.students == {"s1": "Ada, A.", "s2": ""}


@pytest.mark.parametrize("separator", [";", "\t"])
def test_a_roster_with_other_separators_is_read(separator: str, tmp_path: Path) -> None:
    rows = [["ID", "Name "], ["s1", '"A., Ada"'], ["s2", "Ben"], ["", ""]]
    text = "\r\n".join(separator.join(row) for row in rows)
    (tmp_path / "roster.csv").write_bytes(b"\xef\xbb\xbf" + text.encode())
    drill = drill_of(f'roster = "roster.csv"\n{LEAST}', SHELF.problems, "levers", tmp_path)
    assert drill.students == {"s1": "A., Ada", "s2": "Ben"}


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "latin-1", "cp1252"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_a_roster_in_the_codings_of_spreadsheets_is_read(
    coding: str, separator: str, tmp_path: Path
) -> None:
    text = "\r\n".join(separator.join(row) for row in (("Id", "Name"), ("s1", "Zoë Groß")))
    (tmp_path / "roster.csv").write_bytes(text.encode(coding))
    drill = drill_of(f'roster = "roster.csv"\n{LEAST}', SHELF.problems, "levers", tmp_path)
    assert drill.students == {"s1": "Zoë Groß"}


COLUMNS = 'roster_columns = {{ id = "Number", name = ["First", "Last"]{} }}\n'


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("", ""),
        (', section = "Lab"', ""),
        (', section = "Lb"', "roster.csv: it has no column Lb"),
        (', total = "Lab"', "roster_columns.total: found 'total'; expected a heading in small"),
        (', "../x" = "Lab"', "expected a heading in small letters"),
        (', section = ""', "roster_columns.section: found ''; expected the name of a column"),
        (", section = 3", "roster_columns.section: found 3; expected the name of a column"),
        ("".join(f', c{n} = "Lab"' for n in range(11)), "found 11 more; expected at most 10 more"),
    ],
)
def test_the_columns_of_a_roster_may_be_called_anything(
    more: str, told: str, tmp_path: Path
) -> None:
    (tmp_path / "roster.csv").write_text("NUMBER;First;Last;Lab\ns1;Ida;Example;L1\n", "utf-8")
    text = f'roster = "roster.csv"\n{COLUMNS.format(more)}{LEAST}'
    if told:
        assert told in "\n".join(faults(text, tmp_path))
        return
    drill = drill_of(text, SHELF.problems, "levers", tmp_path)
    assert drill.students == {"s1": "Ida Example"}
    assert drill.carried("s1") == (("L1",) if more else ())


def test_no_heading_of_a_roster_hides_a_column_of_marks() -> None:
    rules = f"predict = true\nsense = true\n{RULE}"
    of_one_word = {one for one in marks_columns(drill_with(rules)) if " " not in one}
    assert of_one_word == TAKEN


def test_a_roster_that_is_not_there_is_a_fault_but_where_the_drill_is_sat(tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    path.write_text(f'roster = "class.csv"\n{LEAST}', "utf-8")
    told = "levers.toml: roster: class.csv: there is no such file; expected a CSV file beside"
    with pytest.raises(FileError, match=told):
        read_drill(path, SHELF.problems)
    drill = read_drill(path, SHELF.problems, roster_needed=False)
    assert drill.is_open_to("anyone")
    (tmp_path / "class.csv").write_text(ROSTER, "utf-8")
    assert not read_drill(path, SHELF.problems, roster_needed=False).is_open_to("anyone")


@pytest.mark.parametrize(
    ("typed", "key"), [("minuts = 45", "minutes"), ("tolerence = 1", "tolerance")]
)
def test_a_key_that_is_typed_wrong_is_told_the_nearest(typed: str, key: str) -> None:
    (fault,) = faults(f"{typed}\n{LEAST}")
    assert f'(did you mean "{key}"?)' in fault
    assert f'"{key}"' in fault.split("expected")[1]


def test_a_day_without_a_time_is_told() -> None:
    (fault,) = faults(f"closes = 2027-03-01\n{LEAST}")
    assert "closes: found 2027-03-01, a day without a time; expected for example" in fault


@pytest.mark.parametrize("key", ["opens", "closes"])
@pytest.mark.parametrize(
    ("moment", "told"),
    [
        ("9999-12-31T23:59:59-23:59", "found 9999-12-31T23:59:59-23:59; expected a year from 1971"),
        ("0001-01-01T00:00:00+23:59", "found 0001-01-01T00:00:00+23:59; expected a year from 1971"),
        (
            "3000-01-01T00:00:00Z",
            "+00:00; expected a year from 1971 to 2999",
        ),
        ("0001-01-01T00:00:00", "found 0001-01-01T00:00:00; expected a year from 1971 to 2999"),
        ("09:00:00", "found 09:00:00, a time without a day; expected for example 2027-03-01T09"),
    ],
)
def test_a_moment_that_no_clock_can_tell_is_a_fault(key: str, moment: str, told: str) -> None:
    (fault,) = faults(f"{key} = {moment}\n{LEAST}")
    assert f"{key}: found " in fault
    assert told in fault


@pytest.mark.parametrize("moment", ["2999-12-31T23:59:59-23:59", "1971-01-01T00:00:00+23:59"])
def test_the_first_and_the_last_moment_can_be_told(moment: str) -> None:
    drill = drill_of(f"opens = {moment}\n{LEAST}", SHELF.problems, "levers.toml")
    assert drill.opens is not None
    for hours in (-14, 0, 14):
        assert told_at(drill.opens, timezone(timedelta(hours=hours))).endswith(f"{hours:+03}:00)")


def test_a_file_too_large_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    path.write_text(f"{LEAST}# {'x' * LARGEST_DRILL}", "utf-8")
    with pytest.raises(FileError, match="too large"):
        read_drill(path, SHELF.problems)
    with pytest.raises(FileError, match="there is no such file; expected"):
        read_drill(tmp_path / "gone.toml", SHELF.problems)


@settings(max_examples=100, deadline=None)
@given(st.integers(0, len(EXAMPLE) - 1), st.integers(1, 80), st.text(max_size=5))
def test_a_file_changed_anywhere_is_read_or_told_of(place: int, size: int, other: str) -> None:
    text = EXAMPLE[:place] + other + EXAMPLE[place + size :]
    try:
        told, items = "", drill_of(text, SHELF.problems, "levers.toml").items
    except FileError as error:
        told, items = str(error), ()
    assert bool(items) != told.startswith("levers.toml: ")


@settings(max_examples=100, deadline=None)
@given(st.integers(0, len(EXCEPTIONS_EXAMPLE) - 1), st.integers(1, 40), st.text(max_size=5))
def test_exceptions_changed_anywhere_are_read_or_told_of(place: int, size: int, other: str) -> None:
    text = EXCEPTIONS_EXAMPLE[:place] + other + EXCEPTIONS_EXAMPLE[place + size :]
    drill = drill_with("minutes = 45")
    try:
        told, found = "", exceptions_of(text, drill)
    except FileError as error:
        told, found = str(error), {}
    assert bool(found) != told.startswith("exceptions.toml: ")
    assert all(one.reason for one in found.values())


def below_a_heading(text: str) -> bytes:
    return f"id;name\n{text}".encode()


@settings(max_examples=100, deadline=None)
@given(st.one_of(st.binary(max_size=60), st.text(max_size=30).map(below_a_heading)))
def test_a_roster_of_any_bytes_has_ids_or_faults(data: bytes) -> None:
    told: list[str] = []
    with TemporaryDirectory() as folder:
        path = Path(folder) / "class.csv"
        path.write_bytes(data)
        names = roster_of(roster_table(path), lambda found, _: told.append(found)).names
    assert names or told
    assert all(is_student(one) for one in names)


# Writing a drill.


def test_a_drill_that_is_written_reads_back(tmp_path: Path) -> None:
    path = tmp_path / "Week 3, levers!.toml"
    title = 'Levers "at work"'
    write_drill(path, ["plain-seesaw", "elbow-full-pail"], SHELF, title, 45, 3)
    drill = read_drill(path, SHELF.problems)
    assert (drill.id, drill.title) == ("Week-3-levers", title)
    assert (drill.minutes, drill.attempts) == (45, 3)
    assert [item.problem.id for item in drill.items] == ["plain-seesaw", "elbow-full-pail"]
    plain = drill_of(LEAST, SHELF.problems, "levers.toml")
    assert (drill.scheme, drill.guidance, drill.hints) == (plain.scheme, "lines", "free")


@pytest.mark.parametrize(
    ("file", "title"), [("levers.toml", "Levers"), ("levers-week_3.toml", "Levers week 3")]
)
def test_a_new_drill_has_its_title_after_its_file(tmp_path: Path, file: str, title: str) -> None:
    assert write_drill(tmp_path / file, ["plain-seesaw"], SHELF).title == title


def test_every_rule_of_a_new_drill_is_one_of_the_document(tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    write_drill(path, ["plain-seesaw"], SHELF)
    uncommented = re.sub(r"^# (\w+ = )", r"\1", path.read_text("utf-8"), flags=re.MULTILINE)
    (tmp_path / "roster.csv").write_text(ROSTER, "utf-8")
    drill = drill_of(uncommented, SHELF.problems, "levers.toml", tmp_path)
    assert (drill.minutes, drill.attempts, drill.tolerance) == (45, 3, Fraction(1, 100))
    assert drill.sittings == 1
    assert drill.opens is not None
    assert drill.closes is not None
    assert len(drill.students) == 2


def test_the_comments_beside_a_roster_hold_whatever_its_columns_are_called(tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    (tmp_path / "class.csv").write_text("no,pupil\ns01,Ada\n", "utf-8")
    columns = RosterColumns("no", ("pupil",))
    write_drill(path, ["plain-seesaw"], SHELF, roster="class.csv", columns=columns)
    (line,) = (one for one in path.read_text("utf-8").splitlines() if one.startswith("roster = "))
    assert (
        line == 'roster = "class.csv"      # the table of the class; anyone may sit it if left out'
    )


HARD_TO_QUOTE = "# \"\"\" ''' \\ \t θ = 35° 𝟙\n"


def own_shelf(folder: Path, end: str = HARD_TO_QUOTE) -> Shelf:
    """Return the shelf with a teacher's own problem, whose text ends as is said."""
    folder.mkdir()
    path = SHELF.problems["plain-seesaw"].path
    assert path is not None
    text = path.read_text("utf-8").replace('"plain-seesaw"', '"own-seesaw"') + end
    (folder / "own-seesaw.toml").write_text(text, "utf-8")
    return SHELF.including(SHELF.find(str(folder / "own-seesaw.toml")))


def test_a_teacher_s_own_problem_is_carried_inside(tmp_path: Path) -> None:
    shelf = own_shelf(tmp_path / "own")
    write_drill(tmp_path / "levers.toml", ["own-seesaw", "plain-seesaw", "own-seesaw"], shelf)
    (tmp_path / "own" / "own-seesaw.toml").unlink()
    drill = read_drill(tmp_path / "levers.toml", SHELF.problems)
    assert [item.problem.id for item in drill.items] == ["own-seesaw", "plain-seesaw", "own-seesaw"]
    own, _, again = drill.tasks("s1")
    assert own.question.statement != again.question.statement
    assert own.question.givens_written.keys() == again.question.givens_written.keys()


@pytest.mark.parametrize(
    ("end", "mark"),
    [("", "'''"), ("# it's 5\\6\n", "'''"), ('# """ "\n', "'''"), ("# '''\n", '"""')],
)
def test_a_problem_inside_can_be_read_and_edited(end: str, mark: str, tmp_path: Path) -> None:
    """Its text stands there line by line, and reads back the same."""
    shelf = own_shelf(tmp_path / "own", end)
    write_drill(tmp_path / "levers.toml", ["own-seesaw"], shelf)
    written = (tmp_path / "levers.toml").read_text("utf-8")
    own = (tmp_path / "own" / "own-seesaw.toml").read_text("utf-8")
    assert tomllib.loads(written)["problems"]["own-seesaw"] == own
    inside = written.split(f"own-seesaw = {mark}\n")[1]
    if mark == '"""':  # both marks stand in the text, so that what they mean is escaped
        inside = inside.replace('""\\"', '"""').replace("\\\\", "\\")
    assert inside.splitlines() == [*own.splitlines(), mark]


def test_a_drill_of_own_problems_needs_no_library(tmp_path: Path) -> None:
    shelf = own_shelf(tmp_path / "own")
    write_drill(tmp_path / "levers.toml", ["own-seesaw"], shelf)
    alone = read_drill(tmp_path / "levers.toml", {})
    beside = read_drill(tmp_path / "levers.toml", load_shelf().problems)
    assert (
        alone.tasks("s1")[0].question.givens_written
        == beside.tasks("s1")[0].question.givens_written
    )


def test_a_drill_is_never_written_over_or_written_broken(tmp_path: Path) -> None:
    path = tmp_path / "levers.toml"
    path.write_text("kept", "utf-8")
    with pytest.raises(FileError, match="it already exists"):
        write_drill(path, ["plain-seesaw"], SHELF)
    assert path.read_text("utf-8") == "kept"
    wrong = [{"minutes": -5}, {"minutes": 0}, {"attempts": 0}, {"attempts": 1000}]
    for options in (*wrong, {"title": "\x1b"}):
        with pytest.raises(FileError):
            write_drill(tmp_path / "new.toml", ["plain-seesaw"], SHELF, **options)
    with pytest.raises(FileError, match="did you mean"):
        write_drill(tmp_path / "new.toml", ["plain-sesaw"], SHELF)
    with pytest.raises(FileError, match="at least one"):
        write_drill(tmp_path / "new.toml", [], SHELF)
    assert [one.name for one in tmp_path.iterdir()] == ["levers.toml"]


# Vetting.


def test_vetting_knows_a_drill_from_other_files(tmp_path: Path) -> None:
    example(tmp_path)
    assert is_drill_file(top_keys(tmp_path / "levers.toml", LARGEST_DRILL))
    shipped = [*(ROOT / "problems").rglob("*.toml"), *(ROOT / "hints").rglob("*.toml")]
    assert not [path for path in shipped if is_drill_file(top_keys(path, LARGEST_DRILL))]
    for name, text in (("broken.toml", "x = "), ("deep.toml", f"x = {'[' * 3000}")):
        (tmp_path / name).write_text(text, "utf-8")
        assert not is_drill_file(top_keys(tmp_path / name, LARGEST_DRILL))
    assert not is_drill_file(top_keys(tmp_path / "gone.toml", LARGEST_DRILL))


def test_vetting_a_drill_vets_its_problems_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    example(tmp_path)
    path = str(tmp_path / "levers.toml")
    assert main(["vet", path]) == 0
    told = capsys.readouterr().out.splitlines()
    faultless = [line.split(": no faults")[0] for line in told if line.endswith("no faults")]
    set_there = ("elbow-pail-of-water", "my-plank", "plain-seesaw", "plain-wheelbarrow")
    assert faultless == [path, *(f"{path}: {name}" for name in set_there)]
    assert any(line.startswith("  F_h") for line in told)
    assert main(["vet", str(tmp_path), "--json"]) == 0
    assert [one["file"] for one in json.loads(capsys.readouterr().out)] == faultless


def test_vetting_tells_the_faults_of_a_drill_and_of_its_problems(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = EXAMPLE.replace("down {d_h} left", "down left")
    example(tmp_path, text)
    path = str(tmp_path / "levers.toml")
    assert main(["vet", path]) == 2
    assert f"{path}: my-plank: statement: d_h is given but not stated" in capsys.readouterr().out
    (tmp_path / "levers.toml").write_text(EXAMPLE.replace("minutes = 45", "minutes = 0"), "utf-8")
    assert main(["vet", path]) == 2
    assert f"{path}: minutes: found 0" in capsys.readouterr().out


def test_files_with_a_mark_of_the_byte_order_are_read_and_written_inside(tmp_path: Path) -> None:
    """Some editors put the mark before a file in UTF-8."""
    path, own = tmp_path / "levers.toml", tmp_path / "my-plank.toml"
    path.write_text(LEAST, "utf-8-sig")
    assert is_drill_file(top_keys(path, LARGEST_DRILL))
    assert read_drill(path, SHELF.problems).digest == drill_of(LEAST, SHELF.problems, "x").digest
    own.write_text(tomllib.loads(EXAMPLE)["problems"]["my-plank"], "utf-8-sig")
    write_drill(tmp_path / "own.toml", [str(own)], SHELF)
    assert read_drill(tmp_path / "own.toml", {}).items[0].problem.id == "my-plank"


def test_a_new_drill_says_what_holds_where_a_rule_is_not_in_force(tmp_path: Path) -> None:
    """Every rule behind a # may be put in force as it stands, and none is before."""
    path = tmp_path / "levers.toml"
    (tmp_path / "roster.csv").write_text("id,name\ns1,Ida\n", "utf-8")
    write_drill(path, ["plain-seesaw"], SHELF)
    drill = read_drill(path, SHELF.problems)
    rules = ("minutes", "attempts", "sittings", "tolerance", "opens", "closes")
    assert [getattr(drill, rule) for rule in rules] == [None] * 6
    text = path.read_text("utf-8")
    for rule in (*rules, "roster"):
        assert f"\n# {rule} = " in text
        text = text.replace(f"# {rule} = ", f"{rule} = ")
    forced = drill_of(text, SHELF.problems, "levers.toml", tmp_path)
    assert None not in [getattr(forced, rule) for rule in rules]
    assert (forced.minutes, forced.attempts, forced.students) == (45, 3, {"s1": "Ida"})


def test_of_all_problems_only_those_named_are_read() -> None:
    """So that a drill opens no later the more problems there are."""
    read = []

    def find(name: str) -> Problem:
        read.append(name)
        return SHELF.problems[name]

    problems = Problems({name: partial(find, name) for name in SHELF.problems})
    assert drill_of(LEAST, problems, "levers.toml").items[0].problem.id == "plain-seesaw"
    assert read == ["plain-seesaw"]
