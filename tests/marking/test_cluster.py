"""Marking on a cluster gives the very files that it gives on one machine.

The cluster is the optional extra `cluster`. Where it is absent, the test says so and asserts that.
"""

from __future__ import annotations

import random
from concurrent.futures import Executor, ProcessPoolExecutor
from importlib.util import find_spec
from pathlib import Path

import pytest
from helpers.classes import write_tables
from helpers.drill_sittings import END, entry, record, right_entries, small_drill
from leverstep.drill.drill import Drill
from leverstep.marking.collecting import CHUNK
from leverstep.marking.tables import MARKS, STEPS

STUDENTS = 3 * CHUNK + 1


def tables(drill: Drill, records: Path, out: Path, executor: Executor) -> tuple[bytes, bytes]:
    """Return the tables over a folder of records, marked by an executor."""
    assert len(write_tables(drill, records, out, executor)) == 1
    return (out / MARKS).read_bytes(), (out / STEPS).read_bytes()


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


def marked_by_a_cluster(drill: Drill, records: Path, out: Path) -> tuple[bytes, bytes]:
    """Return the tables as two workers of a cluster mark them, each a process of its own."""
    from distributed import Client, LocalCluster

    options = {"n_workers": 2, "threads_per_worker": 1, "dashboard_address": None}
    with LocalCluster(processes=True, **options) as cluster, Client(cluster) as client:
        assert len(client.scheduler_info()["workers"]) == 2
        return tables(drill, records, out, client.get_executor(pure=False))


def test_a_cluster_marks_as_a_pool_does(tmp_path: Path) -> None:
    drill, records = small_drill(), tmp_path / "records"
    a_class(drill, records)
    with ProcessPoolExecutor(1) as pool:
        by_pool = tables(drill, records, tmp_path / "pool", pool)
    assert by_pool[0].count(b"\r\n") == STUDENTS + 2
    if find_spec("distributed") is None:
        print("The extra `cluster` is absent, so that no cluster has marked anything here.")
        with pytest.raises(ModuleNotFoundError, match="distributed"):
            marked_by_a_cluster(drill, records, tmp_path / "cluster")
        return
    assert marked_by_a_cluster(drill, records, tmp_path / "cluster") == by_pool
