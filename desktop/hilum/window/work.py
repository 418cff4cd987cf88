"""The working day: the open catalogue, the clock, and work that runs beside the window."""

import sys
import threading
import time
from collections.abc import Callable
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, TypeVar

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal, Slot

from hilum.errors import KeeperError
from hilum.window.changes import Changes
from hilum.window.garbage import REST

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue

Result = TypeVar("Result")
# Seconds between two reports of progress; more often nobody can read them.
THROTTLE_S = 0.05
PROGRAM_FAULT = "Something went wrong in the program itself. Nothing was changed; the log says more."


class Task(QObject):
    """One piece of work in the pool, as the window's thread knows it; nothing of it is ever handed to the pool."""

    def __init__(
        self,
        done: Callable[[Any], None],
        failed: Callable[[str], None],
        progress: Callable[[int, int], None] | None,
    ) -> None:
        super().__init__()
        self._done, self._failed, self._progress = done, failed, progress
        self.stop = threading.Event()
        self._wanted = True
        self._owners = _owners(done, failed, progress)
        for owner in self._owners:
            owner.destroyed.connect(self.forget)

    @property
    def can_stop(self) -> bool:
        """Whether this is work that tells how far it is and can be stopped; other work is short."""
        return self._progress is not None

    @property
    def is_cancelled(self) -> bool:
        """Whether the work was asked to stop."""
        return self.stop.is_set()

    def cancel(self) -> None:
        """Ask the work to stop; work that can stop then fails in words, and nothing of it is kept."""
        self.stop.set()

    @Slot()
    def forget(self) -> None:
        """Tell nobody of the end: the page that asked has been closed meanwhile."""
        self._wanted = False

    def end(self, result: Any, error: BaseException | None) -> None:
        """Hand the result, or the words of the error, to whoever started the work."""
        if not self._wanted:
            return
        if error is None:
            self._done(result)
        elif isinstance(error, KeeperError):
            self._failed(str(error))
        else:
            self._failed(PROGRAM_FAULT)
            sys.excepthook(type(error), error, error.__traceback__)

    def let_go(self) -> tuple[QObject, ...]:
        """Part from whoever started the work, and give them.

        The task may be the last that holds a closed page. Dying inside it, the page would tell a task that is half
        gone already: so whoever calls this keeps the owners until the task itself has gone.
        """
        owners, self._owners = self._owners, ()
        self._wanted = False
        self._done, self._failed, self._progress = _nobody, _nobody, None
        return owners

    def move_on(self, reached: int, of: int) -> None:
        """Hand on how far the work is."""
        if self._progress is not None and self._wanted:
            self._progress(reached, of)


def _nobody(_told: object) -> None:
    """Hear the end of work that nobody waits for."""


def _owners(*functions: Callable[..., Any] | None) -> tuple[QObject, ...]:
    """Give the Qt objects that functions belong to, as methods or by what they close over."""
    found: list[object] = []
    for function in functions:
        found.append(getattr(function, "__self__", None))
        found += [cell.cell_contents for cell in getattr(function, "__closure__", None) or ()]
    return tuple(owner for owner in found if isinstance(owner, QObject))


class _Herald(QObject):
    """Carries plain values from the pool to the window's thread: Qt queues what is emitted elsewhere."""

    ended = Signal(int, object, object)
    moved_on = Signal(int, int, int)


class _Run(QRunnable):
    """What the pool runs: a function with plain arguments. It knows its task by number only.

    A Qt object must die in its own thread. Held here, a task, and through it a page, could die in the pool's.
    """

    def __init__(
        self,
        number: int,
        herald: _Herald,
        function: Callable[..., Any],
        arguments: tuple[Any, ...],
        stop: threading.Event | None,
    ) -> None:
        super().__init__()
        self._number, self._herald, self._stop = number, herald, stop
        self._function, self._arguments = function, arguments
        self._last = 0.0

    def run(self) -> None:
        more: dict[str, Any] = {}
        if self._stop is not None:
            more = {"progress": self._moved_on, "stop": self._stop.is_set}
        result, error = None, None
        try:
            result = self._function(*self._arguments, **more)
        except BaseException as caught:
            # Told to the window's thread, which shows or logs it.
            error = caught
        self._herald.ended.emit(self._number, result, error)

    def _moved_on(self, reached: int, of: int) -> None:
        now = time.monotonic()
        if reached >= of or now - self._last >= THROTTLE_S:
            self._last = now
            self._herald.moved_on.emit(self._number, reached, of)


class Pool(QObject):
    """Runs work beside the window; results come back into the window's thread."""

    trouble = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._herald = _Herald()
        self._under_way: dict[int, Task] = {}
        # Work for which the collecting of garbage still rests.
        self._resting: set[int] = set()
        self._last_number = 0
        self._herald.ended.connect(self._on_ended)
        self._herald.moved_on.connect(self._on_moved_on)

    def run(
        self,
        function: Callable[..., Any],
        *arguments: Any,
        done: Callable[[Any], None],
        failed: Callable[[str], None] | None = None,
        progress: Callable[[int, int], None] | None = None,
    ) -> Task:
        """Run a bench function in the pool; `done` gets its result, `failed` the words of what went wrong.

        All three are called in the window's thread. With `progress` the function is handed the keywords
        `progress(reached, of)` and `stop()`. Without `failed` the words go to `trouble`.
        """
        task = Task(done, failed or self.trouble.emit, progress)
        self._last_number += 1
        self._under_way[self._last_number] = task
        self._resting.add(self._last_number)
        REST.begin()
        stop = task.stop if progress is not None else None
        self._pool.start(_Run(self._last_number, self._herald, function, arguments, stop))
        return task

    @property
    def is_busy(self) -> bool:
        """Whether work is going on that stopping would break off."""
        return any(task.can_stop for task in self._under_way.values())

    def finish(self) -> None:
        """Ask all running work to stop and wait until it has."""
        for task in self._under_way.values():
            task.cancel()
        self._pool.waitForDone()
        # Their ends may never be heard any more.
        for number in tuple(self._resting):
            self._rest_over(number)

    def _rest_over(self, number: int) -> None:
        if number in self._resting:
            self._resting.remove(number)
            REST.end()

    @Slot(int, object, object)
    def _on_ended(self, number: int, result: Any, error: BaseException | None) -> None:
        task = self._under_way.pop(number)
        self._rest_over(number)
        owners: tuple[QObject, ...] = ()
        try:
            task.end(result, error)
        finally:
            owners = task.let_go()
            del task
        del owners

    @Slot(int, int, int)
    def _on_moved_on(self, number: int, reached: int, of: int) -> None:
        if number in self._under_way:
            REST.sweep()
            self._under_way[number].move_on(reached, of)


class WorkDay(Pool):
    """What every page works with: the open catalogue, the day, changes, and the pool for longer work."""

    def __init__(
        self, catalogue: "Catalogue", clock: Callable[[], datetime], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.catalogue = catalogue
        self.changes = Changes(self)
        self._clock = clock

    def now(self) -> datetime:
        """Give the moment by the window's clock."""
        return self._clock()

    def today(self) -> date:
        """Give the day by the window's clock."""
        return self.now().date()

    def attempt(self, function: Callable[..., Result], *arguments: Any, **more: Any) -> Result | None:
        """Make one short bench call here and now; what the keeper can mend goes to `trouble`, giving None."""
        try:
            return function(*arguments, **more)
        except KeeperError as error:
            self.trouble.emit(str(error))
            return None

    def did(self, function: Callable[..., Any], *arguments: Any, **more: Any) -> bool:
        """Make one short bench call that gives nothing back; says whether it was done."""
        try:
            function(*arguments, **more)
        except KeeperError as error:
            self.trouble.emit(str(error))
            return False
        return True
