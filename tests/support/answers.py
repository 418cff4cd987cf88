"""Someone who answers the window's questions at once, and remembers what was asked."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hilum.window.questions import Questions


@dataclass(frozen=True)
class Asked:
    """One question as it was put: its kind, its title, its words, and what stood on the button."""

    kind: str
    title: str
    words: str
    yes: str = ""


class Answers(Questions):
    """Says yes or no to every confirmation; gives the prepared texts and files in order, then none."""

    def __init__(
        self, *, yes: bool = True, texts: tuple[str, ...] = (), files: tuple[Path, ...] = ()
    ) -> None:
        self.yes = yes
        self.texts = list(texts)
        self.files = list(files)
        self.asked: list[Asked] = []

    def confirm(self, parent: Any, title: str, words: str, yes: str, on_yes: Callable[[], None]) -> None:
        """Answer a yes-or-no question."""
        self.asked.append(Asked("confirm", title, words, yes))
        if self.yes:
            on_yes()

    def ask_text(
        self, parent: Any, title: str, words: str, on_text: Callable[[str], None], start: str = ""
    ) -> None:
        """Answer with the next prepared words."""
        self.asked.append(Asked("text", title, words))
        if self.texts:
            on_text(self.texts.pop(0))

    def ask_open_file(self, parent: Any, title: str, filters: str, on_file: Callable[[Path], None]) -> None:
        """Answer with the next prepared file."""
        self.asked.append(Asked("open", title, filters))
        if self.files:
            on_file(self.files.pop(0))

    def ask_save_file(
        self, parent: Any, title: str, start: str | Path, filters: str, on_file: Callable[[Path], None]
    ) -> None:
        """Answer with the next prepared file."""
        self.asked.append(Asked("save", title, str(start)))
        if self.files:
            on_file(self.files.pop(0))

    def tell(self, parent: Any, title: str, words: str) -> None:
        """Hear what was said."""
        self.asked.append(Asked("tell", title, words))
