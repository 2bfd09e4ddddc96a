"""Random bodies of several parts: their centre of mass is found again from the posture alone."""

from __future__ import annotations

import numpy as np
import pytest
from helpers.bodies import Body
from helpers.equilibrium import LENGTHS
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from leverstep.statics.acting import Force, Share
from leverstep.statics.points import (
    AT_AXIS,
    Between,
    BodyPoint,
    Direction,
    Distance,
    Given,
    Offset,
    Support,
)
from leverstep.statics.posture import Find, Posture
from scipy import constants as nist

DOWN = Direction("vertical", side="below")


def quarters(low: int, high: int) -> st.SearchStrategy[float]:
    """Return numbers in steps of a quarter, which binary numbers hold exactly."""
    return st.integers(4 * low, 4 * high).map(lambda n: n / 4)


@st.composite
def measured(draw: st.DrawFn, symbol: str, numbers: dict[str, float]) -> Distance:
    """Return a distance either way."""
    key = f"given_{symbol}"
    numbers[key] = draw(quarters(1, 60))
    unit = draw(st.sampled_from(sorted(LENGTHS)))
    return Distance(symbol, Given(key, symbol, unit), beyond=draw(st.booleans()))


@st.composite
def offsets(draw: st.DrawFn, name: str, numbers: dict[str, float]) -> Offset:
    """Return a point across, or up, or both."""
    across, up = draw(st.sampled_from([(True, True), (True, False), (False, True)]))
    return Offset(
        draw(measured(f"a_{name}", numbers)) if across else None,
        draw(measured(f"u_{name}", numbers)) if up else None,
    )


@st.composite
def body_points(draw: st.DrawFn, numbers: dict[str, float]) -> tuple[BodyPoint, ...]:
    """Return up to three points, each by its offset or by the way from one before it."""
    points: list[BodyPoint] = []
    for name in "kln"[: draw(st.integers(0, 3))]:
        if draw(st.booleans()):
            points.append(BodyPoint(name, offset=draw(offsets(name, numbers))))
            continue
        length = draw(measured(f"L_{name}", numbers))
        length = Distance(length.symbol, length.given)
        angle = None
        if draw(st.booleans()):
            angle = Given(f"theta_{name}", "", "deg")
            numbers[angle.key] = draw(quarters(1, 89))
        direction = Direction(
            draw(st.sampled_from(["horizontal", "vertical"])),
            angle,
            draw(st.sampled_from(["left", "right"])),
            draw(st.sampled_from(["above", "below"])),
        )
        if angle is not None and draw(st.booleans()):
            numbers[angle.key] += 90 * draw(st.integers(0, 3))
            direction = Direction("bearing", angle)
        start = draw(st.sampled_from(["", *(point.name for point in points)]))
        points.append(BodyPoint(name, f"_{name}", None, start, length, direction))
    return tuple(points)


@st.composite
def parts(
    draw: st.DrawFn, name: str, points: tuple[BodyPoint, ...], units: list[str], numbers: dict
) -> Force:
    """Return a part of any kind, at a place of any kind."""
    share, between, offset, at = None, None, None, AT_AXIS
    unit = draw(st.sampled_from(units))
    magnitude = Given(f"m_{name}", "", unit)
    if unit == "share":
        magnitude = Given(f"m_{name}", "", "kg")
        share = Share(Given(f"share_{name}", ""), "mass")
        numbers[share.given.key] = draw(st.integers(1, 16)) / 32
    else:
        numbers[magnitude.key] = draw(quarters(1, 90))
    place = draw(st.sampled_from(["axis", "along", "offset", "between"]))
    ends = ["", *(point.name for point in points)]
    if place == "between" and points:
        start = draw(st.sampled_from(ends))
        end = draw(st.sampled_from([one for one in ends if one != start]))
        between = Between(start, end, Given(f"between_{name}", ""))
        numbers[between.fraction.key] = draw(st.integers(1, 15)) / 16
    elif place == "offset":
        offset = draw(offsets(f"o{name}", numbers))
    elif place == "along":
        at = draw(measured(f"d_{name}", numbers))
    return Force(
        f"W_{name}", at, DOWN, magnitude, share=share, offset=offset, called_weight=True,
        between=between,
    )  # fmt: skip


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    """Return a body of two to four parts, perhaps on a base of support."""
    numbers: dict[str, float] = {"m_z": draw(quarters(40, 90))}
    points = draw(body_points(numbers))
    units = draw(st.sampled_from([["kg"], ["kg", "share"], ["N", "lbf"], ["kg", "lb", "g"]]))
    count = draw(st.integers(2, 4))
    loads = tuple(draw(parts(name, points, units, numbers)) for name in "abde"[:count])
    support = None
    if draw(st.booleans()):
        left, right = draw(measured("s_l", numbers)), draw(measured("s_r", numbers))
        support = Support(left, right)
    find = draw(st.sampled_from([Find.CENTRE_OF_MASS, Find.LINE_OF_GRAVITY]))
    body = Body(
        Posture(
            None, loads, reaction=False, ratios=False, find=find, body=Given("m_z", "", "kg"),
            body_points=points, support=support,
        ),
        numbers,
    )  # fmt: skip
    if support is not None:
        assume(body.metres(support.left) < body.metres(support.right))
    return body


def near(value: float, scale: float):
    """Return a value to compare with, to twelve figures of the largest term."""
    return pytest.approx(value, rel=1e-9, abs=1e-12 * scale)


@settings(max_examples=150, deadline=None)
@given(bodies())
def test_the_centre_of_mass_agrees_with_an_average(body: Body):
    """Whatever the parts and wherever they lie, their weighed mean is found, and its support."""
    posture, values, centre = body.posture, body.values(), body.centre()
    scale = max(float(np.abs(body.part(load)).max()) for load in posture.loads) or 1.0
    places = {"x": np.array([body.part(load)[0] for load in posture.loads])}
    places["y"] = np.array([body.part(load)[1] for load in posture.loads])
    sought = "x" if posture.find is Find.LINE_OF_GRAVITY else "xy"
    for number, axis in enumerate(sought):
        found = values.get(f"{axis}_c", 0.0)
        assert found == near(float(centre[number]), scale), axis
    masses = [body.kilograms(load) for load in posture.loads]
    if "m_sum" in values:
        assert values["m_sum"] == near(sum(masses), sum(masses))
    elif "W_sum" in values:
        assert values["W_sum"] == near(sum(masses) * nist.g, sum(masses) * nist.g)
    if "b_edge" in values:
        left, right = body.metres(posture.support.left), body.metres(posture.support.right)
        at = float(centre[0])
        assert values["b_edge"] == near(min(abs(at - left), abs(right - at)), scale)
        if min(abs(at - left), abs(right - at)) > 1e-9 * scale:
            assert values["base"] == (1 if left < at < right else -1)


def test_a_mass_or_its_weight_leads_to_the_same_place():
    """Where one part is given as a force, weights are summed: the place is the same."""
    numbers = {"m_a": 3.0, "m_b": 2.0, "given_d_b": 0.5}
    first = Force("W_a", AT_AXIS, DOWN, Given("m_a", "", "kg"))
    place = Distance("d_b", Given("given_d_b", "", "m"))
    kilograms = Force("W_b", place, DOWN, Given("m_b", "", "kg"))
    newtons = Force("W_b", place, DOWN, Given("m_b", "", "N"))
    found = []
    for load, number in ((kilograms, 2.0), (newtons, 2.0 * nist.g)):
        posture = Posture(None, (first, load), find=Find.CENTRE_OF_MASS)
        values = Body(posture, numbers | {"m_b": number}).values()
        found.append(values["x_c"])
    assert found == pytest.approx([0.2, 0.2], rel=1e-12)
