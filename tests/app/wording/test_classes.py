"""What is told by a class is said in words, whatever its figure."""

from __future__ import annotations

import pytest

from app.wording.units import METRIC, US
from app.wording.wording import Wording
from resources.loader import load_catalogue
from schedules.facts import LimitCode

LEAK = load_catalogue().limits[LimitCode("L52")]


@pytest.mark.parametrize(
    ("figure", "said"),
    [(0, "0\u00a0(dry)"), (2, "2\u00a0(drops that hang)"), (3, "3\u00a0(drops that fall)")],
)
def test_a_leak_is_said_by_what_is_seen(figure: int, said: str) -> None:
    for words in (
        Wording("en_GB", METRIC, load_catalogue()),
        Wording("en_US", US, load_catalogue()),
    ):
        assert words.amount(LEAK, figure) == said


def test_where_it_means_work_is_said_so_too() -> None:
    words = Wording("en_GB", METRIC, load_catalogue())
    assert words.worn_when(LEAK) == "3\u00a0(drops that fall) or more"
    assert words.amount(LEAK, 7) == "7"
