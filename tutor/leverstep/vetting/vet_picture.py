"""What a problem shows besides its forces, and its picture does not."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from leverstep.course.faults import Fault
from leverstep.course.problem import Question
from leverstep.diagram.layout import SHEET, layout
from leverstep.diagram.scene_of_question import scene_of


def unseen(questions: Iterable[Question], file: str) -> Iterator[Fault]:
    """Yield what is not to be seen on a sheet, once for each thing, with the first such numbers.

    Nothing shown can hide a force: it is drawn beneath.
    """
    told: set[str] = set()
    for question in questions:
        unmet = {one.name for one in scene_of(question, {}).surroundings if not one.meets}
        picture = layout(question, *SHEET, fine=True)
        for shown in question.problem.shown:
            if shown.name in told:
                continue
            if shown.name in unmet:
                found, expected = f"it leads past the {shown.until}", "a way that meets it"
            elif shown.name in picture.unseen:
                found, expected = "it lies outside the picture", "a place near the segment"
            else:
                continue
            told.add(shown.name)
            yield Fault(file, f'shown: the {shown.kind} "{shown.name}"', found, expected)
