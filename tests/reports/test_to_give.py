"""Who needs help with a slip is told with problems in which it can be made."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from helpers.classes import figures_of
from helpers.drill_sittings import SHELF, small_drill
from helpers.material import CATALOGUE
from leverstep.course.problem import SAMPLE
from leverstep.documents.text import text
from leverstep.reports.class_report import class_report
from leverstep.reports.figures import Help, Who
from leverstep.reports.teacher import MOST_SEEN
from leverstep.reports.to_give import MOST_GIVEN, MOST_LOOKED_AT, with_problems_to_give
from leverstep.slips.hypotheses import hypotheses

DRILL = small_drill(problem="elbow-pail-of-water")
SLIPS = [CATALOGUE.slips[name] for name in ("kilograms-left", "power-of-ten")]


def in_need(number: int) -> Help:
    """Return a student who made the first slip on two lines, the 20th the second one."""
    slip = SLIPS[number == 20]
    of = (slip, ((1, "W_l"), (1, "W_f")))
    return Help(Who(f"s{number:02}"), Fraction(number), 0, (of,), (), (), 0)


def test_problems_to_give_show_the_slip_and_are_not_of_the_drill() -> None:
    figures = replace(figures_of(DRILL, []), help=tuple(in_need(n) for n in range(1, 22)))
    found = with_problems_to_give(figures, SHELF, CATALOGUE)
    assert list(found.give) == [SLIPS[0].name], f"of the {MOST_SEEN} who come first alone"
    given = found.give[SLIPS[0].name]
    assert len(set(given)) == MOST_GIVEN
    for ident in given:
        problem = SHELF.problems[ident]
        made = hypotheses(problem.question(SAMPLE).derivation, CATALOGUE)
        assert SLIPS[0].reason in {one.slip.reason for one in made}
        assert (problem.joint, ident != "elbow-pail-of-water") == ("elbow", True)
    assert f"{given[0]}, {given[1]}" in text(class_report(found))
    assert given[0] not in text(class_report(found, with_names=False))


def test_a_slip_that_no_problem_shows_is_looked_for_in_few_and_has_no_row() -> None:
    unknown = replace(SLIPS[0], reason="Nobody makes it.")
    someone = replace(in_need(1), slips=((unknown, ((1, "W_l"),)),))
    figures = replace(figures_of(DRILL, []), help=(someone,))
    found = with_problems_to_give(figures, SHELF, CATALOGUE)
    assert found.give == {unknown.name: ()}
    assert len(SHELF.cards) > MOST_LOOKED_AT
    assert "Problems to give" not in text(class_report(found))
