"""Hints: every text of the catalogue, filled for every place where its slip can be made."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from helpers.source import TESTS
from leverstep.course.places import shipped
from leverstep.course.problem import Question
from leverstep.course.shelf import load_shelf
from leverstep.slips.catalogue import (
    EVERY,
    PLACEHOLDERS,
    ROLES,
    STEP_KINDS,
    load_catalogue,
)
from leverstep.slips.explained import Explained, explained
from leverstep.slips.finding import Explanation, Finding
from leverstep.slips.hypotheses import hypotheses
from leverstep.slips.ladder import LineHint, hints, hints_for
from leverstep.slips.telling import tell
from leverstep.statics.choices import CHOICE_KINDS, CONVENTIONS
from leverstep.statics.step import Step
from leverstep.working.guidance import Guidance
from leverstep.working.rules import Reasons, Rules, Rung
from leverstep.working.standing_lines import Line
from leverstep.working.verdict import Outcome, Verdict
from leverstep.working.working import Working
from leverstep.working.writing import formula, value_text, worked_line

PROBLEMS = load_shelf([shipped("problems"), TESTS / "problems"]).problems
LONGEST = 240
WORDS = {
    "class": ("first", "second", "third"),
    "reaction_direction": ("up", "down", "left", "right"),
    "resultant_direction": ("up", "down", "left", "right"),
    "axial_effect": ("compression", "tension"),
    "supported": ("inside", "outside"),
    "friction_enough": ("holds", "slips"),
}


def findings(question: Question) -> Iterator[Finding | None]:
    """Yield each thing that can be found at a step, or None where nothing is found there."""
    yield None
    for hypothesis in hypotheses(question.derivation, CATALOGUE):
        yield hypothesis.finding()
    for slip in CATALOGUE.slips.values():
        if slip.rounding:
            for step in question.derivation.asked:
                if step.kind.name in slip.kinds:
                    yield Finding(slip.id, step.key, ())


def explained_by(*findings: Finding) -> Explained:
    """Return that these slips together are behind a line."""
    return Explained(explanations=(Explanation(findings),))


def texts_of(working: Working, key: str) -> dict[Rung, str]:
    """Return the hints of a line by how much they tell."""
    return {hint.rung: hint.text for hint in hints(working, key, CATALOGUE)}


def rendered(question: Question) -> Iterator[tuple[Step, tuple[LineHint, ...]]]:
    """Yield the hints of every step, before any entry and for every slip made there."""
    working = Working(question)
    for found in findings(question):
        if found is None:
            for step in working.steps:
                yield step, hints(working, step.key, CATALOGUE)
            continue
        step = working.step(found.step)
        working.lines[step.key] = Line("1", None, Verdict(step.key, "1", Outcome.WRONG))
        yield step, hints_for(working, step.key, explained_by(found), CATALOGUE)
        del working.lines[step.key]


@pytest.fixture(scope="module", params=sorted(PROBLEMS))
def question(request: pytest.FixtureRequest) -> Question:
    """Return a question of each problem in turn."""
    return PROBLEMS[request.param].question("1")


@pytest.fixture(scope="module")
def given_hints(question: Question) -> list[tuple[Step, tuple[LineHint, ...]]]:
    """Return the hints of every step, before any entry and for every slip made there."""
    return [*rendered(question)]


def test_hints_are_whole_sentences_of_a_fit_length(
    question: Question, given_hints: list[tuple[Step, tuple[LineHint, ...]]]
) -> None:
    """No hint has an unfilled place, a doubled sign or space, or two full stops."""
    seen = 0
    for step, given in given_hints:
        rungs = [hint.rung for hint in given]
        assert rungs == sorted(set(rungs))
        assert {Rung.LOOK, Rung.WORKED} <= set(rungs)
        texts = [hint.text for hint in given]
        for text in texts:
            assert not re.search(r"[{}]|None|nan|  |−−|[+−] −|\(\)|\.\.|\s[.,;:?]", text), text
            assert text == text.strip()
            assert text[:1].isupper() or text.startswith(tuple("0123456789")), text
            assert text.isprintable()
        short = [hint.text for hint in given if hint.rung <= Rung.HAPPENED]
        assert all(len(text) <= LONGEST for text in short), (step.key, texts)
        seen += 1
    assert seen > 2 * len(question.derivation.asked)


def test_only_the_last_hint_gives_the_value_away(
    question: Question, given_hints: list[tuple[Step, tuple[LineHint, ...]]]
) -> None:
    """Those before hold the value of a step only where the problem states it, the last always."""
    values = question.graph.values(question.numbers, {})
    for step, given in given_hints:
        *others, worked = (hint.text for hint in given)
        before = " ".join(others)
        if step.kind.is_equation:
            assert worked.endswith(formula(question, step))
            assert formula(question, step) not in before
        elif step.kind.name in WORDS:
            named = [w for w in WORDS[step.kind.name] if re.search(rf"\b{w}\b", before)]
            assert named in ([], list(WORDS[step.kind.name]))
            assert value_text(step, values[step.key]) in worked
        else:
            value = value_text(step, values[step.key])
            if value not in question.statement:
                assert value not in before
            assert worked.endswith(f"= {value}")


UNTRIED = {"part-of-a-moment-left-out"}
"""Slips of lines that no problem that ships has; tests/problems has them."""


@pytest.mark.parametrize("ident", sorted(CATALOGUE.slips))
def test_a_slip_is_told_for_its_wrong_line(ident: str) -> None:
    """The wrong line that a slip ships with is told as that slip, or as one of two."""
    wrong = CATALOGUE.slips[ident].wrong
    assert (wrong is None) == (ident in UNTRIED)
    if wrong is None:
        return
    question = PROBLEMS[wrong.problem].question(wrong.seed)
    values = question.graph.values(question.numbers, {})
    working = Working(question)
    for step in working.steps:
        if step.key != wrong.line:
            working.enter(step.key, worked_line(question, step, values))
            continue
        verdict = working.enter(step.key, wrong.entry)
        assert verdict.outcome is Outcome.WRONG
        assert [ident] in [
            [f.slip for f in e.findings] for e in explained(verdict, CATALOGUE).explanations[:2]
        ]
        assert CATALOGUE.slips[ident].name in tell(working, verdict, CATALOGUE)
        return
    pytest.fail(f"no line {wrong.line}")


def test_wrong_lines_are_of_all_joints() -> None:
    """The wrong lines are of problems of every joint, none of them favoured."""
    wrong = [slip.wrong for slip in CATALOGUE.slips.values() if slip.wrong is not None]
    cards = {card.id: card.joint for card in load_shelf([shipped("problems")]).cards}
    joints = Counter(cards[line.problem] for line in wrong)
    assert set(joints) == set(cards.values())
    assert max(joints.values()) <= 2 * min(joints.values())


def test_reasons_are_short_sentences() -> None:
    """A reason is a sentence or two clauses, and fits on the line of a summary."""
    for slip in CATALOGUE.slips.values():
        assert slip.reason.endswith("."), slip.id
        assert ". " not in slip.reason, slip.id
        assert slip.reason[0].isupper() or slip.reason.startswith(("g ", "10 ")), slip.id


def test_a_part_added_is_told_from_a_part_subtracted() -> None:
    """Name and hint say which of the two was done, and to which angle or length."""
    for problem, key, entry, said in (
        ("elbow-tilted-forearm", "gamma_m", "130.5 deg", "You seem to have added β."),
        ("elbow-tilted-forearm", "gamma_m", "49.5 deg", "You seem to have subtracted θ."),
        ("shoulder-raised-arm-bag", "gamma_m", "15.22 deg", "You seem to have added a_o."),
        ("shoulder-lantern-held-out", "beta_m", "12.5 deg", "You seem to have subtracted α."),
    ):
        working = Working(PROBLEMS[problem].question("7"))
        verdict = working.enter(key, entry)
        done, other = ("added", "subtracted") if "added" in said else ("subtracted", "added")
        assert f"slip: {done} where it should be {other}." in tell(working, verdict, CATALOGUE)
        assert texts_of(working, key)[Rung.HAPPENED].startswith(said)


def test_every_kind_of_step_has_a_general_hint() -> None:
    """Whatever a step does, there is something to say before anything is typed."""
    assert set(CATALOGUE.general) == set(STEP_KINDS)
    kinds = {
        step.kind.name
        for problem in PROBLEMS.values()
        for step in problem.question("1").derivation.asked
    }
    assert kinds <= set(CATALOGUE.general)


def test_the_last_hint_goes_on_with_the_values_of_the_student() -> None:
    """The worked line holds what was written on the lines before, right or wrong."""
    working = Working(PROBLEMS["elbow-full-pail"].question("1"))
    working.enter("W_l", "70.0 N")
    worked = texts_of(working, "M_l")[Rung.WORKED]
    assert "70.00 N" in worked
    assert worked.endswith("= −25.20 N·m (This uses your own W_l, which is not right yet.)")


def test_two_slips_give_both_hints() -> None:
    """Where two slips together explain an entry, each has its say."""
    working = Working(PROBLEMS["elbow-full-pail"].question("1"))
    found = [h.finding() for h in hypotheses(working.question.derivation, CATALOGUE)]
    one = next(f for f in found if f.slip == "sign-of-a-moment" and f.step == "M_l")
    other = next(f for f in found if f.slip == "metres-missing" and f.step == "M_l")
    look, happened, symbols, worked = hints_for(working, "M_l", explained_by(one, other), CATALOGUE)
    assert "Which way would each force turn" in look.text
    assert "Check the unit of the distance" in look.text
    assert "moment of the pail" in happened.text
    assert "not in metres" in happened.text
    assert symbols.text == "In symbols: M_l = −(W_l × d_l)"
    assert worked.text.startswith("Worked out: M_l = ")


def test_hints_serve_each_explanation_that_fits_equally_well() -> None:
    """What tells two of them apart is the next entry, so until then neither is preferred."""
    working = Working(PROBLEMS["elbow-full-pail"].question("1"))
    found = [h.finding() for h in hypotheses(working.question.derivation, CATALOGUE)]
    one = next(f for f in found if f.slip == "sign-of-a-moment" and f.step == "M_l")
    other = next(f for f in found if f.slip == "metres-missing" and f.step == "M_l")
    either = Explained(explanations=(Explanation((one,)), Explanation((other,))))
    look, happened, *_ = hints_for(working, "M_l", either, CATALOGUE)
    alone = [hints_for(working, "M_l", explained_by(f), CATALOGUE) for f in (one, other)]
    assert look.text == " Or: ".join(hints[0].text for hints in alone)
    assert happened.text == " Or: ".join(hints[1].text for hints in alone)


def test_the_slip_is_named_by_the_second_hint_where_the_verdict_does_not() -> None:
    """Asked for, the name of the slip comes after where to look, and before the formula."""
    rules = Rules(reasons=Reasons.WHEN_ASKED)
    working = Working(PROBLEMS["elbow-full-pail"].question("7"), rules=rules)
    verdict = working.enter("W_l", "107.9 N")
    name = CATALOGUE.slips["conversion-skipped"].name
    assert name not in tell(working, verdict, CATALOGUE)
    texts = texts_of(working, "W_l")
    assert [rung for rung, text in texts.items() if name in text] == [Rung.HAPPENED]
    assert list(texts) == list(Rung)


def test_hints_name_the_force_they_speak_of() -> None:
    """The name of the force that the slip concerns stands in its hint, not its symbol's."""
    working = Working(PROBLEMS["elbow-full-pail"].question("1"))
    found = [h.finding() for h in hypotheses(working.question.derivation, CATALOGUE)]
    missing = next(f for f in found if f.slip == "load-left-out" and f.step == "M_sum")
    _, happened, *_ = hints_for(working, "M_sum", explained_by(missing), CATALOGUE)
    assert "This line seems to leave out the pail." in happened.text


def test_the_worked_line_is_the_one_on_paper(question: Question) -> None:
    """The last hint of an untouched working is the line as the worked solution prints it."""
    working = Working(question)
    values = question.graph.values(question.numbers, {})
    for step in working.steps:
        printed = worked_line(question, step, values)
        assert texts_of(working, step.key)[Rung.WORKED] == f"Worked out: {printed}"


def test_worked_lines_name_the_constants_they_use(question: Question) -> None:
    """A weight's worked line holds the g that it was printed with."""
    working = Working(question)
    weights = [s for s in working.steps if s.kind.name == "force" and "{g}" in s.written]
    sign = f"{question.accepted['g'][0]:g} {CONVENTIONS['g'].unit}"
    for step in weights:
        assert sign in texts_of(working, step.key)[Rung.WORKED]
    loads = {load.symbol: load for made in question.problem.postures for load in made.forces}
    given = [load.magnitude for load in loads.values() if load.magnitude]
    masses = [one for one in given if one.unit not in ("N", "kN", "lbf")]
    weighed = [] if question.problem.posture.sums_masses else masses
    assert len(weights) == len(weighed)


def test_the_guide_to_slip_files_names_all_that_there_is() -> None:
    """hints/README.md lists each kind of line, choice, role and placeholder."""
    guide = (shipped("hints") / "README.md").read_text(encoding="utf-8")
    for word in (*STEP_KINDS, *CHOICE_KINDS, *ROLES):
        assert f"`{word}`" in guide
    for meaning in CHOICE_KINDS.values():
        assert meaning in guide
    for name in PLACEHOLDERS:
        assert f"`{{{name}}}`" in guide
    for every in EVERY:
        assert f'"{every}"' in guide


def test_the_examples_of_the_guide_are_good(tmp_path: Path) -> None:
    """Each example of hints/README.md is read without a fault."""
    guide = (shipped("hints") / "README.md").read_text(encoding="utf-8")
    examples = re.findall(r"```toml\n(.*?)```", guide, re.DOTALL)
    (tmp_path / "examples.toml").write_text("\n".join(examples), encoding="utf-8")
    catalogue = load_catalogue([tmp_path])
    assert set(catalogue.slips) == {"conversion-skipped"}
    assert set(catalogue.general) == {"sum"}


@pytest.mark.parametrize("guidance", [Guidance.LANDMARKS, Guidance.BLANK])
@pytest.mark.parametrize("key", ["R_y", "MA"])
def test_no_line_is_worked_out_with_a_number_that_is_still_to_be_found(
    guidance: Guidance, key: str
) -> None:
    """It would else be told, and at the price of another line."""
    working = Working(PROBLEMS["elbow-full-pail"].question("7"), guidance)
    assert "First find" in texts_of(working, key)[Rung.WORKED]
    assert not [text for text in texts_of(working, key).values() if "433" in text]
    working.write("M_sum = -19.94 N m")
    working.write("F_m = 433.5 N")
    assert "433.5 N" in texts_of(working, key)[Rung.WORKED]
