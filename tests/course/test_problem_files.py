"""Problem files: what the reader says of a broken one, and the numbers of a good one."""

from __future__ import annotations

import hashlib
from fractions import Fraction
from pathlib import Path

import pytest
from helpers import problem_texts
from hypothesis import given, settings
from hypothesis import strategies as st
from leverstep.course.faults import MOST_FAULTS, Fault, FileError
from leverstep.course.numbers import Range
from leverstep.course.places import shipped
from leverstep.course.problem import PLACEHOLDER, Problem
from leverstep.course.problem_file import read_problem
from leverstep.course.quantities import MOST_VALUES
from leverstep.course.shelf import load_shelf
from leverstep.course.toml import DEEPEST, LARGEST_FILE, parsed
from leverstep.working.wording import ask

GOOD = """
id = "good"
title = "A test"
joint = "elbow"
difficulty = 2
statement = "{W_l} hangs {d_l} along {L} at {alpha}; {d_f} of it, {m_f}; {F_m} pulls at {d_m}."
idealised = ["no friction"]

[segment]
name = "forearm"
axis = "elbow"
length = { symbol = "L", value = 35.5, unit = "cm" }
inclination = { symbol = "alpha", from = 10, to = 40, step = 5, unit = "deg" }

[effort]
symbol = "F_m"
name = "flexors"
at = { symbol = "d_m", from = 3.5, to = 5, step = 0.1, unit = "cm" }
direction = "up"

[[load]]
symbol = "W_f"
name = "forearm"
own_weight = true
mass = { value = 1.5, unit = "kg" }
at = { symbol = "d_f", fraction = 0.43, of = "L" }
direction = "down"

[[load]]
symbol = "W_l"
name = "pail"
force = { from = 10, to = 22, step = 0.5, unit = "lbf" }
at = { symbol = "d_l", value = 33, unit = "cm" }

[load.direction]
line = "horizontal"
toward = "right"
side = "below"
angle = { symbol = "theta", value = 80, unit = "deg" }

[ask]
arm_ratio_of = "W_l"
""".replace("{F_m} pulls at", "flexors pull at")


def changed(*changes: tuple[str, str]) -> str:
    """Return the good file with some of its text replaced, each piece once."""
    return problem_texts.changed(GOOD, *changes)


def faults(folder: Path, text: str) -> list[str]:
    """Return the faults of a file with this text, as a person reads them."""
    path = folder / "good.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FileError) as caught:
        read_problem(path)
    return [str(fault) for fault in caught.value.faults]


def test_a_good_file_reads(tmp_path: Path):
    """The file that all others here are made from has no fault, and reads as written."""
    path = tmp_path / "good.toml"
    path.write_text(GOOD, encoding="utf-8")
    problem = read_problem(path)
    assert (problem.id, problem.difficulty, problem.segment) == ("good", 2, "forearm")
    assert [force.symbol for force in problem.posture.forces] == ["W_f", "W_l", "F_m"]
    assert problem.ranges["alpha"] == Range(Fraction(10), Fraction(40), Fraction(5))
    assert problem.ranges["given_d_m"].step == Fraction(1, 10)


# What is changed in the good file, and the one fault that this must give.
ONE_FAULT = {
    "unknown key": (
        ('joint = "elbow"', 'joint = "elbow"\nidealized = ["x"]'),
        'good.toml: idealized: unknown key (did you mean "idealised"?); expected one of',
    ),
    "unknown key in a table": (
        ('axis = "elbow"', 'axis = "elbow"\npoint = "left"'),
        'good.toml: segment.point: unknown key (did you mean "points"?); expected one of',
    ),
    "unknown table": (
        ("[ask]", "[asked]\n[ask]"),
        'good.toml: asked: unknown key (did you mean "ask"?); expected one of',
    ),
    "number for a text": (
        ('title = "A test"', "title = 7"),
        "good.toml: title: found 7; expected a text",
    ),
    "empty text": (('title = "A test"', 'title = " "'), "title: found ' '; expected a text"),
    "text for a number": (
        ("difficulty = 2", 'difficulty = "two"'),
        "good.toml: difficulty: found 'two'; expected a number",
    ),
    "truth for a number": (
        ("value = 1.5", "value = true"),
        "load[1].mass.value: found True; expected a number",
    ),
    "date for a number": (
        ("value = 1.5", "value = 2020-01-01"),
        "load[1].mass.value: found 2020-01-01; expected a number",
    ),
    "text for a truth": (
        ("own_weight = true", 'own_weight = "yes"'),
        "load[1].own_weight: found 'yes'; expected true or false",
    ),
    "text for a list": (
        ('["no friction"]', '"no friction"'),
        "idealised: found 'no friction'; expected a list of texts",
    ),
    "number for a table": (
        ('{ value = 1.5, unit = "kg" }', "1.5"),
        "load[1].mass: found 1.5; expected a table",
    ),
    "missing text": (('title = "A test"', ""), "good.toml: title: missing; expected a text"),
    "missing choice": (
        ('value = 1.5, unit = "kg"', "value = 1.5"),
        'load[1].mass.unit: missing; expected one of "kg", "g", "lb", "oz", "st"',
    ),
    "missing number": (
        ('value = 1.5, unit = "kg"', 'unit = "kg"'),
        "load[1].mass.value: missing; expected a number",
    ),
    "difficulty": (("difficulty = 2", "difficulty = 4"), "found 4; expected 1, 2 or 3"),
    "tolerance": (
        ("difficulty = 2", "difficulty = 2\ntolerance = 0.2"),
        "tolerance: found 0.2; expected above 0, at most 0.1",
    ),
    "unit of another kind": (
        ('value = 1.5, unit = "kg"', 'value = 1.5, unit = "N"'),
        "load[1].mass.unit: found 'N'; expected one of \"kg\"",
    ),
    "unit misspelt": (
        ('value = 33, unit = "cm"', 'value = 33, unit = "cms"'),
        "load[2].at.unit: found 'cms' (did you mean \"cm\"?); expected one of",
    ),
    "direction misspelt": (
        ('direction = "up"', 'direction = "upp"'),
        "effort.direction: found 'upp' (did you mean \"up\"?); expected one of",
    ),
    "end of another line": (
        ('toward = "right"', 'toward = "axis"'),
        'load[2].direction.toward: found \'axis\'; expected one of "left", "right"',
    ),
    "symbol twice": (
        ('symbol = "theta"', 'symbol = "alpha"'),
        'symbol: "alpha" is taken by segment.inclination; expected a new one',
    ),
    "symbol that is a unit": (
        ('symbol = "theta"', 'symbol = "kg"'),
        'load[2].direction.angle.symbol: "kg" has a meaning of its own; expected another',
    ),
    "symbol of a step": (
        ('symbol = "theta"', 'symbol = "R_x"'),
        'symbol: "R_x" has a meaning of its own; expected another symbol',
    ),
    "symbol badly made": (
        ('symbol = "theta"', 'symbol = "θ"'),
        'load[2].direction.angle.symbol: found "θ"; expected letters',
    ),
    "symbol of a force badly made": (
        ('symbol = "F_m"', 'symbol = "F"'),
        'effort.symbol: found "F"; expected a letter',
    ),
    "symbol of an arm": (
        ('symbol = "theta"', 'symbol = "r_l"'),
        'good.toml: symbol: "r_l" is also what a step about W_l is called; expected another',
    ),
    "symbol of a component": (
        ('symbol = "theta"', 'symbol = "W_lx"'),
        'good.toml: symbol: "W_lx" is also what a step about W_l is called; expected another',
    ),
    "id is not the name of the file": (
        ('id = "good"', 'id = "better"'),
        'good.toml: id: found "better"; expected the name of the file, "good"',
    ),
    "id badly made": (('id = "good"', 'id = "Good one"'), 'id: found "Good one"; expected lower'),
    "placeholder for nothing": (
        ("{d_m}", "{d_n}"),
        'good.toml: statement: {d_n} stands for nothing (did you mean "d_m"?); expected one of',
    ),
    "brace left open": (
        ("{d_m}", "{d_m} {"),
        "good.toml: statement: found an unmatched brace; expected { and } in pairs",
    ),
    "fraction of itself": (
        ('of = "L"', 'of = "d_f"'),
        "distances worked out from each other: d_f; expected at least one of them measured",
    ),
    "fraction of nothing": (
        ('of = "L"', 'of = "LL"'),
        'load[1].at: d_f is a fraction of "LL"; expected a distance of this problem '
        '(did you mean "L"?)',
    ),
    "fraction of nothing measured": (
        ("fraction = 0.43", "fraction = 2.5"),
        "load[1].at.fraction: found 2.5; expected between 0 and 2",
    ),
    "not above 0": (("value = 33", "value = 0"), "value: found 0; expected a number above 0"),
    "range the wrong way round": (
        ("from = 10, to = 40", "from = 40, to = 10"),
        "segment.inclination.from / to: found 40 to 10; expected 0 < from <= to",
    ),
    "range from 0": (("from = 3.5", "from = 0"), "effort.at.from / to: found 0 to 5; expected 0 <"),
    "step that misses the end": (
        ("to = 40, step = 5", "to = 40, step = 4"),
        "segment.inclination.step: found 4; expected a step above 0 that leads from 10 to 40; "
        "by 4 it is 38, then 42",
    ),
    "step of nothing": (("step = 0.5", "step = 0"), "load[2].force.step: found 0; expected a step"),
    "too many values": (
        ("step = 0.5", "step = 0.0001"),
        f"load[2].force.step: 120001 values; expected at most {MOST_VALUES}",
    ),
    "obtuse angle": (
        ("value = 80", "value = 181"),
        "value: found 181; expected above 0, below 180",
    ),
    "both mass and force": (
        ('unit = "kg" }', 'unit = "kg" }\nforce = { value = 15, unit = "N" }'),
        "load[1].mass / force: 2 sizes are given; expected one of them alone",
    ),
    "neither mass nor force": (
        ('mass = { value = 1.5, unit = "kg" }\n', ""),
        "ask.find: left open: W_f, F_m; expected F_m and no other: numbers for W_f",
    ),
    "ratio of no load": (
        ('arm_ratio_of = "W_l"', 'arm_ratio_of = "W_k"'),
        'ask.arm_ratio_of: found "W_k" (did you mean "W_l"?); expected the symbol of a load',
    ),
    "ratio of the effort": (
        ('arm_ratio_of = "W_l"', 'arm_ratio_of = "F_m"'),
        'ask.arm_ratio_of: found "F_m"; expected the symbol of a load',
    ),
    "control character": (
        ('title = "A test"', r'title = "A \u001b[2Jtest"'),
        "good.toml: title: found a control character; expected plain text",
    ),
    "control character in a caution": (
        ('title = "A test"', 'title = "A test"\n' + r'caution = "\u001b[2J."'),
        "good.toml: caution: found a control character; expected plain text",
    ),
    "a caution without its full stop": (
        ('title = "A test"', 'title = "A test"\ncaution = "no advice"'),
        "good.toml: caution: found 'no advice'; expected a sentence with a full stop, up to 100 ch",
    ),
    "a caution that runs on": (
        ('title = "A test"', f'title = "A test"\ncaution = "{"no" * 50}."'),
        "...; expected a sentence with a full stop, up to 100 characters, no braces",
    ),
    "a caution with a given": (
        ('title = "A test"', 'title = "A test"\ncaution = "No {W_l} for you."'),
        "good.toml: caution: found 'No {W_l} for you.'; expected a sentence with a full stop",
    ),
    "control character in a list": (
        ("no friction", r"no \u001b[2Jfriction"),
        "good.toml: idealised: found a control character; expected plain text",
    ),
    "control character in a key": (
        ('joint = "elbow"', 'joint = "elbow"\n' + r'"\u001b[2J" = 1'),
        "good.toml: ?[2J: unknown key; expected one of",
    ),
    "not a number": (
        ("value = 33", "value = nan"),
        "load[2].at.value: found nan; expected a number",
    ),
    "infinite": (("value = 33", "value = -inf"), "load[2].at.value: found -inf; expected a number"),
    "beyond all memory": (
        ("value = 33", "value = 1e999999999"),
        "load[2].at.value: found inf; expected a number",
    ),
    "next to nothing": (
        ("value = 33", "value = 1e-999999999"),
        "load[2].at.value: found 0; expected a number above 0",
    ),
    "very large": (
        ("value = 33", "value = 1000000000000"),
        "load[2].at.value: found 1000000000000; expected a number up to 1e+09",
    ),
    "thousands of digits": (
        ("value = 33", f"value = 0x{'f' * 9000}"),
        "good.toml: line 33 has a number or a key of 9002 characters; expected at most 100",
    ),
    "direction without its angle": (
        ('direction = "up"', 'direction = { line = "segment", toward = "axis", side = "above" }'),
        "good.toml: effort.direction.angle: missing; expected a table",
    ),
    "effort that helps its loads": (
        ('direction = "up"', 'direction = "perpendicular below"'),
        "good.toml: effort.direction: the effort turns the same way as every load; expected",
    ),
    "a distance with a minus": (
        ("value = 33", "value = -33"),
        "load[2].at.value: found -33; expected a number above 0; beyond = true says that it lies",
    ),
    "a range with a minus": (
        ("from = 3.5, to = 5", "from = -5, to = -3.5"),
        "effort.at.from / to: found -5 to -3.5; expected 0 < from <= to; beyond = true says",
    ),
    "a segment that falls by a minus": (
        ("from = 10, to = 40", "from = -40, to = -10"),
        "segment.inclination.from / to: found -40 to -10; expected 0 < from <= to; rises = false",
    ),
    "a force with a minus": (
        ("from = 10, to = 22", "from = -22, to = -10"),
        "0 < from <= to; its direction says which way it acts",
    ),
    "an angle with a minus": (
        ("value = 80", "value = -80"),
        'load[2].direction.angle.value: found -80; expected a number above 0; "toward" and "side"',
    ),
    "an angle beyond 90": (
        ("value = 80", "value = 195"),
        'found 195; expected above 0, below 180; "toward" and "side" say which way',
    ),
    "a segment by its angle to no line": (
        ("from = 10, to = 40", 'line = "upright", from = 10, to = 40'),
        'segment.inclination.line: found \'upright\'; expected one of "horizontal", "vertical"',
    ),
    "a name for g that is none": (
        ('joint = "elbow"', 'joint = "elbow"\ng = 10'),
        'good.toml: g: unknown key (did you mean "gravity"?); expected',
    ),
    "a segment beyond the upright": (
        ("from = 10, to = 40", "from = 110, to = 140"),
        'expected 0 to 90; it is the acute one; points = "left" and rises = false turn the segment',
    ),
    "a number for a direction": (
        ('direction = "up"', "direction = 165"),
        "effort.direction: found 165; expected one of "
        '"up", "down", "left", "right", "perpendicular above", "perpendicular below", '
        '"with the segment", "against the segment", '
        'or a table such as { line = "horizontal", toward = "left", side = "above", angle = {',
    ),
    "a number for a mass": (
        ('mass = { value = 1.5, unit = "kg" }', "mass = 1.5"),
        'load[1].mass: found 1.5; expected a table such as { value = 2, unit = "kg" }',
    ),
    "a mass in newtons": (
        ('value = 1.5, unit = "kg"', 'value = 1.5, unit = "N"'),
        '"oz", "st", or "force" in place of this table',
    ),
    "a word for a difficulty": (
        ("difficulty = 2", 'difficulty = "easy"'),
        "difficulty: found 'easy'; expected a number, 1, 2 or 3",
    ),
    "a size by another name": (
        ("own_weight = true", "own_weight = true\nweight = 3"),
        'load[1].weight: unknown key (did you mean "force" or "mass"?); expected one of',
    ),
    "a range without its step": (
        (", step = 0.5", ""),
        'load[2].force.step: missing; expected a number: "from", "to" and "step" go together',
    ),
    "a symbol that is too long": (
        ('symbol = "theta"', 'symbol = "theta_of_the_pail"'),
        "expected letters, then perhaps _ and letters or digits, 8 of each at most",
    ),
    "a list of efforts": (
        ("[effort]", "[[effort]]"),
        "effort: found 1 in a list; expected one, as [effort]",
    ),
    "a fraction of two numbers": (
        ("fraction = 0.43", "fraction = 3/7"),
        "expected a decimal for the fraction: 0.4286",
    ),
    "a unit behind its number": (
        ("value = 33", "value = 33 cm"),
        'expected a number and its unit apart: value = 33, unit = "cm"',
    ),
    "a degree sign": (
        ("value = 80", "value = 80°"),
        'expected a number and its unit apart: value = 80, unit = "deg"',
    ),
    "a text without quotes": (
        ('arm_ratio_of = "W_l"', "arm_ratio_of = W_l"),
        'expected a text in quotes: "W_l"',
    ),
    "a quote that is not closed": (
        ('title = "A test"', 'title = "A test'),
        'title = "A test; expected a closing ", or """ before and after a text of several lines',
    ),
    "a brace that is not closed": (
        ('value = 1.5, unit = "kg" }', 'value = 1.5, unit = "kg"'),
        "expected { and } in pairs on one line",
    ),
    "nothing of that name to be found": (
        ("[ask]", '[ask]\nfind = "net moment"'),
        'ask.find: found "net moment" (did you mean "moment"?); expected a force, its',
    ),
    "a colon for =": (
        ("difficulty = 2", "difficulty: 2"),
        "expected = in place of the colon: difficulty = 2",
    ),
    "a bracket too few": (
        ('[[load]]\nsymbol = "W_l"', '[[load]\nsymbol = "W_l"'),
        "[[load]; expected as many ] as [: [[load]]",
    ),
    "per cent by its sign": (
        ("difficulty = 2", "difficulty = 2\ntolerance = 1%"),
        "expected a share in place of per cent: 0.01",
    ),
    "a unit in the statement": (
        ("hangs {d_l}", "hangs {d_l cm}"),
        'statement: {d_l cm} stands for nothing (did you mean "d_l"? its unit comes by itself)',
    ),
    "a one for a letter": (
        ("hangs {d_l}", "hangs {d_1}"),
        'statement: {d_1} stands for nothing (did you mean "d_l"?); expected one of',
    ),
    "a semicolon": (
        ('title = "A test"', 'title = "A test";'),
        'expected nothing behind the value: title = "A test"',
    ),
    "a comment as elsewhere": (
        ('title = "A test"', '// mine\ntitle = "A test"'),
        "line 3 can't be read: // mine; expected # before what is only said beside",
    ),
    "true as elsewhere": (("[effort]", "[effort]\nbeside = True"), "expected true, in lower case"),
    "no comma between two values": (
        ('value = 33, unit = "cm"', 'value = 33 unit = "cm"'),
        "expected a comma before unit: 33, unit = …",
    ),
    "a text with number and unit": (
        ("value = 33", 'value = "33 cm"'),
        "found '33 cm'; expected a number, value = 33, with unit = \"cm\"",
    ),
    "a class that is said": (
        ("[ask]", '[ask]\nclass = "third"'),
        "ask.class: found 'third'; expected true or false; which class it is follows from",
    ),
    "per cent": (("fraction = 0.43", "fraction = 43"), "expected between 0 and 2; 43 % is 0.43"),
    "a comma in a number": (
        ("value = 35.5", "value = 35,5"),
        'value = 35,5, unit = "cm" }; expected a point for the comma: 35.5',
    ),
    "a second effort": (
        ("[ask]", "[effort]\n[ask]"),
        "repeats what is above: [effort]; expected [effort] once",
    ),
    "loads without their double brackets": (
        ('[[load]]\nsymbol = "W_l"', '[load]\nsymbol = "W_l"'),
        "repeats what is above: [load]; expected [[load]] for one more, and for the first",
    ),
    "syntax": (('title = "A test"', "title = "), "good.toml: line 3 can't be read: title =; "),
    "key twice": (
        ('title = "A test"', 'title = "a"\ntitle = "b"'),
        'line 4 repeats what is above: title = "b"; expected each',
    ),
}


@pytest.mark.parametrize("name", ONE_FAULT)
def test_a_fault_is_told_with_its_place_and_what_was_expected(tmp_path: Path, name: str):
    """One thing wrong is one fault, which names file, key, what was found and what was expected."""
    change, expected = ONE_FAULT[name]
    told = faults(tmp_path, changed(change))
    assert len(told) == 1, told
    assert expected in told[0]
    assert told[0].startswith("good.toml: ")
    assert told[0].isprintable()


@pytest.mark.parametrize(
    ("place", "expected"),
    [
        ("{ x = 33 }", 'load[2].at.x: unknown key; expected "across" = { symbol = …'),
        ("33", 'load[2].at: found 33; expected a table such as { symbol = "d_l", value = 30, unit'),
    ],
)
def test_a_place_that_can_not_be_read_is_told_first(tmp_path: Path, place: str, expected: str):
    found = faults(tmp_path, changed(('{ symbol = "d_l", value = 33, unit = "cm" }', place)))
    assert found[0].startswith(f"good.toml: {expected}")


def test_what_is_left_open_and_not_asked_for_is_named(tmp_path: Path):
    """Where there is no effort, nothing says by itself what is to be found."""
    text = changed(("[effort]", "[[load]]"), ('[ask]\narm_ratio_of = "W_l"', ""))
    (found,) = faults(tmp_path, text)
    assert found.endswith('ask.find: missing; expected find = "F_m", since that is left open')


def test_a_distance_that_is_the_length_again_is_told_how_to_say_so(tmp_path: Path):
    again = ('symbol = "d_m", from = 3.5, to = 5, step = 0.1, unit = "cm"', 'symbol = "L"')
    first = faults(tmp_path, changed(again))[0]
    assert '"L" is taken by segment.length; expected a new one; where it is the same dist' in first
    assert first.endswith('{ symbol = "d_e", fraction = 1, of = "L" } and so on')


def test_a_symbol_that_stands_in_what_can_not_be_read_is_not_missed(tmp_path: Path):
    text = changed(('[[load]]\nsymbol = "W_l"', '[[loads]]\nsymbol = "W_l"'))
    text = text.replace("[load.direction]", "[loads.direction]")
    assert not any("stands for nothing" in one for one in faults(tmp_path, text))


def test_every_fault_is_told_at_once(tmp_path: Path):
    """A file with faults in many places tells all of them, each with its own key."""
    text = changed(
        ('title = "A test"', "title = 7"),
        ("difficulty = 2", "difficulty = 9"),
        ('axis = "elbow"', ""),
        ('length = { symbol = "L", value = 35.5, unit = "cm" }', "length = 35.5"),
        ('direction = "up"', 'direction = "sideways"'),
        ("own_weight = true", 'own_wait = "x"'),
        ("value = 33", "value = nan"),
        ("step = 0.5", "step = 0.7"),
        ('line = "horizontal"', 'line = "slope"'),
        ("{alpha}", "{beta}"),
        ("arm_ratio_of", "arm_ratio_off"),
    )
    keys = {line.split(": ")[1] for line in faults(tmp_path, text)}
    assert {
        "title", "difficulty", "segment.axis", "segment.length", "effort.direction",
        "load[1].own_wait", "load[2].at.value", "load[2].force.step", "load[2].direction.line",
        "statement", "ask.arm_ratio_off",
    } <= keys  # fmt: skip


@pytest.mark.parametrize("loads", ["load = []", "load = 3", ""])
def test_a_file_without_loads_is_told(tmp_path: Path, loads: str):
    """A problem needs a load; an empty list of them is no file without faults."""
    head, _, _ = GOOD.partition("[[load]]")
    text = head.replace("[segment]", f"{loads}\n[segment]")
    assert any("at least one [[load]]" in line for line in faults(tmp_path, text))


@pytest.mark.parametrize(
    ("place", "asked"),
    [
        ("", "centre of mass of the forearm"),
        ('place = "middle of the forearm", ', "middle of the forearm"),
    ],
)
def test_own_weight_acts_at_the_centre_of_mass_unless_a_place_is_named(
    tmp_path: Path, place: str, asked: str
):
    path = tmp_path / "good.toml"
    path.write_text(changed(('symbol = "d_f", ', f'symbol = "d_f", {place}')), "utf-8")
    question = read_problem(path).question("1")
    told = {step.key: ask(question, step) for step in question.derivation.asked}
    assert told["d_f"] == f"Distance from the elbow to the {asked}, as a fraction of L, in metres"
    assert told["d_l"] == "Distance from the elbow to the pail, in metres"


def test_a_circle_of_fractions_is_told(tmp_path: Path):
    """Two distances worked out from each other are named together."""
    text = changed(
        ('of = "L"', 'of = "d_l"'), ('value = 33, unit = "cm"', 'fraction = 0.5, of = "d_f"')
    )
    told = faults(tmp_path, text)
    assert told == [
        "good.toml: load: distances worked out from each other: d_f, d_l; "
        "expected at least one of them measured"
    ]


def test_two_forces_whose_steps_would_share_a_name_are_told(tmp_path: Path):
    """`W_l` and `F_l` would both have the moment `M_l` and the arm `r_l`."""
    told = faults(tmp_path, changed(('symbol = "F_m"', 'symbol = "F_l"')))
    assert told == [
        f'good.toml: symbol: "{key}" is also what a step about F_l is called; '
        "expected another symbol"
        for key in ("M_l", "r_l")
    ]


def test_an_effort_along_a_level_segment_is_told(tmp_path: Path):
    """A pull through the axis can't hold anything."""
    text = changed(
        ('inclination = { symbol = "alpha", from = 10, to = 40, step = 5, unit = "deg" }', ""),
        (" at {alpha}", ""),
        ('direction = "up"', 'direction = "left"'),
    )
    assert faults(tmp_path, text) == [
        "good.toml: effort.direction: the effort acts through the axis; "
        "expected an effort that has a moment"
    ]


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"#" * (LARGEST_FILE + 1), "the file is too large; expected some kilobytes"),
        (b'title = "\xff"', "it is not written in UTF-8"),
        (
            b"a = " + b"[" * 9000,
            "line 1 has tables or lists nested too deeply; expected at most 12",
        ),
        (
            b"a = " + b"9" * 9000,
            "line 1 has a number or a key of 9000 characters; expected at most 100",
        ),
        (b"", "id: missing; expected a text"),
    ],
)
def test_a_file_of_another_kind_is_told(tmp_path: Path, content: bytes, expected: str):
    """What is no problem file gives a fault as well, and never a crash."""
    path = tmp_path / "good.toml"
    path.write_bytes(content)
    with pytest.raises(FileError, match=r"^good\.toml: ") as caught:
        read_problem(path)
    assert expected in str(caught.value)


def test_brackets_in_texts_and_comments_do_not_count(tmp_path: Path) -> None:
    deep = "[{" * 60 + ".a" * 60
    text = GOOD.replace('"A test"', rf'"A \" {deep}" # " {deep}')
    text = text.replace(
        '["no friction"]', f"['it\" {deep}', '''it's {deep}''', \"\"\"\"{deep}\"\"\"]"
    )
    path = tmp_path / "good.toml"
    path.write_text(text, encoding="utf-8")
    problem = read_problem(path)
    assert problem.title == f'A " {deep}'
    assert problem.idealised == (f'it" {deep}', f"it's {deep}", f'"{deep}')


@pytest.mark.parametrize(
    ("begins", "middle", "ends"),
    [("x = ", "[", "]"), ("x", ".a", " = 1"), ("[x", ".a", "]"), ("x = { b", ".a", " = 1 }")],
)
def test_a_file_goes_so_deep_and_no_deeper(begins: str, middle: str, ends: str) -> None:
    def deep(levels: int) -> str:
        if middle == "[":
            return begins + "[" * levels + "1" + "]" * levels
        return begins + middle * (levels - 1) + ends

    assert "x" in parsed(deep(DEEPEST), "x.toml")
    with pytest.raises(FileError, match=r"^x\.toml: line 2 has tables or lists nested too "):
        parsed("# one\n" + deep(DEEPEST + 1), "x.toml")


def test_of_many_faults_the_first_are_told_and_how_many_more_there_are(tmp_path: Path) -> None:
    told = faults(tmp_path, GOOD + "".join(f"metod{n} = {n}\n" for n in range(3000)))
    assert len(told) == MOST_FAULTS + 1
    assert told[0].startswith("good.toml: ask.metod0: unknown key")
    assert (
        told[-1]
        == f"good.toml: and {3000 - MOST_FAULTS} more; expected those above to be mended first"
    )


def test_both_words_for_the_usual_sense_of_rotation_are_taken() -> None:
    for said in ("counter-clockwise", "anticlockwise"):
        problem = problem_texts.read_text(changed(("[segment]", f'positive = "{said}"\n[segment]')))
        assert problem.posture.positive == 1


def test_a_file_that_is_not_there_is_told(tmp_path: Path):
    """A missing file, or a folder of that name, is a fault of the file."""
    (tmp_path / "folder.toml").mkdir()
    for name in ("nowhere.toml", "folder.toml"):
        with pytest.raises(FileError, match=f"^{name}: .*; expected a readable file$"):
            read_problem(tmp_path / name)


def read_or_told(path: Path) -> Problem | tuple[Fault, ...]:
    """Return the problem of a file, or its faults."""
    try:
        return read_problem(path)
    except FileError as error:
        return error.faults


@settings(max_examples=50, deadline=None)
@given(st.text(max_size=200))
def test_any_text_reads_or_is_told(tmp_path_factory: pytest.TempPathFactory, text: str):
    """Whatever stands in a file, the reader answers with faults and nothing else."""
    path = tmp_path_factory.getbasetemp() / "any.toml"
    path.write_text(text, encoding="utf-8", errors="replace")
    assert read_or_told(path)


PIECES = st.sampled_from(sorted(set(GOOD.replace("\n", " \n ").split(" "))))


@settings(deadline=None)
@given(st.lists(st.tuples(st.integers(0, len(GOOD)), PIECES), min_size=1, max_size=3))
def test_a_good_file_with_pieces_thrown_in_reads_or_is_told(
    tmp_path_factory: pytest.TempPathFactory, thrown: list[tuple[int, str]]
):
    """A slip of the author's hand never brings down the reader."""
    text = GOOD
    for place, piece in thrown:
        text = text[:place] + piece + text[place:]
    path = tmp_path_factory.getbasetemp() / "good.toml"
    path.write_text(text, encoding="utf-8")
    assert read_or_told(path)


def test_a_broken_file_hides_no_other_on_its_shelf(tmp_path: Path):
    """The shelf keeps what can be read, in folders below too, and tells of the rest."""
    (tmp_path / "below").mkdir()
    (tmp_path / "good.toml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "bad.toml").write_text("title = ", encoding="utf-8")
    (tmp_path / "below" / "fine.toml").write_text(GOOD.replace('"good"', '"fine"'), "utf-8")
    (tmp_path / "below" / "empty.toml").write_text("", encoding="utf-8")
    shelf = load_shelf([tmp_path])
    assert sorted(shelf.problems) == ["fine", "good"]
    assert {fault.file for fault in shelf.faults} == {"bad.toml", "empty.toml"}


def test_an_id_stands_on_the_shelf_once(tmp_path: Path):
    """Of two files with one id, the second is told."""
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "good.toml").write_text(GOOD, encoding="utf-8")
    shelf = load_shelf([tmp_path])
    assert shelf.problems["good"].path == tmp_path / "a" / "good.toml"
    assert [str(fault) for fault in shelf.faults] == [
        'good.toml: id: "good" is taken; expected a new id'
    ]


def test_a_problem_is_found_by_id_or_by_path(tmp_path: Path):
    """A name that is neither is told, with the nearest that there is."""
    (tmp_path / "good.toml").write_text(GOOD, encoding="utf-8")
    shelf = load_shelf([tmp_path])
    assert shelf.find("good") is shelf.problems["good"]
    assert shelf.find(str(tmp_path / "good.toml")).id == "good"
    with pytest.raises(FileError, match=r'no problem has this name \(did you mean "good"\?\)'):
        shelf.find("goood")


def test_the_numbers_of_a_seed_never_change(tmp_path: Path):
    """Known draws: a record made with one version is marked with another."""
    path = tmp_path / "good.toml"
    path.write_text(GOOD, encoding="utf-8")
    problem = read_problem(path)
    drawn = {
        seed: [problem.question(seed).exact[key] for key in ("alpha", "given_d_m", "given_W_l")]
        for seed in ("1", "2", "Zoë")
    }
    assert drawn == PINNED


# Worked out apart from the program, from the SHA-256 of id, seed and key.
PINNED = {
    "1": [15, Fraction("4.6"), Fraction("18.5")],
    "2": [10, Fraction("4.3"), Fraction("16.5")],
    "Zoë": [15, Fraction("4.4"), 20],
}


@given(st.text(max_size=20), st.integers(1, 500), st.integers(1, 50), st.integers(0, 400))
def test_a_draw_lies_on_the_grid_where_the_digest_points(
    seed: str, first: int, step: int, more: int
):
    """The value is the first plus as many steps as SHA-256 says, counted round the range."""
    low, width = Fraction(first, 10), Fraction(step, 100)
    span = Range(low, low + more * width, width)
    digest = hashlib.sha256(b"\x1f".join([b"good", seed.encode(), b"given_d_m"])).hexdigest()
    place = int(digest[:16], 16) % (more + 1)
    assert span.draw("good", seed, "given_d_m") == low + place * width
    assert float(span.low) - 1e-9 <= span.middle() <= float(span.high) + 1e-9


def test_every_value_of_a_range_is_drawn_about_as_often():
    """Over many seeds no value of a range is left out or preferred."""
    span = Range(Fraction(7, 2), Fraction(5), Fraction(1, 10))
    drawn = [span.draw("good", str(seed), "given_d_m") for seed in range(3200)]
    counts = [drawn.count(span.low + n * span.step) for n in range(span.count)]
    assert span.count == 16
    assert sum(counts) == 3200
    assert all(140 <= count <= 260 for count in counts)


SHIPPED = load_shelf()


def test_every_shipped_problem_loads():
    """No file that ships has a fault, and there is one in the folder for each."""
    assert SHIPPED.faults == ()
    assert len(SHIPPED.problems) == len(list(shipped("problems").rglob("*.toml"))) > 0


@pytest.mark.parametrize("name", SHIPPED.problems)
def test_a_shipped_problem_states_all_its_numbers(name: str):
    """A student finds every given in the statement, and no brace is left there."""
    problem = SHIPPED.problems[name]
    stated = {problem.placeholders[sign] for sign in PLACEHOLDER.findall(problem.statement)}
    looked_up = {g for g in problem.posture.givens() if g not in stated}
    assert all(g.key.startswith(("share_", "fraction_", "between_")) for g in looked_up)
    rows = " ".join(problem.table_rows)
    assert all(problem.question("1").written(g) in rows for g in looked_up)
    assert "{" not in problem.question("1").statement


def test_a_space_that_holds_a_line_together_is_a_space(tmp_path: Path) -> None:
    path = tmp_path / "good.toml"
    path.write_text(changed(('"A test"', '"A\u00a0test\u202fof\u20095 kg"')), encoding="utf-8")
    assert read_problem(path).title == "A test of 5 kg"


def test_a_joint_is_the_same_in_capitals(tmp_path: Path) -> None:
    """A problem of "Elbow" stands among those of the elbow."""
    path = tmp_path / "good.toml"
    path.write_text(changed(('joint = "elbow"', 'joint = "Elbow"')), encoding="utf-8")
    assert read_problem(path).joint == "elbow"
