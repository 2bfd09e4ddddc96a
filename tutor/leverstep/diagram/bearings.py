"""Which way the things of a question point, in degrees counter-clockwise from the right."""

from __future__ import annotations

import cmath
import math
from functools import lru_cache

from leverstep.course.problem import Question
from leverstep.course.shown import Shown
from leverstep.statics.acting import Force
from leverstep.statics.geometry import force_bearing, segment_bearing, slant
from leverstep.statics.points import Direction


@lru_cache(maxsize=256)
def toward(degrees: float) -> complex:
    """Return the unit vector of a bearing in degrees."""
    return cmath.rect(1, math.radians(degrees))


def bearing_of_segment(question: Question) -> float:
    """Return the way that the segment runs from the axis."""
    return segment_bearing(question.problem.posture).degrees(_inclination(question), 0)


def bearing_of(question: Question, force: Force) -> float:
    """Return the way that a force points."""
    angle = slant(question.problem.posture, force, question.numbers)
    return bearing_told(question, force.direction, angle)


def bearing_told(question: Question, direction: Direction, angle: float) -> float:
    """Return the way of a direction, with the angle that it is told by in degrees."""
    return force_bearing(question.problem.posture, direction).degrees(_inclination(question), angle)


def bearing_shown(question: Question, shown: Shown) -> float:
    """Return the way from where something shown begins to where it ends, or to a surface."""
    given = shown.direction.angle
    angle = question.numbers[given.key] if given is not None and given.key else shown.angle
    return bearing_told(question, shown.direction, angle)


def _inclination(question: Question) -> float:
    given = question.problem.posture.inclination
    return 0.0 if given is None else question.numbers[given.key]
