"""Terms of the course as they are told: those of a line, those asked for by a word, and all."""

from __future__ import annotations

from collections.abc import Iterator

from leverstep.course.phrases import capital
from leverstep.course.plain_text import near, plain
from leverstep.course.problem import Question
from leverstep.glossary.glossary import Glossary
from leverstep.glossary.term import GlossaryTerm
from leverstep.statics.step import Step
from leverstep.working.wording import ask, given_about

MOST_LIKE = 6
"""Terms that are named where a word is part of several."""

_LISTS = "Type terms to hear them all."


def terms_of_line(glossary: Glossary, question: Question, step: Step) -> list[GlossaryTerm]:
    """Return the terms that a line is about, the one that matters most first."""
    given = given_about(question, step)
    unit = "" if given is None else given.unit
    return glossary.about(step.kind.name, unit, ask(question, step))


def called_too(term: GlossaryTerm) -> str:
    """Return what a term is also called, "" where it has one name."""
    return f"Also: {', '.join(term.also)}." if term.also else ""


def term_said(term: GlossaryTerm) -> Iterator[str]:
    """Yield the lines that say a term, its picture in words."""
    yield capital(f"{term.name}.")
    if also := called_too(term):
        yield also
    yield term.what
    yield term.everyday
    yield f"Picture: {term.seen}"


def term_looked_up(glossary: Glossary, typed: str, of_line: list[GlossaryTerm]) -> Iterator[str]:
    """Yield what to say of a term that is asked for.

    Args:
        glossary: where it is looked for.
        typed: what was typed of it, "" for the term of the line at hand.
        of_line: the terms of the line at hand, none where there is none.
    """
    if not typed:
        yield from _of_line(of_line)
        return
    found = glossary.named(typed)
    like = [] if found else glossary.like(typed)
    if found is None and len(like) == 1:
        (found,) = like
    if found is not None:
        yield from term_said(found)
    elif like:
        names = ", ".join(term.name for term in like[:MOST_LIKE])
        yield f"Several terms contain that: {names}. Type term and one of them."
    else:
        meant = near(typed.lower(), glossary.terms)
        yield f"There is no term of that name{plain(meant)}. {_LISTS}"


def _of_line(of_line: list[GlossaryTerm]) -> Iterator[str]:
    if not of_line:
        yield f"Type term and a word, such as term moment arm. {_LISTS}"
        return
    yield from term_said(of_line[0])
    if others := ", ".join(term.name for term in of_line[1:]):
        yield f"This line is also about: {others}. Type term and one of them. {_LISTS}"


def terms_listed(glossary: Glossary) -> str:
    """Return the names of all terms in a sentence."""
    names = ", ".join(term.name for term in glossary.by_name)
    return f"The terms are: {names}. Type term and one of them."
