"""What the home screen lists: workings to go on with, then problems by joint and level."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets.option_list import Option

from tutor.course.faults import Fault
from tutor.course.problem import Problem
from tutor.screens.opening import Opening

if TYPE_CHECKING:
    from tutor.drill.practice import Unfinished

ALL = "all"
_LEVELS = (ALL, "1", "2", "3")
_MOST_UNFINISHED = 5
_HEADINGS = {"plain": "Plain levers"}


class Choices:
    """The list and what it is narrowed to."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self._problems = problems
        self._unfinished: tuple[Unfinished, ...] = ()
        self.joint = ALL
        self.level = ALL

    def take(self, workings: tuple[Unfinished, ...]) -> bool:
        """Take the workings to go on with; return whether they are others than before."""
        changed = workings != self._unfinished
        self._unfinished = workings
        return changed

    def show_all(self) -> None:
        """Narrow the list no more."""
        self.joint = self.level = ALL

    def next_joint(self) -> None:
        """Narrow the list to the next joint, after the last to none."""
        joints = [ALL, *dict.fromkeys(problem.joint for problem in self._problems)]
        self.joint = joints[(joints.index(self.joint) + 1) % len(joints)]

    def next_level(self) -> None:
        """Narrow the list to the next level, after the last to none."""
        self.level = _LEVELS[(_LEVELS.index(self.level) + 1) % len(_LEVELS)]

    @property
    def shown(self) -> str:
        """Return what the list is narrowed to."""
        return f"Joint: {self.joint} (F3)   Level: {self.level} (F4)"

    def options(self) -> list[Option]:
        """Return the lines of the list, headings among them."""
        listed: list[Option] = []
        if self._unfinished:
            listed.append(_heading("Go on with"))
        for place, one in enumerate(self._unfinished[:_MOST_UNFINISHED]):
            listed.append(Option(_unfinished(one), id=f"go-on:{place}"))
        joint = ""
        for problem in self._problems:
            if self.joint not in (ALL, problem.joint):
                continue
            if self.level not in (ALL, str(problem.difficulty)):
                continue
            if problem.joint != joint:
                joint = problem.joint
                listed.append(_heading(_HEADINGS.get(joint, joint.capitalize())))
            listed.append(Option(_problem(problem), id=problem.id))
        return listed or [_heading("No problem fits this choice; Esc shows all")]

    def opening(self, ident: str, seed: str) -> Opening:
        """Return what a chosen line opens."""
        kind, _, place = ident.partition(":")
        if kind == "go-on":
            one = self._unfinished[int(place)]
            return Opening(one.problem, one.seed, one.path)
        return Opening(next(p for p in self._problems if p.id == ident), seed)


def _heading(text: str) -> Option:
    return Option(Content.styled(text, "$primary bold"), disabled=True)


def _problem(problem: Problem) -> Content:
    units = Content.styled(problem.units, "$foreground 60%")
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
