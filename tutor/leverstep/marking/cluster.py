"""Marking on several machines: the workers of a scheduler of dask.distributed, looked at before.

Each worker reads the records itself, from a folder that all machines have at the same place; what
they are marked by is sent to each worker once. A worker that is lost is no harm: its jobs are done
by the others. The package `distributed` is the optional extra `cluster`.
"""

from __future__ import annotations

import hashlib
import logging
import pickle
import threading
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from concurrent.futures import CancelledError, Executor, Future
from contextlib import contextmanager
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from leverstep.course.faults import Fault, FileError
from leverstep.course.plain_files import read_plain
from leverstep.marking.collecting import MarkedBy

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

SECONDS = 10
"""How long a scheduler or a worker is waited for before anything is marked."""

_LARGEST_PROBE = 10_000_000
"""Bytes of a record that is looked at so; one that may be longer is none."""

_BETWEEN_LOOKS = 1.0
"""Seconds after which it is looked again whether any worker is left."""

_OPTION = "--cluster"
_SAME = "the same leverstep as here"

Seen = Mapping[str, str]
"""What of a record a worker sees, by the record's path: the digest of its bytes, "" for nothing."""


def code_digest() -> str:
    """Return what tells one version of the program from another: a digest of all its modules."""
    digest = hashlib.sha256()
    for name, module in sorted(_modules(files("leverstep"), "")):
        digest.update(f"{name}\n".encode() + module.read_bytes())
    return digest.hexdigest()


def _modules(folder: Traversable, name: str) -> Iterator[tuple[str, Traversable]]:
    """Yield the modules in a folder of the package, each with its path there."""
    for one in folder.iterdir():
        if one.is_dir():
            yield from _modules(one, f"{name}{one.name}/")
        elif one.name.endswith(".py"):
            yield f"{name}{one.name}", one


def seen_here(paths: Sequence[Path]) -> tuple[str, Seen]:
    """Return what version of the program this process runs, and what it sees of some records."""
    seen = {}
    for path in paths:
        try:
            seen[str(path)] = hashlib.sha256(read_plain(path, _LARGEST_PROBE)).hexdigest()
        except OSError:
            seen[str(path)] = ""
    return code_digest(), seen


class ClusterExecutor(Executor):
    """Hands jobs of marking to some workers of a cluster."""

    def __init__(self, client: Any, workers: Collection[str]) -> None:
        """Begin.

        Args:
            client: one of dask.distributed.
            workers: the addresses of the workers that may do jobs; others that join later may not.
        """
        self._client = client
        self._workers = list(workers)
        self._jobs = client.get_executor(pure=False, workers=self._workers)
        self._sent: dict[int, tuple[MarkedBy, Any]] = {}
        self._waiting: set[Future[Any]] = set()
        self._ended = threading.Event()
        self._watcher = threading.Thread(target=self._watch, daemon=True)
        self._watcher.start()

    def submit(self, call: Callable[..., Any], /, *args: Any, **named: Any) -> Future[Any]:
        """Hand a job to a worker; what records are marked by is sent to each only once."""
        found: Future[Any] = self._jobs.submit(call, *map(self._there, args), **named)
        self._waiting.add(found)
        found.add_done_callback(self._waiting.discard)
        return found

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Look no more whether workers are left."""
        self._ended.set()
        self._watcher.join(SECONDS)
        super().shutdown(wait, cancel_futures=cancel_futures)

    def _watch(self) -> None:
        """Give up all jobs that wait once no worker is left, since nobody would ever do them."""
        while not self._ended.wait(_BETWEEN_LOOKS):
            if self._client.nthreads().keys().isdisjoint(self._workers):
                for one in tuple(self._waiting):
                    one.cancel()

    def _there(self, argument: Any) -> Any:
        """Return an argument, or what stands for it where it lies on the workers already."""
        if not isinstance(argument, MarkedBy):
            return argument
        if id(argument) not in self._sent:
            # A job of its own and not data alone, so that it is done again where it is lost.
            packed = pickle.dumps(argument)
            there = self._client.submit(pickle.loads, packed, pure=False, workers=self._workers)
            self._sent[id(argument)] = argument, there  # held, so that its id stays its own
        return self._sent[id(argument)][1]


@contextmanager
def cluster(
    address: str, records: Sequence[Path], prepare: Callable[[], None]
) -> Iterator[ClusterExecutor]:
    """Give an executor of the workers of a scheduler, as long as it is used.

    Args:
        address: that of the scheduler, such as `tcp://10.0.0.5:8786`.
        records: some of the records; the workers have to see them at the same place.
        prepare: what each worker does first.

    Raises:
        FileError: where there is no such scheduler or no worker, where a worker runs another
            version of the program or does not see the records, or where all of them are lost.
    """
    try:
        from distributed import Client, KilledWorker
    except ImportError as error:
        found = "the package distributed is not installed"
        raise FileError([Fault(_OPTION, "", found, "the extra leverstep[cluster]")]) from error
    paths = [path.absolute() for path in records]
    try:
        client = Client(address, timeout=SECONDS, set_as_default=False)
    except (OSError, TimeoutError, ValueError) as error:
        found, expected = f"no scheduler answers at {address}", "the address of dask scheduler"
        raise FileError([Fault(_OPTION, "", found, expected)]) from error
    with client, _quiet():
        workers = _fit(client, address, paths)
        client.run(prepare, workers=workers)
        try:
            with ClusterExecutor(client, workers) as executor:
                yield executor
        except CancelledError as error:
            found, expected = "all workers have been lost", "workers that stay until the end"
            raise FileError([Fault(_OPTION, "", found, expected)]) from error
        except KilledWorker as error:
            found, expected = "several workers were lost over the same records", "more memory"
            raise FileError([Fault(_OPTION, "", found, expected)]) from error


@contextmanager
def _quiet() -> Iterator[None]:
    """Let the package say nothing of its own for a while: of what is lost it is told here."""
    log = logging.getLogger("distributed")
    before = log.level
    log.setLevel(logging.CRITICAL)
    try:
        yield
    finally:
        log.setLevel(before)


def _version_of_scheduler(client: Any) -> str:
    """Return which version of the program a scheduler runs, "" for none."""
    try:
        return str(client.run_on_scheduler(code_digest))
    except Exception:  # noqa: BLE001  (whatever keeps it from that, it is not fit)
        return ""


def _fit(client: Any, address: str, paths: Sequence[Path]) -> list[str]:
    """Return the addresses of all workers, each of which has been looked at.

    Raises:
        FileError: where there is none, or one of them is not fit to mark.
    """
    workers = list(client.nthreads())
    if not workers:
        found, expected = f"the scheduler at {address} has no worker", "dask worker on each machine"
        raise FileError([Fault(_OPTION, "", found, expected)])
    answers = client.run(seen_here, list(paths), on_error="return")
    version, seen = seen_here(paths)
    faults = []
    if _version_of_scheduler(client) != version:  # it handles what is sent to the workers
        faults.append(
            Fault(_OPTION, address, "the scheduler has another leverstep, or none", _SAME)
        )
    for worker in workers:
        answer = answers.get(worker)
        if not isinstance(answer, tuple):
            faults.append(Fault(_OPTION, worker, "it can't run leverstep", _SAME))
        elif answer[0] != version:
            faults.append(Fault(_OPTION, worker, "it has another version of leverstep", _SAME))
        elif answer[1] != seen:
            unseen = next(path for path in seen if answer[1].get(path) != seen[path])
            found = f"it does not see {unseen} as it is here"
            expected = "the folder of the records shared, and at the same place on each machine"
            faults.append(Fault(_OPTION, worker, found, expected))
    if faults:
        raise FileError(faults)
    return workers
