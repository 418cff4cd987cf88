"""Closed pages die in the window's thread: nothing is collected while the pool works."""

import gc
from typing import Any

from hilum.window.garbage import Rest
from hilum.window.work import Pool


def test_collecting_rests_while_the_pool_works_and_goes_on_after(qtbot: Any):
    """Seen from within the work itself, for two pieces at once and after one that fails."""
    seen: list[bool] = []

    def work() -> None:
        seen.append(gc.isenabled())

    def broken() -> None:
        seen.append(gc.isenabled())
        raise KeyError("broken")

    pool, ended = Pool(), list[object]()
    assert gc.isenabled()
    with qtbot.captureExceptions():
        pool.run(work, done=ended.append)
        pool.run(work, done=ended.append)
        pool.run(broken, done=ended.append, failed=ended.append)
        qtbot.waitUntil(lambda: len(ended) == 3)
    assert seen == [False, False, False]
    assert gc.isenabled()


def test_a_pool_that_is_finished_wants_no_rest_any_more(qtbot: Any):
    """Also where nobody hears the ends of its work."""
    pool = Pool()
    pool.run(int, done=str)
    assert not gc.isenabled()
    pool.finish()
    assert gc.isenabled()
    del pool


def test_what_was_off_before_stays_off_until_it_is_allowed():
    """The start of the program switches collecting off, and on again while work may be going on."""
    rest = Rest()
    gc.disable()
    try:
        rest.begin()
        rest.end()
        assert not gc.isenabled()
        rest.begin()
        rest.allow()
        assert not gc.isenabled()
        rest.end()
        assert gc.isenabled()
    finally:
        gc.enable()
