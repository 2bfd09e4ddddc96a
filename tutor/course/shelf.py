"""The shelf of problems: every file of a folder, with the broken ones set aside by name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tutor.course.faults import Fault, FileError, near
from tutor.course.places import own_folders, shipped
from tutor.course.problem import Problem
from tutor.course.reading import read_problem


@dataclass(frozen=True)
class Shelf:
    """The problems that could be read, by id, and the faults of the files that could not.

    `own` are the ids of those that come from a teacher's own folders.
    """

    problems: dict[str, Problem]
    faults: tuple[Fault, ...]
    own: frozenset[str] = frozenset()

    def find(self, name: str) -> Problem:
        """Return the problem with this id, or that of a problem file at this path.

        Raises:
            FileError: where there is no such problem, or its file is broken.
        """
        if name in self.problems:
            return self.problems[name]
        path = Path(name)
        if path.suffix == ".toml":
            return read_problem(path, name)
        found = f"no problem has this name{near(name, self.problems)}"
        raise FileError([Fault(name, "", found, "a name that `leverstep problems` lists")])

    @property
    def left_out(self) -> tuple[str, ...]:
        """Return one line for each file that could not be read: its first fault, and how many."""
        by_file: dict[str, list[Fault]] = {}
        for fault in self.faults:
            by_file.setdefault(fault.file, []).append(fault)
        return tuple(
            f"{found[0]}" + (f" (and {len(found) - 1} more)" if len(found) > 1 else "")
            for found in by_file.values()
        )

    def including(self, problem: Problem) -> Shelf:
        """Return the shelf with a problem that was found by its path."""
        if self.problems.get(problem.id) is problem:
            return self
        own = self.own | {problem.id}
        return Shelf(self.problems | {problem.id: problem}, self.faults, own)


def problem_files(paths: Iterable[Path]) -> Iterator[Path]:
    """Yield the files among some paths, and every problem file of the folders among them."""
    for path in paths:
        if path.is_dir():
            yield from sorted(path.rglob("*.toml"))
        else:
            yield path


def load_shelf(folders: Iterable[Path] | None = None) -> Shelf:
    """Return all problems of some folders; of those shipped and a teacher's own unless named."""
    problems: dict[str, Problem] = {}
    faults: list[Fault] = []
    own: set[str] = set()
    paths = [(path, False) for path in problem_files(folders or [shipped("problems")])]
    if folders is None:
        paths += [(path, True) for path in problem_files(own_folders("problems"))]
    for path, is_own in paths:
        try:
            problem = read_problem(path)
        except FileError as error:
            faults.extend(error.faults)
            continue
        if problem.id in problems:
            faults.append(Fault(path.name, "id", f'"{problem.id}" is taken', "a new id"))
            continue
        problems[problem.id] = problem
        own |= {problem.id} if is_own else set()
    order = sorted(problems.values(), key=lambda p: (p.joint, p.difficulty, p.id))
    return Shelf({problem.id: problem for problem in order}, tuple(faults), frozenset(own))
