"""What a student's free-body diagram earns: each thing that belongs there has an equal share."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from leverstep.bench.bench import Bench
from leverstep.course.phrases import counted, listed
from leverstep.drill.drill import Drill, Feedback, Hints
from leverstep.free_body.body_picture import BodyPicture
from leverstep.free_body.picture_told import Amiss, amiss, remembered, slips_in
from leverstep.marking.shares import NOTHING, WHOLE
from leverstep.slips.catalogue import Catalogue
from leverstep.slips.picture_slips import PictureSlip


@dataclass(frozen=True, slots=True)
class PictureMark:
    """What one diagram earned: a share of the marks of a line, from 0 to 1.

    `right` of its `parts` things stand right, `extra` things stand there that don't belong; `tries`
    were wrong. `amiss` is what is not right as it stands. `slips` are those that were made, with
    those of what is left out, and `remember` says what to remember of each; they are empty where
    nothing was drawn. `avoided` are those that might have been made, and were not, where it came to
    be right without a hint. `problem` is the id of the problem where that was drawn from a bank,
    else "".
    """

    task: int
    segment: str
    right: int
    parts: int
    extra: int
    tries: int
    hints: int
    share: Fraction
    amiss: tuple[Amiss, ...] = ()
    slips: tuple[PictureSlip, ...] = ()
    remember: tuple[str, ...] = ()
    avoided: frozenset[PictureSlip] = frozenset()
    problem: str = ""

    @property
    def weight(self) -> Fraction:
        """Return what it counts beside the lines: as much as one of them."""
        return WHOLE

    @property
    def name(self) -> str:
        """Return what it is called among lines."""
        return f"the diagram of the {self.segment}"

    @property
    def is_right(self) -> bool:
        """Return whether it is whole, and nothing in it is wrong."""
        return not self.amiss

    @property
    def is_begun(self) -> bool:
        """Return whether anything was drawn."""
        return bool(self.right or self.extra or self.tries)

    @property
    def told(self) -> str:
        """Return in a sentence what came of it."""
        extra = f", {counted(self.extra, 'thing')} too many" if self.extra else ""
        tries = f", {counted(self.tries, 'wrong try', 'wrong tries')}" if self.tries else ""
        return (
            f"Free-body diagram of the {self.segment}: {self.right} of {self.parts} right"
            f"{extra}{tries}."
        )

    @property
    def amiss_told(self) -> str:
        """Return by name what is not right and what is left out; "" where nothing was drawn."""
        if not self.is_begun:
            return ""
        wrong = [one.name for one in self.amiss if not one.is_missing]
        missing = [one.name for one in self.amiss if one.is_missing]
        told = [f"Not right in it: {listed(wrong)}."] if wrong else []
        told += [f"Left out: {listed(missing)}."] if missing else []
        return " ".join(told)


def picture_marks(drill: Drill, task: int, bench: Bench) -> tuple[PictureMark, ...]:
    """Return what each diagram of a task earned."""
    return tuple(
        picture_mark(drill, task, one, bench.catalogue) for one in bench.picture_work.pictures
    )


def picture_mark(
    drill: Drill, task: int, picture: BodyPicture, catalogue: Catalogue
) -> PictureMark:
    """Return what a diagram earned, by how it stands and what was tried and asked on the way."""
    needed = picture.needed
    costs = _costs(drill, picture)
    standing = {item for item in needed if item in picture.placed}
    right = {item for item in standing if picture.placed[item].is_right}
    extra = sum(one.placing.item not in needed for one in picture.mistaken)
    kept = (max(NOTHING, 1 - costs.get(item, NOTHING)) for item in right)
    lost = (cost for item, cost in costs.items() if item not in needed)
    earned = sum(kept, NOTHING) - sum(lost, Fraction(extra))
    mark = PictureMark(
        task, picture.question.problem.segment, len(right), len(needed), extra,
        sum(picture.wrong.values()), len(picture.given), max(NOTHING, earned) / len(needed),
        amiss(picture, catalogue),
    )  # fmt: skip
    if not mark.is_begun:
        return mark
    slips = slips_in(picture)
    is_clear = mark.is_right and not mark.hints
    avoided = picture.slips_possible - set(slips) if is_clear else frozenset[PictureSlip]()
    remember = remembered(picture, slips, catalogue)
    return replace(mark, slips=slips, remember=remember, avoided=avoided)


def _costs(drill: Drill, picture: BodyPicture) -> dict[str, Fraction]:
    """Return what wrong tries and hints cost on each item, as a share of its own."""
    scheme, costs = drill.scheme, dict[str, Fraction]()
    if drill.feedback is Feedback.EACH:
        costs = {item: scheme.wrong_try * wrong for item, wrong in picture.wrong.items()}
    if drill.hints is Hints.COST:
        for place, target in enumerate(picture.given):
            rung, item = picture.given[:place].count(target), target[0]
            costs[item] = costs.get(item, NOTHING) + scheme.hint[rung]
    return costs
