"""Records that others planted: what is changed or added to never stands for a record that is whole.

The forger knows the form of a record, and may read and copy those of others in a share.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from pathlib import Path

import pytest
from helpers.accounts import FIRST, IS_ROOT, SECOND
from helpers.drill_sittings import BEGUN, END, entry, record, right_entries, small_drill
from helpers.material import CATALOGUE
from leverstep.drill.codes import Noted, read_codes
from leverstep.drill.drill import Drill
from leverstep.drill.sitting import Sitting
from leverstep.marking import collecting
from leverstep.marking.collecting import Student, by_student, gather, mark_all
from leverstep.marking.marking import mark_record
from leverstep.reports.gathering import ClassFigures

DRILLS = {
    "any number of sittings": small_drill(),
    "the last counts": small_drill(marking='counts = "last"'),
    "one sitting": small_drill("sittings = 1"),
}
RIGHT = [
    entry(key, text) for key, text in right_entries(small_drill().tasks("s1")[0].question).items()
]
FIRST_TYPED = str(RIGHT[0]["text"]).encode()
WRONG = entry("W_s", "54 N")
HOUR = timedelta(hours=1)
EARLIER = (BEGUN - HOUR).isoformat(timespec="milliseconds")


def genuine(drill: Drill) -> bytes:
    """Return the record of a student who was right throughout and handed in."""
    return record(drill, "s1", [*RIGHT, END])


def unlinked(line: Mapping[str, object]) -> bytes:
    """Return a line as somebody writes it who can't reckon links."""
    return json.dumps({**line, "link": "0" * 64}).encode() + b"\n"


def beginning(drill: Drill, lines: int) -> bytes:
    """Return the first lines of the genuine record."""
    return b"".join(genuine(drill).splitlines(keepends=True)[:lines])


def backdated(drill: Drill, lines: int) -> bytes:
    """Return the first lines of the genuine record, begun earlier, with the links that they had."""
    first, rest = beginning(drill, lines).split(b"\n", 1)
    return unlinked({**json.loads(first), "time": EARLIER}) + rest


PLANTED: dict[str, Callable[[Drill], bytes]] = {
    "a copy with an entry after its end": lambda drill: genuine(drill) + unlinked(WRONG),
    "a copy with a linked entry after its end": lambda drill: record(
        drill, "s1", [*RIGHT, END, WRONG]
    ),
    "a copy with an altered line": lambda drill: genuine(drill).replace(FIRST_TYPED, b"9 N"),
    "a copy with a line that can't be read": lambda drill: genuine(drill) + b"\xff\n",
    "its beginning with another entry and an end": lambda drill: (
        beginning(drill, 3) + unlinked(WRONG) + unlinked(END)
    ),
    "its beginning, earlier, with an end": lambda drill: backdated(drill, 2) + unlinked(END),
    "its whole, earlier, with another entry": lambda drill: backdated(drill, 99) + unlinked(WRONG),
}
COPIED: dict[str, Callable[[Drill], bytes]] = {
    "a copy": genuine,
    "a copy that bears other links": lambda drill: genuine(drill).replace(
        b'"link": "', b'"link": "0'
    ),
    "its beginning": lambda drill: beginning(drill, 3),
    "its beginning, in other spaces": lambda drill: beginning(drill, 3).replace(b'": ', b'" :  '),
}


def marked(
    records: Mapping[str, bytes], folder: Path, drill: Drill, noted: Noted | None = None
) -> Student:
    """Return the one student of some records that lie in a folder."""
    folder.mkdir(exist_ok=True)
    for name, data in records.items():
        (folder / name).write_bytes(data)
    with ThreadPoolExecutor(1) as pool:
        found = mark_all(drill, CATALOGUE, gather([folder]).records, pool)
        (student,) = by_student(drill, found, noted=noted)
    return student


def codes(folder: Path, *noted: str) -> Noted:
    """Return a table of codes that were noted of the one student."""
    path = folder / "codes.csv"
    path.write_text("id,code\n" + "".join(f"s1,{one}\n" for one in noted), "utf-8")
    return read_codes(path)


def code(data: bytes, drill: Drill) -> str:
    return mark_record(drill, CATALOGUE, "", data).code


@pytest.mark.parametrize("name", ["a.jsonl", "z.jsonl"])
@pytest.mark.parametrize("rules", DRILLS)
@pytest.mark.parametrize("what", [*PLANTED, *COPIED])
def test_what_is_planted_beside_a_whole_record_changes_nothing_and_is_told(
    what: str, rules: str, name: str, tmp_path: Path
) -> None:
    drill = DRILLS[rules]
    planted = (PLANTED | COPIED)[what](drill)
    assert what == "a copy" or planted != genuine(drill)
    found = marked({"s1.jsonl": genuine(drill), name: planted}, tmp_path, drill)
    assert found.counted is not None
    assert found.counted.total == 10
    assert len(found.sittings) == 1
    assert found.codes == (code(genuine(drill), drill),)
    told = (f"not counted, changed after it was written: {name}",) if what in PLANTED else ()
    assert found.remarks == told


def test_the_first_sitting_of_the_class_report_is_none_that_was_planted(tmp_path: Path) -> None:
    drill = DRILLS["any number of sittings"]
    planted = backdated(drill, 2).replace(FIRST_TYPED, b"9 N") + unlinked(END)
    found = marked({"s1.jsonl": genuine(drill), "x.jsonl": planted}, tmp_path, drill)
    assert found.first is found.counted
    collected = ClassFigures(drill, CATALOGUE)
    collected.add(found)
    assert collected.figures().sat == 1


def test_a_changed_record_that_is_the_only_one_counts_with_its_remark(tmp_path: Path) -> None:
    drill = DRILLS["one sitting"]
    changed = genuine(drill).replace(FIRST_TYPED, b"9 N")
    found = marked({"s1.jsonl": changed}, tmp_path, drill)
    assert found.counted is not None
    assert 0 < found.counted.total < 10
    assert found.remarks == ("the record was changed after it was written, from W_s of task 1 on",)


def test_nothing_is_added_after_the_end(tmp_path: Path) -> None:
    drill = DRILLS["one sitting"]
    added = record(drill, "s1", [*RIGHT[:1], END, WRONG, *RIGHT])
    found = marked({"s1.jsonl": added}, tmp_path, drill).counted
    alone = mark_record(drill, CATALOGUE, "", record(drill, "s1", [*RIGHT[:1], END]))
    assert found is not None
    assert (found.marks, found.last, found.seconds) == (alone.marks, alone.last, alone.seconds)
    assert found.remarks == ("continued after it was handed in, which is not counted",)
    assert found.code != alone.code
    again = Sitting.reread(tmp_path / "s1.jsonl", drill, CATALOGUE)
    assert [*again.benches[0].working.lines] == [RIGHT[0]["step"]]


def test_a_sitting_gone_on_with_elsewhere_stands_for_its_beginning(tmp_path: Path) -> None:
    """Where the beginning was changed, what goes on from the sound part of it counts alone."""
    drill = DRILLS["one sitting"]
    for name, change in {"whole": (b"", b""), "changed": (FIRST_TYPED, b"9 N")}.items():
        place = tmp_path / name
        place.mkdir()
        first = place / "a.jsonl"
        first.write_bytes(record(drill, "s1", RIGHT[:2]).replace(*change))
        sitting = Sitting.resume(first, drill, CATALOGUE, place / "b")
        sitting.benches[0].enter(str(RIGHT[2]["step"]), str(RIGHT[2]["text"]))
        sitting.hand_in()
        found = gather([place])
        # What goes on from the sound part of a record that was changed does not stand for it.
        assert (len(found.records), found.copies) == ((1, 1) if name == "whole" else (2, 0))
        with ThreadPoolExecutor(1) as pool:
            (student,) = by_student(drill, mark_all(drill, CATALOGUE, found.records, pool))
        assert student.counted is not None
        assert student.counted.record == sitting.place.relative_to(place).as_posix()


@pytest.mark.parametrize("how", ["unlinked after it", "another link within it"])
def test_what_goes_on_from_a_record_with_a_break_does_not_stand_for_it(
    how: str, tmp_path: Path
) -> None:
    """The student has not handed in; the forger does it with a wrong entry."""
    drill = DRILLS["one sitting"]
    whole = record(drill, "s1", RIGHT)
    if how == "unlinked after it":
        planted = whole + unlinked(WRONG) + unlinked(END)
    else:
        lines = record(drill, "s1", [*RIGHT, WRONG, END]).splitlines(keepends=True)
        planted = b"".join([lines[0].replace(b'"link": "', b'"link": "0'), *lines[1:]])
    found = marked({"s1.jsonl": whole, "a.jsonl": planted}, tmp_path, drill)
    assert found.counted is not None
    assert (found.counted.record, found.counted.total) == ("s1.jsonl", 10)
    assert found.remarks == ("not handed in", "not counted, changed after it was written: a.jsonl")


# Whole records that somebody made with the program's own code: only a code or an account tells.


@pytest.mark.parametrize("rules", DRILLS)
def test_a_noted_code_decides_between_several_records(rules: str, tmp_path: Path) -> None:
    drill = DRILLS[rules]
    records = {
        "s1.jsonl": genuine(drill),
        "earlier.jsonl": record(drill, "s1", [WRONG, END], BEGUN - HOUR),
        "later.jsonl": record(drill, "s1", [WRONG, END], BEGUN + HOUR),
        "fork.jsonl": record(drill, "s1", [*RIGHT, WRONG, END]),
        "open.jsonl": record(drill, "s1", [WRONG], BEGUN - 2 * HOUR),
    }
    one = code(genuine(drill), drill)
    found = marked(records, tmp_path / "records", drill, codes(tmp_path, one))
    assert found.counted is not None
    assert (found.counted.record, found.counted.total, found.codes) == ("s1.jsonl", 10, (one,))
    left_out = dict(remark.split(": ") for remark in found.remarks)
    assert {why: set(names.split(", ")) for why, names in left_out.items()} == {
        "not counted, not handed in": {"open.jsonl"},
        "not counted, its code not noted": {"earlier.jsonl", "fork.jsonl", "later.jsonl"},
    }


def test_a_noted_code_is_that_of_what_stands_there_whatever_links_it_bears(tmp_path: Path) -> None:
    drill = DRILLS["one sitting"]
    relinked = genuine(drill).replace(b'"link": "', b'"link": "0')
    records = {"s1.jsonl": relinked, "a.jsonl": record(drill, "s1", [END], BEGUN - HOUR)}
    one = code(relinked, drill)
    assert one == code(genuine(drill), drill)
    found = marked(records, tmp_path / "records", drill, codes(tmp_path, one))
    assert found.counted is not None
    assert found.counted.total == 10
    assert "not counted, its code not noted: a.jsonl" in found.remarks


def test_of_very_many_files_a_remark_names_a_few(tmp_path: Path) -> None:
    drill = DRILLS["any number of sittings"]
    planted = {f"{n}.jsonl": genuine(drill) + unlinked({"kind": str(n)}) for n in range(9)}
    found = marked({"s1.jsonl": genuine(drill), **planted}, tmp_path, drill)
    (told,) = found.remarks
    assert told.startswith("not counted, changed after it was written: ")
    assert told.endswith(" and 6 more")
    assert len([name for name in planted if name in told]) == 3


def test_files_of_another_account_than_the_others_are_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where a record of another account goes on from one of the student's."""
    drill = DRILLS["any number of sittings"]
    owners = {"a.jsonl": "stu1", "b.jsonl": "stu1", "c.jsonl": "evil", "d.jsonl": "stu1"}
    monkeypatch.setattr(collecting, "_account_of", lambda path: owners[path.name])
    beside = {
        "a.jsonl": genuine(drill),
        "b.jsonl": record(drill, "s1", [END], BEGUN + HOUR),
        "d.jsonl": record(drill, "s1", [END], BEGUN + 3 * HOUR),
    }
    assert marked(beside, tmp_path / "own", drill).remarks == ()
    later = {"c.jsonl": record(drill, "s1", [WRONG, END], BEGUN + 2 * HOUR)}
    named = "files that belong to different accounts: c.jsonl to evil, "
    assert marked(beside | later, tmp_path / "beside", drill).remarks == (
        f"{named}a.jsonl, b.jsonl, d.jsonl to stu1",
    )
    going_on = {
        "a.jsonl": record(drill, "s1", RIGHT),
        "c.jsonl": record(drill, "s1", [*RIGHT, END]),
    }
    assert marked(going_on, tmp_path / "on", drill).remarks == (
        "files that belong to different accounts: c.jsonl to evil, a.jsonl to stu1",
    )


if IS_ROOT:  # nobody else can give a file away

    def test_whose_a_file_is_the_system_tells(tmp_path: Path) -> None:
        drill = DRILLS["any number of sittings"]
        (tmp_path / "a.jsonl").write_bytes(genuine(drill))
        (tmp_path / "b.jsonl").write_bytes(record(drill, "s1", [END], BEGUN + HOUR))
        os.chown(tmp_path / "a.jsonl", FIRST, FIRST)
        os.chown(tmp_path / "b.jsonl", SECOND, SECOND)
        found = marked({}, tmp_path, drill)
        told = f"files that belong to different accounts: a.jsonl to {FIRST}, b.jsonl to {SECOND}"
        assert found.remarks == (told,)
