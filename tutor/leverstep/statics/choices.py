"""The choices that a derivation leaves open, and the constants that a course may differ in.

The kinds below are the contract with the slip files: a slip says which kind of choice it changes,
and to what. Each choice stands in the derivation as a symbol of its own, one for each place.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

CHOICE_KINDS: dict[str, str] = {
    "conversion": "exponent of the unit's factor: 1 applied, 0 left out, -1 the wrong way round",
    "as_length": "1 where an area is converted by the factor of a length",
    "area_factor": "how many times too often an area or a stress is converted by 100",
    "gravity_taken": "1 where g is taken for the acceleration",
    "factor": "size of the unit used in a distance, in metres",
    "gravity": "exponent of g: 1 multiplied, 0 left out, -1 divided",
    "gravity_ten": "1 where 10 m/s2 stands for g",
    "mass_conversion": "exponent of 1/(pounds per kilogram) where there are no pounds of mass",
    "other_row": "1 where the share of another row of the table is used",
    "fraction_constant": "a in the fraction used, a + b x fraction",
    "fraction_multiple": "b in the fraction used, a + b x fraction",
    "length_power": "exponent of the length that a fraction is taken of: 0 where it is left out",
    "other_length": "1 where another distance is used in place of the right one",
    "unit_left": "1 where the distance goes in as given, not in metres",
    "given_used": "1 where the mass or force goes in as given, not in newtons",
    "mass_used": "1 where the mass in kilograms goes in for the weight",
    "other_function": "1 where sine stands for cosine, or cosine for sine",
    "tangent": "1 where the tangent stands for sine or cosine",
    "angle_ignored": "1 where the angle is left out, as if the force were perpendicular",
    "angle_conversion": "exponent of pi/180: 0 where degrees were taken as radians",
    "trig_power": "-1 where the sine or cosine divides instead of multiplying, or the reverse",
    "trig_again": "1 where the sine or cosine is used on a later line once more",
    "complement": "1 where 90 degrees minus the angle is given",
    "supplement": "1 where 180 degrees minus the angle is given",
    "all_round": "1 where 180 degrees are added, -1 where the angle is taken from 360 degrees",
    "other_angle": "1 where the angle of another line, or another angle given, stands in its place",
    "added": "1 where a part of an angle or a length is added that should be subtracted",
    "subtracted": "1 where a part of an angle or a length is subtracted that should be added",
    "flip": "-1 where a term or a result has the other sign",
    "minus": "-1 where a size, which has no sign, is written with a minus sign",
    "included": "0 where a term is left out",
    "other_arm": "1 where another force's arm is used",
    "other_force": "1 where another force is used with this arm",
    "effort_alone": "1 where the reaction balances the effort alone",
    "whole_length": "1 where the length of the whole segment stands for the arm",
    "couple_arm": "1 where a couple is multiplied by the arm of a force",
    "couple_as_force": "1 where a couple is added to a balance of forces, -1 where subtracted",
    "arm_power": "exponent of the arm: 1 as it should be, -1 the reverse, 0 left out",
    "force_power": "exponent of the force a moment is divided by: 1, -1 multiplied, 0 left out",
    "from_far_end": "1 where the distance is measured from the other end of the segment",
    "counted": "1 where a load that helps the effort is counted with those against it",
    "ratio_power": "-1 where a ratio is upside down",
    "other_ratio": "1 where the other ratio (of arms, of forces) is given",
    "arms_compared": "1 where moment arms are compared, not distances along the segment",
    "level_axes": "1 where horizontal and vertical stand for along and across the segment",
    "whole_force": "1 where a whole slanting force stands for its component along an axis",
    "added_directly": "1 where components are added without squares, -1 where subtracted",
    "sizes_added": "1 where the sizes of forces are added, whatever their directions",
    "root": "exponent of the sum of squares: 0.5 the root, 1 where it is left out",
    "class_taken": "the class of lever that is given, 0 for the right one",
    "in_between": "1 where a share is taken of the far end's coordinate, not of the way to it",
    "other_coordinate": "1 where the height is used for the distance across, or the reverse",
    "unweighted": "1 where the plain mean of the positions is taken",
    "by_count": "1 where a sum is divided by how many parts there are, not by their total",
    "halved": "1 where half of the one known force is taken for each of two that hold it",
    "whole_body": "1 where the mass or weight of the whole body stands for that of the parts",
    "weighing": "exponent of g: 1 or -1 where weights and masses are mixed",
    "other_edge": "1 where the farther edge of the base of support is used",
    "power_of_ten": "exponent of a stray power of ten",
}


@dataclass(frozen=True, slots=True)
class Choice:
    """One place where a choice is made: its kind, its step, what it is about, and what is right.

    `about` is the force or distance whose term it stands in, "" for the whole line; `other` is the
    one that may be taken by mistake. `name` is that of its symbol, one of its own in the whole
    derivation.
    """

    kind: str
    step: str
    about: str
    right: float
    other: str = ""
    name: str = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        other = re.sub(r"\W", "_", self.other)
        name = f"{self.step}__{self.kind}__{self.about}__{other}"
        object.__setattr__(self, "name", name)


@dataclass(frozen=True, slots=True)
class Convention:
    """A constant that books round differently: its name, sign, unit, and the accepted values.

    The first value is the one that worked lines are printed with.
    """

    name: str
    sign: str
    unit: str
    values: tuple[float, ...]


CONVENTIONS: dict[str, Convention] = {
    convention.name: convention
    for convention in (
        # Standard gravity is 9.80665 m/s2 (3rd CGPM, 1901); 9.8 and 9.81 are common practice.
        Convention("g", "g", "m/s²", (9.81, 9.8, 9.80665)),
        # 1 lb is 0.45359237 kg (NIST SP 811 (2008), B.8), so 1 kg is 2.20462 lb; 2.2 is common
        # practice.
        Convention("pounds_per_kilogram", "", "lb/kg", (2.205, 2.2, 2.20462, 2.2046)),
        # 1 lbf is 4.4482216 N (NIST SP 811 (2008), B.8); three and four figures are common
        # practice.
        Convention("newtons_per_pound", "", "N/lbf", (4.448, 4.45, 4.44822)),
        # 1 kgf is the weight of 1 kg, 9.80665 N (NIST SP 811 (2008), B.8); 9.81 is common practice.
        Convention("newtons_per_kilogram_force", "", "N/kgf", (9.81, 9.80665, 9.8)),
        # 1 st is 14 lb, which is 6.35029 kg.
        Convention("kilograms_per_stone", "", "kg/st", (6.35, 6.35029)),
        # 1 oz is 1/16 lb, which is 0.02834952 kg.
        Convention("kilograms_per_ounce", "", "kg/oz", (0.02835, 0.0283495, 0.0284)),
    )
}
