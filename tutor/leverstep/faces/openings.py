"""What every face opens: a practice, and a question to explore.

It may run in a worker thread. Light, so that the first screen is up at once.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from leverstep.working.guidance import Guidance

if TYPE_CHECKING:
    from leverstep.bench.kept_workings import Unfinished
    from leverstep.bench.practice import Practice
    from leverstep.course.problem import Problem, Question
    from leverstep.course.shelf import Shelf
    from leverstep.faces.material import Material
    from leverstep.progress.history import History
    from leverstep.progress.mixed_set import MixedSet
    from leverstep.slips.habits import Habits

DEGREES = {
    Guidance.LINES: "every line",
    Guidance.LANDMARKS: "landmarks",
    Guidance.BLANK: "blank sheet",
    Guidance.FADING: "from an example",
}
"""What each degree of guidance is called."""

LED = {
    Guidance.LINES: "you are asked for one after the other",
    Guidance.LANDMARKS: "main results are asked for; the rest is yours",
    Guidance.BLANK: "you decide which lines to write",
    Guidance.FADING: "the first lines are shown, fewer each time",
}
"""What each degree of guidance is, in words."""


@dataclass(frozen=True, slots=True)
class Opening:
    """Which working to open: one to go on with at `path`, or a new one with these numbers.

    `own` is what the student typed of the own body. `guidance` is that of a new working; one that
    is gone on with keeps its own. `slips_to_find` is how many slips are to be found and mended in a
    new one, line by line, 0 for none. `anew` is whether a new one is wanted though one with the
    same numbers may be kept. `mixed` is the mixed set that it is the problem at hand of.
    """

    problem: Problem
    seed: str = ""
    path: Path | None = None
    own: tuple[str, ...] = ()
    guidance: Guidance = Guidance.LINES
    anew: bool = False
    slips_to_find: int = 0
    mixed: MixedSet | None = None

    @property
    def heading(self) -> str:
        """Return the title of the problem, in a mixed set behind its place there."""
        title = self.problem.title
        return title if self.mixed is None else f"{self.mixed.place_told}: {title}"


@dataclass(frozen=True, slots=True)
class SetOpened:
    """What comes now of a mixed set: a problem of it, or at its end None, and how it went."""

    opening: Opening | None
    told: tuple[str, ...] = ()


def open_practice(opening: Opening, material: Material, habits: Habits | None = None) -> Practice:
    """Return the practice of an opening; habits are those shown before, None for none.

    Raises:
        RecordError: where the record of one to go on with can't be used.
        FileError: where its numbers have no working, or are those of a drill in progress.
        OwnError: where what was measured can't be read.
    """
    from leverstep.bench.practice import Practice, new_seed
    from leverstep.bench.practice_choices import choices_kept
    from leverstep.drill.in_progress import refuse_numbers
    from leverstep.progress.conversions_practised import conversions_practised
    from leverstep.progress.fading_stage import fading_stage
    from leverstep.progress.history import History
    from leverstep.working.own import read_own
    from leverstep.working.rules import Conversions

    shelf, catalogue, choices = material.shelf, material.catalogue, choices_kept()
    is_until_clean = choices.conversions is Conversions.UNTIL_CLEAN
    is_fading = opening.path is None and opening.guidance is Guidance.FADING
    history = _history(material) if is_until_clean or is_fading else History(())
    conversions = conversions_practised(history, shelf) if is_until_clean else None
    if opening.path is not None:
        practice = Practice.resume(opening.path, shelf, catalogue, habits, choices, conversions)
        refuse_numbers([practice.question], shelf.problems)
        return practice
    own, seed = read_own(opening.problem, opening.own), opening.seed or new_seed()
    refuse_numbers([opening.problem.question(seed, own)], shelf.problems)
    stage = fading_stage(history, opening.problem.asks) if is_fading else 0
    return Practice.start(
        opening.problem, seed, catalogue, own=own, guidance=opening.guidance,
        habits=habits, choices=choices, conversions=conversions,
        slips_to_find=opening.slips_to_find, stage=stage,
    )  # fmt: skip


def set_at_hand(
    material: Material, count: int = 0, guidance: Guidance = Guidance.LINES, anew: bool = False
) -> SetOpened:
    """Return the problem at hand of the mixed set that is kept, or of a new one.

    Args:
        material: the problems to choose from, and the slips.
        count: how many problems a new set has, 0 for as many as usual.
        guidance: how far the student is led in a new set.
        anew: whether a new set is wanted in place of one that is kept.

    Raises:
        FileError: where the file of its problem was broken since.
    """
    from datetime import datetime

    from leverstep.progress.mixed_set import USUAL, set_kept
    from leverstep.progress.mixed_told import draw_set

    shelf, now = material.shelf, datetime.now().astimezone()
    mixed = None if anew else set_kept(shelf)
    if mixed is None:
        mixed = draw_set(shelf, material.catalogue, now, count or USUAL, guidance)
    return _opened_in(mixed, material)


def next_in_set(mixed: MixedSet, material: Material) -> SetOpened:
    """Put the problem at hand behind; return the next one, or at the end how the set went.

    Raises:
        FileError: where the file of the next problem was broken since.
    """
    return _opened_in(mixed.passed(), material)


def _opened_in(mixed: MixedSet, material: Material) -> SetOpened:
    """Return what comes now of a set, after what has come to its end, and keep how far it is.

    A working that is kept of it is gone on with.
    """
    from datetime import datetime

    from leverstep.bench.practice import is_worked_out
    from leverstep.progress.mixed_set import forget_set, keep_set
    from leverstep.progress.mixed_told import read_set_end

    shelf = material.shelf
    while one := mixed.at_hand:
        problem = shelf.problems[one.ident]
        if not is_worked_out(shelf, problem, one.seed):
            keep_set(mixed)
            opening = Opening(problem, one.seed, guidance=mixed.guidance, mixed=mixed)
            before = begun_before(opening, shelf)
            return SetOpened(opening if before is None else replace(opening, path=before.path))
        mixed = mixed.passed()
    told = read_set_end(mixed, shelf, material.catalogue, datetime.now().astimezone())
    forget_set()
    return SetOpened(None, told)


def _history(material: Material) -> History:
    """Return what the records of practice and of drills tell."""
    from datetime import datetime

    from leverstep.progress.history import history_kept

    return history_kept(material.shelf, material.catalogue, datetime.now().astimezone())


def question_to_tell(problem: Problem, seed: str, shelf: Shelf) -> Question:
    """Return the question of a problem and a seed whose answers are to be told.

    Raises:
        FileError: where its numbers have no equilibrium, or are those of a drill in progress.
    """
    from leverstep.bench.practice import sound
    from leverstep.drill.in_progress import refuse_numbers

    question = sound(problem.question(seed))
    refuse_numbers([question], shelf.problems)
    return question


def refuse_any_numbers(problem: Problem, shelf: Shelf) -> None:
    """Refuse what tells answers of a problem for any numbers while a drill that sets it goes on.

    Raises:
        FileError: where one does.
    """
    from leverstep.drill.in_progress import refuse_problem

    refuse_problem(problem, shelf.problems)


def to_explore(opening: Opening, shelf: Shelf) -> Question:
    """Return the question that a line of the first screen opens for exploring.

    A working that is not finished is explored with new numbers, so that no answer is given away.

    Raises:
        FileError: where its numbers have no equilibrium, or a drill in progress sets its problem.
        OwnError: where what was measured can't be read.
    """
    from leverstep.bench.practice import new_seed, sound
    from leverstep.working.own import read_own

    refuse_any_numbers(opening.problem, shelf)
    seed = new_seed() if opening.path else opening.seed or new_seed()
    own = read_own(opening.problem, opening.own)
    return sound(opening.problem.question(seed, own))


def worth_exploring(practice: Practice, shelf: Shelf) -> Question:
    """Return the question of a working at its end, with new numbers where a line is still open.

    So exploring gives no answer away. What was measured on the own body stays.

    Raises:
        FileError: where new numbers have no equilibrium, or a drill in progress sets the problem.
    """
    from leverstep.bench.practice import new_seed, sound

    question = practice.question
    refuse_any_numbers(question.problem, shelf)
    if practice.working.complete:
        return question
    own = {key: question.exact[key] for key in question.own}
    return sound(question.problem.question(new_seed(), own))


def hints_left_out(material: Material) -> str:
    """Return that a teacher's own file of hints is left out, and why; "" where none is."""
    faults = material.catalogue.faults
    return f"Your own file of hints is left out. {faults[0]}." if faults else ""


def last_unfinished(shelf: Shelf, problem: Problem, seed: str = "") -> Unfinished | None:
    """Return the last working of a problem that is not finished, with some numbers or with any.

    None where there is none on the list.
    """
    from leverstep.bench.kept_workings import unfinished

    of_problem = (one for one in unfinished(shelf) if one.problem is problem)
    return next((one for one in of_problem if seed in ("", one.seed)), None)


def is_begun_before(opening: Opening, shelf: Shelf) -> bool:
    """Return whether new numbers are opened though a working of the problem is not finished."""
    is_new = opening.path is None and not opening.seed
    return is_new and last_unfinished(shelf, opening.problem) is not None


def begun_before(opening: Opening, shelf: Shelf) -> Unfinished | None:
    """Return the last working kept of the very question that an opening would begin.

    None where there is none on the list, new numbers are opened, or beginning anew is wanted.
    """
    from leverstep.bench.kept_workings import unfinished
    from leverstep.working.own import OwnError, read_own

    problem, seed = opening.problem, opening.seed
    if opening.path is not None or not seed or opening.anew or opening.slips_to_find:
        return None
    try:
        givens = problem.question(seed, read_own(problem, opening.own)).givens_written
    except OwnError:
        return None  # which is told where it is opened
    same = (one for one in unfinished(shelf) if one.problem is problem and one.seed == seed)
    return next((one for one in same if one.givens == givens), None)
