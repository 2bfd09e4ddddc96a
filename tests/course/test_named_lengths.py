"""Lengths as multiples of one that is only named: files, worked lines, entries and pages."""

from __future__ import annotations

import pytest
from helpers.problem_texts import effort, head, load, newtons, quantity, read_text, segment
from leverstep.claims.judged_line import LineStanding
from leverstep.claims.page_of_claims import Page
from leverstep.course.faults import FileError
from leverstep.course.problem import Question
from leverstep.dialogue.meaning import meaning
from leverstep.explore.results import results_of
from leverstep.statics.units import unit
from leverstep.working.reckoner import Reckoner
from leverstep.working.rules import Rules, Units
from leverstep.working.verdict import Outcome
from leverstep.working.wording import ask
from leverstep.working.working import Working
from leverstep.working.writing import worked_line

LEVER = (
    head("A load five times as far", "{W_a} acts {d_a} from the axis, the hand {d_h} from it.")
    + segment("bar", "pivot")
    + effort("F_h", "hand", quantity("d_h", 2, "L"))
    + load("W_a", "box", newtons(200), quantity("d_a", 5, "L"))
)
TWO_ARMS = (
    head("A moment", "{W_a} at {d_a}, {W_b} at {d_b}; {C_s}.")
    + segment("bar", "pivot")
    + load("W_a", "box", newtons(20), quantity("d_a", 5, "L"))
    + load("W_b", "bag", newtons(30), '{ symbol = "d_b", fraction = 0.4, of = "d_a" }')
    + '[[load]]\nsymbol = "C_s"\nname = "spring"\nturns = "clockwise"\n'
    'couple = { value = 40, unit = "NL" }\n'
    '[ask]\nfind = "moment"\n'
).replace("{d_b}", "{d_b} of that")


def question(text: str = LEVER, *changes: tuple[str, str]) -> Question:
    return read_text(text, *changes).question("1")


def faults(text: str, *changes: tuple[str, str]) -> list[str]:
    with pytest.raises(FileError) as caught:
        read_text(text, *changes)
    return [str(fault).partition(": ")[2] for fault in caught.value.faults]


def judged(key: str, text: str, *before: tuple[str, str], of: Question | None = None) -> Outcome:
    working = Working(of or question())
    for other, entry in before:
        assert working.enter(other, entry).outcome is Outcome.RIGHT, entry
    return working.enter(key, text).outcome


def test_a_length_stands_as_so_many_times_the_one_named() -> None:
    here = question()
    assert "acts 5 L from the axis, the hand 2 L" in here.statement
    steps = {step.key: step for step in here.derivation.asked}
    assert not {"d_a", "d_h"} & steps.keys()  # there is nothing to convert
    told = [worked_line(here, steps[key], here.right) for key in ("M_a", "F_h")]
    assert told == [
        "M_a = −(200.0 N × 5.000 L) = −1000 N·L",
        "F_h = |−1000 N·L| ÷ 2.000 L = 500.0 N",
    ]
    assert ask(here, steps["M_a"]).endswith("with its sign, in newtons times L")
    assert meaning(here)[0].endswith("2.00 L against 5.00 L.")


def test_a_distance_worked_out_and_a_moment_found_are_multiples_too() -> None:
    here = question(TWO_ARMS)
    step = here.derivation.step("d_b")
    assert ask(here, step).endswith("as a fraction of d_a, as a multiple of L")
    assert worked_line(here, step, here.right).endswith("0.4 × 5.000 L = 2.000 L")
    assert {one.key: one.unit for one in results_of(here)}["M_net"] == "N·L"
    assert here.right["M_net"] == pytest.approx(20 * 5 + 30 * 2 + 40)


@pytest.mark.parametrize("other", ["m", "cm", "ft"])
def test_the_forces_are_those_of_any_length(other: str) -> None:
    """However long it is, it falls out of the balance."""
    here, there = question(), question(LEVER.replace('"L"', f'"{other}"'))
    for key in ("F_h", "R_y", "MA", "class"):
        assert here.right[key] == pytest.approx(there.right[key])


@pytest.mark.parametrize(
    "entry",
    [
        "-1000 N L", "-1000 N·L", "-1000 NL", "-1000 N*L", "-1 kN L", "-W_a*5 L", "-200 N * 5 L",
        "-200*5 N L", "-5 L*200 N", "-5*L*200 N", "-L*5*200 N", "-W_a d_a", "-1000,0 N L",
        "M_a = -200 N · 5 L = -1000 N L", "-1e3 NL", "-(4+1) L*W_a",
    ],
)  # fmt: skip
def test_a_right_moment_is_right_however_it_is_written(entry: str) -> None:
    assert judged("M_a", entry, ("W_a", "200 N")) is Outcome.RIGHT


@pytest.mark.parametrize("entry", ["1000 N L", "-40 N L", "-500 N L", "-200 N*2 L", "-100 NL"])
def test_a_wrong_moment_is_wrong(entry: str) -> None:
    assert judged("M_a", entry) is Outcome.WRONG


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        ("-1000 N m", "in_metres"),
        ("-1000 Nm", "in_metres"),
        ("-200 N*500 cm", "in_metres"),
        ("-1000", "no_unit"),
        ("-1000 N", "other_dimension"),
        ("-5 L", "other_dimension"),
    ],
)
def test_what_is_in_metres_or_without_its_unit_is_not_judged(entry: str, code: str) -> None:
    verdict = Working(question()).enter("M_a", entry)
    assert verdict.outcome is Outcome.UNREAD
    assert verdict.reason is not None
    assert verdict.reason.code == code


@pytest.mark.parametrize(
    ("entry", "outcome"),
    [
        ("F_h*2 L = 200 N*5 L", Outcome.RIGHT),
        ("F_h*2*L - 200*5*L = 0", Outcome.RIGHT),
        ("2 F_h = 5*200 N", Outcome.RIGHT),
        ("F_h*2 L = 200 N*2 L", Outcome.WRONG),
    ],
)
def test_a_moment_equation_may_have_its_multiples(entry: str, outcome: Outcome) -> None:
    free = Working(question(), rules=Rules())
    verdict = free.write(entry)
    assert verdict.outcome is outcome


def test_g_is_in_metres_all_the_same() -> None:
    """Metres per second squared are no length."""
    text = LEVER.replace("{W_a}", "{m_a}").replace(
        newtons(200), 'mass = { value = 20, unit = "kg" }\n'
    )
    assert judged("W_a", "20 kg*9.81 m/s^2", of=question(text)) is Outcome.RIGHT
    assert judged("W_a", "20 kg * 9,81 m/s² = 196 N", of=question(text)) is Outcome.RIGHT


def test_a_length_may_be_found_as_a_multiple() -> None:
    sought = (quantity("d_h", 2, "L"), '{ symbol = "d_h" }')
    given = ('name = "hand"', 'name = "hand"\nforce = { value = 400, unit = "N" }')
    asked = ("{d_h} from it", "with {F_h} somewhere")
    here = question(LEVER + '[ask]\nfind = "d_h"\nratios = false\n', sought, given, asked)
    assert judged("d_h", "2.50 L", of=here) is Outcome.RIGHT
    assert judged("d_h", "2,5 L", of=here) is Outcome.RIGHT
    assert judged("d_h", "0.400 L", of=here) is Outcome.WRONG
    assert judged("d_h", "2.5 m", of=here) is Outcome.UNREAD


def test_numbers_alone_may_be_taken_in_the_unit_asked_for() -> None:
    working = Working(question(), rules=Rules(units=Units.NAMED))
    assert working.enter("M_a", "-1000").outcome is Outcome.RIGHT
    assert working.enter("M_a", "-1000 N m").outcome is Outcome.UNREAD


def test_arithmetic_beside_the_working_is_told_in_multiples() -> None:
    reckoner = Reckoner(Working(question()))
    assert reckoner.work_out("W_a = 3").told.startswith("Not worked out")
    assert reckoner.work_out("200 N*5 L").told == "1000 N·L"
    assert reckoner.work_out("a = 2*d_a").told == "a = 10 L"
    assert reckoner.has_value == ("d_a 5 L", "d_h 2 L", "g 9.81 m/s^2", "ans 10 L", "a 10 L")


@pytest.mark.parametrize(
    ("line", "standing"),
    [
        ("Moment of the box: 200 N x 5 L = 1000 N L clockwise", LineStanding.RIGHT),
        ("F_h * 2 L = 200 * 5 L", LineStanding.RIGHT),
        ("2 L F_h = 5 L W_a", LineStanding.RIGHT),
        ("M_a = -5 L x 200 N = -1000 NL", LineStanding.RIGHT),
        ("F_h = 1000 N·L / 2 L = 500 N", LineStanding.RIGHT),
        ("F_h = 80 N", LineStanding.WRONG),
    ],
)
def test_a_page_is_read_with_its_multiples(line: str, standing: LineStanding) -> None:
    assert Page(question()).write(line).standing is standing


def test_it_is_a_unit_only_where_a_problem_names_it() -> None:
    assert unit("L") is None
    text = LEVER.replace('"L"', '"cm"').replace(
        "[effort]", 'length = { symbol = "L", value = 9, unit = "cm" }\n[effort]'
    )
    here = question(text.replace("{d_h}", "{d_h}, {L}"))
    assert judged("M_a", "-W_a*L", ("W_a", "200 N"), ("L", "0.09 m"), of=here) is not Outcome.UNREAD


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        (
            [('5, unit = "L"', '5, unit = "cm"')],
            'load[1].at.unit: found "cm", and "L" elsewhere in the file; expected all lengths as '
            "multiples of L, or none",
        ),
        (
            [('axis = "pivot"', 'axis = "pivot"\nlength = { symbol = "L", value = 9, unit = "L" }'),
             ("{d_h}", "{d_h}, {L}")],
            'segment.length.symbol: "L" is a unit in this file; expected another symbol',
        ),
        (
            [('[[load]]\nsymbol = "W_a"', '[[load]]\nsymbol = "C_s"\nname = "brace"\ncouple = '
              '{ value = 3, unit = "N·m" }\nturns = "clockwise"\n[[load]]\nsymbol = "W_a"'),
             ("{W_a}", "{W_a}, {C_s},")],
            'load[1].couple.unit: found "N·m", and "L" elsewhere in the file; expected all',
        ),
    ],
)  # fmt: skip
def test_metres_beside_it_are_told(changes: list[tuple[str, str]], told: str) -> None:
    (found,) = faults(LEVER, *changes)
    assert found.startswith(told)


def test_neither_a_power_nor_a_centre_of_mass_goes_by_it() -> None:
    power = (
        '\n[[further]]\nsymbol = "P"\nname = "power"\nrelation = "power"\nof = "M_net"\n'
        'angular_velocity = { symbol = "w", value = 2, unit = "rad/s" }\n'
    )
    text = TWO_ARMS.replace("{C_s}", "{C_s}; {w}") + power
    (found,) = faults(text)
    assert found.startswith('further[1].of: found "M_net"')
    (found,) = faults(
        TWO_ARMS.partition('[[load]]\nsymbol = "C_s"')[0].replace("; {C_s}", "")
        + '[ask]\nfind = "line of gravity"\n'
    )
    assert found.startswith("load: found lengths that are multiples of another")
