"""The code at the end of a sitting: shown to the student, noted, and compared when marking."""

from __future__ import annotations

import csv
import json
import random
from collections.abc import Callable, Mapping
from datetime import timedelta
from pathlib import Path

import pytest
from helpers.drill_sittings import BEGUN, END, chain, entry, record, small_drill, timed
from helpers.drills import drill_with, wrong_entry
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.contents import contents, link_of
from leverstep.course.faults import FileError
from leverstep.dialogue.notice import code_told
from leverstep.drill.codes import LENGTH, LETTERS, as_noted, code_of, read_codes
from leverstep.drill.earlier import earlier
from leverstep.drill.sitting import Sitting, next_turn
from leverstep.faces.commands.cli import main
from leverstep.marking.marking import mark_record
from leverstep.marking.odd_records import UNAWARES
from leverstep.marking.tables import MARKS

DRILL = small_drill()
WRONG = entry("W_s", "54 N")


def code(data: bytes) -> str:
    return mark_record(DRILL, CATALOGUE, "one.jsonl", data).code


def test_a_code_is_short_and_has_no_sign_that_looks_like_another() -> None:
    codes = {code_of(link_of("", {"number": number})) for number in range(2000)}
    assert len(codes) == 2000
    assert {len(one) for one in codes} == {LENGTH + 1}
    assert set("".join(codes)) == {*LETTERS, "-"}
    assert not set(LETTERS) & set("0O1IL2Z5S8BQDGUVNE")


@pytest.mark.parametrize("typed", ["K7WM-3RXA", "k7wm 3rxa", " K7WM3RXA ", "k7-wm-3r-xa"])
def test_a_code_is_known_however_it_was_written_down(typed: str) -> None:
    assert as_noted(typed) == "K7WM-3RXA"


def test_the_code_that_is_shown_is_the_one_that_marking_finds(tmp_path: Path) -> None:
    sitting = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
    assert sitting.code == ""
    assert code(sitting.place.read_bytes()) == ""
    sitting.benches[0].enter("W_s", "54 N")
    sitting.hand_in()
    assert sitting.code == code(sitting.place.read_bytes()) != ""
    assert code_told(sitting).startswith(f"Its code is {sitting.code}. ")
    assert Sitting.reread(sitting.place, DRILL, CATALOGUE).code == sitting.code


WHOLE = [WRONG, entry("W_s", "55 N"), END]
CHANGED: dict[str, Callable[[], bytes]] = {
    "a line taken out and the rest linked anew": lambda: record(DRILL, "s1", WHOLE[1:]),
    "an entry changed and the rest linked anew": lambda: record(
        DRILL, "s1", [{**WRONG, "text": "416.9 N"}, *WHOLE[1:]]
    ),
    "another beginning": lambda: record(DRILL, "s1", WHOLE, BEGUN + timedelta(seconds=1)),
    "a line after the end": lambda: record(DRILL, "s1", [*WHOLE, WRONG]),
}


def relinked(data: bytes, **first: object) -> bytes:
    """Return a record with another first line, each line with the link that it had."""
    head, *others = data.splitlines(keepends=True)
    return json.dumps({**json.loads(head), **first}).encode() + b"\n" + b"".join(others)


KEPT_LINKS: dict[str, Callable[[bytes], bytes]] = {
    "an entry changed": lambda data: data.replace(b"54 N", b"56 N"),
    "the student's id": lambda data: relinked(data, student="s2"),
    "a line put in that can't be read": lambda data: data.replace(b"\n", b"\n\xff\n", 1),
    "an entry taken out": lambda data: (
        b"".join(data.splitlines(True)[::2]) + data.splitlines(True)[3]
    ),
}


@pytest.mark.parametrize("how", KEPT_LINKS)
def test_a_record_that_was_changed_under_its_links_has_another_code(how: str) -> None:
    whole = record(DRILL, "s1", WHOLE)
    changed = KEPT_LINKS[how](whole)
    assert changed != whole
    assert len({code(changed), code(whole), ""}) == 3


def test_no_byte_is_changed_without_another_code_or_none_unless_nothing_else_is_read() -> None:
    """Where only a link is changed, all that counts stands as it did; that is remarked on."""
    data = record(DRILL, "s1", WHOLE)
    whole = mark_record(DRILL, CATALOGUE, "", data)
    same = 0
    for place in range(len(data)):
        changed = bytearray(data)
        changed[place] ^= 0x01
        found = mark_record(DRILL, CATALOGUE, "", bytes(changed))
        if found.code == whole.code:
            same += 1
            assert contents(bytes(changed)).lines == contents(data).lines, place
            assert found.remarks, place
    assert 64 <= same < len(data) / 2


def test_a_record_with_a_changed_line_is_handed_in_with_the_code_that_marking_finds(
    tmp_path: Path,
) -> None:
    """The same is shown under `result`, and after the sitting went on in another folder."""
    sitting = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
    sitting.benches[0].enter("W_s", "54 N")
    sitting.place.write_bytes(sitting.place.read_bytes().replace(b"54 N", b"56 N"))
    for folder in (None, tmp_path / "elsewhere"):
        again = Sitting.resume(sitting.place, DRILL, CATALOGUE, folder)
        again.move(tmp_path / "third")
        again.benches[0].enter("W_s", "57 N")
        again.hand_in()
        assert again.code == code(again.place.read_bytes()) != ""
        assert Sitting.reread(again.place, DRILL, CATALOGUE).code == again.code


@pytest.mark.parametrize("how", CHANGED)
def test_a_record_that_was_changed_with_its_links_has_another_code(how: str) -> None:
    assert len({code(CHANGED[how]()), code(record(DRILL, "s1", WHOLE)), ""}) == 3


def test_who_cuts_off_the_end_and_hands_in_again_has_another_code(tmp_path: Path) -> None:
    """A wrong try may go too: the chain of links is whole, but it shows in two ways."""
    sitting = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
    sitting.benches[0].enter("W_s", "54 N")
    sitting.benches[0].enter("W_b", wrong_entry(sitting.benches[0].working.step("W_b")))
    sitting.hand_in()
    whole = sitting.place.read_bytes().splitlines(keepends=True)
    for cut in (1, 2):
        sitting.place.write_bytes(b"".join(whole[:-cut]))
        again = Sitting.resume(sitting.place, DRILL, CATALOGUE)
        again.hand_in()
        marked = mark_record(DRILL, CATALOGUE, "", again.place.read_bytes())
        assert marked.code == again.code != sitting.code
        assert marked.remarks == (f"continued once {UNAWARES}",)
        assert len(marked.entries) == 3 - cut


def test_who_cuts_back_to_where_it_was_left_has_another_code_and_no_remark(tmp_path: Path) -> None:
    """README says that this does not show by itself."""
    sitting = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
    sitting.pause()
    left = sitting.place.read_bytes()
    sitting.go_on()
    sitting.benches[0].enter("W_s", "54 N")
    sitting.hand_in()
    sitting.place.write_bytes(left)
    again = Sitting.resume(sitting.place, DRILL, CATALOGUE)
    again.hand_in()
    marked = mark_record(DRILL, CATALOGUE, "", again.place.read_bytes())
    assert (marked.remarks, marked.entries) == ((), ())
    assert marked.code != sitting.code


def test_who_deletes_a_record_and_sits_anew_has_another_code_and_no_remark(tmp_path: Path) -> None:
    """README and DRILLS.md say that only the code shows it, also where one sitting is allowed."""
    drill = small_drill("sittings = 1")
    codes = set()
    for _ in range(2):
        turn = next_turn(drill, earlier(drill, "s1", tmp_path).records)
        assert (turn.number, turn.path) == (1, None)
        sitting = Sitting.start(drill, CATALOGUE, "s1", tmp_path)
        sitting.hand_in()
        marked = mark_record(drill, CATALOGUE, "", sitting.place.read_bytes())
        assert marked.remarks == ()
        codes.add(marked.code)
        sitting.place.unlink()
    assert len(codes - {""}) == 2


def test_wherever_whole_lines_are_deleted_it_shows_by_a_remark_or_the_code(tmp_path: Path) -> None:
    """Each line alone; then all from it on, handed in again. `faults.py` counts them."""
    sitting = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
    for number in range(6):
        sitting.benches[0].enter("W_s", f"5{number} N")
        if number == 3:
            sitting.pause()
            sitting.go_on()
    sitting.hand_in()
    whole = sitting.place.read_bytes().splitlines(keepends=True)
    for place in range(1, len(whole)):
        alone = mark_record(DRILL, CATALOGUE, "", b"".join([*whole[:place], *whole[place + 1 :]]))
        assert bool(alone.remarks) is alone.ended is (place < len(whole) - 1), place
        sitting.place.write_bytes(b"".join(whole[:place]))
        Sitting.resume(sitting.place, DRILL, CATALOGUE).hand_in()
        again = mark_record(DRILL, CATALOGUE, "", sitting.place.read_bytes())
        assert again.code not in ("", sitting.code), place
        was_left = b'"away"' in whole[place - 1]
        assert again.remarks == (() if was_left else (f"continued once {UNAWARES}",)), place


# Codes that were noted.


def marks(
    folder: Path, records: Mapping[str, bytes], codes: str, capsys: pytest.CaptureFixture[str]
) -> tuple[dict[str, tuple[str, str]], str]:
    """Return the remarks and codes by id, and what is printed, marking with codes."""
    (folder / "roster.csv").write_text("id,name\ns1,Ada\ns2,Ben\n", "utf-8")
    drill = folder / "levers.toml"
    drill.write_text(small_drill('roster = "roster.csv"').text, "utf-8")
    (folder / "records").mkdir()
    for name, data in records.items():
        (folder / "records" / f"{name}.jsonl").write_bytes(data)
    (folder / "codes.csv").write_text(codes, "utf-8")
    out = folder / "out"
    call = ["drill", "mark", str(drill), str(folder / "records"), "--out", str(out)]
    assert main([*call, "--codes", str(folder / "codes.csv")]) == 0
    with (out / MARKS).open(encoding="utf-8", newline="") as file:
        rows = {row["id"]: (row["remarks"], row["code"]) for row in csv.DictReader(file)}
    return rows, capsys.readouterr().out


def of_class(folder: Path, lines: Mapping[str, list[Mapping[str, object]]]) -> dict[str, bytes]:
    """Return a record for each student, taken with the class's own drill."""
    (folder / "roster.csv").write_text("id,name\ns1,Ada\ns2,Ben\n", "utf-8")
    drill = small_drill('roster = "roster.csv"', folder=folder)
    return {name: record(drill, name[:2], found) for name, found in lines.items()}


def test_a_record_whose_code_is_another_or_was_not_noted_is_remarked_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    records = of_class(tmp_path, {"s1": [WRONG, END], "s2": [END]})
    one, two = code(records["s1"]), code(records["s2"])
    typed = one.lower().replace("-", " ")
    rows, printed = marks(tmp_path, records, f"id;code\n S1;{typed}\ns2;\nx9;K7WM3RXA\n", capsys)
    assert rows == {"s1": ("", one), "s2": ("no code was noted", two)}
    assert "codes.csv has codes for ids that have no record: x9" in printed.splitlines()


def test_a_code_that_differs_is_told_with_that_of_the_record(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    records = of_class(tmp_path, {"s1": [END]})
    rows, _ = marks(tmp_path, records, "id,code\ns1,K7WM-3RXA\ns2,H4CF-96TY\n", capsys)
    one = code(records["s1"])
    assert rows == {
        "s1": (f"the noted code K7WM-3RXA matches no record; this record's code is {one}", one),
        "s2": ("no record; the noted code H4CF-96TY matches no record", ""),
    }


def test_each_sitting_has_a_code_and_one_not_handed_in_has_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "roster.csv").write_text("id,name\ns1,Ada\ns2,Ben\n", "utf-8")
    drill = small_drill('roster = "roster.csv"', folder=tmp_path)
    hour = timedelta(hours=1)
    records = {
        "a": record(drill, "s1", [WRONG, END]),
        "b": record(drill, "s1", [END], BEGUN + hour),
        "c": record(drill, "s1", [WRONG], BEGUN + 2 * hour),
        "d": record(drill, "s2", []),
    }
    first, second = code(records["a"]), code(records["b"])
    rows, _ = marks(tmp_path, records, f"id,code\ns1,{second}\ns1,{first}\ns2,\n", capsys)
    assert {row: rows[row][1] for row in rows} == {"s1": f"{first} {second}", "s2": ""}
    assert "code" not in rows["s1"][0]
    assert rows["s2"][0] == "not handed in"


def test_without_codes_nothing_is_remarked_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    del capsys
    (tmp_path / "levers.toml").write_text(DRILL.text, "utf-8")
    (tmp_path / "s1.jsonl").write_bytes(record(DRILL, "s1", [END]))
    call = ["drill", "mark", str(tmp_path / "levers.toml"), str(tmp_path / "s1.jsonl")]
    assert main([*call, "--out", str(tmp_path / "out")]) == 0
    with (tmp_path / "out" / MARKS).open(encoding="utf-8", newline="") as file:
        (row,) = csv.DictReader(file)
    assert (row["remarks"], row["code"]) == ("", code(record(DRILL, "s1", [END])))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (None, "there is no such file; expected a CSV file with the columns id and code"),
        ("id,name\ns1,Ida\n", "it has no column code; expected a CSV file with the columns"),
        ("", "it has no column id; expected"),
    ],
)
def test_a_table_that_has_no_codes_is_told_of(text: str | None, told: str, tmp_path: Path) -> None:
    path = tmp_path / "codes.csv"
    if text is not None:
        path.write_text(text, "utf-8")
    with pytest.raises(FileError) as caught:
        read_codes(path)
    assert told in str(caught.value)


def test_any_table_of_codes_is_read_as_data(tmp_path: Path) -> None:
    path = tmp_path / "codes.csv"
    path.write_text('id,code\n"\x1b[2J=1","\x1b[31m=1+1"\n', "utf-8")
    noted = read_codes(path)
    assert noted.left == ("?[2J=1",)
    assert list(noted.remarks("\x1b[2J=1", ())) == ["the noted code 31M1-1 matches no record"]
    assert noted.left == ()


def test_the_code_follows_from_the_last_line_of_any_record() -> None:
    chance = random.Random(5)
    lines = [{"kind": "drill", "drill": "levers", "student": "s1", "tasks": []}]
    found = set()
    for number in range(50):
        more = [entry("W_s", f"{number}.{chance.randrange(10)} N"), END]
        found.add(code(chain([*lines, *timed(more)])))
    assert len(found) == 50


def test_what_was_handed_in_is_never_gone_on_with_unseen(tmp_path: Path) -> None:
    """At the door a record without its end goes on: with a line that says so."""
    drill = drill_with()
    sitting = Sitting.start(drill, CATALOGUE, "s01", tmp_path)
    sitting.hand_in()
    lines = sitting.place.read_bytes().splitlines(keepends=True)
    sitting.place.write_bytes(b"".join(lines[:-1]))
    turn = next_turn(drill, earlier(drill, "s01", tmp_path).records)
    assert turn.path == sitting.place
    again = Sitting.resume(turn.path, drill, CATALOGUE)
    assert [line["kind"] for line in fields_in(again.place)] == ["drill", "resumed"]
