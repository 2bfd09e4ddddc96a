"""What lies where a file should: links, pipes, devices and files without measure, in any folder.

Nothing waits for a pipe, reads a device, or follows a link that another may have put there; one
sentence says what it is, and all else goes on.
"""

from __future__ import annotations

import ast
import os
import signal
import tracemalloc
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

import pytest
from helpers.drill_disks import DRILL
from helpers.drill_sittings import END, SHELF, record
from helpers.material import CATALOGUE
from helpers.source import PACKAGE
from leverstep.bench.kept_workings import unfinished
from leverstep.bench.record import Record, RecordError, read_bytes
from leverstep.bench.record_lines import EndLine
from leverstep.course.cards import CardStore
from leverstep.course.faults import FileError
from leverstep.course.libraries import libraries_in_use
from leverstep.course.new_file import write_new
from leverstep.course.places import put_by
from leverstep.course.plain_files import read_plain
from leverstep.course.problem_file import read_problem
from leverstep.course.toml import top_keys
from leverstep.dialogue.admission import admission
from leverstep.drill.begun import drills_begun
from leverstep.drill.drill_file import LARGEST_DRILL, is_drill_file, read_drill
from leverstep.drill.roster import roster_of, roster_table
from leverstep.drill.sitting import Sitting
from leverstep.drill.start_word import set_start_word
from leverstep.faces.commands.cli import main
from leverstep.faces.material import Material
from leverstep.faces.screens.looks import first_look
from leverstep.marking.collecting import gather, mark_all
from leverstep.marking.outputs import Outputs
from leverstep.progress.history import read_history
from leverstep.progress.store import Store
from leverstep.slips.catalogue import load_catalogue
from leverstep.vetting.vet_hints import is_hint_file

POSIX = os.name != "nt"
SECONDS = 20
"""A deed that has not ended by then waits for something."""

GIGABYTE = 2**30


@pytest.fixture(autouse=True)
def _ends() -> Iterator[None]:
    """Break off what waits for ever."""
    if not POSIX:
        yield
        return

    def waits(*_: object) -> None:
        raise TimeoutError("it waits for something that never comes")

    before = signal.signal(signal.SIGALRM, waits)
    signal.alarm(SECONDS)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the user's data folder, which is empty."""
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    (tmp_path / "home").mkdir()
    return tmp_path / "home"


def pipe(path: Path) -> None:
    """Put a pipe at a path, to which nobody writes."""
    os.mkfifo(path)


def endless(path: Path) -> None:
    """Put a link to a device without an end at a path."""
    path.symlink_to("/dev/zero")


def huge(path: Path) -> None:
    """Put a file at a path that is larger than any of its kind, and takes no room on the disk."""
    with path.open("wb") as file:
        file.truncate(GIGABYTE)


def told(deed: Callable[[], object]) -> str:
    """Return what is told where a deed is refused."""
    with pytest.raises((FileError, RecordError, OSError)) as refused:
        deed()
    assert not isinstance(refused.value, TimeoutError)
    return str(refused.value)


def roster(path: Path) -> str:
    """Return what is told of a roster."""
    faults: list[str] = []
    roster_of(roster_table(path), lambda *fault: faults.append("; expected ".join(fault)))
    return "\n".join(faults)


def hints(path: Path) -> str:
    """Return what is told of a file of hints in a teacher's own folder."""
    return "\n".join(map(str, load_catalogue([], [path.parent]).faults))


def card(path: Path) -> str:
    """Return what is told of a problem file in a list."""
    found = CardStore().card(path)
    assert isinstance(found, tuple)
    return "\n".join(map(str, found))


def gathered(path: Path) -> str:
    """Return what is told of a record among others when they are marked."""
    good = path.parent / "good.jsonl"
    good.write_bytes(record(DRILL, "good", [END]))
    with ThreadPoolExecutor(1) as pool:
        marked = list(mark_all(DRILL, CATALOGUE, gather([path.parent]).records, pool))
    assert [one.student for one in marked] == ["", "good"]
    return marked[0].remarks[0]


READERS: dict[str, Callable[[Path], str]] = {
    "a record": lambda path: told(lambda: read_bytes(path)),
    "a record to go on with": lambda path: told(lambda: Record.reopen(path)),
    "a record that is marked": gathered,
    "a problem": lambda path: told(lambda: read_problem(path)),
    "a problem in a list": card,
    "a drill": lambda path: told(lambda: read_drill(path, SHELF.problems)),
    "a roster": roster,
    "hints": hints,
}
ENDINGS = {"a roster": ".csv", "a record": ".jsonl", "hints": ".toml"}
KINDS: dict[str, tuple[Callable[[Path], None], str]] = {"huge": (huge, "too large")}
if POSIX:
    KINDS |= {"pipe": (pipe, "pipe or a device"), "endless": (endless, r"pipe or a device|a link")}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("reader", READERS)
def test_what_is_no_plain_file_is_told_in_one_sentence(
    reader: str, kind: str, tmp_path: Path
) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    ending = ".jsonl" if reader.startswith("a record") else ENDINGS.get(reader, ".toml")
    path = folder / f"thing{ending}"
    put, words = KINDS[kind]
    put(path)
    tracemalloc.start()
    try:
        found = READERS[reader](path)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert any(word in found for word in words.split("|")), found
    assert "\n" not in found
    assert peak < 60_000_000, "nothing of it is read"


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_no_plain_file_is_neither_a_drill_nor_hints(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "thing.toml"
    KINDS[kind][0](path)
    assert not is_drill_file(top_keys(path, LARGEST_DRILL))
    assert not is_hint_file(top_keys(path))


@pytest.mark.parametrize("kind", KINDS)
def test_no_door_and_no_list_waits_for_what_lies_among_the_files(
    kind: str, tmp_path: Path, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put, _ = KINDS[kind]
    share, library = tmp_path / "share", tmp_path / "library"
    for folder in (share / "levers", home / "practice", home / "drills" / "levers"):
        folder.mkdir(parents=True)
        put(folder / "x.jsonl")
    for folder in (library / "problems", library / "hints", library / "drills"):
        folder.mkdir(parents=True)
        put(folder / "x.toml")
    for name in ("begun.json", "cards.json", "progress.json", "look"):
        put(home / name)
    monkeypatch.setenv("LEVERSTEP_LIBRARY", str(library))
    assert admission(DRILL, "s1", share, datetime.now(UTC)).turn is not None
    assert Sitting.start(DRILL, CATALOGUE, "s1", share).benches
    there = Material(libraries_in_use())
    shelf, catalogue = there.shelf, there.catalogue
    assert [fault.file for fault in shelf.faults] == ["x.toml"]
    assert [fault.file for fault in catalogue.faults] == ["x.toml"]
    assert unfinished(shelf) == []
    assert drills_begun() == ()
    assert first_look("256")
    store = Store(shelf, catalogue, home)
    assert read_history(shelf, catalogue, datetime.now(UTC), store).unusable == 2


if POSIX:

    @pytest.mark.parametrize("mode", [0o700, 0o1777])
    def test_a_record_is_never_a_link(mode: int, tmp_path: Path) -> None:
        folder, elsewhere = tmp_path / "share", tmp_path / "elsewhere"
        folder.mkdir()
        folder.chmod(mode)
        elsewhere.write_bytes(record(DRILL, "s1"))
        link = folder / "s1.jsonl"
        link.symlink_to(elsewhere)
        for use in (read_bytes, Record.reopen, lambda path: Record(path).append(EndLine())):
            with pytest.raises(RecordError, match=r"it is a link|symbolic links"):
                use(link)
        assert elsewhere.read_bytes() == record(DRILL, "s1")
        (found,) = gather([folder]).records
        assert (found.student, found.trouble) == (
            "",
            "it is a link, and links are not followed here",
        )

    def test_a_record_that_became_a_pipe_is_told_of_and_not_waited_for(tmp_path: Path) -> None:
        one = Sitting.start(DRILL, CATALOGUE, "s1", tmp_path)
        one.place.unlink()
        os.mkfifo(one.place)
        with pytest.raises(RecordError, match=r"No such device|pipe or a device"):
            one.hand_in()
        assert not one.ended

    @pytest.mark.parametrize(
        ("mode", "is_followed"), [(0o755, True), (0o777, False), (0o1777, False), (0o2775, False)]
    )
    def test_a_link_to_a_file_of_a_course_is_followed_where_only_its_owner_can_put_one(
        mode: int, is_followed: bool, tmp_path: Path
    ) -> None:
        course, elsewhere = tmp_path / "course", tmp_path / "levers.toml"
        course.mkdir()
        course.chmod(mode)
        elsewhere.write_text(DRILL.text, "utf-8")
        link = course / "levers.toml"
        link.symlink_to(elsewhere)
        if is_followed:
            assert read_drill(link, SHELF.problems) == DRILL
        else:
            expected = "levers.toml: it is a link, and links are not followed here; expected a "
            assert told(lambda: read_drill(link, SHELF.problems)).startswith(expected)

    def test_a_folder_behind_a_link_is_not_looked_into(tmp_path: Path) -> None:
        share, other = tmp_path / "share", tmp_path / "other"
        share.mkdir()
        share.chmod(0o1777)
        other.mkdir()
        (other / "s1.jsonl").write_bytes(record(DRILL, "s1", [END]))
        (share / "levers").symlink_to(other)
        assert gather([share]).records == ()
        assert admission(DRILL, "s1", share, datetime.now(UTC)).result is None
        with pytest.raises(RecordError, match="it is a link"):
            Sitting.start(DRILL, CATALOGUE, "s1", share)

    def test_what_is_kept_for_a_user_replaces_a_link_and_leaves_its_other_end(
        tmp_path: Path, home: Path
    ) -> None:
        precious = tmp_path / "precious"
        precious.write_text("precious", "utf-8")
        for name in ("look", f"look.{os.getpid()}", f".look-{os.getpid()}"):
            (home / name).symlink_to(precious)
        put_by(home / "look", "dark\n")
        assert precious.read_text("utf-8") == "precious"
        assert (home / "look").read_text("utf-8") == "dark\n"

    def test_what_marking_writes_follows_no_link(tmp_path: Path) -> None:
        drill, records, out = tmp_path / "levers.toml", tmp_path / "records", tmp_path / "out"
        drill.write_text(DRILL.text, "utf-8")
        records.mkdir()
        (records / "s1.jsonl").write_bytes(record(DRILL, "s1", [END]))
        out.mkdir()
        precious = tmp_path / "precious"
        precious.write_text("precious", "utf-8")
        names = ["marks.csv", "steps.csv", "report.md", "report.html", "statements.jsonl"]
        for name in names:
            (out / name).symlink_to(precious)
            (out / f".{name}").symlink_to(precious)
        mark = ["drill", "mark", str(drill), str(records), "--out", str(out), "--statements"]
        assert main(mark) == 0
        assert precious.read_text("utf-8") == "precious"
        assert not any((out / name).is_symlink() for name in names)

    def test_pages_are_not_written_where_another_put_a_link(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        drill, records, out = tmp_path / "levers.toml", tmp_path / "records", tmp_path / "out"
        drill.write_text(DRILL.text, "utf-8")
        for folder in (records, out, tmp_path / "elsewhere"):
            folder.mkdir()
        (records / "s1.jsonl").write_bytes(record(DRILL, "s1", [END]))
        out.chmod(0o777)
        (out / "students").symlink_to(tmp_path / "elsewhere")
        mark = ["drill", "mark", str(drill), str(records), "--out", str(out), "--pages"]
        assert main(mark) == 2
        assert "students: it is a link; expected a folder of its own" in capsys.readouterr().err
        assert list((tmp_path / "elsewhere").iterdir()) == []
        assert [path.name for path in out.iterdir()] == ["students"]

    @pytest.mark.parametrize("inner", [".", "deep/er"])
    @pytest.mark.parametrize("mode", [0o777, 0o1777, 0o2775])
    def test_nothing_is_written_where_the_way_leads_over_a_link_of_others(
        mode: int, inner: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        """Neither the tables of another drill nor a new file come to lie behind such a link."""
        course, keep, share = tmp_path / "course", tmp_path / "keep", tmp_path / "share"
        for folder in (course, keep / inner / "students", share):
            folder.mkdir(parents=True, exist_ok=True)
        share.chmod(mode)
        (share / "q").symlink_to(keep)
        (tmp_path / "own").symlink_to(share)  # of the teacher's own, which is followed
        (course / "s1.jsonl").write_bytes(record(DRILL, "s1", [END]))
        drill, sealed = course / "levers.toml", keep / inner / "own.toml"
        for path in (drill, sealed):
            path.write_text(DRILL.text, "utf-8")
        kept = [keep / inner / "marks.csv", keep / inner / "students" / "old-0123abcd.html"]
        for path in kept:
            path.write_text("kept", "utf-8")
        before = sorted(keep.rglob("*"))
        for way in (share / "q", tmp_path / "own" / "q"):
            out = way / inner
            mark = ["drill", "mark", str(drill), str(course), "--out", str(out), "--pages"]
            seed = ["elbow-full-pail", "--seed", "7"]
            calls = [
                mark,
                [*mark[:-2], str(out / "new"), "--statements"],
                ["sheet", *seed, "--out", str(out / "x.html")],
                ["explore", *seed, "--over", "d_m", "--csv", "--out", str(out / "x.csv")],
                ["drill", "new", str(out / "x.toml"), "elbow-full-pail"],
            ]
            for call in calls:
                assert main(call) == 2, call
                said = capsys.readouterr().err
                assert said == f"{way}: it is a link; expected a folder of its own\n", call
            with pytest.raises(FileError, match=f"{way}: it is a link"):
                set_start_word(out / "own.toml", "blue heron")
            with pytest.raises(
                RecordError, match=f"{way}: it is a link, and links are not followed"
            ):
                Sitting.start(DRILL, CATALOGUE, "s1", out)
        assert sorted(keep.rglob("*")) == before
        assert {path.read_text("utf-8") for path in kept} == {"kept"}
        assert sealed.read_text("utf-8") == DRILL.text

    @pytest.mark.parametrize("name", ["out", "out/deep"])
    def test_a_folder_behind_a_link_of_ones_own_is_written_to(name: str, tmp_path: Path) -> None:
        (tmp_path / "elsewhere").mkdir()
        (tmp_path / "out").symlink_to(tmp_path / "elsewhere")
        (tmp_path / "s1.jsonl").write_bytes(record(DRILL, "s1", [END]))
        (tmp_path / "levers.toml").write_text(DRILL.text, "utf-8")
        out = str(tmp_path / name)
        mark = ["drill", "mark", str(tmp_path / "levers.toml"), str(tmp_path / "s1.jsonl")]
        assert main([*mark, "--out", out]) == 0
        assert (tmp_path / name.replace("out", "elsewhere") / "marks.csv").is_file()

    def test_a_link_that_was_planted_while_marking_is_not_followed(tmp_path: Path) -> None:
        out, keep = tmp_path / "out", tmp_path / "keep"
        for folder in (out, keep):
            folder.mkdir()
        tmp_path.chmod(0o777)
        (keep / "marks.csv").write_text("kept", "utf-8")

        def plants() -> None:
            with Outputs(out) as files:
                files.open("marks.csv").write("new")
                out.rename(tmp_path / "moved")
                out.symlink_to(keep)

        assert "out: it is a link" in told(plants)
        assert (keep / "marks.csv").read_text("utf-8") == "kept"
        assert [path.name for path in keep.iterdir()] == ["marks.csv"]

    def test_links_that_lead_in_a_circle_are_told_of(tmp_path: Path) -> None:
        (tmp_path / "a").symlink_to(tmp_path / "b")
        (tmp_path / "b").symlink_to(tmp_path / "a")
        with pytest.raises(FileError, match="symbolic links"):
            write_new(tmp_path / "a" / "x.html", "new")

    def test_a_new_file_is_not_written_through_a_link(tmp_path: Path) -> None:
        for name, target in (("dangling.html", "nowhere"), ("other.html", "precious")):
            (tmp_path / "precious").write_text("precious", "utf-8")
            (tmp_path / name).symlink_to(tmp_path / target)
            with pytest.raises(FileError, match=r"it already exists|File exists"):
                write_new(tmp_path / name, "new")
        assert (tmp_path / "precious").read_text("utf-8") == "precious"
        assert not (tmp_path / "nowhere").exists()


def test_a_file_that_grows_while_it_is_read_is_bounded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "growing"
    path.write_bytes(b"1234567890")
    assert read_plain(path, 10) == b"1234567890"
    with pytest.raises(OSError, match="too large"):
        read_plain(path, 9)
    stat = os.fstat

    def grows(descriptor: int) -> os.stat_result:
        found = stat(descriptor)
        path.write_bytes(b"1" * 11)
        return found

    monkeypatch.setattr(os, "fstat", grows)
    with pytest.raises(OSError, match="too large"):
        read_plain(path, 10)


MAY_OPEN = {
    "course/plain_files.py",  # what is read
    "course/sharing.py",  # what is kept
    "course/new_file.py",  # what a user names
    "course/toml.py",  # what ships inside the package
    "marking/outputs.py",  # what marking writes
    "bench/record.py",  # what is added to a record
    "drill/one_roster_export.py",  # a part of what was opened as a plain file
    "marking/cluster.py",  # the modules of the package, to tell versions apart
    "faces/commands/cli.py",  # no file, but nowhere
    "faces/terminal.py",
}
OPENING = {"open", "read_text", "read_bytes", "write_text", "write_bytes", "mkdir", "makedirs"}


def opened_in(path: Path) -> Iterator[str]:
    """Yield what a module calls to open or make files; an `Outputs` is called `out` everywhere."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            told = ast.unparse(node.func)
            if node.func.attr in OPENING and not told.endswith("out.open"):
                yield told
        elif isinstance(node, ast.Call) and ast.unparse(node.func) == "open":
            yield "open"


def test_files_are_opened_and_made_in_few_places_only() -> None:
    found = {path.relative_to(PACKAGE).as_posix(): path for path in PACKAGE.rglob("*.py")}
    opening = {name: list(opened_in(path)) for name, path in found.items()}
    assert {name for name, calls in opening.items() if calls} == MAY_OPEN
