"""Terms as they are told: that of the line, one that is asked for, all of them."""

from __future__ import annotations

import pytest
from helpers.material import CATALOGUE
from leverstep.course.shelf import load_shelf
from leverstep.dialogue.terms_told import (
    called_too,
    term_looked_up,
    term_said,
    terms_listed,
    terms_of_line,
)
from leverstep.glossary.glossary import Glossary

GLOSSARY = Glossary(CATALOGUE.terms)
PAIL = load_shelf().problems["elbow-full-pail"].question("7")


def names_of(key: str) -> list[str]:
    step = PAIL.derivation.step(key)
    return [term.name for term in terms_of_line(GLOSSARY, PAIL, step)]


def asked(typed: str, key: str = "") -> list[str]:
    of_line = terms_of_line(GLOSSARY, PAIL, PAIL.derivation.step(key)) if key else []
    return [*term_looked_up(GLOSSARY, typed, of_line)]


def test_the_unit_of_the_given_decides_which_term_a_weight_is_about() -> None:
    assert names_of("W_l")[0] == "pound and pound-force"
    assert names_of("W_f")[0] == "mass and weight"


def test_the_words_of_the_question_follow() -> None:
    assert names_of("M_l")[:3] == ["moment", "sense of rotation", "newton metre"]
    assert names_of("class")[0] == "class of lever"


@pytest.mark.parametrize("name", CATALOGUE.terms)
def test_a_term_is_said_whole_and_its_picture_in_words(name: str) -> None:
    term = CATALOGUE.terms[name]
    lines = [*term_said(term)]
    assert lines[0].lower() == f"{name.lower()}."
    assert lines[-3:] == [term.what, term.everyday, f"Picture: {term.seen}"]
    assert all(line.isprintable() for line in lines)
    assert not any(row.strip() in lines for row in term.picture)
    assert called_too(term) in lines or not term.also


def test_the_term_of_the_line_is_said_where_none_is_named() -> None:
    first, *_, more = asked("", "M_l")
    assert first == "Moment."
    assert more.startswith("This line is also about: sense of rotation, newton metre")
    (how,) = asked("")
    assert how.startswith("Type term and a word")


def test_a_word_is_looked_up_whole_or_in_part_or_something_like_it_is_named() -> None:
    assert asked("lever arm", "M_l")[0] == "Moment arm."
    assert asked("advant")[0] == "Mechanical advantage."
    (several,) = asked("mome")
    assert several.startswith("Several terms contain that: couple, moment, moment arm")
    (meant,) = asked("equilibirum")
    assert 'did you mean "equilibrium"' in meant
    (none,) = asked("\x1b[2Jxyzzy")
    assert none == "There is no term of that name. Type terms to hear them all."


def test_all_terms_are_named() -> None:
    listed = terms_listed(GLOSSARY)
    assert all(name in listed for name in CATALOGUE.terms)
