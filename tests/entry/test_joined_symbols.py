"""Symbols written with no sign between them are their product, where that can be only one."""

from __future__ import annotations

import pytest
from leverstep.course.shelf import load_shelf
from leverstep.entry.vocabulary import Vocabulary
from leverstep.working.guidance import Guidance
from leverstep.working.verdict import Outcome
from leverstep.working.working import Working

PAIL = load_shelf().problems["elbow-full-pail"].question("7")


@pytest.mark.parametrize(
    ("key", "typed"),
    [
        ("W_f", "mfg"),
        ("W_f", "m_fg"),
        ("W_l", "mlg"),
        ("equation", "Fmdm=Wfdf+Wldl"),
        ("equation", "F_md_m - W_fd_f - W_ld_l = 0"),
        ("M_f", "-Wfdf"),
        ("M_l", "-1·Wldl"),
    ],
)
def test_a_line_in_joined_symbols_is_right(key: str, typed: str) -> None:
    working = Working(PAIL)
    for before in ("W_f", "W_l", "L", "d_l", "d_m", "d_f"):
        if before != key:
            value = PAIL.right[before]
            working.enter(before, f"{value:.5g} {working.step(before).unit}")
    assert working.enter(key, typed).outcome is Outcome.RIGHT


@pytest.mark.parametrize(
    ("symbols", "word", "parts"),
    [
        ({"W_f", "d_f"}, "Wfdf", ("Wf", "df")),
        ({"m_f", "g"}, "mfg", ("mf", "g")),
        ({"m_f", "g"}, "mfG", ()),  # a symbol of one letter is as it is written
        ({"m", "g"}, "mg", ()),  # which is a unit
        ({"L", "g"}, "Lg", ()),  # two single letters may be a word
        ({"W_f", "W_fd", "d_f", "f"}, "Wfdf", ()),  # W_f·d_f, or W_fd·f
        ({"M_f", "d_f"}, "Mfx", ()),
        ({"N_m", "m"}, "Nm", ()),
        ({"a_b"}, "ab" * 40, ()),
    ],
)
def test_a_word_is_parted_only_where_one_way_is_left(symbols, word, parts) -> None:
    assert Vocabulary(symbols).joined(word) == parts


def test_a_mass_is_told_from_a_moment_by_its_letter() -> None:
    both = Vocabulary({"m_l", "M_l"})
    assert (both.symbol("ml"), both.symbol("Ml")) == ("m_l", "M_l")


@pytest.mark.parametrize(("typed", "code"), [("d", -1), ("u", 1), ("d l", -4), ("r, u", 4)])
def test_a_way_may_be_said_by_its_first_letter(typed: str, code: int) -> None:
    question = load_shelf().problems["knee-half-straight"].question("7")
    working = Working(question)
    reading = working.enter("R_dir", typed)
    assert reading.outcome is not Outcome.UNREAD
    assert working.lines["R_dir"].reading.value == code


@pytest.mark.parametrize("guidance", [Guidance.LINES, Guidance.BLANK])
@pytest.mark.parametrize("typed", ["d", "l", "i", "u r"])
def test_a_letter_says_a_way_only_where_one_is_asked_for(typed: str, guidance: Guidance) -> None:
    """An L in haste is not the direction."""
    working = Working(PAIL, guidance)
    verdict = working.enter_open("L", typed) if guidance is Guidance.LINES else working.write(typed)
    assert verdict.outcome is Outcome.UNREAD
    assert verdict.step in ("", "L")
    assert not working.lines
