"""What others put beside a student's records neither stands in for them nor keeps the door waiting.

A file is another account's by its owner, which only root can give away. Where another runs the
tests, who owns a file is said by the test.
"""

from __future__ import annotations

import json
import os
import shutil
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.accounts import FIRST, IS_ROOT, POSIX, SECOND, as_account, shared_folder
from helpers.drill_disks import DRILL, TYPED
from helpers.drill_sittings import END, chain, entry, record, small_drill
from helpers.material import CATALOGUE
from helpers.records import fields_in
from leverstep.bench.contents import link_of
from leverstep.dialogue.admission import Admission, admission
from leverstep.drill import earlier as earlier_records
from leverstep.drill import sitting as sittings
from leverstep.drill.drill import Drill
from leverstep.drill.earlier import earlier
from leverstep.drill.sitting import Closed, Sitting
from leverstep.marking.marking import owner

NOW = datetime.now(UTC)
ONCE = small_drill("sittings = 1")
UNLINKED = b'{"kind": "end", "time": "2026-11-29T11:00:00.000+00:00"}\n'

Foreign = Callable[[Path], Path]


@pytest.fixture
def share(tmp_path: Path) -> Path:
    """Return a folder that all can write to, with that of the drill in it."""
    share = tmp_path / "share"
    (share / "levers").mkdir(parents=True)
    for folder in (share, share / "levers"):
        folder.chmod(0o1777)
    return share


@pytest.fixture
def foreign(monkeypatch: pytest.MonkeyPatch) -> Foreign:
    """Return what makes a file another account's, and passes it on."""
    given: set[Path] = set()

    def give(path: Path) -> Path:
        if IS_ROOT:
            os.chown(path, SECOND, SECOND)
        given.add(path)
        return path

    if not IS_ROOT:
        for room in (earlier_records, sittings):
            monkeypatch.setattr(room, "is_own", lambda path: path not in given)
    return give


def at_door(share: Path, drill: Drill = DRILL) -> Admission:
    return admission(drill, "s1", share, NOW)


def begun(share: Path, drill: Drill = DRILL) -> Sitting:
    """Begin a sitting, write a line of it, and leave."""
    one = Sitting.start(drill, CATALOGUE, "s1", share)
    one.benches[0].enter(*TYPED[0])
    one.pause()
    return one


def copy_of(one: Sitting, more: bytes = b"", name: str = "") -> Path:
    """Return a copy of a record beside it, with more behind it."""
    copy = one.place.with_name(name or f"{one.place.stem}x.jsonl")
    copy.write_bytes(one.place.read_bytes() + more)
    return copy


def linked(data: bytes, line: dict[str, object]) -> bytes:
    """Return the bytes of a line that follows from a record."""
    (*_, last) = [one for one in data.split(b"\n") if one]
    link = link_of(json.loads(last)["link"], line)
    return (json.dumps({**line, "link": link}, sort_keys=True) + "\n").encode()


if POSIX:

    @pytest.mark.parametrize("mode", [0o644, 0o666])
    @pytest.mark.parametrize("put", ["a copy", "its last line again", "an end", "a linked end"])
    def test_a_copy_of_another_account_takes_no_record_s_place(
        put: str, mode: int, share: Path, foreign: Foreign
    ) -> None:
        one = begun(share, ONCE)
        data = one.place.read_bytes()
        more = {
            "a copy": b"",
            "its last line again": data.splitlines(keepends=True)[-1],
            "an end": UNLINKED,
            "a linked end": linked(data, {"kind": "end", "time": "2999-01-01T00:00:00+00:00"}),
        }[put]
        copy = foreign(copy_of(one, more))
        copy.chmod(mode)
        known = at_door(share, ONCE)
        assert known.turn is not None
        assert (known.turn.path, known.result) == (one.place, None)
        says_more = (
            "Files of another account hold lines in your name; they are left alone" in known.told
        )
        assert says_more == (put == "a linked end")
        again = Sitting.resume(one.place, ONCE, CATALOGUE)
        again.hand_in()
        assert again.place == one.place
        assert copy.read_bytes() == data + more
        assert at_door(share, ONCE).result == one.place

    def test_a_victim_without_rights_on_a_copy_goes_on_in_the_own_record() -> None:
        """Three accounts take part where root plays them."""

        def goes_on(share: Path) -> None:
            known = at_door(share)
            assert known.turn is not None
            assert known.turn.path is not None
            again = Sitting.resume(known.turn.path, DRILL, CATALOGUE)
            again.hand_in()
            kept = [line["kind"] for line in fields_in(again.place)]
            assert kept == ["drill", "entry", "away", "resumed", "end"]
            assert again.place.stat().st_uid == os.geteuid()

        def plant(share: Path) -> None:
            (mine,) = (share / "levers").glob("s1-*.jsonl")
            shutil.copy(mine, mine.with_name(f"{mine.stem}x.jsonl"))

        with shared_folder(0o1777) as share:
            assert as_account(FIRST, lambda: begun(share)) == ""
            assert as_account(SECOND, lambda: plant(share)) == ""
            assert as_account(FIRST, lambda: goes_on(share)) == ""

    def test_a_record_of_another_account_alone_goes_on_in_one_of_the_own(
        share: Path, foreign: Foreign
    ) -> None:
        """So it is where a teacher carried records over, or each computer numbers its accounts."""
        one = begun(share)
        data = foreign(one.place).read_bytes()
        known = at_door(share)
        assert known.turn is not None
        assert known.turn.path == one.place
        assert "was written under another account. If that was not you, tell" in known.told
        again = Sitting.resume(one.place, DRILL, CATALOGUE)
        assert again.place != one.place
        assert again.place.parent == one.place.parent
        assert again.benches[0].working.lines.keys() == one.benches[0].working.lines.keys()
        assert one.place.read_bytes() == data
        again.hand_in()
        known = at_door(share)
        assert (known.result, "another account" in known.told) == (again.place, False)

    def test_a_made_up_record_of_another_account_keeps_nobody_from_beginning(
        share: Path, foreign: Foreign
    ) -> None:
        for number, given in enumerate([{"tasks": []}, {"start_key": "0" * 64}]):
            made_up = share / "levers" / f"{number}.jsonl"
            made_up.write_bytes(record(ONCE, "s1", [END] * number, **given))
            foreign(made_up)
        known = at_door(share, ONCE)
        assert known.turn is not None
        assert (known.turn.number, known.turn.path, known.result) == (1, None, None)
        assert "was written under another account" in known.told

    def test_what_lies_where_nobody_else_can_put_it_counts_whoever_wrote_it(
        share: Path, foreign: Foreign
    ) -> None:
        first, second = (Sitting.start(DRILL, CATALOGUE, "s1", share) for _ in range(2))
        foreign(first.place)
        assert list(earlier(DRILL, "s1", share).records) == [second.place]
        first.place.parent.chmod(0o755)
        found = earlier(DRILL, "s1", share)
        assert set(found.records) == {first.place, second.place}
        assert found.remarks == ()


def test_copies_count_once(share: Path) -> None:
    """Whoever made them: a copy to be safe is no second sitting."""
    drill = small_drill("sittings = 2")
    one = begun(share, drill)
    one.go_on()
    one.hand_in()
    copy_of(one)
    known = at_door(share, drill)
    assert known.turn is not None
    assert (known.turn.number, known.turn.path) == (2, None)


@pytest.mark.parametrize("name", ["a.jsonl", "z.jsonl"])
@pytest.mark.parametrize("put", ["its last line again", "an end", "a borrowed end", "no text"])
def test_lines_that_do_not_follow_are_no_going_on_and_no_end(
    put: str, name: str, share: Path
) -> None:
    """As far as that holds where no owner of a file is known, as on Windows."""
    one = begun(share, ONCE)
    ended = record(ONCE, "s2", [entry(*TYPED[0]), END]).splitlines(keepends=True)
    more = {
        "its last line again": one.place.read_bytes().splitlines(keepends=True)[-1],
        "an end": UNLINKED,
        "a borrowed end": b"".join(ended[-2:]),
        "no text": b"\xff\x00\n" + UNLINKED,
    }[put]
    copy_of(one, more, name)
    known = at_door(share, ONCE)
    assert known.turn is not None
    assert (known.turn.path, known.result) == (one.place, None)


def test_a_record_that_marking_knows_no_owner_of_is_no_record_at_the_door(share: Path) -> None:
    """The id of a student is text, never a number that looks like it."""
    first = {"kind": "drill", "drill": DRILL.id, "student": 7}
    path = begun(share).place.with_name("7-of-a-number.jsonl")
    path.write_bytes(chain([first]))
    assert owner(DRILL, path.read_bytes()) == ""
    assert not earlier(DRILL, "7", share).records
    with pytest.raises(Closed, match="not a record of this drill"):
        Sitting.resume(path, DRILL, CATALOGUE)


def test_a_record_that_was_changed_goes_on_from_what_is_sound_of_it(share: Path) -> None:
    one = begun(share, ONCE)
    data = one.place.read_bytes()
    one.place.write_bytes(data + UNLINKED)
    known = at_door(share, ONCE)
    assert known.turn is not None
    assert "changed after it was written: only the lines before that count" in known.told
    again = Sitting.resume(one.place, ONCE, CATALOGUE)
    assert again.benches[0].working.lines.keys() == one.benches[0].working.lines.keys()
    again.hand_in()
    assert again.place.read_bytes().startswith(data)
    assert one.place.read_bytes() == data + UNLINKED
    known = at_door(share, ONCE)
    assert (known.turn, known.result) == (None, again.place)


def seconds(share: Path) -> float:
    """Return the processor time that the door takes, with a sitting to go on with."""
    begun_at = time.process_time()
    known = at_door(share)
    taken = time.process_time() - begun_at
    assert known.turn is not None
    return taken


JUNK = {
    "ends of line": b"\n" * 4_000_000,
    "no line": b"x" * 4_000_000,
    "tables": b"{}\n" * 1_300_000,
    "brackets": b"[" * 4_000_000,
}


@pytest.mark.parametrize("junk", JUNK)
@pytest.mark.parametrize("begins", ["", "as a record of another", "as a record of one's own"])
def test_junk_keeps_nobody_waiting_at_the_door(begins: str, junk: str, share: Path) -> None:
    one = begun(share)
    head = {
        "": b"",
        "as a record of another": record(DRILL, "s2"),
        "as a record of one's own": record(DRILL, "s1"),
    }[begins]
    for number in range(3):
        (share / "levers" / f"{number}.jsonl").write_bytes(head + JUNK[junk])
    assert seconds(share) < 1
    assert one.place in earlier(DRILL, "s1", share).records


def test_many_files_keep_nobody_waiting_at_the_door(
    share: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = begun(share)
    for number in range(3000):
        (share / "levers" / f"{number}.jsonl").write_bytes(b"{}\n" * 50)
    assert seconds(share) < 3
    assert at_door(share).told.count("than can be looked through") == 0
    monkeypatch.setattr(earlier_records, "MOST_FILES", 3000)
    told = at_door(share).told
    assert f"There is more in {share / 'levers'} than can be looked through" in told
    one.place.unlink()


def test_many_copies_keep_nobody_waiting_at_the_door(
    share: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where owners tell nothing each of them may be the one."""
    lines = [entry("W_s", f"{number} N") for number in range(500)]
    for number in range(100):
        copy = record(DRILL, "s1", [*lines, entry("W_s", f"-{number} N")])
        (share / "levers" / f"{number}.jsonl").write_bytes(copy)
    assert seconds(share) < 5
    monkeypatch.setattr(earlier_records, "MOST_BYTES", 1_000_000)
    assert "than can be looked through" in at_door(share).told
    assert seconds(share) < 1
