"""Lists and mappings that grow: they behave as a tuple and a dict, and no earlier one changes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from session.walk.shared_maps import GrownList, GrownMap

#: From which of those made so far the next one grows, and by what.
GROWTHS = st.lists(st.tuples(st.integers(0, 9), st.integers(0, 4), st.integers(0, 99)), max_size=25)


@given(GROWTHS)
def test_a_list_is_what_a_tuple_would_be_whichever_of_them_grows(growths: list[tuple[int, int, int]]) -> None:
    made: list[tuple[GrownList[int], tuple[int, ...]]] = [(GrownList(), ())]
    for back, count, item in growths:
        grown, like = made[max(0, len(made) - 1 - back)]
        made.append((grown.plus(*[item] * count), like + (item,) * count))
    for grown, like in made:
        assert grown == like
        assert (len(grown), list(grown), list(reversed(grown))) == (len(like), list(like), list(reversed(like)))
        assert (grown[:3], grown[-3:], grown[1:-1:2]) == (like[:3], like[-3:], like[1:-1:2])
        assert [grown[-1], grown[0]] == [like[-1], like[0]] if like else not grown
        with pytest.raises(IndexError):
            grown[len(like)]


@given(GROWTHS)
def test_a_mapping_is_what_a_dict_would_be_whichever_of_them_grows(growths: list[tuple[int, int, int]]) -> None:
    made: list[tuple[GrownMap[int, int], dict[int, int]]] = [(GrownMap(), {})]
    for back, key, item in growths:
        grown, like = made[max(0, len(made) - 1 - back)]
        made.append((grown.plus(key, item), {**like, key: item}))
    for grown, like in made:
        assert grown == like
        assert list(grown.items()) == list(like.items()), "keys keep the place at which they came"
        assert (len(grown), [key in grown for key in range(6)]) == (len(like), [key in like for key in range(6)])
        assert grown.get(5) is None
        assert list(GrownMap.of(like).items()) == list(like.items())


@given(st.lists(st.integers(0, 20)), st.lists(st.integers(0, 20)))
def test_it_counts_the_keys_that_it_holds_and_no_later_ones(first: list[int], later: list[int]) -> None:
    grown: GrownMap[int, str] = GrownMap()
    for key in first:
        grown = grown.plus(key, "first")
    after = grown
    for key in later:
        after = after.plus(key, "later")
    assert grown.holds(range(21)) == len(set(first))
    assert after.holds(range(21)) == len({*first, *later})
