"""The shelf of problems: every file of a folder, with the broken ones set aside by name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tutor.course.faults import Fault, FileError, near
from tutor.course.problem import Problem
from tutor.course.reading import read_problem


def shipped(folder: str) -> Path:
    """Return the folder of data that ships with the program: `problems` or `hints`.

    A wheel carries it inside the package; a clone has it beside the package.
    """
    package = Path(__file__).resolve().parent.parent
    inside = package / folder
    return inside if inside.is_dir() else package.parent / folder


@dataclass(frozen=True)
class Shelf:
    """The problems that could be read, by id, and the faults of the files that could not."""

    problems: dict[str, Problem]
    faults: tuple[Fault, ...]

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

    def including(self, problem: Problem) -> Shelf:
        """Return the shelf with a problem that was found by its path."""
        return Shelf(self.problems | {problem.id: problem}, self.faults)


def problem_files(paths: Iterable[Path]) -> Iterator[Path]:
    """Yield the files among some paths, and every problem file of the folders among them."""
    for path in paths:
        if path.is_dir():
            yield from sorted(path.rglob("*.toml"))
        else:
            yield path


def load_shelf(folders: Iterable[Path] | None = None) -> Shelf:
    """Return all problems of some folders, those shipped unless others are named."""
    problems: dict[str, Problem] = {}
    faults: list[Fault] = []
    for path in problem_files([shipped("problems")] if folders is None else folders):
        try:
            problem = read_problem(path)
        except FileError as error:
            faults.extend(error.faults)
            continue
        if problem.id in problems:
            faults.append(Fault(path.name, "id", f'"{problem.id}" is taken', "a new id"))
        else:
            problems[problem.id] = problem
    order = sorted(problems.values(), key=lambda p: (p.joint, p.difficulty, p.id))
    return Shelf({problem.id: problem for problem in order}, tuple(faults))
