"""Rings of dead objects are looked for in the window's own thread only.

Python collects in whichever thread happens to allocate. A closed page is such a ring; collected by a thread of the
pool, its Qt parts would die in the wrong thread, and the program with them. So collecting rests while the pool works.
"""

import gc


class Rest:
    """Counts who wants collecting to rest; the last who leaves lets it go on as it was. For the window's thread."""

    def __init__(self) -> None:
        self._wanted_by = 0
        self._was_on = True

    def begin(self) -> None:
        """Let collecting rest from now on."""
        if not self._wanted_by:
            self._was_on = gc.isenabled()
            gc.disable()
        self._wanted_by += 1

    def end(self) -> None:
        """Give up one's own wish for rest."""
        self._wanted_by -= 1
        if not self._wanted_by and self._was_on:
            gc.enable()

    def allow(self) -> None:
        """Switch collecting on: at once, or when the last who wants rest has left."""
        self._was_on = True
        if not self._wanted_by:
            gc.enable()

    def sweep(self) -> None:
        """Collect young garbage here and now: called in the window's thread while long work goes on."""
        gc.collect(1)


REST = Rest()
