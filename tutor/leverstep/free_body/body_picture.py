"""One free-body diagram as a student makes it: what is placed, what came of it, what is missing."""

from __future__ import annotations

from collections import Counter
from functools import cached_property

from leverstep.course.problem import Question
from leverstep.free_body.candidates import REACTION, Candidate, candidates, is_drawn
from leverstep.free_body.force_places import (
    AXIS_POINT,
    DistanceChoice,
    ForcePlace,
    distance_choices,
    force_places,
)
from leverstep.free_body.placing import (
    Placing,
    PlacingVerdict,
    may_stay_open,
    right_point,
    slips_of_force,
    slips_possible,
)
from leverstep.free_body.pointings import UNKNOWN, Pointing, pointings
from leverstep.slips.picture_slips import PictureSlip

PICTURE_STEP = "free body"
"""What a record calls the picture of the first posture, in the place of a line of the working."""

AXIS_ITEM = "the axis"

_MISSING = {REACTION: PictureSlip.REACTION_MISSING, AXIS_ITEM: PictureSlip.AXIS_MISSING}


class BodyPicture:
    """The picture of one posture. `question` is looked at as that posture.

    `placed` has what stands in it with what came of that, by item. `wrong` counts the wrong tries
    of each item, `made` are the slips in them, `given` the hints that were given. `asked` is what
    was put nowhere yet, since its angle was asked back for. It is closed once it is done or
    skipped; `is_done` says that it was done.
    """

    def __init__(self, question: Question) -> None:
        self.question = question
        self.key = PICTURE_STEP + question.problem.posture.mark
        self.placed: dict[str, PlacingVerdict] = {}
        self.wrong: Counter[str] = Counter()
        self.made: list[PictureSlip] = []
        self.given: list[tuple[str, tuple[PictureSlip, ...]]] = []
        self.latest: PlacingVerdict | None = None
        self.asked: Placing | None = None
        self.is_closed = False
        self.is_done = False

    @cached_property
    def candidates(self) -> tuple[Candidate, ...]:
        """Return the forces and moments to choose from."""
        return candidates(self.question)

    @cached_property
    def places(self) -> tuple[ForcePlace, ...]:
        """Return the points to choose from, the axis first."""
        return force_places(self.question)

    @cached_property
    def pointings(self) -> tuple[Pointing, ...]:
        """Return the directions to choose from."""
        return pointings(self.question)

    @cached_property
    def distances(self) -> tuple[DistanceChoice, ...]:
        """Return the distances to choose from, none where no moment counts."""
        return distance_choices(self.question)

    @property
    def only_place(self) -> ForcePlace | None:
        """Return the one point through which all forces pass; None where there are several."""
        return self.places[0] if len(self.places) == 1 else None

    @property
    def has_axis(self) -> bool:
        """Return whether there is an axis to be marked."""
        return self.question.problem.posture.has_moments

    @property
    def needed(self) -> tuple[str, ...]:
        """Return the items of a whole picture, with what is placed in the stead of a moment arm."""
        acting = [one.item for one in self.candidates if one.decoy is None]
        axis = [AXIS_ITEM] if self.has_axis else []
        placed = {one.stands_for: one.item for one in self.distances if one.item in self.placed}
        counting = [one.item for one in self.distances if one.counts]
        named = (item if item in self.placed else placed.get(item, item) for item in counting)
        return (*acting, *axis, *named)

    @cached_property
    def _by_item(self) -> dict[str, Candidate]:
        return {one.item: one for one in self.candidates}

    @cached_property
    def _by_place(self) -> dict[str, ForcePlace]:
        return {one.key: one for one in self.places}

    @cached_property
    def _by_pointing(self) -> dict[str, Pointing]:
        return {one.key: one for one in self.pointings}

    def candidate(self, item: str) -> Candidate | None:
        """Return the force or moment of an item; None for the axis and for distances."""
        return self._by_item.get(item)

    def place_of(self, placing: Placing) -> ForcePlace | None:
        """Return the point of a placing, None where it has none."""
        return self._by_place.get(placing.point)

    def pointing_of(self, placing: Placing) -> Pointing | None:
        """Return the direction of a placing, None where it has none."""
        return self._by_pointing.get(placing.pointing)

    def has_point(self, item: str) -> bool:
        """Return whether an item is put at a point."""
        candidate = self.candidate(item)
        return item == AXIS_ITEM if candidate is None else not candidate.is_turning

    def has_pointing(self, item: str) -> bool:
        """Return whether an item is turned to a direction."""
        return item in self._by_item

    def makes_sense(self, placing: Placing) -> bool:
        """Return whether there are such an item, point and direction, and it needs just these."""
        item = placing.item
        is_one = item in self._by_item or any(one.item == item for one in self.distances)
        if not is_one and not (item == AXIS_ITEM and self.has_axis):
            return False
        point_fits = placing.point in self._by_place if self.has_point(item) else not placing.point
        if not self.has_pointing(item):
            return point_fits and not placing.pointing
        pointing = self.pointing_of(placing)
        return point_fits and pointing is not None and self.suits(item, pointing)

    def suits(self, item: str, pointing: Pointing) -> bool:
        """Return whether a direction is one that an item can have: it points, or it turns."""
        candidate = self._by_item[item]
        return pointing.is_open or bool(pointing.turns) == candidate.is_turning

    def judged(self, placing: Placing) -> PlacingVerdict:
        """Return what is to be said of a placing, whatever stands in the picture."""
        candidate = self.candidate(placing.item)
        if candidate is not None:
            pointing = self._by_pointing[placing.pointing]
            point = self._same_as_right(candidate, self.place_of(placing))
            slips = slips_of_force(self.question, candidate, point, pointing)
        elif placing.item == AXIS_ITEM:
            slips = () if placing.point == AXIS_POINT else (PictureSlip.AXIS,)
        else:
            chosen = next(one for one in self.distances if one.item == placing.item)
            slips = () if chosen.counts or chosen.stands_for else (PictureSlip.DISTANCE,)
        return PlacingVerdict(placing, slips)

    def _same_as_right(self, candidate: Candidate, place: ForcePlace | None) -> ForcePlace | None:
        """Return the point of a force by the key of its own, where the two are one point."""
        right = self._by_place.get(right_point(candidate))
        is_same = place is not None and right is not None and place.is_same(right)
        return right if is_same else place

    def lacks_angle(self, placing: Placing, tells: bool) -> bool:
        """Return whether the angle of a force is to be asked back for: its quarter alone is said.

        Where it is told what is right that is the right quarter, else any.
        """
        if tells:
            return PictureSlip.NO_ANGLE in self.judged(placing).slips
        candidate, pointing = self.candidate(placing.item), self.pointing_of(placing)
        if candidate is None or pointing is None or may_stay_open(self.question, candidate):
            return False
        return pointing.quarter and any(one.angle for one in self.pointings)

    def _is_known(self, placing: Placing, tells: bool) -> bool:
        """Return whether the item of a placing is known to stand there right."""
        before = self.placed.get(placing.item)
        return tells and before is not None and before.is_right

    def is_right_again(self, placing: Placing, tells: bool) -> bool:
        """Return whether a placing draws again, as right, what is known to stand there right."""
        return self._is_known(placing, tells) and self.judged(placing).is_right

    def place(self, placing: Placing, tells: bool = True) -> PlacingVerdict:
        """Put something into the picture, in the place of what stood there of it.

        What is known to stand there right is not put elsewhere: that would be to draw it twice.
        """
        verdict = self.judged(placing)
        if self._is_known(placing, tells) and not verdict.is_right:
            verdict = PlacingVerdict(placing, (PictureSlip.TWICE,))
        else:
            self.placed[placing.item] = verdict
        self.made += [slip for slip in verdict.slips if slip not in self.made]
        self.wrong[placing.item] += not verdict.is_right
        self.latest, self.asked = verdict, None
        return verdict

    def take_away(self, item: str) -> None:
        """Take something out of the picture."""
        self.placed.pop(item, None)
        if self.latest is not None and self.latest.placing.item == item:
            self.latest = None

    def to_turn(self, tells: bool) -> Placing | None:
        """Return what a direction alone is said of, None where that is nothing.

        It is what was asked back for, or the force that was placed last, and is told to be wrong;
        else the only one that acts and stands wrong.
        """
        if self.asked is not None or not tells:
            return self.asked
        standing = [one for one in self.mistaken if self.has_pointing(one.placing.item)]
        last = [one for one in standing if one is self.latest]
        acting = [one for one in standing if self._by_item[one.placing.item].decoy is None]
        if last or len(acting) == 1:
            return (last or acting)[0].placing
        return None

    @property
    def missing(self) -> tuple[str, ...]:
        """Return the items that a whole picture has, and this one has not."""
        return tuple(item for item in self.needed if item not in self.placed)

    @property
    def mistaken(self) -> tuple[PlacingVerdict, ...]:
        """Return what stands in the picture and is not right."""
        return tuple(one for one in self.placed.values() if not one.is_right)

    @property
    def is_right(self) -> bool:
        """Return whether it is whole, and nothing in it is wrong."""
        return not (self.missing or self.mistaken)

    def close(self, is_done: bool) -> None:
        """Let it be, done or skipped."""
        self.is_closed, self.is_done = True, is_done

    def missing_slip(self, item: str) -> PictureSlip:
        """Return the slip of who leaves an item out."""
        candidate = self.candidate(item)
        if candidate is None or item == REACTION:
            return _MISSING.get(item, PictureSlip.DISTANCE_MISSING)
        if candidate.is_turning:
            return PictureSlip.MOMENT_MISSING
        is_weight = candidate.force is not None and candidate.force.is_weight
        return PictureSlip.WEIGHT_MISSING if is_weight else PictureSlip.FORCE_MISSING

    @property
    def slips_possible(self) -> frozenset[PictureSlip]:
        """Return the slips that may be made in it by who draws each thing once."""
        found = {self.missing_slip(item) for item in self.needed}
        for one in self.candidates:
            found.update(slips_possible(self.question, one))
        if self.only_place is not None:
            found.discard(PictureSlip.POINT)
        elif self.has_axis:
            found.add(PictureSlip.AXIS)
        if any(not (one.counts or one.stands_for) for one in self.distances):
            found.add(PictureSlip.DISTANCE)
        return frozenset(found)

    def right_placing(self, item: str) -> Placing:
        """Return how an item of a whole picture is placed right."""
        candidate = self.candidate(item)
        if candidate is None:
            return Placing(item, AXIS_POINT if item == AXIS_ITEM else "")
        point = right_point(candidate)
        wanted = [one for one in self.pointings if self.suits(item, one)]
        if candidate.is_found_later:
            return Placing(item, point, UNKNOWN)
        fitting = (
            one.key
            for one in sorted(wanted, key=lambda one: (not one.is_straight, one.quarter))
            if self.judged(Placing(item, point, one.key)).is_right
        )
        return Placing(item, point, next(fitting))


def pictures_of(question: Question) -> tuple[BodyPicture, ...]:
    """Return the pictures of a working, one for each posture that has one."""
    return tuple(BodyPicture(view) for view in question.views if is_drawn(view.problem.posture))
