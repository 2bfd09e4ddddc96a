"""A line cut into chains of sides that are said to be equal, and the words around them."""

from __future__ import annotations

import pytest
from leverstep.claims.rows import cells_of
from leverstep.claims.segments import MOST_CHAINS, chains_of

KNOWN = {"W_f", "F_m", "g"}


@pytest.mark.parametrize(
    ("line", "chains"),
    [
        ("1.5 * 9.81 = 14.7 N", [("", "1.5 * 9.81 = 14.7 N", "")]),
        ("weight of arm 1.5 * 9.81 = 14.7 N", [("weight of arm", "1.5 * 9.81 = 14.7 N", "")]),
        (
            "arm 1.5 * 9.81 = 14.7 N at 0.682 * 25.2 = 17.2 cm",
            [("arm", "1.5 * 9.81 = 14.7 N", "at"), ("at", "0.682 * 25.2 = 17.2 cm", "")],
        ),
        ("sin26 = 0.438", [("", "sin 26 = 0.438", "")]),
        ("it is 42.2 N (shank+foot)", [("it is", "42.2 N", ", shank foot ,")]),
        ("now moments about the elbow", []),
        ("", []),
    ],
)
def test_a_line_is_cut_into_chains(line: str, chains: list[tuple[str, str, str]]) -> None:
    found = chains_of(line, KNOWN)
    assert [(one.before, one.text, one.behind) for one in found] == chains


def test_symbols_are_kept_by_name() -> None:
    (chain,) = chains_of("W_f = m * g = 16.2 N", KNOWN)
    assert set(chain.names.values()) == {"W_f", "m", "g"}
    assert len(chain.sides) == 3


def test_what_can_not_be_one_chain_is_cut_in_two() -> None:
    assert [one.text for one in chains_of("W_f = 16.2 5 * 3 = 15", KNOWN)] == [
        "q0z = 16.2",
        "5 * 3 = 15",
    ]


def test_a_chain_that_begins_with_an_equals_sign_or_a_factor_says_so() -> None:
    (leading,) = chains_of("the total = 5 N", KNOWN)
    (factor,) = chains_of("* 9.81 = 16.2 N", KNOWN)
    assert leading.leads
    assert factor.times == "*"


def test_a_line_has_so_many_chains_at_most() -> None:
    assert len(chains_of("a = 1 N ; " * 40, KNOWN)) == MOST_CHAINS


@pytest.mark.parametrize(
    ("row", "cells"),
    [
        ("| pail | 48.9 | 35.0 |", ["pail", "48.9", "35.0"]),
        ("pail\t48.9\t35.0", ["pail", "48.9", "35.0"]),
        ("pail    48.9    35.0", ["pail", "48.9", "35.0"]),
        ("total | | 19.9", ["total", "", "19.9"]),
        ("W_f = 16.2 N", ["W_f = 16.2 N"]),
        ("| force | arm | moment |", ["| force | arm | moment |".strip("|")]),
    ],
)
def test_a_row_is_cut_into_cells(row: str, cells: list[str]) -> None:
    assert cells_of(row) == cells


def test_a_capital_that_is_a_unit_too_is_a_symbol_before_another_one() -> None:
    (chain,) = chains_of("W d_b cos 15.5° = F d_h cos 15.5°", {"W_b", "d_b", "d_h"})
    assert chain.symbols_in(*chain.sides) == ["W", "d_b", "F", "d_h"]
