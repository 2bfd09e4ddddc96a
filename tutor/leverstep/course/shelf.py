"""The shelf of problems: every file of a folder, with the broken ones set aside by name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.course.cards import Card, CardStore, card_of
from leverstep.course.course_plan import Week, is_plan, read_plan
from leverstep.course.course_words import USUAL_WORDS, CourseWords
from leverstep.course.faults import Fault, FileError
from leverstep.course.places import shipped, toml_files
from leverstep.course.plain_text import near
from leverstep.course.problem import Problem

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable


class Problems(Mapping[str, Problem]):
    """Problems by id, each found when it is first asked for."""

    def __init__(self, find: Mapping[str, Callable[[], Problem]]) -> None:
        self._find = find
        self._found: dict[str, Problem] = {}

    def __getitem__(self, ident: str) -> Problem:
        """Return a problem.

        Raises:
            KeyError: where there is none with this id.
            FileError: where its file was broken since the list was made.
        """
        if ident not in self._found:
            self._found[ident] = self._find[ident]()
        return self._found[ident]

    def __contains__(self, ident: object) -> bool:
        """Return whether there is a problem with this id, whose file is not read for that."""
        return ident in self._find

    def __iter__(self) -> Iterator[str]:
        return iter(self._find)

    def __len__(self) -> int:
        return len(self._find)


@dataclass(frozen=True)
class Shelf:
    """The problems that could be read: a card for each, the problems themselves by id.

    `faults` are those of the files that could not be read; `own` are the ids of problems that come
    from a teacher's own folders; `weeks` are those of a teacher's course, none without its plan,
    and `words` what it calls joints, levels and kinds.
    """

    cards: tuple[Card, ...]
    problems: Mapping[str, Problem]
    faults: tuple[Fault, ...]
    own: frozenset[str] = frozenset()
    weeks: tuple[Week, ...] = ()
    words: CourseWords = USUAL_WORDS

    def find(self, name: str) -> Problem:
        """Return the problem with this id, or that of a problem file at this path.

        Raises:
            FileError: where there is no such problem, or its file is broken.
        """
        if name in self.problems:
            return self.problems[name]
        path = Path(name)
        if path.suffix == ".toml":
            return _read(path, name)
        found = f"no problem has this name{near(name, self.problems)}"
        raise FileError([Fault(name or '""', "", found, "a name that `leverstep problems` lists")])

    @property
    def offered(self) -> tuple[Card, ...]:
        """Return the cards of all problems but those that are retired."""
        return tuple(card for card in self.cards if not card.retired)

    @property
    def first(self) -> Card | None:
        """Return the problem to begin with, None where there is none.

        It is the first of the course, or else an easy one that needs no anatomy.
        """
        for ident in self.weeks[0].problems if self.weeks else ():
            return next((card for card in self.cards if card.id == ident), None)
        return min(self.offered, key=_hardness, default=None)

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
        if problem.id in self.problems and self.problems[problem.id] is problem:
            return self
        others = [card for card in self.cards if card.id != problem.id]
        find = {card.id: partial(self.problems.__getitem__, card.id) for card in others}
        problems = Problems({**find, problem.id: lambda: problem})
        own = self.own | {problem.id}
        return replace(self, cards=(*others, card_of(problem)), problems=problems, own=own)


def _hardness(card: Card) -> tuple[int, bool, bool, bool, str]:
    """Return what puts the problem to begin with before all others."""
    return (
        card.difficulty, card.joint != "plain", card.units != "SI", card.asks != "effort", card.id
    )  # fmt: skip


def _read(path: Traversable, called: str = "") -> Problem:
    """Return the problem of a file; what reads one is loaded with the first that is opened."""
    from leverstep.course.problem_file import read_problem

    return read_problem(path, called)


def problem_files(paths: Iterable[Traversable]) -> Iterator[Traversable]:
    """Yield the files among some paths, and every problem file of the folders among them."""
    for path in paths:
        if path.is_dir():
            yield from toml_files(path)
        else:
            yield path


def load_shelf(
    folders: Iterable[Traversable] | None = None, own: Iterable[Traversable] = ()
) -> Shelf:
    """Return all problems of some folders, and of a teacher's own.

    Args:
        folders: where the problems lie, those that ship unless given.
        own: where a teacher's own lie, which never take the place of others.
    """
    store = CardStore()
    cards: dict[str, Card] = {}
    find: dict[str, Callable[[], Problem]] = {}
    faults: list[Fault] = []
    of_teacher: set[str] = set()
    paths = [(path, False) for path in problem_files(folders or [shipped("problems")])]
    files = list(problem_files(own))
    paths += [(path, True) for path in files if not is_plan(path)]
    for path, is_own in paths:
        card = store.card(path)
        if not isinstance(card, Card):
            faults.extend(card)
        elif card.id in cards:
            faults.append(Fault(path.name, "id", f'"{card.id}" is taken', "a new id"))
        else:
            cards[card.id] = card
            find[card.id] = partial(_read, path)
            of_teacher |= {card.id} if is_own else set()
    if folders is None:
        store.save(path for path, _ in paths)
    order = tuple(sorted(cards.values(), key=lambda c: (c.joint, c.difficulty, c.id)))
    problems = Problems({card.id: find[card.id] for card in order})
    joints = {card.joint for card in order}
    plans = [read_plan(path, cards, joints) for path in files if is_plan(path)]
    weeks = tuple(week for plan, _ in plans for week in plan.weeks)
    words = next((plan.words for plan, _ in plans if plan.words != USUAL_WORDS), USUAL_WORDS)
    faults += [fault for _, of_plan in plans for fault in of_plan]
    return Shelf(order, problems, tuple(faults), frozenset(of_teacher), weeks, words)
