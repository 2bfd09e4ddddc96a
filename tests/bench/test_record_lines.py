"""What stands on each kind of line of a record: as it is written, and whatever stands there."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from helpers.drill_sittings import chain
from helpers.records import fields_in
from leverstep.bench import record_lines
from leverstep.bench.contents import MOST_LINES, contents, link_of
from leverstep.bench.record import LARGEST_RECORD, Record
from leverstep.bench.record_lines import (
    AnswerLine,
    AwayLine,
    ClockLine,
    DrillBegun,
    EndLine,
    EntryLine,
    FillLine,
    HintLine,
    LeaveLine,
    MendLine,
    OpenLine,
    PictureAskedLine,
    PictureDoneLine,
    PlacedLine,
    PracticeBegun,
    PractisedLine,
    RecordLine,
    ResumedLine,
    Statement,
    TakenAwayLine,
    TaskShown,
    UnitsAskedLine,
    UnitsNamedLine,
    WrittenLine,
    fields_of,
    line_of,
)

TIME, HASH = "2027-03-01T09:00:10.000+00:00", "ab" * 32
WRITTEN: list[tuple[RecordLine, dict[str, object]]] = [
    (
        PracticeBegun(
            TIME,
            problem="elbow-both-attachments",
            seed="10203",
            givens={"L": "26.5 cm"},
            own={"L": "53/200"},
            guidance="lines",
        ),
        {
            "format": 1, "kind": "practice", "problem": "elbow-both-attachments", "seed": "10203",
            "givens": {"L": "26.5 cm"}, "own": {"L": "53/200"}, "guidance": "lines", "time": TIME,
        },
    ),
    (
        DrillBegun(
            TIME,
            host="0a1b2c3d",
            drill="levers",
            digest=HASH,
            student="s01",
            start_key=HASH,
            tasks=(TaskShown("plain-seesaw", {"m_l": "30 kg"}), TaskShown("plain-seesaw", {})),
        ),
        {
            "format": 1, "kind": "drill", "drill": "levers", "digest": HASH, "student": "s01",
            "host": "0a1b2c3d", "time": TIME, "start_key": HASH, "tasks": [
                {"problem": "plain-seesaw", "givens": {"m_l": "30 kg"}},
                {"problem": "plain-seesaw", "givens": {}},
            ],
        },
    ),
    (EntryLine(TIME, 0.0, 2, "W_s", text=""),
     {"kind": "entry", "task": 2, "step": "W_s", "text": "", "time": TIME, "used": 0.0}),
    (WrittenLine(TIME, 8.5, 1, text="W_s = 5 N"),
     {"kind": "line", "task": 1, "text": "W_s = 5 N", "time": TIME, "used": 8.5}),
    (EntryLine(TIME, 1.0, 1, "W_s", text="5 N", sure=3),
     {"kind": "entry", "task": 1, "step": "W_s", "text": "5 N", "sure": 3, "time": TIME,
      "used": 1.0}),
    (WrittenLine(text="W_s = 5 N", sure=1), {"kind": "line", "text": "W_s = 5 N", "sure": 1}),
    (AnswerLine(TIME, 2.5, 1, question="turns:W_s", answer="cw"),
     {"kind": "answer", "task": 1, "question": "turns:W_s", "answer": "cw", "time": TIME,
      "used": 2.5}),
    (MendLine(TIME, 2.5, 1, slip="load-left-out", changes={"M_sum__included__W_s__": 0.0}),
     {"kind": "slip to find", "task": 1, "slip": "load-left-out", "time": TIME, "used": 2.5,
      "changes": {"M_sum__included__W_s__": 0.0}}),
    (AnswerLine(question="turns:W_s", answer=""),
     {"kind": "answer", "question": "turns:W_s", "answer": ""}),
    (HintLine(step="W_s"), {"kind": "hint", "step": "W_s"}),
    (UnitsNamedLine(), {"kind": "units named"}),
    (PictureAskedLine(), {"kind": "picture asked"}),
    (PlacedLine(TIME, 8.5, 1, "free body", item="W_s", point="d_s", direction="down"),
     {"kind": "placed", "task": 1, "step": "free body", "item": "W_s", "point": "d_s",
      "direction": "down", "time": TIME, "used": 8.5}),
    (PlacedLine(step="free body2", item="d_s", point="", direction=""),
     {"kind": "placed", "step": "free body2", "item": "d_s", "point": "", "direction": ""}),
    (TakenAwayLine(step="free body", item="W_s"),
     {"kind": "taken away", "step": "free body", "item": "W_s"}),
    (PictureDoneLine(step="free body"), {"kind": "picture done", "step": "free body"}),
    (UnitsAskedLine(), {"kind": "units asked"}),
    (FillLine(step="d_l"), {"kind": "filled", "step": "d_l"}),
    (LeaveLine(step="W_s"), {"kind": "leave", "step": "W_s"}),
    (ResumedLine(TIME, 8.5, host="0a1b2c3d"),
     {"kind": "resumed", "host": "0a1b2c3d", "time": TIME, "used": 8.5}),
    (ResumedLine(), {"kind": "resumed"}),
    (ResumedLine(host="0a1b2c3d", pin="teacher"),
     {"kind": "resumed", "host": "0a1b2c3d", "pin": "teacher"}),
    (DrillBegun(drill="levers", pin="ab" * 8),
     {"kind": "drill", "format": 1, "drill": "levers", "pin": "ab" * 8, "tasks": []}),
    (AwayLine(), {"kind": "away"}),
    (ClockLine(), {"kind": "clock"}),
    (OpenLine(), {"kind": "open"}),
    (EndLine(), {"kind": "end"}),
    (PractisedLine(TIME, 0.0, tasks=(1, 3)),
     {"kind": "practised", "tasks": [1, 3], "time": TIME, "used": 0.0}),
    (DrillBegun(drill="levers", items=("pail.1", "2.1")),
     {"format": 1, "kind": "drill", "drill": "levers", "tasks": [], "items": ["pail.1", "2.1"]}),
]  # fmt: skip
ANY: list[Any] = [
    *(None, True, 0, -1, 2, 5.5, 10**400, float("nan"), "", "x", "\udcff", [], [1], {}, {"a": []}),
    *({"a": "b"}, [{"givens": 1}], [{"problem": "x", "givens": {"m": 5}}]),
]


def test_every_kind_of_line_is_tried_here() -> None:
    classes = [one for one in vars(record_lines).values() if isinstance(one, type)]
    kinds = {one.kind for one in classes if issubclass(one, RecordLine)}
    assert {line.kind for line, _ in WRITTEN} == kinds - {""}


@pytest.mark.parametrize(("line", "fields"), WRITTEN, ids=lambda one: getattr(one, "kind", ""))
def test_a_line_is_written_as_it_always_was_and_read_as_it_was_written(
    line: RecordLine, fields: dict[str, object]
) -> None:
    assert json.loads(json.dumps(fields_of(line))) == fields
    assert line_of(fields) == line


def test_the_bytes_of_a_record_are_those_that_earlier_versions_wrote(tmp_path: Path) -> None:
    first, entry = WRITTEN[1][0], WRITTEN[3][0]
    record = Record.create(tmp_path / "one.jsonl", first)
    record.append(entry)
    assert record.path.read_bytes() == (
        b'{"digest": "' + HASH.encode() + b'", "drill": "levers", "format": 1, '
        b'"host": "0a1b2c3d", "kind": "drill", '
        b'"link": "9dbd1f0a5620640ada65a98912309fd2c52bcd4979cd9ab815b7f4e2eb589868", '
        b'"start_key": "' + HASH.encode() + b'", "student": "s01", '
        b'"tasks": [{"givens": {"m_l": "30 kg"}, "problem": "plain-seesaw"}, '
        b'{"givens": {}, "problem": "plain-seesaw"}], "time": "2027-03-01T09:00:10.000+00:00"}\n'
        b'{"kind": "line", '
        b'"link": "f9dcd3e1a513eafae5084af950fd5a86a2cab2e0706dc579f53b646dddcbc20a", '
        b'"task": 1, "text": "W_s = 5 N", "time": "2027-03-01T09:00:10.000+00:00", "used": 8.5}\n'
    )


def test_what_another_version_wrote_besides_counts_for_the_link_and_for_nothing_else() -> None:
    plain = [fields for _, fields in WRITTEN]
    more = [{**fields, "mood": {"is": ["good", 1.5]}} for fields in plain]
    found, expected = contents(chain(more)), contents(chain(plain))
    assert found.lines == expected.lines == tuple(line for line, _ in WRITTEN)
    assert found.remarks == expected.remarks == ()
    assert not set(found.reckoned) & set(expected.reckoned)
    assert found.reckoned[0] == link_of("", more[0])
    changed = contents(chain(more).replace(b'"good"', b'"poor"', 1))
    assert changed.lines == found.lines
    assert changed.breaks == (0,)


@pytest.mark.parametrize("name", sorted({name for _, fields in WRITTEN for name in fields}))
def test_a_field_that_makes_no_sense_is_read_as_none_and_the_others_as_they_are(name: str) -> None:
    for line, fields in WRITTEN:
        for value in ANY if name in fields else ():
            found = line_of({**fields, name: value})
            if name == "kind":
                assert type(found) is RecordLine
            elif type(found) is not RecordLine:
                assert type(found) is type(line)
                others = {key for key in fields_of(line) if key not in (name, "kind")}
                assert all(getattr(found, key) == getattr(line, key) for key in others)
            else:
                assert (line.kind, name) == ("practice", "own"), "own numbers that are no table"


@pytest.mark.parametrize(
    ("name", "value", "read"),
    [
        ("used", -1, None), ("used", True, None), ("used", "5", None), ("used", 10**400, None),
        ("used", float("nan"), None), ("used", 3, 3.0), ("used", 0, 0.0),
        ("task", True, None), ("task", 1.0, None), ("task", "1", None), ("task", -5, -5),
        ("sure", 3, 3), ("sure", 0, None), ("sure", 4, None), ("sure", True, None),
        ("sure", "2", None),
        ("step", 5, None), ("step", ["W_s"], None), ("text", 5, None), ("text", None, None),
        ("time", 20270301, "20270301"), ("time", None, "None"), ("host", 5, ""),
    ],
)  # fmt: skip
def test_each_field_is_of_its_own_type(name: str, value: object, read: object) -> None:
    found = getattr(line_of({"kind": "entry", name: value}), name)
    assert (found, type(found)) == (read, type(read))


def test_a_kind_that_is_not_known_says_what_any_line_may() -> None:
    found = line_of({"kind": "dance", "task": 3, "step": "W_s", "text": "5 N"})
    assert found == RecordLine(task=3, step="W_s")
    assert type(line_of({"actor": {}, "verb": {}, "id": "1"})) is Statement
    assert type(line_of({})) is RecordLine


def test_no_line_of_a_record_is_shorter_than_the_bound_of_lines_takes_it_for(
    tmp_path: Path,
) -> None:
    """So that whatever fits into a record is read."""
    record = Record.create(tmp_path / "one.jsonl", EndLine(TIME))
    assert len(record.path.read_bytes()) * MOST_LINES >= LARGEST_RECORD
    assert fields_in(record.path) == [{"kind": "end", "time": TIME}]
    assert record_lines.FORMAT == 1
