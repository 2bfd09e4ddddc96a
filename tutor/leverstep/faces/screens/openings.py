"""What the screens open: a practice, and a question to explore.

Everything here is plain Python without widgets, and may run in a worker thread.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from leverstep.course.faults import FileError
from leverstep.course.problem import Question
from leverstep.faces.material import Material
from leverstep.faces.screens.entrances import Opening

if TYPE_CHECKING:
    from leverstep.bench.practice import Practice
    from leverstep.slips.habits import Habits


def open_practice(
    opening: Opening, material: Material, habits: Habits
) -> tuple[Practice | None, str]:
    """Return the practice with its first derivation made, or else why it can't be opened."""
    from leverstep.bench.practice import Practice, new_seed
    from leverstep.bench.reasons_chosen import reasons_chosen
    from leverstep.bench.record import RecordError
    from leverstep.working.own import OwnError, read_own

    catalogue, reasons = material.catalogue, reasons_chosen()
    try:
        if opening.path is not None:
            practice = Practice.resume(opening.path, material.shelf, catalogue, habits, reasons)
        else:
            own = read_own(opening.problem, opening.own)
            seed = opening.seed or new_seed()
            practice = Practice.start(
                opening.problem, seed, catalogue, own=own, guidance=opening.guidance,
                habits=habits, reasons=reasons,
            )  # fmt: skip
    except (RecordError, FileError, OwnError) as error:
        return None, str(error)
    practice.working.values()
    return practice, ""


def to_explore(opening: Opening) -> Question:
    """Return the question that a line of the first screen opens for exploring.

    A working that is not finished is explored with new numbers, so that no answer is given away.

    Raises:
        FileError: where its numbers have no equilibrium.
        OwnError: where what was measured can't be read.
    """
    from leverstep.bench.practice import new_seed, sound
    from leverstep.working.own import read_own

    seed = new_seed() if opening.path else opening.seed or new_seed()
    own = read_own(opening.problem, opening.own)
    return sound(opening.problem.question(seed, own))


def worth_exploring(practice: Practice) -> Question:
    """Return the question of a working at its end, with new numbers where a line is still open.

    So exploring gives no answer away. What was measured on the own body stays.

    Raises:
        FileError: where the new numbers have no equilibrium.
    """
    from leverstep.bench.practice import new_seed, sound

    question = practice.question
    if practice.working.complete:
        return question
    own = {key: question.exact[key] for key in question.own}
    return sound(question.problem.question(new_seed(), own))


def begun_before(opening: Opening, material: Material) -> str:
    """Return what to say first: of own hints left out, or a working to go on with; "" for none."""
    from leverstep.bench.practice import unfinished

    if faults := material.catalogue.faults:
        return f"Your own file of hints is left out. {faults[0]}."
    if opening.path is not None or opening.seed:
        return ""
    if not any(one.problem is opening.problem for one in unfinished(material.shelf)):
        return ""
    return "You have an unfinished working of this problem: press Esc to find it in the list."
