"""Which way the things of a question point, in degrees counter-clockwise from the right."""

from __future__ import annotations

import cmath
import math
from functools import lru_cache

from leverstep.course.problem import Question
from leverstep.course.shown import Shown
from leverstep.statics.acting import Force
from leverstep.statics.geometry import force_bearing, segment_bearing, slant


@lru_cache(maxsize=256)
def toward(degrees: float) -> complex:
    """Return the unit vector of a bearing in degrees."""
    return cmath.rect(1, math.radians(degrees))


def bearing_of_segment(question: Question) -> float:
    """Return the way that the segment runs from the axis."""
    return segment_bearing(question.problem.posture).degrees(_inclination(question), 0)


def bearing_of(question: Question, force: Force) -> float:
    """Return the way that a force points."""
    posture = question.problem.posture
    bearing = force_bearing(posture, force.direction)
    return bearing.degrees(_inclination(question), slant(posture, force, question.numbers))


def bearing_shown(question: Question, shown: Shown) -> float:
    """Return the way from where something shown begins to where it ends, or to a surface."""
    bearing = force_bearing(question.problem.posture, shown.direction)
    given = shown.direction.angle
    angle = question.numbers[given.key] if given is not None and given.key else shown.angle
    return bearing.degrees(_inclination(question), angle)


def _inclination(question: Question) -> float:
    given = question.problem.posture.inclination
    return 0.0 if given is None else question.numbers[given.key]
