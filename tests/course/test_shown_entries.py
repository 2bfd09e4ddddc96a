"""What a problem file shows besides its forces: how it is read, and what a broken entry is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from leverstep.course.faults import FileError
from leverstep.course.places import shipped
from leverstep.course.problem import Problem
from leverstep.course.problem_file import problem_of, read_problem
from leverstep.course.shown import ARROW, MOST_SHOWN, Extent, Shown
from leverstep.statics.points import Direction, Given

PAIL = shipped("problems").joinpath("retired", "elbow-full-pail.toml").read_text("utf-8")
TILTED = shipped("problems").joinpath("elbow", "elbow-tilted-forearm.toml").read_text("utf-8")
UPPER_ARM = {
    "outline": '"upper arm"',
    "at": '"axis"',
    "direction": '"up"',
    "length": '{ times = 1.1, of = "L" }',
}
FLOOR = {"surface": '"floor"', "at": '"axis"', "direction": '"down"'}


def entry(keys: dict[str, str]) -> str:
    """Return an entry of a file with these keys."""
    return "\n[[shown]]\n" + "".join(f"{key} = {value}\n" for key, value in keys.items())


def problem_with(*entries: dict[str, str], text: str = PAIL) -> Problem:
    """Return a problem that shows these entries, and none of those that it ships with."""
    bare = text.split("\n[[shown]]")[0] + "".join(map(entry, entries))
    ident = text.split('id = "')[1].split('"')[0]
    return problem_of(bare, Path(f"{ident}.toml"), "made.toml")


def faults(*entries: dict[str, str]) -> list[str]:
    """Return what is said of a file with these entries."""
    with pytest.raises(FileError) as caught:
        problem_with(*entries)
    return [str(fault) for fault in caught.value.faults]


def test_entries_are_read_as_they_stand() -> None:
    hanging = {"outline": '"trunk"', "at": '"shoulder"', "direction": '"down"', "until": '"floor"'}
    low = FLOOR | {"length": '"d_l"', "width": '{ times = 2, of = "L" }'}
    origin = {"point": '"origin"', "at": '"F_m"', "direction": '"up"', "length": '"L"'}
    up, down = Direction("vertical", side="above"), Direction("vertical", side="below")
    assert problem_with(low, UPPER_ARM | {"to": '"shoulder"'}, hanging, origin).shown == (
        Shown("surface", "floor", "axis", down, 0.0, Extent(1, "d_l", True), width=Extent(2, "L")),
        Shown("outline", "upper arm", "axis", up, 0.0, Extent(1.1, "L"), end="shoulder"),
        Shown("outline", "trunk", "shoulder", down, until="floor"),
        Shown("point", "origin", "F_m", up, 0.0, Extent(1, "L", True), end="origin"),
    )


def test_an_angle_is_one_of_the_problem_or_a_number_of_degrees() -> None:
    leaning = '{{ line = "vertical", toward = "left", side = "above", angle = {} }}'
    own = UPPER_ARM | {"direction": leaning.format('"theta"')}
    typical = UPPER_ARM | {"direction": leaning.format("12.5")}
    first, second = problem_with(own, typical, text=TILTED).shown
    assert (first.direction.angle, first.angle) == (Given("theta", "theta", "deg"), 0)
    assert (second.direction.angle, second.angle) == (Given("", "", "deg"), 12.5)


def test_a_file_that_shows_nothing_reads_as_before() -> None:
    assert problem_with().shown == ()


def of_angle(angle: str) -> str:
    """Return a direction with an angle."""
    return f'{{ line = "vertical", toward = "left", side = "above", angle = {angle} }}'


def test_a_length_is_told_in_arrows_where_no_distance_is_given() -> None:
    text = shipped("problems").joinpath("knee", "knee-kneecap-held.toml").read_text("utf-8")
    in_arrows = UPPER_ARM | {"length": '{ times = 1.3, of = "arrow" }'}
    (arm,) = problem_with(in_arrows, text=text).shown
    assert arm.length == Extent(1.3, ARROW)
    assert any("length.of: found 'arrow'" in fault for fault in faults(in_arrows))
    with pytest.raises(FileError, match="length: found 'arrow'"):
        problem_with(UPPER_ARM | {"length": '"arrow"'}, text=text)


BROKEN = {
    "no kind": ({"at": '"axis"'}, "shown[1].outline / surface / point: none of them; expected"),
    "two kinds": (UPPER_ARM | {"point": '"x"'}, "shown[1].outline / surface / point: 2 of them;"),
    "no name": (UPPER_ARM | {"outline": '" "'}, "shown[1].outline: found ' '; expected a text"),
    "long name": (UPPER_ARM | {"outline": f'"{"x" * 41}"'}, "found 41 characters; expected at"),
    "control": (UPPER_ARM | {"outline": r'"a\u001b[2J"'}, "found a control character; expected"),
    "nowhere": (UPPER_ARM | {"at": '"shoulder"'}, "shown[1].at: found 'shoulder'; expected one"),
    "no direction": (UPPER_ARM | {"direction": '"upp"'}, "direction: found 'upp' (did you mean"),
    "no angle": (UPPER_ARM | {"direction": of_angle('"phi"')}, "direction.angle: found 'phi';"),
    "steep": (UPPER_ARM | {"direction": of_angle("91")}, "direction.angle: found 91; expected 0"),
    "no length": ({k: v for k, v in UPPER_ARM.items() if k != "length"}, "length: missing; exp"),
    "no distance": (UPPER_ARM | {"length": '"d_x"'}, "shown[1].length: found 'd_x' (did you mean"),
    "a mass": (UPPER_ARM | {"length": '"m_l"'}, "shown[1].length: found 'm_l'"),
    "nothing": (UPPER_ARM | {"length": '{ times = 0, of = "L" }'}, "length.times: found 0; exp"),
    "far off": (UPPER_ARM | {"length": '{ times = 51, of = "L" }'}, "length.times: found 51;"),
    "unit": (
        UPPER_ARM | {"length": '{ times = 1, of = "L", unit = "cm" }'},
        "length.unit: unknown",
    ),
    "no surface": (UPPER_ARM | {"until": '"floor"'}, "until: no surface is shown before; expected"),
    "taken": (UPPER_ARM | {"to": '"axis"'}, "shown[1].to: 'axis' is the name of another point"),
    "key": (UPPER_ARM | {"colour": '"red"'}, "shown[1].colour: unknown key; expected one of"),
    "width": (UPPER_ARM | {"width": '"L"'}, "shown[1].width: unknown key; expected one of"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_entry_is_named_with_its_place(name: str) -> None:
    keys, said = BROKEN[name]
    assert any(said in fault for fault in faults(keys)), faults(keys)
    assert all(fault.startswith("made.toml: shown[1]") for fault in faults(keys))


def test_a_length_and_a_surface_to_end_at_are_not_both_given() -> None:
    (said,) = faults(FLOOR, UPPER_ARM | {"until": '"floor"'})
    assert said.startswith("made.toml: shown[2].length: unknown key; expected one of")


def test_too_many_entries_and_none_in_a_list_are_faults(tmp_path: Path) -> None:
    assert any(f"expected at most {MOST_SHOWN}" in said for said in faults(*[FLOOR] * 13))
    path = tmp_path / "elbow-full-pail.toml"
    bare = PAIL.split("\n[[shown]]")[0]
    path.write_text(f'shown = "all"\n{bare}', encoding="utf-8")
    with pytest.raises(FileError, match="shown: found 'all'; expected"):
        read_problem(path)
