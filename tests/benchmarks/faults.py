"""What is lost under faults: killed programs, cut and changed records, failing and full disks.

Run as `python tests/benchmarks/faults.py [SITTINGS]`, on a system with `fork`. Where the user may
mount one, the full disk is a small disk in memory; else it is a limit on the size of a file.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from pathlib import Path

import checkout  # noqa: F401  (before what it finds)
from helpers.accounts import CLASS, FIRST, IS_ROOT, SECOND, TEACHER, as_account, shared_folder
from helpers.any_lines import any_line
from helpers.drill_disks import DRILL, FAULTS, TYPED, fail_in_turn
from helpers.drill_killing import LINES, kill_sittings, nursery, told
from helpers.drill_sittings import END, SHELF, entry, hint, record, right_entries, small_drill
from helpers.material import CATALOGUE
from leverstep.bench.record import RecordError
from leverstep.course.faults import FileError
from leverstep.course.new_file import write_new
from leverstep.drill.earlier import earlier
from leverstep.drill.sitting import Sitting, next_turn
from leverstep.marking.collecting import gather, mark_all
from leverstep.marking.marking import Marked, mark_record
from leverstep.marking.outputs import Outputs
from leverstep.working.guidance import FOR_ALL
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working
from machine import machine

SITTINGS, SEED, AT_ONCE = 240, 20270301, 8
SMALL_DISK = 64 * 1024
ANY_RECORDS, ANY_LINES = 4, 6


def show(tried: str, times: int, shown: int, lost: int, more: str = "") -> None:
    """Print one row of the table."""
    print(f"{tried:58} {times:7} {shown:9} {lost:6}   {more}", flush=True)


def killed(count: int, folder: Path) -> None:
    """Kill sittings, each at a moment of its own."""
    left = list(kill_sittings(count, SEED, folder))
    cut = sum(one.is_cut for one in left)
    middle = sum(0 < one.told < LINES for one in left)
    unseen = sum(one.kept > one.told for one in left)
    shown, lost = sum(one.told for one in left), sum(one.lost for one in left)
    more = f"{middle} in the middle, {unseen} kept one more than was shown, {cut} cut"
    show("sittings killed at any moment", count, shown, lost, more)


def at_once(folder: Path) -> None:
    """Let some sit at the same time, into one folder."""
    students = [f"at-once-{number}" for number in range(AT_ONCE)]
    with nursery(folder) as program:
        shown = sum(not line.endswith("end") for line in told(program, None, students))
    marked = [
        mark_record(DRILL, CATALOGUE, "", path.read_bytes())
        for path in (folder / "all").rglob("at-*")
    ]
    kept = sum(len(one.entries) for one in marked)
    odd = sum(bool(one.remarks) for one in marked)
    show("sittings at once into one folder", AT_ONCE, shown, shown - kept, f"{odd} with remarks")


def a_record() -> tuple[bytes, Marked]:
    """Return a whole record of a worked problem, and its marks."""
    right = right_entries(DRILL.tasks("s1")[0].question)
    lines = [entry("W_s", "54 N"), hint("W_s"), *(entry(k, text) for k, text in right.items())]
    data = record(DRILL, "s1", [*lines, END])
    return data, mark_record(DRILL, CATALOGUE, "", data)


def cut() -> None:
    """Cut a record at every byte; an entry is lost whose whole line is there and is not marked."""
    data, _ = a_record()
    shown = lost = 0
    for size in range(len(data) + 1):
        kept = data[:size].count(b'"kind": "entry"')
        whole = sum(b'"kind": "entry"' in line for line in data[:size].split(b"\n")[:-1])
        shown += whole
        lost += whole - len(mark_record(DRILL, CATALOGUE, "", data[:size]).entries)
        assert kept >= whole
    show("a record cut at every byte", len(data) + 1, shown, lost)


def changed() -> None:
    """Change each bit of a record in turn; at most the entry with the bit may go, with a remark."""
    data, unchanged = a_record()
    first = data.index(b"\n")
    unnoticed = lost = shown = 0
    for place in range(8 * len(data)):
        other = bytearray(data)
        other[place // 8] ^= 1 << place % 8
        marked = mark_record(DRILL, CATALOGUE, "", bytes(other))
        unnoticed += not marked.remarks and marked != unchanged
        if place // 8 > first:  # without its first line a record is nobody's
            shown += len(unchanged.entries)
            lost += max(0, len(unchanged.entries) - 2 - len(marked.entries))
    more = f"{unnoticed} unnoticed"
    show("a record with each bit changed in turn", 8 * len(data), shown, lost, more)


def a_sitting(folder: Path) -> list[bytes]:
    """Return the lines of a sitting that was left and continued once, and handed in."""
    one = Sitting.start(DRILL, CATALOGUE, "s1", folder)
    for number, (key, text) in enumerate(right_entries(DRILL.tasks("s1")[0].question).items()):
        one.benches[0].enter(key, f"{500 + number}.5 N")
        one.benches[0].enter(key, text)
        if number == 5:
            one.pause()
            one.go_on()
    one.hand_in()
    return one.place.read_bytes().splitlines(keepends=True)


def deleted(folder: Path) -> None:
    """Delete whole lines of a record: each alone; then the last ones, and hand in again.

    The first line stays, without which a record is nobody's.
    """
    whole = a_sitting(folder / "whole")
    path = folder / "s1.jsonl"
    alone, again = [], []
    for place in range(1, len(whole)):
        path.write_bytes(b"".join([*whole[:place], *whole[place + 1 :]]))
        alone.append(path.read_bytes())
        path.write_bytes(b"".join(whole[:place]))
        Sitting.resume(path, DRILL, CATALOGUE).hand_in()
        again.append(path.read_bytes())
    for name, records in (
        ("a whole line deleted, each in turn", alone),
        ("all lines from each on deleted, and handed in again", again),
    ):
        _show_deleted(name, records, b"".join(whole))


def _show_deleted(name: str, records: list[bytes], whole: bytes) -> None:
    """Print what shows of records with lines deleted; the entries that are left must be marked."""
    code = mark_record(DRILL, CATALOGUE, "", whole).code
    found = [mark_record(DRILL, CATALOGUE, "", data) for data in records]
    shown = sum(data.count(b'"kind": "entry"') for data in records)
    remarked = sum(bool(one.remarks) or not one.ended for one in found)
    other = sum(one.code != code for one in found)
    neither = sum(one.code == code and not one.remarks for one in found)
    more = f"{remarked} remarked on, {other} have another code or none, {neither} neither"
    show(name, len(found), shown, shown - sum(len(one.entries) for one in found), more)


def failing(folder: Path) -> None:
    """Let each call of the system fail in turn, in each of several ways."""
    for name in FAULTS:
        tried = list(fail_in_turn(name, folder))
        shown, wrong = sum(one.shown for one in tried), sum(not one.is_as_shown for one in tried)
        refused = sum(len(one.refused) for one in tried)
        show(f"{name}, from each call on", len(tried), shown, wrong, f"{refused} steps refused")


SHARES = {"open to all": 0o777, "open to all, sticky": 0o1777, "of a group, set-gid": 0o2770}


def accounts() -> None:
    """Let two accounts sit into one share and a third mark it, under each of three umasks."""
    who = "three accounts" if IS_ROOT else "one account, since it is not root,"
    for name, mode in SHARES.items():
        shown = lost = refused = 0
        for umask in (0o000, 0o022, 0o077):
            with shared_folder(mode, CLASS) as share:
                for account in (FIRST, SECOND):
                    told = as_account(account, lambda s=share, a=account: _sit_into(s, a), umask)
                    refused += bool(told)
                    shown += len(TYPED)
                told = as_account(TEACHER, lambda s=share: _mark_all_of(s), umask)
                lost += shown if told else 0
        more = f"{refused} sittings refused"
        show(f"{who} and a share {name}", 9, shown, lost, more)


def _sit_into(share: Path, account: int) -> None:
    """Sit a whole sitting into a share."""
    one = Sitting.start(DRILL, CATALOGUE, f"s{account}", share)
    for key, text in TYPED:
        one.benches[0].enter(key, text)
    one.hand_in()


def _mark_all_of(share: Path) -> None:
    """Mark what two have sat into a share; everything of both must be there."""
    with ThreadPoolExecutor(1) as pool:
        marked = list(mark_all(DRILL, CATALOGUE, gather([share]).records, pool))
    assert [len(one.entries) for one in marked] == [len(TYPED)] * 2
    assert not any(one.remarks for one in marked)


def unplain(folder: Path) -> None:
    """Put a pipe, a link to a device, one to a file and a file without measure among the records.

    A sitting is begun, gone on with and marked beside each; what lies behind the links must stay.
    """
    precious = folder / "precious"
    precious.write_bytes(b"precious")
    put: dict[str, Callable[[Path], object]] = {
        "a pipe": os.mkfifo,
        "a link to a device": lambda path: path.symlink_to("/dev/zero"),
        "a link to a file": lambda path: path.symlink_to(precious),
        "a file of eight gigabytes": _huge,
    }
    for name, puts in put.items():
        share = folder / name
        (share / "levers").mkdir(parents=True)
        puts(share / "levers" / "s1-x.jsonl")
        one = Sitting.start(DRILL, CATALOGUE, "s1", share)
        for key, text in TYPED:
            one.benches[0].enter(key, text)
        turn = next_turn(DRILL, earlier(DRILL, "s1", share).records)
        assert turn.path == one.place
        Sitting.resume(one.place, DRILL, CATALOGUE).hand_in()
        with ThreadPoolExecutor(1) as pool:
            marked = list(mark_all(DRILL, CATALOGUE, gather([share]).records, pool))
        kept = sum(len(one.entries) for one in marked)
        lost = len(TYPED) - kept + (precious.read_bytes() != b"precious")
        told = sum(not one.student for one in marked)
        show(f"{name} among the records", 1, len(TYPED), lost, f"{told} told of")


def _huge(path: Path) -> None:
    """Put a file that takes no room on the disk."""
    with path.open("wb") as file:
        file.truncate(2**33)


@contextmanager
def small_disk(folder: Path) -> Iterator[bool]:
    """Mount a small disk on a folder, and tell whether that was allowed."""
    mount = ["mount", "-t", "tmpfs", "-o", f"size={SMALL_DISK}", "tmpfs", str(folder)]
    done = None
    with suppress(OSError):
        done = subprocess.run(mount, capture_output=True, check=False).returncode
    try:
        yield done == 0
    finally:
        if done == 0:
            subprocess.run(["umount", str(folder)], check=True)


def full(folder: Path) -> None:
    """Fill a disk with sittings until nothing more can be written."""
    shown = lost = times = 0
    with small_disk(folder) as is_mounted:
        if not is_mounted:
            import resource

            resource.setrlimit(resource.RLIMIT_FSIZE, (SMALL_DISK, SMALL_DISK))
        with suppress(RecordError):
            while True:
                one = Sitting.start(DRILL, CATALOGUE, f"s{times}", folder)
                times += 1
                told_of = 0
                try:
                    for number in range(40 if is_mounted else 10_000):
                        one.benches[0].enter("W_s", f"{500 + number}.5 N")
                        told_of += 1
                    one.hand_in()
                finally:
                    marked = mark_record(DRILL, CATALOGUE, "", one.place.read_bytes())
                    shown, lost = shown + told_of, lost + told_of - len(marked.entries)
    kind = "a disk in memory" if is_mounted else "a limit on the size of a file"
    show(f"sittings until the disk is full ({kind})", times, shown, lost)


def full_of_files(folder: Path) -> None:
    """Write new files, and the tables of a marking, onto a disk that has room for less and less.

    What can't be written whole must not be there; tables must all be old or all new.
    """
    with small_disk(folder) as is_mounted:
        if not is_mounted:
            show("new files and tables on a full disk: no disk may be mounted", 0, 0, 0)
            return
        files = halves = mixed = 0
        with suppress(FileError):
            while True:
                write_new(folder / f"{files}.txt", "x" * 3000)
                files += 1
        halves += sum(path.stat().st_size != 3000 for path in folder.iterdir())
        times = 0
        for number in reversed(range(files)):
            before = {path.name: path.read_bytes() for path in folder.glob("*.csv")}
            with suppress(OSError), Outputs(folder) as out:
                for name in ("marks.csv", "steps.csv"):
                    with out.open(name) as file:
                        file.write(f"{number}\n" * 2000)
            after = {path.name: path.read_bytes() for path in folder.glob("*.csv")}
            mixed += after != before and len(set(after.values())) != 1
            halves += sum(path.name.startswith(".") for path in folder.iterdir())
            (folder / f"{number}.txt").unlink()
            times += 1
    more = f"{halves} halves left, {mixed} old beside new"
    show("new files and tables until the disk is full", files + times, files, halves + mixed, more)


def any_entries() -> None:
    """Have records of any lines, zeros above all, gone on with and marked, for every problem.

    Lost is a line that a fault of the program kept from being judged, or that is not marked.
    """
    records = shown = lost = 0
    for name in sorted(SHELF.problems):
        chance = random.Random(name)
        for guidance in FOR_ALL:
            drill = small_drill(f'guidance = "{guidance}"', problem=name)
            question = drill.tasks("s1")[0].question
            for _ in range(ANY_RECORDS):
                working = Working(question, guidance=guidance)
                lines = [any_line(working, chance) for _ in range(ANY_LINES)]
                data = record(drill, "s1", [*(_typed(*line) for line in lines), END])
                entries = mark_record(drill, CATALOGUE, "s1", data).entries
                failed = sum(one.outcome is Outcome.FAILED for one in entries)
                records, shown = records + 1, shown + len(lines)
                lost += failed + len(lines) - len(entries)
    show("records of zeros and of any other lines", records, shown, lost)


def _typed(key: str, text: str) -> dict[str, object]:
    return entry(key, text) if key else {"kind": "line", "task": 1, "text": text}


def main() -> None:
    """Try everything and print a table."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else SITTINGS
    print(f"{machine()}\n")
    print(f"{'what was tried':58} {'times':>7} {'shown':>9} {'lost':>6}")
    with tempfile.TemporaryDirectory() as home:
        for name in ("killed", "once", "deleted", "failing", "full", "unplain", "files"):
            (Path(home) / name).mkdir()
        killed(count, Path(home) / "killed")
        at_once(Path(home) / "once")
        cut()
        changed()
        deleted(Path(home) / "deleted")
        any_entries()
        failing(Path(home) / "failing")
        accounts()
        unplain(Path(home) / "unplain")
        full_of_files(Path(home) / "files")
        full(Path(home) / "full")


if __name__ == "__main__":
    main()
