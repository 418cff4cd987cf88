"""Sweeping: put off during a job, back after it, whatever happened in it."""

import gc

import pytest

from hilum.labels.job import make_labels
from hilum.labels.sweeping import put_off
from tests.labels.builders import some_labels


def test_sweeping_comes_back_when_the_last_job_has_ended() -> None:
    """Also after an error."""
    assert gc.isenabled()

    def broken_job() -> None:
        with put_off():
            assert not gc.isenabled()
            raise ZeroDivisionError

    with put_off():
        with pytest.raises(ZeroDivisionError):
            broken_job()
        assert not gc.isenabled()
    assert gc.isenabled()


def test_it_stays_off_where_it_was_off() -> None:
    """A job does not switch on what somebody else switched off."""
    gc.disable()
    try:
        with put_off():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()


def test_a_job_leaves_it_on() -> None:
    """Whole or refused."""
    make_labels(some_labels(2), "packet", "a4-3x8", title="x")
    assert gc.isenabled()
