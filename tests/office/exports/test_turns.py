"""Heavy answers take turns, and a turn is never lost."""

import pytest

from slabtide.office.turns import BusyError, Turns


def test_who_finds_no_turn_free_is_asked_to_come_again() -> None:
    turns = Turns(at_once=1, patience_s=0.01)
    give = turns.take()
    with pytest.raises(BusyError) as refused:
        turns.take()
    assert (refused.value.status, refused.value.retry_after_s) == (429, 10)
    give()
    turns.take()()


def test_a_turn_given_back_twice_is_one_turn() -> None:
    turns = Turns(at_once=1, patience_s=0.01)
    give = turns.take()
    give()
    give()
    turns.take()
    with pytest.raises(BusyError):
        turns.take()


def test_a_failure_inside_a_turn_gives_it_back() -> None:
    turns = Turns(at_once=1, patience_s=0.01)
    with pytest.raises(ValueError, match="inside"), turns.turn():
        raise ValueError("inside")
    turns.take()()
