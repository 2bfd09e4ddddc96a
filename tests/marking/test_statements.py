"""Entries as xAPI statements: what the standard asks of each, and the same ones every time.

What is required is that of the xAPI specification, part two (xAPI-Data.md, sections 2.2 and 2.4 and
4.1 to 4.6), which IEEE 9274.1.1-2023 took over: an actor with one way to be identified, a verb and
an object named by IRIs, ids as UUIDs, durations as in ISO 8601, and moments with an offset.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.drill_sittings import BEGUN, END, SHELF, entry, record, right_entries, small_drill
from helpers.material import CATALOGUE
from leverstep.drill.drill_file import drill_of
from leverstep.faces.commands.cli import main
from leverstep.marking.marking import mark_record
from leverstep.marking.statements import HOME_PAGE, STATEMENTS, is_home_page, statements_of

DRILL = small_drill(marking="follow_through = 0.5")
RIGHT = right_entries(DRILL.tasks("s1")[0].question)
WRONG, OTHER = entry("W_s", "426.9 N"), entry("W_s", "427.9 N")
Schema = dict[str, "Schema | Callable[[object], bool]"]


def matches(pattern: str) -> Callable[[object], bool]:
    """Return whether a value is a text of a form."""
    return lambda value: isinstance(value, str) and re.fullmatch(pattern, value) is not None


IRI = matches(r"[a-z]+://[^\s<>\"{}|\\^`]+")
REQUIRED: Schema = {
    "id": matches(r"[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}"),
    "actor": {
        "account": {
            "homePage": IRI,
            "name": lambda value: isinstance(value, str) and value != "",
        }
    },
    "verb": {"id": IRI, "display": {"en": lambda value: isinstance(value, str)}},
    "object": {"id": IRI},
    "result": {
        "success": lambda value: isinstance(value, bool),
        "response": lambda value: isinstance(value, str),
        "score": {"scaled": lambda value: isinstance(value, float) and -1 <= value <= 1},
        "duration": matches(r"PT\d+(\.\d{1,2})?S"),
    },
    "timestamp": matches(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z"),
}


def faults(statement: object, schema: Schema = REQUIRED, place: str = "") -> list[str]:
    """Return where a statement is not as the standard asks, or says what it has no field for."""
    if not isinstance(statement, dict):
        return [place]
    found = [f"{place}.{key}" for key in schema.keys() ^ statement.keys()]
    for key in schema.keys() & statement.keys():
        wanted, value = schema[key], statement[key]
        if isinstance(wanted, dict):
            found += faults(value, wanted, f"{place}.{key}")
        elif not wanted(value):
            found.append(f"{place}.{key}")
    return found


def statements(data: bytes, home_page: str = HOME_PAGE) -> list[dict[str, object]]:
    """Return the statements on a record."""
    return list(statements_of(DRILL, mark_record(DRILL, CATALOGUE, "one.jsonl", data), home_page))


def a_record() -> bytes:
    """Return a record with an entry of each kind."""
    lines = [WRONG, entry("W_b", "rubbish"), entry("W_b", RIGHT["W_b"])]
    return record(DRILL, "s1", [*lines, entry("M_s", "-181.4 N m"), END])


def test_every_statement_has_what_the_standard_asks_for() -> None:
    found = statements(a_record())
    assert len(found) == 3, "what could not be read is not judged"
    assert [faults(one) for one in found] == [[], [], []]


@pytest.mark.parametrize("key", ["id", "actor", "verb", "object", "timestamp"])
def test_the_schema_notices_what_is_missing(key: str) -> None:
    (one, *_) = statements(a_record())
    del one[key]
    assert faults(one) == [f".{key}"]


def test_a_statement_says_who_answered_what_and_how() -> None:
    wrong, right, followed = statements(a_record(), "https://school.example/")
    assert wrong["actor"] == {"account": {"homePage": "https://school.example", "name": "s1"}}
    assert wrong["object"] == {"id": "https://school.example/drills/levers/tasks/1/lines/W_s"}
    assert wrong["timestamp"] == "2027-03-01T09:00:10.000Z"
    results = [one["result"] for one in (wrong, right, followed)]
    shown = [
        (False, "426.9 N", 0.0, "PT10.0S"),
        (True, RIGHT["W_b"], 1.0, "PT10.0S"),
        (True, "-181.4 N m", 0.5, "PT10.0S"),
    ]
    assert results == [
        {"success": success, "response": text, "score": {"scaled": scaled}, "duration": spent}
        for success, text, scaled, spent in shown
    ]


def test_ids_are_those_of_the_entries_and_no_two_are_equal() -> None:
    data = a_record()
    first = [one["id"] for one in statements(data)]
    assert first == [one["id"] for one in statements(data)]
    longer = data[: data.rindex(b"\n", 0, -1) + 1]
    assert first == [one["id"] for one in statements(longer)]
    other = [one["id"] for one in statements(record(DRILL, "s2", [WRONG, OTHER, END]))]
    assert len({*first, *other}) == len(first) + 2


def test_a_moment_elsewhere_is_told_in_utc_and_one_that_is_none_left_out() -> None:
    moment = datetime.fromisoformat("2027-03-01T11:30:00+02:30")
    assert moment == BEGUN.replace(hour=9, minute=0)
    times = [moment.isoformat(), "yesterday", "0001-01-01T00:00:00+14:00"]
    lines = [{**entry("W_s", f"42{n}.9 N"), "time": time} for n, time in enumerate(times)]
    stamps = [one.get("timestamp") for one in statements(record(DRILL, "s1", lines))]
    assert stamps == [f"{moment.astimezone(UTC):%Y-%m-%dT%H:%M:%S}.000Z", None, None]


def test_hostile_entries_are_data() -> None:
    judged = ["W_s=426.9\tN", "426.9\u00a0N", "+426.9 N", "-426.9 N"]
    unread = ["=1+1 N", "\x1b[31m5 N", "\udcff 5 N", '{"id": 1}', "5 N" * 90]
    data = record(DRILL, "../=x", [entry("W_s", text) for text in [*judged, *unread]])
    first, *others = data.splitlines(keepends=True)
    unlinked = [json.dumps({**json.loads(line), "link": ""}).encode() + b"\n" for line in others]
    for lines in (others, unlinked, [*others, *others]):
        found = statements(b"".join([first, *lines]))
        assert len(found) == len({str(one["id"]) for one in found}) == len(judged)
        assert [faults(one) for one in found] == [[]] * len(judged)
        assert "".join(json.dumps(one, ensure_ascii=False) for one in found).isprintable()


@pytest.mark.parametrize(
    ("text", "usable"),
    [
        (HOME_PAGE, True),
        ("http://school.example:8080/a/b", True),
        ("school.example", False),
        ("https://school example", False),
        ("javascript:x", False),
        ("https://x/?a=b", False),
        ("https://x\n", False),
    ],
)
def test_a_home_page_is_a_web_address(text: str, usable: bool) -> None:
    assert is_home_page(text) == usable


def test_the_command_writes_statements(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, records, out = tmp_path / "levers.toml", tmp_path / "records", tmp_path / "out"
    assert main(["drill", "new", str(file), "plain-wheelbarrow"]) == 0
    drill = drill_of(file.read_text("utf-8"), SHELF.problems, file.name)
    records.mkdir()
    for student in ("s1", "s2"):
        (records / f"{student}.jsonl").write_bytes(record(drill, student, [WRONG, OTHER, END]))
    mark = ["drill", "mark", str(file), str(records), "--out", str(out)]
    assert main(mark) == 0
    assert not (out / STATEMENTS).exists()
    written = []
    for _ in range(2):
        assert main([*mark, "--statements", "--home-page", "https://school.example"]) == 0
        written.append((out / STATEMENTS).read_bytes())
    assert written[0] == written[1]
    found = [json.loads(line) for line in written[0].decode("utf-8").splitlines()]
    assert [one["actor"]["account"]["name"] for one in found] == ["s1", "s1", "s2", "s2"]
    assert [faults(one) for one in found] == [[]] * 4
    assert f"Statements: {out / STATEMENTS}" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        main([*mark, "--home-page", "nowhere"])
    assert "expected a web address" in capsys.readouterr().err
