"""Marking on a cluster gives the very files that it gives on one machine, whatever is lost.

The cluster is the optional extra `cluster`. Where it is absent, the tests that need it say so and
assert that; what a worker has to be like is tested without it.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import CancelledError, Executor, Future, ThreadPoolExecutor
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest
from helpers.classes import write_tables
from helpers.drill_sittings import END, entry, record, right_entries, small_drill
from leverstep.course.faults import FileError
from leverstep.drill.drill import Drill
from leverstep.faces.commands.cli import main
from leverstep.faces.commands.machines import SECONDS_BETWEEN, MarkingProgress
from leverstep.marking import cluster
from leverstep.marking.cluster import ClusterExecutor, code_digest, seen_here
from leverstep.marking.collecting import CHUNK, Student
from leverstep.marking.tables import MARKS, STEPS

STUDENTS = 3 * CHUNK + 1


def a_class(drill: Drill, folder: Path) -> None:
    """Write the records of a class; one of them is none."""
    folder.mkdir()
    for number in range(STUDENTS):
        student = f"s{number:03}"
        chance = random.Random(student)
        right = right_entries(drill.tasks(student)[0].question).items()
        lines = [entry(k, text if chance.random() < 0.7 else "54 N") for k, text in right]
        (folder / f"{student}.jsonl").write_bytes(record(drill, student, [*lines, END]))
    (folder / "broken.jsonl").write_bytes(b"no record\n")


def tables(drill: Drill, records: Path, out: Path, executor: Executor) -> tuple[bytes, bytes]:
    """Return the tables over a folder of records, marked by an executor."""
    assert len(write_tables(drill, records, out, executor)) == 1
    return (out / MARKS).read_bytes(), (out / STEPS).read_bytes()


@contextmanager
def two_workers() -> Iterator[tuple[str, list[int]]]:
    """Give the address of a scheduler with two workers, and their processes, as long as used."""
    from distributed import Client, LocalCluster

    options = {"n_workers": 2, "threads_per_worker": 1, "dashboard_address": None}
    with LocalCluster(processes=True, **options) as local:
        with Client(local, set_as_default=False) as client:
            client.wait_for_workers(2)
            pids = list(client.run(os.getpid).values())
        yield local.scheduler_address, pids


def has_cluster() -> bool:
    """Return whether the extra is there; say so where it is not."""
    if find_spec("distributed") is None:
        print("The extra `cluster` is absent, so that no cluster has marked anything here.")
        return False
    return True


def test_a_cluster_marks_as_one_process_does(tmp_path: Path) -> None:
    drill, records = small_drill(), tmp_path / "records"
    a_class(drill, records)
    (tmp_path / "levers.toml").write_text(drill.text, "utf-8")
    mark = ["drill", "mark", str(tmp_path / "levers.toml"), str(records)]
    alone, apart = tmp_path / "alone", tmp_path / "apart"
    assert main([*mark, "--out", str(alone), "--workers", "1"]) == 0
    assert (alone / MARKS).read_bytes().count(b"\r\n") == STUDENTS + 2
    if not has_cluster():
        assert main([*mark, "--out", str(apart), "--cluster", "tcp://127.0.0.1:9"]) == 2
        return
    with two_workers() as (address, _):
        assert main([*mark, "--out", str(apart), "--cluster", address]) == 0
    for name in (MARKS, STEPS, "report.html"):
        assert (apart / name).read_bytes() == (alone / name).read_bytes()


def test_records_of_a_worker_that_is_lost_are_marked_by_another(tmp_path: Path) -> None:
    drill, records = small_drill(), tmp_path / "records"
    a_class(drill, records)
    with ThreadPoolExecutor(1) as pool:
        alone = tables(drill, records, tmp_path / "alone", pool)
    if not has_cluster():
        with pytest.raises(FileError, match="leverstep\\[cluster\\]"), cluster.cluster("", [], int):
            pass
        return
    with two_workers() as (address, (pid, _)):
        probes = [records / "s000.jsonl"]
        with cluster.cluster(address, probes, int) as executor:
            assert isinstance(executor, ClusterExecutor)
            jobs = [executor.submit(lost, pid) for _ in range(4)]
            assert tables(drill, records, tmp_path / "apart", executor) == alone
            assert {job.result(timeout=60) for job in jobs} - {pid}, "another did it again"
            with pytest.raises(ProcessLookupError):
                os.kill(pid, 0)


def lost(pid: int) -> int:
    """Take the process of a worker from the others, where it is the one that does this."""
    if os.getpid() == pid:
        os.kill(pid, signal.SIGKILL)
    return os.getpid()


class Scheduler:
    """A client whose workers answer as they are told to, and take jobs that are never done."""

    def __init__(self, answers: Mapping[str, object], version: str | None = None) -> None:
        self.answers = dict(answers)
        self.version = version
        self.sent = 0

    def run_on_scheduler(self, call: Callable[[], str]) -> str:
        """Return what version the scheduler has: the one here, unless another is set."""
        return self.version or call()

    def nthreads(self) -> dict[str, object]:
        """Return which workers there are."""
        return self.answers

    def run(self, *_: object, **__: object) -> Mapping[str, object]:
        """Return what the workers answer."""
        return self.answers

    def submit(self, call: Callable[[bytes], object], packed: bytes, **_: object) -> object:
        """Count what is sent."""
        self.sent += 1
        return call(packed)

    def get_executor(self, **_: object) -> Executor:
        """Return what takes jobs."""
        return Waiting()


class Waiting(Executor):
    """Takes jobs, and never does them."""

    def submit(self, _: Callable[..., Any], /, *__: Any, **___: Any) -> Future[Any]:
        """Take a job."""
        return Future()


def fit(answers: Mapping[str, object], probes: list[Path]) -> list[str]:
    """Return which workers of a scheduler are fit to mark."""
    return cluster._fit(Scheduler(answers), "tcp://here:1", probes)


def test_a_worker_has_to_be_of_this_version_and_to_see_the_records(tmp_path: Path) -> None:
    path = tmp_path / "s1.jsonl"
    path.write_bytes(b"a record\n")
    version, seen = here = seen_here([path])
    assert fit({"tcp://a:1": here, "tcp://b:1": here}, [path]) == ["tcp://a:1", "tcp://b:1"]
    other = {str(path): seen_here([tmp_path / "s2.jsonl"])[1][str(tmp_path / "s2.jsonl")]}
    for answer, told in (
        (("0" * 64, seen), "it has another version of leverstep"),
        ((version, other), f"it does not see {path} as it is here"),
        ((version, {str(path): "0" * 64}), f"it does not see {path} as it is here"),
        (ModuleNotFoundError("leverstep"), "it can't run leverstep"),
    ):
        with pytest.raises(FileError) as raised:
            fit({"tcp://a:1": here, "tcp://b:1": answer}, [path])
        (fault,) = raised.value.faults
        assert (fault.key, fault.found) == ("tcp://b:1", told)
    with pytest.raises(FileError, match="has no worker"):
        fit({}, [path])
    old = Scheduler({"tcp://a:1": here}, version="0" * 64)
    with pytest.raises(FileError, match="the scheduler has another leverstep, or none"):
        cluster._fit(old, "tcp://here:1", [path])


def test_another_version_is_told_by_its_code() -> None:
    assert code_digest() == code_digest()
    code = (
        "import sys, leverstep, pathlib; from leverstep.marking import cluster\n"
        "one = pathlib.Path(leverstep.__file__).parent / 'marking' / 'shares.py'\n"
        "read = type(one).read_bytes\n"
        "type(one).read_bytes = lambda p: read(p) + b'#' * (p.name == one.name)\n"
        "print(cluster.code_digest())\n"
    )
    told = subprocess.check_output([sys.executable, "-c", code], text=True, env=environment())
    assert told.strip() != code_digest()


def environment() -> dict[str, str]:
    """Return the environment of a program that finds the package."""
    return {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}


def test_what_nobody_is_left_to_do_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cluster, "_BETWEEN_LOOKS", 0.01)
    scheduler, before = Scheduler({"tcp://a:1": ()}), threading.active_count()
    with ClusterExecutor(scheduler, ["tcp://a:1"]) as executor:
        waiting = executor.submit(int)
        time.sleep(0.1)
        assert not waiting.done()
        scheduler.answers = {"tcp://late:1": ()}
        with pytest.raises(CancelledError):
            waiting.result(timeout=10)
    assert threading.active_count() == before


def test_what_records_are_marked_by_is_sent_to_a_cluster_once() -> None:
    scheduler = Scheduler({"tcp://a:1": ()})
    by = cluster.MarkedBy(small_drill(), None)  # type: ignore[arg-type]
    with ClusterExecutor(scheduler, ["tcp://a:1"]) as executor:
        for _ in range(3):
            executor.submit(int, by, "records")
    assert scheduler.sent == 1


def test_progress_is_told_every_few_seconds_and_never_for_what_is_soon_done() -> None:
    said: list[str] = []
    now = [0.0]
    progress = MarkingProgress(30, said.append, lambda: now[0])
    one = Student("s1", "", None, (None, None, None), ())  # type: ignore[arg-type]
    for step in range(10):
        now[0] = step * SECONDS_BETWEEN / 4
        progress.add(one)
    assert said == ["15 of 30 records are marked.", "27 of 30 records are marked."]


@pytest.mark.parametrize(
    ("option", "expected"),
    [
        ("--workers 0", "expected a whole number from 1 to 1000"),
        ("--cluster here", "expected the address of a scheduler"),
        ("--workers 2 --cluster tcp://here:1", "not allowed with"),
    ],
)
def test_options_that_make_no_sense_are_told(
    option: str, expected: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main(["drill", "mark", "levers.toml", "records", "--out", "out", *option.split()])
    told = capsys.readouterr().err
    assert expected in told
