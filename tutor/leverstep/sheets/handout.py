"""What is handed out on paper: for each student the tasks with their own numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property

from leverstep.bench.practice import sound
from leverstep.course.faults import Fault, FileError
from leverstep.course.problem import Problem, Question
from leverstep.drill.drill import Drill, Task, is_student, same_student, student_id
from leverstep.erroneous.erroneous_working import ErroneousWorking, erroneous_working
from leverstep.free_body.body_picture import BodyPicture, pictures_of
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.ladder import because
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Pictures
from leverstep.working.working import Working

EVERYONE = "everyone"


@dataclass(frozen=True)
class Copy:
    """One student's tasks; `student` and `name` are "" on a sheet for whoever gets it."""

    student: str
    name: str
    tasks: tuple[Task, ...]

    @property
    def whose(self) -> str:
        """Return whose copy it is: `Ida Example (s01)`, "" for nobody's."""
        return f"{self.name} ({self.student})" if self.name else self.student


@dataclass(frozen=True)
class Handout:
    """The copies of all students; they differ in nothing but their numbers.

    The marks of a task are 0 where nothing is marked. `slipped` has the workings of somebody else
    in which slips are to be found, for the questions that are asked so, and `reasons` those of the
    last line that is shown, where the first are. `pictures` says whether the diagrams are printed,
    or drawn by the student.
    """

    title: str
    guidance: Guidance
    copies: tuple[Copy, ...]
    slipped: Mapping[Question, ErroneousWorking] = field(default_factory=dict)
    reasons: Mapping[Question, str] = field(default_factory=dict)
    pictures: Pictures = Pictures.GIVEN

    @property
    def questions(self) -> list[Question]:
        """Return the questions of all students."""
        return [task.question for copy in self.copies for task in copy.tasks]

    def to_draw(self, question: Question) -> tuple[BodyPicture, ...]:
        """Return the free-body diagrams that the student is to draw for a question, if any.

        In somebody else's working they are given, as are those that no student draws.
        """
        is_own = self.pictures is Pictures.ASKED and question not in self.slipped
        return pictures_of(question) if is_own else ()

    @cached_property
    def is_alike(self) -> bool:
        """Return whether all students have the same numbers."""
        return len({_numbers(copy) for copy in self.copies}) == 1


def _numbers(copy: Copy) -> tuple[tuple[str, tuple[tuple[str, Fraction], ...]], ...]:
    return tuple((one.drawn, tuple(sorted(one.question.exact.items()))) for one in copy.tasks)


def with_reasons(handout: Handout, catalogue: Catalogue) -> Handout:
    """Return a handout with the workings in which slips are to be found, and the reasons asked for.

    Where they would not show with some numbers, the problem is to be worked.
    """
    tasks = [task for copy in handout.copies for task in copy.tasks]
    made = {
        task.question: erroneous_working(task.question, catalogue, task.slips_to_find)
        for task in tasks
        if task.slips_to_find
    }
    reasons = {
        task.question: because(Working(task.question), explained_line(task).key, catalogue)
        for task in tasks
        if task.shown
    }
    slipped = {question: one for question, one in made.items() if one is not None}
    return replace(handout, slipped=slipped, reasons=reasons)


def explained_line(task: Task) -> Step:
    """Return the last line that a task shows: the reason of it is asked for."""
    return task.question.derivation.asked[task.shown - 1]


def of_drill(drill: Drill, students: Mapping[str, str]) -> Handout:
    """Return a drill on paper.

    Args:
        drill: what is handed out.
        students: names by id; for none, those of its roster, or one copy for whoever gets it.

    Raises:
        FileError: where it is for a student who is not on its roster.
    """
    named = students or drill.students
    for student in named:
        if not is_student(student) or not drill.is_open_to(student):
            found = f"{student}: not on the roster"
            raise FileError([Fault(drill.id, "", found, "a student who may sit this drill")])
    copies = [
        Copy(drill.listed(one), name or drill.students.get(drill.listed(one), ""), drill.tasks(one))
        for one, name in named.items()
    ]
    return Handout(
        drill.title,
        drill.guidance,
        tuple(copies) or (Copy("", "", drill.tasks(EVERYONE)),),
        pictures=drill.picture,
    )


def of_problems(
    problems: Iterable[Problem],
    guidance: Guidance,
    seed: str,
    students: Mapping[str, str],
    slips_to_find: int = 0,
) -> Handout:
    """Return some problems on paper: with the numbers of a seed, or of each student's id.

    `slips_to_find` is how many slips are to be found in each, 0 where they are to be worked.

    Raises:
        FileError: where a problem has no equilibrium with some of these numbers.
    """
    chosen = tuple(problems)
    if not students:
        title = f"Worksheet, numbers {seed}"
        return Handout(title, guidance, (Copy("", "", _tasks(chosen, seed, slips_to_find)),))
    copies = tuple(
        Copy(student_id(one), name, _tasks(chosen, same_student(one), slips_to_find))
        for one, name in students.items()
    )
    return Handout("Worksheet", guidance, copies)


def _tasks(problems: tuple[Problem, ...], seed: str, slips_to_find: int) -> tuple[Task, ...]:
    """Return problems as tasks without marks."""
    return tuple(
        Task(number, sound(problem.question(seed)), Fraction(0), slips_to_find)
        for number, problem in enumerate(problems, 1)
    )
