"""What the home screen lists: workings to go on with, then problems by joint and level."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets.option_list import Option

from tutor.course.faults import Fault
from tutor.course.problem import Problem
from tutor.screens.opening import Opening

if TYPE_CHECKING:
    from tutor.drill.practice import Unfinished

ALL = "all"
_MOST_UNFINISHED = 5
_HEADINGS = {"plain": "Plain levers", "body": "Whole body", "lumbar": "Lumbar spine"}
_CLASSES = {1: "first", 2: "second", 3: "third", None: "none"}

SORTS: dict[str, Callable[[Problem], str]] = {
    "joint": lambda problem: problem.joint,
    "level": lambda problem: str(problem.difficulty),
    "class": lambda problem: _CLASSES[problem.lever_class],
    "units": lambda problem: problem.units,
    "asks": lambda problem: problem.asks,
}
"""What the list can be narrowed by, and what each problem is in that respect."""


class Choices:
    """The list and what it is narrowed to."""

    def __init__(self, problems: Sequence[Problem], own: Collection[str] = ()) -> None:
        self._problems = problems
        self._own = own
        self._unfinished: tuple[Unfinished, ...] = ()
        self.narrowed: dict[str, str] = {}

    def take(self, workings: tuple[Unfinished, ...]) -> bool:
        """Take the workings to go on with; return whether they are others than before."""
        changed = workings != self._unfinished
        self._unfinished = workings
        return changed

    def show_all(self) -> None:
        """Narrow the list no more."""
        self.narrowed.clear()

    def narrow(self, sort: str) -> None:
        """Narrow the list to the next value of one of the `SORTS`, after the last to none."""
        values = [ALL, *sorted({SORTS[sort](problem) for problem in self._problems})]
        place = values.index(self.narrowed.get(sort, ALL)) + 1
        self.narrowed[sort] = values[place % len(values)]

    @property
    def shown(self) -> str:
        """Return what the list is narrowed to."""
        parts = [f"{sort.capitalize()}: {self.narrowed.get(sort, ALL)}" for sort in SORTS]
        return "   ".join(parts)

    def _fits(self, problem: Problem) -> bool:
        return all(v in (ALL, SORTS[sort](problem)) for sort, v in self.narrowed.items())

    def options(self) -> list[Option]:
        """Return the lines of the list, headings among them."""
        listed: list[Option] = []
        if self._unfinished:
            listed.append(_heading("Go on with"))
        for place, one in enumerate(self._unfinished[:_MOST_UNFINISHED]):
            listed.append(Option(_unfinished(one), id=f"go-on:{place}"))
        joint = ""
        for problem in self._problems:
            if not self._fits(problem):
                continue
            if problem.joint != joint:
                joint = problem.joint
                listed.append(_heading(_HEADINGS.get(joint, joint.capitalize())))
            own = problem.id in self._own
            listed.append(Option(_problem(problem, own), id=problem.id))
        return listed or [_heading("No problem fits this choice; Esc shows all")]

    def measurable(self, ident: str) -> str:
        """Return which numbers of the own body a line takes, for the field they are typed in."""
        problem = next((p for p in self._problems if p.id == ident), None)
        if problem is None or not problem.own:
            return "none for this problem"
        givens = [given for given in problem.posture.givens() if given.key in problem.own]
        return "; ".join(f"{given.sign} = … {given.unit}" for given in givens)

    def opening(self, ident: str, seed: str, own: str) -> Opening:
        """Return what a chosen line opens."""
        kind, _, place = ident.partition(":")
        if kind == "go-on":
            one = self._unfinished[int(place)]
            return Opening(one.problem, one.seed, one.path)
        problem = next(p for p in self._problems if p.id == ident)
        return Opening(problem, seed, own=(own,) if own and problem.own else ())


def _heading(text: str) -> Option:
    return Option(Content.styled(text, "$primary bold"), disabled=True)


def _problem(problem: Problem, own: bool) -> Content:
    told = f"{problem.units}{', your own' if own else ''}"
    units = Content.styled(told, "$foreground 60%")
    return Content.assemble(f"  {problem.title:<44.44}  level {problem.difficulty}   ", units)


def _unfinished(one: Unfinished) -> Content:
    told = Content.styled(f"numbers {one.seed}", "$foreground 60%")
    far = "1 entry" if one.entries == 1 else f"{one.entries} entries"
    return Content.assemble(f"  {one.problem.title:<44.44}  {far:<11} ", told)


def faults_line(faults: Sequence[Fault]) -> str:
    """Return one line about files that could not be read; "" where there are none."""
    files = list(dict.fromkeys(fault.file for fault in faults))
    if not files:
        return ""
    named = ", ".join(files[:2]) + (" …" if len(files) > 2 else "")
    one = "1 problem file is" if len(files) == 1 else f"{len(files)} problem files are"
    return f"{one} left out ({named}): `leverstep problems` says why."
