"""The terms of the course: those that ship, how they are found, and those of a teacher's own."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from helpers.material import CATALOGUE
from leverstep.course.places import shipped
from leverstep.course.shelf import load_shelf
from leverstep.glossary.glossary import Glossary
from leverstep.glossary.term import COLUMNS, LONGEST_SENTENCE, ROWS
from leverstep.slips.catalogue import Catalogue, load_catalogue
from leverstep.statics.kinds import KINDS
from leverstep.vetting.vet import Report
from leverstep.vetting.vet_hints import vet_hint_files
from leverstep.working.wording import _ASK, ask

SHELF = load_shelf()
GLOSSARY = Glossary(CATALOGUE.terms)

ASKED_FOR = (
    "moment", "moment arm", "axis", "mechanical advantage", "ratio of arms", "class of lever",
    "joint reaction", "lbf", "lb", "net moment", "component", "line of action", "effort", "load",
    "resistance", "equilibrium", "sense of rotation", "sign", "centre of mass", "newton",
    "newton metre", "significant figures",
)  # fmt: skip
"""What a student of the course is to find."""

EVERYDAY = """
a above about along and as below body far force from fraction height in its known length metres must
of off or over place point points right that the to total up which whole with end ends both degrees
0 90 distance angle line two muscles first second third left have symbols between positive
across away effect lengthwise all forces
edge falls inside nearer outside parts times where masses weights distances
area does fast how it moves multiple n part per second seconds signs without an other on
"""
"""Words of questions that need no explanation, or are explained as part of a term."""

OF_KIND = {
    ("force", "lb"): "pound and pound-force",
    ("force", "lbf"): "pound and pound-force",
    ("force", "kg"): "mass and weight",
    ("force", "N"): "newton",
    ("segment_mass", "kg"): "share of the body",
    ("distance", "cm"): "axis",
    ("fraction", ""): "centre of mass",
    ("angle", "deg"): "line of action",
    ("arm", "cm"): "moment arm",
    ("component", "deg"): "component",
    ("equation", ""): "moment equation",
    ("moment", ""): "moment",
    ("sum", ""): "sum of the moments",
    ("effort", ""): "effort and load",
    ("net_moment", ""): "net moment",
    ("advantage", ""): "mechanical advantage",
    ("arm_ratio", ""): "ratio of arms",
    ("class", ""): "class of lever",
    ("component_x", ""): "component",
    ("reaction_y", ""): "joint reaction",
    ("resultant_x", ""): "resultant",
    ("component_axial", ""): "axial and transverse component",
    ("axial_effect", ""): "compression and tension",
    ("reaction_size", ""): "joint reaction",
    ("reaction_direction", ""): "magnitude and direction",
    ("point_x", "cm"): "coordinate",
    ("part_y", ""): "centre of mass",
    ("mass_moment", "kg"): "segmental method",
    ("total_weight", ""): "segmental method",
    ("centre_x", ""): "centre of mass",
    ("edge", ""): "line of gravity",
    ("supported", ""): "base of support",
}
"""The term that is opened at a line, by its kind and the unit of the given it starts from."""

TERM = """
[[term]]
name = "spanner"
also = ["wrench"]
kinds = ["moment"]
what = "A spanner turns a nut."
everyday = "A long one turns it more easily."
picture = '''
  o====
   |
'''
seen = "A nut with a long handle."
"""


def read(folder: Path, text: str) -> Catalogue:
    """Return the catalogue that ships with a file of somebody's own."""
    (folder / "own.toml").write_text(text, encoding="utf-8")
    return load_catalogue([shipped("hints")], [folder])


def vetted(folder: Path, text: str) -> Report:
    (folder / "own.toml").write_text(text, encoding="utf-8")
    (report,) = vet_hint_files([folder / "own.toml"], SHELF.problems)
    return report


def told(report: Report) -> str:
    return "\n".join(map(str, report.faults))


# What ships.


@pytest.mark.parametrize("name", ASKED_FOR)
def test_what_the_course_speaks_of_is_explained(name: str) -> None:
    assert GLOSSARY.named(name) is not None


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_line_is_about_a_term(kind: str) -> None:
    assert GLOSSARY.about(kind, "kg")


@pytest.mark.parametrize(("kind", "given"), OF_KIND)
def test_the_term_that_matters_most_comes_first(kind: str, given: str) -> None:
    assert GLOSSARY.about(kind, given)[0].name == OF_KIND[kind, given]


def test_every_term_of_the_course_in_a_question_is_explained() -> None:
    """Whatever word of a question is neither a term nor of everyday language is named here."""
    unknown = set()
    for asks in _ASK.values():
        text = re.sub(r"\{\w+\}", " ", asks)
        for _, (start, end) in reversed([*GLOSSARY.found_in(text)]):
            text = f"{text[:start]} {text[end:]}"
        unknown |= {
            word for word in re.findall(r"\w+", text.lower()) if word not in EVERYDAY.split()
        }
    assert not unknown


def test_questions_name_many_terms() -> None:
    named = {name for asks in _ASK.values() for name in GLOSSARY.named_in(asks)}
    wanted = ("moment arm", "component", "class of lever", "newton metre", "mechanical advantage")
    assert named >= set(wanted)
    assert len(named) > 12


def test_every_line_of_every_problem_leads_to_a_term() -> None:
    for problem in SHELF.problems.values():
        question = problem.question("1")
        for step in question.derivation.asked:
            assert GLOSSARY.about(step.kind.name, "", ask(question, step)), step.key


def test_no_name_stands_for_two_terms() -> None:
    names = Counter(name.casefold() for term in CATALOGUE.terms.values() for name in term.names)
    assert not [name for name, count in names.items() if count > 1]


@pytest.mark.parametrize("name", CATALOGUE.terms)
def test_a_picture_is_small_and_shown_by_every_terminal(name: str) -> None:
    term = CATALOGUE.terms[name]
    assert 1 < len(term.picture) <= ROWS
    assert max(map(len, term.picture)) <= COLUMNS
    assert "".join(term.picture).isascii()
    assert any(not row.startswith(" ") for row in term.picture), "its margin is left out"
    assert not any(name.isupper() and len(name) > 2 for name in term.names)


@pytest.mark.parametrize("name", CATALOGUE.terms)
def test_a_term_is_told_in_two_sentences_and_its_picture_in_words(name: str) -> None:
    term = CATALOGUE.terms[name]
    for sentence in (term.what, term.everyday):
        assert sentence.endswith(".")
        assert 30 < len(sentence) <= LONGEST_SENTENCE
    assert term.what != term.everyday
    assert len(term.seen) > 40
    assert not re.search(r"[|<>=~]{2}", term.seen), "words, no drawing"


# How a term is found.


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Moment Arm", "moment arm"),
        ("moment  arms", "moment arm"),
        ("lever arm", "moment arm"),
        ("axes", "axis"),
        ("levers", "class of lever"),
        ("N", "newton"),
        ("g", "g"),
        ("G", "g"),
        ("N·m", "newton metre"),
        ("LBF", "pound and pound-force"),
        ("torque", "moment"),
    ],
)
def test_a_term_is_found_by_any_of_its_names(typed: str, name: str) -> None:
    found = GLOSSARY.named(typed)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("typed", ["", "n", "momen", "moment of", "[bold]", "\x1b[2J", "x" * 999])
def test_what_is_no_name_is_no_term(typed: str) -> None:
    assert GLOSSARY.named(typed) is None


def test_of_words_within_words_the_longer_name_counts() -> None:
    text = "Moment arm of the pail about the pivot, not its net moment"
    assert GLOSSARY.named_in(text) == ["moment arm", "axis", "net moment"]
    assert GLOSSARY.named_in("momentary armies, farmland, Ngl") == []
    assert Glossary({}).named_in(text) == []


def test_terms_are_found_by_a_part_of_a_name_that_is_long_enough() -> None:
    assert [term.name for term in GLOSSARY.like("advant")] == ["mechanical advantage"]
    assert len(GLOSSARY.like("moment")) > 3
    assert GLOSSARY.like("mo") == []


# A teacher's own.


def test_a_term_of_an_own_folder_is_added_behind_those_that_ship(tmp_path: Path) -> None:
    catalogue = read(tmp_path, TERM)
    glossary = Glossary(catalogue.terms)
    assert not catalogue.faults
    assert [*catalogue.terms][-1] == "spanner"
    assert glossary.named("wrenches") is None
    wrench = glossary.named("wrench")
    assert wrench is not None
    assert wrench.picture == ("o====", " |")
    first, *others = [term.name for term in glossary.about("moment", "")]
    assert first == "moment"
    assert "spanner" in others


def test_a_term_of_an_own_folder_takes_the_place_of_one_that_ships(tmp_path: Path) -> None:
    own = TERM.replace('"spanner"', '"moment"')
    catalogue = read(tmp_path, own)
    assert catalogue.terms["moment"].what == "A spanner turns a nut."
    assert [*catalogue.terms] == [*CATALOGUE.terms]
    report = vetted(tmp_path, own)
    assert not report.faults
    assert ['takes the place of the term "moment"' in str(one) for one in report.remarks] == [True]


def test_a_file_with_a_fault_is_left_out_and_hides_nothing(tmp_path: Path) -> None:
    catalogue = read(tmp_path, TERM.replace("what =", "whit ="))
    assert catalogue.terms == CATALOGUE.terms
    assert any("whit" in str(fault) for fault in catalogue.faults)


def test_slips_and_terms_may_stand_in_one_file(tmp_path: Path) -> None:
    text = (Path(str(shipped("hints"))) / "steps.toml").read_text("utf-8")
    assert not vetted(tmp_path, TERM + text).faults


FAULTS = {
    'name = "spanner"': ("", "term[1].name: missing"),
    'what = "A spanner turns a nut."': ("", "term[1].what: missing; expected a sentence"),
    'everyday = "A long one turns it more easily."': ("", "term[1].everyday: missing"),
    'seen = "A nut with a long handle."': ("", "term[1].seen: missing; expected the picture in"),
    "turns a nut.": ("turns a nut", "what: found no full stop at its end"),
    "A spanner turns a nut": ("It turns. So it", "what: found more than one sentence"),
    '"moment"]': ('"momnt"]', "kinds: found 'momnt' (did you mean \"moment\"?)"),
    'also = ["wrench"]': ("also = [1]", "also: found [1]; expected a list of texts"),
    'kinds = ["moment"]': ('given = ["pound"]', "given: found 'pound'"),
    "  o====": ("x" * (COLUMNS + 1), f"expected at most {ROWS} rows of {COLUMNS}"),
    "   |\n": ("   |\n" * ROWS, f"found {ROWS + 1} rows of up to"),
    "o====": ("o==\u6f22=", "picture: found a character that takes no column, or two"),
    "o===": ("o=\u0301=", "picture: found a character that takes no column, or two"),
    'spanner"': ('spanner"\nhue = 3', "hue: unknown key"),
    'name = "span': (f'name = "{"x" * 60}', "characters; expected at most 40"),
    "A nut with": ("x" * 300 + " with", "expected at most 200"),
}


@pytest.mark.parametrize("found", FAULTS)
def test_vetting_names_what_is_wrong_with_a_term(found: str, tmp_path: Path) -> None:
    instead, fault = FAULTS[found]
    assert found in TERM
    report = vetted(tmp_path, TERM.replace(found, instead, 1))
    assert fault in told(report)


@pytest.mark.parametrize(
    "picture",
    [
        '"\\u001b[2J\\u001b]0;x\\u0007"',
        '"a\\tb"',
        '"\\u200b"',
        '"\\u202e"',
        "3",
        '""',
        '"  \\n \\n"',
        "[[]]",
    ],
)
def test_a_hostile_picture_is_told_as_a_fault_and_never_shown(picture: str, tmp_path: Path) -> None:
    text = re.sub(r"picture = '''.*?'''", lambda _: f"picture = {picture}", TERM, flags=re.DOTALL)
    report = vetted(tmp_path, text)
    assert "term[1].picture" in told(report)
    assert told(report).replace("\n", "").isprintable()
    assert read(tmp_path, text).terms == CATALOGUE.terms


def test_one_file_explains_a_term_once_and_not_too_many(tmp_path: Path) -> None:
    assert '"spanner" is taken in this file' in told(vetted(tmp_path, TERM * 2))
    many = "".join(TERM.replace("spanner", f"spanner {n}", 1) for n in range(600))
    assert "expected at most 500" in told(vetted(tmp_path, many))


def test_markup_in_a_term_stays_text(tmp_path: Path) -> None:
    catalogue = read(tmp_path, TERM.replace("turns a nut", "[bold red]turns[/] a nut"))
    assert catalogue.terms["spanner"].what == "A spanner [bold red]turns[/] a nut."
