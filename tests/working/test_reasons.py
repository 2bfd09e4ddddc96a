"""Reasons are codes; each has its words, and what is put into these is what was found."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache

import pytest
from helpers.source import PACKAGE
from leverstep.entry.tree import Reason
from leverstep.working.reasons import WORDS, reason_words


def _named(call: ast.Call) -> Iterator[str]:
    yield from (word.arg for word in call.keywords if word.arg not in (None, "place"))


@cache
def given() -> set[tuple[str, tuple[str, ...]]]:
    """Return the code of each reason that the program gives, with what it puts into the words."""
    return set(_given())


def _given() -> Iterator[tuple[str, tuple[str, ...]]]:
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            is_call = isinstance(node, ast.Call) and node.args
            if is_call and ast.unparse(node.func) in ("Unreadable", "Reason", "Reason.of"):
                (code,) = node.args[:1]
                if isinstance(code, ast.Constant):
                    yield code.value, tuple(sorted(_named(node)))


def test_every_reason_given_has_words_and_no_words_are_left_over() -> None:
    assert {code for code, _ in given()} == set(WORDS)


def test_what_the_words_ask_for_is_put_in() -> None:
    for code, named in given():
        assert set(re.findall(r"\{(\w+)\}", WORDS[code])) == set(named), code


@pytest.mark.parametrize("words", WORDS.values())
def test_words_are_one_sentence_after_a_colon(words: str) -> None:
    assert words.endswith((".", "?"))
    assert words.count(".") - words.count("}.{") <= 1
    assert words[0].islower() or words[0] == "{"


def test_a_word_that_was_typed_is_put_in_as_it_is() -> None:
    assert reason_words(Reason.of("unknown_word", found="force")).startswith(
        "force is not a symbol"
    )
    assert reason_words(Reason.of("no_value_yet", name="theta")) == "θ has no value yet."
    told = reason_words(Reason.of("which_symbol", found="d", choices="d_f d_l d_m"))
    assert told == "d may be d_f, d_l or d_m here; write which one it is."
    assert reason_words(Reason.of("several_unknown", names="F_m R_y")).startswith("F_m and R_y")
    for unit, told in (("N", "in N that is 2.25."), ("", "as a bare number that is 2.25.")):
        assert reason_words(Reason.of("converted", in_unit=unit, value="2.25")) == told
    assert reason_words(None) == ""
