"""The forms of problem that a course has beside levers, counted over those that are offered.

A form is known by what a problem is made of once it is read, never by its name or its file.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from leverstep.course.problem import Problem
from leverstep.course.shelf import load_shelf
from leverstep.statics.acting import BandSize, InertiaSize, MuscleSize
from leverstep.statics.kinds import Part
from leverstep.statics.posture import Axes, Find, Posture, Relation

SHELF = load_shelf()
OFFERED = [SHELF.problems[card.id] for card in SHELF.offered]

Form = Callable[[Problem], bool]


def of_posture(has: Callable[[Posture], object]) -> Form:
    """Return the form of the problems of which some posture has something."""
    return lambda problem: any(has(posture) for posture in problem.postures)


def finding(*sought: Find) -> Form:
    """Return the form of the problems that seek one of some things."""
    return of_posture(lambda posture: posture.find in sought)


def works_out(*relations: Relation) -> Form:
    """Return the form of the problems that work something out further by one of some relations."""
    return of_posture(lambda posture: any(one.relation in relations for one in posture.further))


def sized_by(*sources: type) -> Form:
    """Return the form of the problems that get the size of some force from one of some sources."""
    return lambda problem: any(isinstance(force.source, sources) for force in problem.forces)


def has_place_besides(posture: Posture) -> bool:
    """Return whether the parts of a body lie above and below each other too."""
    return posture.find is Find.CENTRE_OF_MASS and any(
        (load.offset is not None and load.offset.up is not None) or load.between
        for load in posture.loads
    )


def read_from_picture(posture: Posture) -> bool:
    """Return whether parts of a body lie where they are read, beside an origin or at points."""
    points = any(point.offset is not None for point in posture.body_points)
    return posture.seeks_centre and (points or any(load.offset for load in posture.loads))


def is_weighed(posture: Posture) -> bool:
    """Return whether a support of known force tells where the weight of a body acts."""
    effort, found = posture.effort, posture.balancing
    is_support = effort is not None and effort.magnitude is not None and not posture.ratios
    return is_support and found is not None and found is not effort and found.at.sought


def has_written_ratio(problem: Problem) -> bool:
    """Return whether a given is written as a ratio of whole numbers, such as 2/3."""
    return any(one.is_ratio for one in problem.ranges.values())


def is_upright(posture: Posture) -> bool:
    """Return whether the segment's angle is told to the vertical."""
    return posture.inclination is not None and posture.inclined_to == "vertical"


def has_bearing(posture: Posture) -> bool:
    """Return whether the direction of a force, or to a point, is from 0 to 360 degrees."""
    ways = [force.direction for force in posture.forces]
    ways += [point.direction for point in posture.body_points if point.direction]
    return any(way.reference == "bearing" for way in ways)


FORMS: dict[str, Form] = {
    # Along and across
    "along and across the segment": of_posture(lambda p: Axes.SEGMENT in p.resolved),
    "both in one working": of_posture(lambda p: len(p.resolved) > 1),
    "rotary and stabilising part": of_posture(
        lambda p: Axes.SEGMENT in p.resolved and not p.reaction
    ),
    "compression at a joint": of_posture(lambda p: p.compression),
    # A centre of mass
    "centre of mass in one dimension": of_posture(
        lambda p: p.seeks_centre and not has_place_besides(p)
    ),
    "centre of mass in two": of_posture(has_place_besides),
    "by a table of segments": lambda p: p.posture.seeks_centre and bool(p.from_table),
    "from joint angles": of_posture(lambda p: any(one.direction for one in p.body_points)),
    "positions on a picture": of_posture(read_from_picture),
    "a reaction board": of_posture(is_weighed),
    "a base of support": of_posture(lambda p: p.support is not None),
    # Forces through one point
    "a resultant": finding(Find.RESULTANT),
    "two unknowns at a point": finding(Find.TWO_FORCES),
    # Couples and chains
    "a couple": of_posture(lambda p: p.given_couples),
    "a chain": lambda p: any(
        step.kind.part is Part.HANDED_ON for step in p.question("1").derivation.steps
    ),
    # Comparing, and answers in other measures
    "two postures": lambda p: len(p.stages) > 1,
    "two postures and their ratio": lambda p: len(p.stages) > 1 and works_out(Relation.RATIO)(p),
    "multiples of body weight": works_out(Relation.BODY_WEIGHTS),
    "another unit": works_out(Relation.OTHER_UNIT),
    # Angles, distances and numbers
    "an unknown angle": of_posture(lambda p: p.sought_angle is not None),
    "a distance from others": of_posture(lambda p: any(d.derived for d in p.distances)),
    "lengths in L": lambda p: p.names_length,
    "fractions": has_written_ratio,
    "inclined to the vertical": of_posture(is_upright),
    "bearings": of_posture(has_bearing),
    "g in the file": lambda p: "g" in p.constants_set,
    "g in the file, and another": lambda p: len(p.constants_set.get("g", ())) > 1,
    # What a muscle's force comes from or goes to
    "muscles that share a moment": of_posture(lambda p: p.sharing),
    "an antagonist": lambda p: any(force.antagonist for force in p.forces),
    "stress": works_out(Relation.STRESS),
    "area and specific tension": sized_by(MuscleSize),
    "friction needed": works_out(Relation.FRICTION_NEEDED),
    "an elastic band": sized_by(BandSize),
    # Beyond holding still
    "a moment that speeds up": works_out(Relation.MOMENT_SPED_UP),
    "inertia": sized_by(InertiaSize),
    "power": works_out(Relation.POWER),
    "distance moved": works_out(Relation.DISTANCE_MOVED),
    "speed": works_out(Relation.SPEED),
}


@pytest.mark.parametrize("form", FORMS)
def test_each_form_has_at_least_three_problems(form: str) -> None:
    having = [problem.id for problem in OFFERED if FORMS[form](problem)]
    assert len(having) >= 3, having


def test_no_form_is_what_every_problem_has() -> None:
    """Each is seen by something of its own; without that it would count what is no such thing."""
    lever = SHELF.problems["plain-crowbar"]
    assert [form for form, has in FORMS.items() if has(lever)] == []
