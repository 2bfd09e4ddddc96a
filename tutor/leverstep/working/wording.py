"""What each step is called and asked for, in words a first-year student knows."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from leverstep.course.phrases import capital
from leverstep.course.symbols import sign_of
from leverstep.statics import kinds
from leverstep.statics.line_keys import moment_sum_key

if TYPE_CHECKING:  # so that the first screen, which needs a sentence of these, is up at once
    from leverstep.course.problem import Question
    from leverstep.statics.acting import Force
    from leverstep.statics.points import BodyPoint, Given
    from leverstep.statics.posture import Further, Posture
    from leverstep.statics.step import Step

_ASK: dict[str, str] = {
    "segment_mass": "Mass of the {name}, as a share of the body's mass, in kilograms",
    "body_weight": "Weight of the whole body, in newtons",
    "share_weight": "Weight of the {name}, as a share of the body's weight, in newtons",
    "component_weight": "Component of the weight of the {name} perpendicular to the {segment}, "
    "in newtons",
    "arm_given": "Moment arm of the {name} about the {axis}, in metres",
    "share": "Force of the {name}, as a share of the body's weight, in newtons",
    "force": "Force of the {name}, in newtons",
    "handed_force": "{way} force of the {name} on the {segment}, with its sign, in newtons",
    "handed_moment": "Moment of the {name} on the {segment}, with its sign, in newton metres",
    "weight": "Weight of the {name}, in newtons",
    "muscle_force": "Force of the {name}, from its area and its specific tension, in newtons",
    "stretch": "Stretch of the {name}: its length without its rest length, in metres",
    "band_force": "Force of the {name}, from its stiffness and its stretch, in newtons",
    "share_rule": "Force of the {name} over the force of the {effort}",
    "shared_force": "Force of the {name}, in newtons",
    "inertia": "Inertial force, the {name}: from mass and acceleration, in newtons",
    "distance": "Distance from the {axis} to the {place}, in metres",
    "along": "Distance along the {segment} from the {axis} to the far end of the {name}, in metres",
    "off": "Distance from the line of the {segment} to the far end of the {name}, in metres",
    "across": "Horizontal distance from the {axis} to the {place}, in metres",
    "up": "Height of the {place} above or below the {axis}, in metres",
    "length": "Length of the {segment}, in metres",
    "fraction": "Distance from the {axis} to the {place}, as a fraction of {of}, in metres",
    "distance_sum": "{measured}, from other distances, in metres",
    "distance_by_angle": "{measured}, from a length and an angle, in metres",
    "arm": "Moment arm of the {name} about the {axis}, in metres",
    "component": "Component of the force of the {name} perpendicular to the {segment}, in newtons",
    "equation": "Moment equation about the {axis}, in symbols",
    "moment": "Moment of the {name} about the {axis}, with its sign, in newton metres",
    "couple_moment": "Moment of the {name} about the {axis}, with its sign, in newton metres",
    "sum": "Sum of the known moments, with its sign, in newton metres",
    "effort_component": "Perpendicular component of the force of the {name}, in newtons",
    "effort": "Force of the {name}, in newtons",
    "mass": "Mass of the {name}, in kilograms",
    "attachment_angle": "Angle of the {name} to the {segment}, from its two ends, in degrees",
    "arm_found": "Moment arm that the {name} must have about the {axis}, in metres",
    "distance_found": "Distance from the {axis} to the {place}, in metres",
    "angle_found": "Angle of the {name} to the {segment}, in degrees",
    "inclination_found": "Angle of the {segment} to the {inclined_to}, in degrees",
    "net_moment": "Net moment of the muscles about the {axis}, with its sign, in newton metres",
    "advantage": "Mechanical advantage: total resistance over the force of the {effort}",
    "arm_advantage": "Mechanical advantage: moment arm of the {effort} over that of the {name}",
    "arm_ratio": "Ratio of moment arms: {effort} over {name}",
    "distance_advantage": "Mechanical advantage: distance along the {segment} to the {effort} over "
    "that to the {name}",
    "distance_ratio": "Ratio of distances along the {segment}: {effort} over {name}",
    "class": "Class of lever: first, second or third",
    "component_x": "Horizontal component of the force of the {name}, right positive, in newtons",
    "component_y": "Vertical component of the force of the {name}, up positive, in newtons",
    "component_axial": "Axial component of the {force}: along the {segment}, away from the {axis} "
    "positive, in newtons",
    "component_transverse": "Transverse component of the {force}: across the {segment}, {upper} "
    "positive, in newtons",
    "reaction_x": "Horizontal component of the {reaction}, right positive, in newtons",
    "reaction_y": "Vertical component of the {reaction}, up positive, in newtons",
    "reaction_size": "Magnitude of the {reaction}, in newtons",
    "reaction_angle": "Angle of the {reaction} to the horizontal, 0 to 90, in degrees",
    "equation_x": "Equation of the horizontal components of all forces, in symbols",
    "equation_y": "Equation of the vertical components of all forces, in symbols",
    "pair_force": "Force of the {name}, in newtons",
    "resultant_x": "Horizontal component of the {reaction}, right positive, in newtons",
    "resultant_y": "Vertical component of the {reaction}, up positive, in newtons",
    "resultant_size": "Magnitude of the {reaction}, in newtons",
    "resultant_angle": "Angle of the {reaction} to the horizontal, 0 to 90, in degrees",
    "resultant_direction": "Direction in which the {reaction} points",
    "reaction_axial": "Axial component of the {reaction}: along the {segment}, away from the "
    "{axis} positive, in newtons",
    "reaction_transverse": "Transverse component of the {reaction}: across the {segment}, {upper} "
    "positive, in newtons",
    "axial_effect": "Lengthwise effect of the {reaction}: compression or tension of the {segment}",
    "reaction_direction": "Direction in which the {reaction} points",
    "point_x": "Horizontal coordinate of the {name}, right of the {axis} positive, in metres",
    "point_y": "Vertical coordinate of the {name}, above the {axis} positive, in metres",
    "part_x": "Horizontal coordinate of the {place}, right of the {axis} positive, in metres",
    "part_y": "Vertical coordinate of the {place}, above the {axis} positive, in metres",
    "weight_moment": "Moment of the {name}: its weight times {coordinate}, with its sign, "
    "in newton metres",
    "mass_moment": "Mass of the {name} times {coordinate}, with its sign, in kilogram metres",
    "weight_moment_sum": "Sum of the moments: all weights times distances{way}, with its sign, "
    "in newton metres",
    "mass_moment_sum": "Sum of all masses times distances{way}, with its sign, in kilogram metres",
    "total_weight": "Total weight of all parts, in newtons",
    "total_mass": "Total mass of all parts, in kilograms",
    "centre_x": "Horizontal coordinate of the centre of mass of the {segment}, "
    "right of the {axis} positive, in metres",
    "centre_y": "Vertical coordinate of the centre of mass of the {segment}, "
    "above the {axis} positive, in metres",
    "edge": "Distance from the line of gravity to the nearer edge of the base of support, "
    "in metres",
    "supported": "Place where the line of gravity falls: inside or outside the base of support",
    "left_edge": "Distance across from the {axis} to the left edge of the base of support, "
    "in metres",
    "right_edge": "Distance across from the {axis} to the right edge of the base of support, "
    "in metres",
    "point_left": "Distance of the {name} to the left of the {axis}, in metres",
    "point_right": "Distance of the {name} to the right of the {axis}, in metres",
    "point_above": "Distance of the {name} above the {axis}, in metres",
    "point_below": "Distance of the {name} below the {axis}, in metres",
    "way_to_point": "Distance from the {start} to the {name}, in metres",
    "stress": "{name}: {of} over its area, in megapascals",
    "body_weights": "{name}: {of} as a multiple of body weight",
    "body_weights_percent": "{name}: {of} as a percentage of body weight",
    "other_unit": "{name}: {of} in {unit}",
    "friction_needed": "{name}: horizontal over vertical component of {of}, without signs",
    "friction_enough": "{name}: does it hold or slip?",
    "part_shared": "{name}: its part of {of}, without a sign, in {unit}",
    "moment_sped_up": "{name}: {of} with the moment that speeds it up, with its sign, "
    "in newton metres",
    "force_at_arm": "{name}: {of} over its moment arm, without a sign, in newtons",
    "power": "{name}: from moment and angular velocity, without a sign, in watts",
    "distance_moved": "{name}: how far it moves along the line of its force, in metres",
    "speed": "{name}: how fast it moves along the line of its force, in metres per second",
    "ratio": "{name}: {of} over {over}, without signs",
}

_EXAMPLE: dict[str, str] = {
    "N": "123.4 N",
    "m": "0.205 m",
    "N·m": "-4.56 N·m",
    "L": "2.34 L",
    "N·L": "-456 N·L",
    "deg": "48.5 deg",
    "kg": "12.3 kg",
    "kg·m": "1.23 kg·m",
    "": "0.234",
    "MPa": "12.3 MPa",
    "W": "123 W",
    "m/s": "1.23 m/s",
    "kN": "1.23 kN",
    "lbf": "123 lbf",
    "kgf": "123 kgf",
    "%": "123 %",
}
_EXAMPLE_OF_KIND: dict[str, str] = {
    "class": "second",
    "reaction_direction": "up and left",
    "resultant_direction": "up and left",
    "axial_effect": "tension",
    "supported": "outside",
    "friction_enough": "holds",
}

PARTS: dict[kinds.Part, str] = {
    kinds.Part.HANDED_ON: "From the segment before",
    kinds.Part.FORCES: "Forces in newtons",
    kinds.Part.DISTANCES: "Distances in metres",
    kinds.Part.ANGLES: "Angles and moment arms",
    kinds.Part.MOMENTS: "Moments",
    kinds.Part.BALANCE: "Balance of forces",
    kinds.Part.UNKNOWN: "The unknown",
    kinds.Part.RATIOS: "Ratios and class",
    kinds.Part.COMPONENTS: "Components of forces",
    kinds.Part.REACTION: "The reaction",
    kinds.Part.RESULTANT: "The resultant",
    kinds.Part.CENTRE: "The centre of mass",
    kinds.Part.SUPPORT: "The base of support",
    kinds.Part.FURTHER: "What follows",
}
"""What each part of a working is headed with."""


SIZE_OF_UNIT: dict[str, str] = {
    "lb": "A pound is less than half a kilogram, so the number must shrink.",
    "oz": "An ounce is a small part of a kilogram, so the number must shrink.",
    "g": "A gram is a thousandth of a kilogram, so the number must shrink.",
    "st": "A stone is more than six kilograms, so the number must grow.",
    "lbf": "A pound-force is more than four newtons, so the number must grow.",
    "kN": "A kilonewton is a thousand newtons, so the number must grow.",
    "cm": "A centimetre is a hundredth of a metre, so the number must shrink.",
    "mm": "A millimetre is a thousandth of a metre, so the number must shrink.",
    "in": "An inch is a small part of a metre, so the number must shrink.",
    "ft": "A foot is less than a third of a metre, so the number must shrink.",
    "kgf": "A kilogram-force is almost ten newtons, so the number must shrink.",
    "cm²": "A square centimetre is a hundred square millimetres, so the number must grow.",
    "kPa": "A kilopascal is a thousand pascals, so the number must grow.",
    "MPa": "A megapascal is a million pascals, one newton on each square millimetre.",
    "N/cm²": "A newton on each square centimetre is ten thousand pascals.",
    "deg/s": "A radian is more than 57 degrees, so the number must shrink.",
    "deg/s²": "A radian is more than 57 degrees, so the number must shrink.",
    "cm/s": "A centimetre is a hundredth of a metre, so the number must shrink.",
    "N/cm": "A metre is a hundred centimetres, so the number must grow.",
    "%": "One per cent is a hundredth, so the number must shrink.",
}
"""How large one of a unit is beside the one that a line needs; every unit with a factor has one."""


_UNITS_SAID = {
    "N": "newtons",
    "N·m": "newton metres",
    "N·L": "newtons times L",
    "kN": "kilonewtons",
    "lbf": "pounds-force",
    "kgf": "kilograms-force",
}

_IN_NAMED_LENGTH = {
    "L": ("in metres", "as a multiple of L"),
    "N·L": ("in newton metres", "in newtons times L"),
}
"""How a question ends where lengths are multiples of one that is only named, for another end."""

_OF_WEIGHTS = {
    "force": "weight",
    "effort": "weight",
    "pair_force": "weight",
    "share": "share_weight",
    "component": "component_weight",
}
"""What is asked of a force that is a weight."""


_OF_DISTANCES = {"arm_ratio": "distance_ratio", "arm_advantage": "distance_advantage"}
"""What is asked of a ratio of arms where forces are split and distances along the segment count."""


def force_about(question: Question, step: Step) -> Force | None:
    """Return the force that a step is about, also where it is named by its distance."""
    forces = question.at(step).problem.posture.forces
    return next((force for force in forces if step.about in force.symbols), None)


def effort_name(question: Question) -> str:
    """Return the name of the effort, or a general one where there is none."""
    effort = question.problem.posture.effort
    return "muscles" if effort is None else question.problem.names[effort.symbol]


def resisting(question: Question) -> tuple[Force, ...]:
    """Return the loads that stand in the mechanical advantage: those against the effort."""
    return tuple(
        load
        for load in question.problem.posture.loads
        if load.symbol in question.derivation.step(question.key(kinds.ADVANTAGE)).quantities
    )


def given_about(question: Question, step: Step) -> Given | None:
    """Return the given that a step starts from: a distance's, the body's, a force's, or its own."""
    if step.kind.begins_with == "body":
        return question.problem.posture.body
    if step.kind.begins_with == "further":
        return further_about(question, step).given
    if step.kind.begins_with == "source":
        return source_given(question, step)
    if step.kind.begins_with == "distance":
        distances = question.problem.distances
        distance = next(d for d in distances if d.symbol == step.about)
        return distance.given if distance.derived is None else None
    force = force_about(question, step)
    return None if force is None else force.magnitude


def source_given(question: Question, step: Step) -> Given | None:
    """Return the first given on a line that says where the size of a force comes from, if any."""
    force = force_about(question, step)
    assert force is not None, f"{step.key} is about a force"
    assert force.source is not None, f"the size of {force.symbol} comes from somewhere"
    there = (given for given in force.source.givens if given.key in step.quantities)
    return next(there, None)


def name_about(question: Question, step: Step) -> str:
    """Return the name of what a step is about: a force's, couple's or point's, or the segment's."""
    return name_of(question.at(step), step.about)


def name_of(question: Question, symbol: str) -> str:
    """Return the name of what a symbol belongs to: a force's, a point's, its own, the segment's."""
    posture = question.problem.posture
    force = next((f for f in posture.forces if symbol in f.symbols), None)
    if force is not None:
        return question.problem.names[force.symbol]
    point = _point_about(posture, symbol)
    if point is not None:
        return point.name
    return question.problem.names.get(symbol, question.problem.segment)


def name_told_apart(question: Question, symbol: str) -> str:
    """Return the name of what a symbol belongs to, with the symbol where another has that name."""
    name, posture = name_of(question, symbol), question.problem.posture
    acting = [force.symbol for force in posture.forces]
    acting += [couple.symbol for couple in posture.couples]
    others = [one for one in acting if one != symbol and name_of(question, one) == name]
    return f"{name}, {sign_of(symbol)}" if symbol in acting and others else name


def _point_about(posture: Posture, symbol: str) -> BodyPoint | None:
    """Return the point of the body that a suffix or a distance is about."""
    for point in posture.body_points:
        if symbol and symbol in (point.suffix, *(d.symbol for d in point.distances)):
            return point
    return None


def further_about(question: Question, step: Step) -> Further:
    """Return what is worked out further at a step."""
    return next(
        one for one in question.at(step).problem.posture.further if one.symbol == step.about
    )


def place_of(question: Question, force: Force) -> str:
    """Return the name of the point where a force acts: its own, or else the force's.

    A segment's own weight acts at its centre of mass, and so does that of each part of a body.
    """
    name = question.problem.names[force.symbol]
    at_centre = force.own_weight or question.problem.posture.seeks_centre
    usual = f"centre of mass of the {name}" if at_centre else name
    return question.problem.places.get((force.symbol, force.mark), usual)


def ask(question: Question, step: Step) -> str:
    """Return what a step asks for, as a short phrase without a full stop."""
    text = _asked(question, step)
    metres, named = _IN_NAMED_LENGTH.get(step.unit, ("", ""))
    return f"{text.removesuffix(metres)}{named}"


def _asked(question: Question, step: Step) -> str:
    question = question.at(step)
    problem = question.problem
    kind = step.kind.name
    if kind == "angle":
        return _ask_angle(question, step)
    if step.kind.begins_with == "further":
        return _ask_further(question, step)
    if step.kind in (kinds.DISTANCE_SUM, kinds.DISTANCE_BY_ANGLE):
        measured = _asked(question, replace(step, kind=kinds.DISTANCE))
        return _ASK[kind].format(measured=measured.removesuffix(", in metres"))
    if step.about in problem.pieces:
        return f"{capital(problem.pieces[step.about])}, in metres"
    force = force_about(question, step)
    is_level = force is not None and force.direction.reference == "horizontal"
    way = "horizontal" if is_level else "vertical"
    if step.kind.part is kinds.Part.HANDED_ON:
        name = problem.names[step.about]
        return _ASK[kind].format(way=capital(way), name=name, segment=problem.segment)
    kind = _kind_asked(problem.posture, step, force)
    if kind == "advantage" and len(counted := resisting(question)) < len(problem.posture.loads):
        against = " and ".join(problem.names[load.symbol] for load in counted)
        return f"Mechanical advantage: {against} over the force of the {effort_name(question)}"
    name = name_about(question, step)
    if force is not None and force.is_handed_on:
        name = f"{way} force of the {name}"  # its two parts are told apart
    return _ASK[kind].format(
        name=name,
        axis=problem.axis,
        segment=problem.segment,
        effort=effort_name(question),
        reaction=problem.reaction,
        place=name_about(question, step) if force is None else place_of(question, force),
        of="" if force is None else force.at.of or "",
        upper=upper_side(question),
        inclined_to=problem.posture.inclined_to,
        force=f"{'force' if force is None or not force.is_weight else 'weight'} of the "
        f"{name_about(question, step)}",
        start=_start_of(question, step),
        coordinate=sign_of(step.quantities[-1]) if step.quantities else "",
        way=_way_of_sum(step),
    )


def _kind_asked(posture: Posture, step: Step, force: Force | None) -> str:
    """Return under which name in `_ASK` a line stands: finer than its kind."""
    kind = step.kind.name
    if kind == "angle_found" and posture.sought_angle == posture.inclination:
        return "inclination_found"
    if step.kind is kinds.DISTANCE:
        if posture.length is not None and step.about == posture.length.symbol:
            return "length"
        if force is not None:
            return _kind_of_distance(force, step.about)
        return _kind_of_body_distance(posture, step.about)
    if force is not None and force.is_weight:
        kind = _OF_WEIGHTS.get(kind, kind)
    return _OF_DISTANCES.get(kind, kind) if posture.by_components else kind


def upper_side(question: Question) -> str:
    """Return the way that is positive across the segment: `up`, `left and up` where it is steep."""
    posture = question.problem.posture
    told = 0.0 if posture.inclination is None else question.numbers[posture.inclination.key]
    tilt = 90 - told if posture.inclined_to == "vertical" else told
    sideways = "left" if (posture.points == "right") == posture.rises else "right"
    if tilt == 90:
        return sideways
    upward = "to the top of the plan" if question.problem.seen_from == "above" else "up"
    return f"{sideways} and {upward}" if tilt > 45 else upward


_WAYS = {"x": " across", "y": " up"}


def _way_of_sum(step: Step) -> str:
    """Return what the parts of a body are multiplied by in a sum, where that is one of two."""
    ways = {moment_sum_key(axis, step.mark): way for axis, way in _WAYS.items()}
    return ways.get(step.key, "")


def _start_of(question: Question, step: Step) -> str:
    """Return the name of the point that the way to another begins at."""
    point = _point_about(question.problem.posture, step.about)
    return question.problem.axis if point is None or not point.start else point.start


def _kind_of_body_distance(posture: Posture, symbol: str) -> str:
    """Return what sort of distance this is of the body: to a joint, to an edge, or another."""
    point, support = _point_about(posture, symbol), posture.support
    if point is not None and point.offset is not None:
        across, up = point.offset.across, point.offset.up
        if across is not None and symbol == across.symbol:
            return "point_left" if across.beyond else "point_right"
        return "point_below" if up is not None and up.beyond else "point_above"
    if point is not None:
        return "way_to_point"
    if support is not None and symbol in [edge.symbol for edge in support.distances]:
        return "left_edge" if support.left and symbol == support.left.symbol else "right_edge"
    return "distance"


def what_is(question: Question, step: Step) -> str:
    """Return what a step is about, within a sentence: `the force of the elbow flexors`."""
    asked = re.split(r"[,:] ", ask(question, step))[0]
    return f"the {asked[:1].lower()}{asked[1:]}"


def _kind_of_distance(force: Force, symbol: str) -> str:
    """Return what sort of distance this is of a force: to its point, or to a muscle's far end."""
    ends, offset = force.direction.attachment, force.offset
    if ends is not None and symbol != force.at.symbol:
        return "along" if symbol == ends.along.symbol else "off"
    if force.at.perpendicular:
        return "arm_given"
    if offset is not None:
        return "across" if offset.across and symbol == offset.across.symbol else "up"
    return "distance"


def _ask_further(question: Question, step: Step) -> str:
    further, kind = further_about(question, step), step.kind.name
    kind += "_percent" if (kind, step.unit) == ("body_weights", "%") else ""
    of, over = sign_of(further.of), sign_of(further.over)
    name = capital(question.problem.names[further.symbol])
    return _ASK[kind].format(name=name, of=of, over=over, unit=_UNITS_SAID.get(step.unit, ""))


def _ask_angle(question: Question, step: Step) -> str:
    force = force_about(question, step)
    to_segment = force is not None and step.key == force.segment_angle_key
    line = question.at(step).problem.segment if to_segment else "horizontal"
    name = name_about(question, step)
    return f"Angle between the line of action of the {name} and the {line}, in degrees"


def example(step: Step) -> str:
    """Return an entry of the right form for a step, with numbers of no problem."""
    if step.kind.is_equation:
        terms = re.findall(r"\{(\w+)\}(?: × (?:(\w+)\()?\{(\w+)\})?", step.written)
        size, function, factor = next((t for t in reversed(terms) if t[2]), terms[-1])
        factor = f"{function}({factor})" if function else factor
        return f"{size}*{factor} - … = 0" if factor else f"{size} - … = 0"
    return _EXAMPLE_OF_KIND.get(step.kind.name, _EXAMPLE[step.unit])
