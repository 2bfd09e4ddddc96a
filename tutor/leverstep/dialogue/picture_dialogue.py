"""The dialogue of one free-body diagram: what comes of each thing put into it, or taken out."""

from __future__ import annotations

from collections.abc import Callable

from leverstep.bench.bench import TAKEN, Bench
from leverstep.course.phrases import capital, counted
from leverstep.dialogue.replies import NO_HINTS, DialogueAnswer, HintGiven, Mark
from leverstep.free_body.body_picture import BodyPicture
from leverstep.free_body.picture_told import (
    HINTS_ON_EACH,
    angle_asked,
    found_later_told,
    hint_target,
    hints_on,
    item_name,
    missing_told,
    placed_told,
    verdict_told,
)
from leverstep.free_body.placing import Placing
from leverstep.free_body.placing_words import read_item, read_placings
from leverstep.free_body.word_matching import UnclearWordsError
from leverstep.working.rules import Reasons, Rung

_DIAGRAM = "the diagram"
"""What a hint is said to be for."""

_SKIP_ASKED = (
    "To skip the diagram gives up its marks, for good: the right one is shown then. Skip once more "
    "if you mean it."
)
_DONE_ASKED = (
    "That the diagram is complete is said once, for good; so far, {drawn}. Say done once more if "
    "you mean it."
)


class PictureDialogue:
    """One picture at its bench, as it is talked through.

    What can't be kept raises `RecordError` where the bench does, and all is as before then.
    """

    def __init__(
        self,
        bench: Bench,
        picture: BodyPicture,
        cost: Callable[[str, Rung], str] | None,
        answered: Callable[[DialogueAnswer], DialogueAnswer],
        latest: Callable[[], DialogueAnswer | None],
    ) -> None:
        """Begin.

        Args:
            bench: where the working is worked.
            picture: the picture, open yet.
            cost: what says what a hint costs, None where hints are free.
            answered: what notes an answer as the latest of the working.
            latest: what gives the answer that was noted last, None before any.
        """
        self.bench = bench
        self.picture = picture
        self._cost = cost
        self._answered = answered
        self._latest = latest

    @property
    def tells(self) -> bool:
        """Return whether it is told at once what came of a placing."""
        return self.bench.picture_work.tells

    @property
    def asks(self) -> str:
        """Return what the student is to do."""
        problem = self.picture.question.problem
        more = "" if not self.picture.has_axis else (
            " Mark the axis, and choose the distances that lead from it to where a force acts."
        )  # fmt: skip
        return (
            f"Draw the free-body diagram of the {problem.segment} first: what acts on it, where, "
            f"and which way?{more}"
        )

    @property
    def progress(self) -> str:
        """Return how much stands in the picture."""
        number = len(self.picture.placed)
        return f"diagram: {number} drawn"

    def place(self, placing: Placing) -> DialogueAnswer:
        """Put something into the picture."""
        name = capital(item_name(self.picture, placing.item))
        before = self.picture.placed.get(placing.item)
        if self.picture.is_right_again(placing, self.tells):
            return self._answered(DialogueAnswer(told=f"{name} is drawn already, and right."))
        if before is not None and before.placing == placing:
            return self._answered(DialogueAnswer(told=f"{name} stands there already."))
        if self.picture.lacks_angle(placing, self.tells):
            self.picture.asked = placing
            told = angle_asked(self.picture, placing, self.tells)
            return self._answered(DialogueAnswer(told=told))
        verdict = self.bench.picture_work.place(self.picture, placing)
        if not self.tells:
            told = f"{capital(placed_told(self.picture, placing))}. {TAKEN}"
            return self._answered(DialogueAnswer(told=told, mark=Mark.TAKEN))
        told = verdict_told(self.picture, verdict, self._at_once, self.bench.catalogue)
        mark = Mark.RIGHT if verdict.is_right else Mark.WRONG
        return self._answered(DialogueAnswer(told=told, mark=mark))

    def place_words(self, text: str) -> DialogueAnswer:
        """Put into the picture what a text says, where it says that."""
        try:
            placings = read_placings(self.picture, text, self.tells)
        except UnclearWordsError as error:
            return self._answered(DialogueAnswer(told=f"Not taken: {error}", mark=Mark.UNREAD))
        answers = [self.place(placing) for placing in placings]
        marks = {one.mark for one in answers}
        mark = next(
            (one for one in (Mark.WRONG, Mark.RIGHT, Mark.TAKEN) if one in marks), Mark.OPEN
        )
        return self._answered(DialogueAnswer(told=" ".join(one.told for one in answers), mark=mark))

    def take_away(self, item: str) -> DialogueAnswer:
        """Take something out of the picture, where it stands there."""
        name = item_name(self.picture, item)
        if item not in self.picture.placed:
            return self._answered(DialogueAnswer(told=f"{capital(name)} is not drawn."))
        self.bench.picture_work.take_away(self.picture, item)
        return self._answered(DialogueAnswer(told=f"Taken away: {name}."))

    def take_away_words(self, text: str) -> DialogueAnswer:
        """Take out of the picture what a text names."""
        try:
            item = read_item(self.picture, text)
        except UnclearWordsError as error:
            return self._answered(DialogueAnswer(told=f"Nothing taken away: {error}"))
        return self.take_away(item)

    def finish(self) -> DialogueAnswer:
        """Say that the picture is complete; where that is told and it is not, it stays open.

        Where verdicts wait it is asked first, whatever is missing, since that would tell it.
        """
        if not self.tells and not self._is_said_again(self._done_asked):
            return self._answered(DialogueAnswer(told=self._done_asked))
        if self.bench.picture_work.finish(self.picture):
            told = "The free-body diagram is complete and right." if self.tells else TAKEN
            told = f"{told} {found_later_told(self.picture)}".rstrip()
            mark = Mark.RIGHT if self.tells else Mark.TAKEN
            return self._answered(DialogueAnswer(told=told, mark=mark, moves_on=True))
        told = missing_told(self.picture, self._at_once, self.bench.catalogue)
        return self._answered(DialogueAnswer(told=told, mark=Mark.WRONG))

    def skip(self) -> DialogueAnswer:
        """Go on without the picture, for good, since the right one is shown then.

        Where that gives up marks it is asked first, and done when it is said again at once.
        """
        if self.bench.working.rules.marked and not self._is_said_again(_SKIP_ASKED):
            return self._answered(DialogueAnswer(told=_SKIP_ASKED))
        self.bench.picture_work.skip(self.picture)
        told = "The free-body diagram is skipped; the right one is shown from now on."
        told = f"{told} {found_later_told(self.picture)}".rstrip()
        return self._answered(DialogueAnswer(told=told, moves_on=True))

    @property
    def _done_asked(self) -> str:
        drawn = counted(len(self.picture.placed), "thing is drawn", "things are drawn")
        return _DONE_ASKED.format(drawn=drawn)

    def _is_said_again(self, asked: str) -> bool:
        """Return whether what was asked back was the last that was said."""
        latest = self._latest()
        return latest is not None and latest.told == asked

    def hint(self) -> DialogueAnswer:
        """Give the next hint on what is wrong or missing."""
        if not self.bench.working.rules.hints:
            return self._answered(DialogueAnswer(told=NO_HINTS))
        target = hint_target(self.picture)
        hint = self.bench.picture_work.hint(self.picture)
        if target is None:
            return self._answered(DialogueAnswer(told="All is there, and right."))
        if hint is None:
            return self._answered(
                DialogueAnswer(told="There are no further hints on what is drawn, or left out.")
            )
        cost = self._cost(self.picture.key, hint.rung) if self._cost else ""
        number = self.picture.given.count(target)
        given = HintGiven(self.picture.key, _DIAGRAM, number, HINTS_ON_EACH, hint.text, cost)
        return self._answered(DialogueAnswer(hint=given))

    def hints(self) -> tuple[HintGiven, ...]:
        """Return the hints that were given on the picture, to be told again at no cost."""
        given = self.picture.given
        numbers = [given[:place].count(target) for place, target in enumerate(given)]
        return tuple(
            HintGiven(
                self.picture.key, _DIAGRAM, number + 1, HINTS_ON_EACH,
                hints_on(self.picture, target, self.bench.catalogue)[number],
                self._cost(self.picture.key, Rung(number)) if self._cost else "", is_new=False,
            )
            for target, number in zip(given, numbers, strict=True)
        )  # fmt: skip

    @property
    def _at_once(self) -> bool:
        return self.bench.working.rules.reasons is Reasons.AT_ONCE
