"""A symbol that is begun is completed as far as only one way is left."""

from __future__ import annotations

import pytest
from helpers.drills import SHELF
from helpers.pilots import press, settle
from helpers.screens import app_with
from leverstep.dialogue.symbols_told import completed
from textual.widgets import Input

SYMBOLS = ("W_f", "W_l", "F_m", "L", "d_m", "M_sum", "M_l", "g")


@pytest.mark.parametrize(
    ("before", "rest"),
    [
        ("F", "_m"),
        ("2*F_", "m"),
        ("W", "_"),  # W_f or W_l
        ("M_s", "um"),
        ("-", ""),
        ("", ""),
        ("F_m", ""),
        ("F_m ", ""),
        ("f", ""),  # case counts: m_l is no M_l
        ("X", ""),
        ("12.5", ""),
    ],
)
def test_only_what_is_sure_is_completed(before: str, rest: str) -> None:
    assert completed(before, SYMBOLS) == rest


async def test_tab_completes_a_symbol_before_the_cursor() -> None:
    async with app_with(SHELF).run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await press(pilot, *"2*F", "tab")
        field = pilot.app.screen.query_one("#entry", Input)
        assert field.value == "2*F_m"
        await press(pilot, "home", "tab")
        assert field.value == "2*F_m"
        assert pilot.app.screen.focused is field
