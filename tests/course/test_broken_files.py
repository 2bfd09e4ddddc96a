"""Shipped files broken in many ways: each is told as a fault, or read, derived and vetted."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable
from itertools import count
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from helpers.broken_files import SHIPPED, read_broken, tried
from helpers.problem_texts import effort, head, leaning, load, newtons, quantity, read_text, segment
from leverstep.course import course_plan, problem_file
from leverstep.course.cards import card_of
from leverstep.course.faults import OURS, FileError
from leverstep.course.shelf import load_shelf
from leverstep.drill import item_rules
from leverstep.faces.commands.cli import main
from leverstep.slips import catalogue
from leverstep.statics import derivation, graph, lever
from leverstep.vetting import vet

RUNS = int(os.environ.get("LEVERSTEP_BROKEN_FILES", "120"))
"""How many files are broken; `tests/benchmarks/broken.py` breaks ten thousand."""


def test_no_broken_file_brings_the_program_down() -> None:
    came = Counter(tried(SHIPPED[seed % len(SHIPPED)], seed) for seed in range(RUNS))
    assert sum(came.values()) == RUNS
    assert set(came) == {"told", "vetted", "sound"}


WAYS, PIECES = 10_000, 8
"""In how many ways files are broken to be read, and in how many parts of the suite."""
DERIVED_EACH = 5
"""Of files that still read, each fifth is derived and made a card too."""


@pytest.mark.parametrize("piece", range(PIECES))
def test_ten_thousand_broken_files_are_told_or_read(piece: int) -> None:
    """Each is told of, and not as a fault of the program; some that read are derived.

    `test_no_broken_file_brings_the_program_down` vets some as well, and the benchmark all.
    """
    share = WAYS // PIECES
    ways = range(piece * share, (piece + 1) * share)
    read = [read_broken(SHIPPED[seed % len(SHIPPED)], seed) for seed in ways]
    problems = [problem for problem in read if problem is not None]
    assert share / 20 < len(problems) < share / 2
    for problem in problems[::DERIVED_EACH]:
        card_of(problem)
        question = problem.question("1")
        assert question.trouble or question.right


GOOD = (
    head(
        "A pail on an arm",
        "{W_l} hangs {d_l} from the axis, a rope pulls at {d_m}; the arm is {L} long.",
    )
    + segment("arm", "pivot", f"length = {quantity('L', 40, 'cm')}\n")
    + effort("F_m", "rope", quantity("d_m", 4, "cm"))
    + load("W_l", "pail", newtons(20), quantity("d_l", 30, "cm"))
    + """[ask]
ratios = true
"""
)
EFFORT_AT, LOAD_AT = (f'at = {{ symbol = "d_{name}", value = ' for name in ("m", "l"))

SIZE = 'force = { value = 9, unit = "N" }\n'


def faults(text: str, *changes: tuple[str, str]) -> list[str]:
    """Return the faults of a text with some of it replaced."""
    with pytest.raises(FileError) as caught:
        read_text(text, *changes)
    return [str(fault) for fault in caught.value.faults]


def beside(way: str, value: str) -> str:
    """Return the point of a force beside the segment."""
    return f'at = {{ {way} = {{ symbol = "x_n", {value}unit = "cm" }} }}'


FAR_END = (
    'direction = "up"',
    'direction = { line = "segment", toward = "axis", side = "above", far_end = { '
    'along = { symbol = "a_o", value = 2, unit = "cm" }, '
    'off = { symbol = "h_o", value = 20, unit = "cm" } } }',
)
ONE_FAULT = {
    "an effort beside the segment": (
        (EFFORT_AT + '4, unit = "cm" }', beside("up", "value = 4, ")),
        "effort.at: F_m acts beside the segment; expected a point on the segment; beside it only",
    ),
    "a load beside the segment that is to be found": (
        (LOAD_AT + '30, unit = "cm" }', beside("across", "value = 30, ")),
        "load[1].at: W_l acts beside the segment; expected a point on the segment",
    ),
    "an effort at the axis": (
        (EFFORT_AT + '4, unit = "cm" }', 'at = "axis"'),
        "effort.at: F_m, which is to be found, acts at the axis; expected a force that has a mom",
    ),
    "an effect along the segment of forces that have none": (
        ("ratios = true", 'resolve = "along and across"\ncompression = true'),
        "ask.compression: no force has a component along the segment; expected compression = fal",
    ),
    "a ratio with a load that has no arm": (
        ("ratios = true", 'arm_ratio_of = "W_k"\n[[load]]\nsymbol = "W_k"\nname = "cap"\n'
         'force = { value = 2, unit = "N" }\nat = "axis"\ndirection = "down"'),
        "ask.arm_ratio_of: W_k acts through the axis, so it has no arm; expected a load that has",
    ),
    "a muscle with a far end and no near one": (
        FAR_END, (EFFORT_AT + '4, unit = "cm" }', beside("up", "value = 4, ")),
        "effort.at: the far end of F_m is given, but not where it pulls the segment; expected a",
    ),
    "an effort that is given, and a moment to be found": (
        ("ratios = true", 'find = "moment"'), (EFFORT_AT, SIZE + EFFORT_AT),
        'ask.find: "moment" beside an [effort]; expected no [effort]: each force given is a [[load',
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ONE_FAULT)
def test_a_place_that_no_working_has_is_told(name: str) -> None:
    *changes, expected = ONE_FAULT[name]
    first = faults(GOOD, *changes)[0]
    assert first.startswith(f"good.toml: {expected}")


def test_a_distance_beside_the_segment_needs_its_number() -> None:
    found = faults(GOOD, (LOAD_AT + '30, unit = "cm" }', 'at = { up = { symbol = "x_n" } }'))
    assert "good.toml: load[1].at.up.value: missing; expected a number" in found


def test_a_fraction_of_what_is_to_be_found_is_told() -> None:
    sought = 'at = { symbol = "d_m" }'
    share = 'at = { symbol = "d_l", fraction = 0.4, of = "d_m" }'
    found = faults(
        GOOD,
        (EFFORT_AT + '4, unit = "cm" }', SIZE + sought),
        (LOAD_AT + '30, unit = "cm" }', share),
    )
    told = 'good.toml: load[1].at: d_l is a fraction of "d_m", which is to be found; expected'
    assert told in found[0]


def failing_once(whole: Callable[..., Any]) -> Callable[..., Any]:
    """Return a function of the program that fails when it is called first, and then works."""
    calls = count()

    def fails(*given: Any, **named: Any) -> Any:
        assert next(calls), "a fault of the program"
        return whole(*given, **named)

    return fails


@pytest.mark.parametrize(
    ("room", "name"), [(problem_file, "read_shown"), (lever, "lever_class")], ids=["read", "card"]
)
def test_a_file_that_the_program_fails_over_leaves_the_others_alone(
    room: ModuleType, name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is told as left out, in one line, as any broken file is."""
    for ident in ("fine", "good"):
        (tmp_path / f"{ident}.toml").write_text(GOOD.replace('"good"', f'"{ident}"'), "utf-8")
    monkeypatch.setattr(room, name, failing_once(getattr(room, name)))
    shelf = load_shelf([tmp_path])
    assert list(shelf.problems) == ["good"]
    assert [(fault.file, fault.found) for fault in shelf.faults] == [("fine.toml", OURS)]
    assert len(shelf.left_out) == 1


@pytest.mark.parametrize(
    ("command", "room", "name"),
    [
        ("working --seed 7", derivation, "derive"),
        ("working --seed 7", graph, "graph"),
        ("vet", vet, "unseen"),
    ],
)
def test_deriving_and_vetting_that_fail_are_told_as_a_fault_of_the_file_and_logged(
    command: str, room: ModuleType, name: str, tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    path = tmp_path / "good.toml"
    path.write_text(GOOD, "utf-8")
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    assert main([*command.split(), str(path)]) == 0
    capsys.readouterr()
    monkeypatch.setattr(room, name, failing_once(getattr(room, name)))
    assert main([*command.split(), str(path)]) == 2
    said = capsys.readouterr()
    assert OURS in said.out + said.err
    assert "Traceback" not in said.out + said.err
    (report,) = (tmp_path / "home" / "faults").iterdir()
    assert "AssertionError" in report.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("room", "name", "text"),
    [
        (item_rules, "Scheme", 'id = "mine"\ntitle = "Mine"\n[[item]]\nproblem = "plain-seesaw"\n'),
        (catalogue, "read_term", '[[term]]\nname = "arm"\n'),
        (course_plan, "Week", '[[week]]\ntitle = "One"\nproblems = ["plain-seesaw"]\n'),
    ],
    ids=["drill", "hints", "plan"],
)
def test_files_of_other_kinds_are_told_of_alike(
    room: ModuleType, name: str, text: str, tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    monkeypatch.setenv("LEVERSTEP_HOME", str(tmp_path / "home"))
    (tmp_path / "mine").mkdir()
    path = tmp_path / "mine" / ("course.toml" if room is course_plan else "mine.toml")
    path.write_text(text, "utf-8")
    whole = getattr(room, name)

    def fails(*given: Any, **named: Any) -> Any:
        is_of_another_file = any(
            "mine.toml" not in getattr(one, "file", "mine.toml") for one in given
        )
        assert is_of_another_file, "a fault of the program"
        return whole(*given, **named)

    monkeypatch.setattr(room, name, fails)
    assert main(["vet", str(path)]) == 2
    assert OURS in capsys.readouterr().out
    assert len(list((tmp_path / "home" / "faults").iterdir())) == 1


@pytest.mark.parametrize(
    ("place", "found"),
    [
        ('{ symbol = "d_l", value = 30, unit = "cm" }', "W_l has a moment about the axis"),
        (
            '{ symbol = "d_l", value = 9, unit = "cm", perpendicular = true, turns = "clockwise" }',
            "W_l has a moment about the axis",
        ),
        ('{ up = { symbol = "d_l", value = 9, unit = "cm" } }', "W_l acts beside the segment"),
    ],
)
def test_forces_that_turn_are_not_balanced_by_a_reaction_alone(place: str, found: str) -> None:
    before, _, after = GOOD.partition("[effort]")
    text = (
        before.replace(", a rope pulls at {d_m}", "") + "[[load]]" + after.partition("[[load]]")[2]
    )
    text = text.replace(LOAD_AT + '30, unit = "cm" }', f"at = {place}").replace(
        "ratios = true", 'find = "reaction"'
    )
    with pytest.raises(FileError) as caught:
        read_text(text)
    (fault,) = caught.value.faults
    assert (fault.key, fault.found) == ("load[1].at", found)


CORDS = (
    head("A box on two cords", "A box of {W_l} hangs on two cords, one at {alpha}.")
    + segment("knot", "knot")
    + load("F_a", "first cord", "", '"axis"', '"up"')
    + load("F_b", "second cord", "", '"axis"', leaning("alpha", 30, "left"))
    + load("W_l", "box", newtons(20), '"axis"')
    + """[ask]
find = ["F_a", "F_b"]
"""
)


def test_one_of_two_forces_that_must_be_nothing_is_told() -> None:
    """No other force pulls to the right where the second cord pulls to the left."""
    (found,) = faults(CORDS)
    assert found.startswith("good.toml: load[2].direction: nothing can balance F_b; expected two")
    right, down = (
        ('direction = "down"', 'direction = "right"'),
        ('direction = "up"', 'direction = "down"'),
    )
    assert read_text(CORDS, right, down).question("1").trouble == ""


def test_a_symbol_that_is_a_table_is_told() -> None:
    found = faults(GOOD, ('symbol = "F_m"', 'symbol = { of = "F_m" }'))
    told = "effort.symbol: found {'of': 'F_m'}; expected a symbol of its own"
    assert any(told in one for one in found)
