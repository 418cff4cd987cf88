"""Saved searches: list them, save one under a name, remove one."""

from argparse import Namespace
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.lots import SORTS, add_narrowing, narrowed
from hilum.commands.parser import Verbs

if TYPE_CHECKING:
    from hilum.benches.searches import SavedSearch


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    below = Verbs.below(
        verbs.add("searches", None, "searches saved by name", "Looked through with: hilum lots --saved NAME"),
        "list|save|remove",
    )
    below.add("list", _list, "list the saved searches")
    save = below.add(
        "save", _save, "save what is looked for under a name", "A search of the same name gives way."
    )
    save.add_argument("name", metavar="NAME", type=figures.words)
    add_narrowing(save)
    save.add_argument("--sort", choices=SORTS, metavar="ORDER", help="the order, as of hilum lots")
    save.add_argument("--descending", action="store_true", help="the other way round")
    remove = below.add("remove", _remove, "remove a saved search")
    remove.add_argument("name", metavar="NAME", type=figures.words)


def _list(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.searches import saved_searches

    with desk.catalogue(asked) as catalogue:
        found = saved_searches(catalogue)
    lines = [_line(search) for search in found] or ["No search is saved."]
    return answer({"searches": [search.as_json() for search in found]}, lines)


def _save(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.searches import save_search

    with desk.catalogue(asked) as catalogue:
        made = save_search(
            catalogue, asked.name, narrowed(asked), sort=asked.sort, descending=asked.descending
        )
    return answer(made.as_json(), [f"Saved: {_line(made)}"], changed=True)


def _remove(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.searches import forget_search

    with desk.catalogue(asked) as catalogue:
        name = forget_search(catalogue, asked.name)
    return answer({"removed": name}, [f"Removed: {name}"], changed=True)


def _line(search: "SavedSearch") -> str:
    values = search.as_json()
    parts = [name if value is True else f"{name} {value}" for name, value in values.items() if name != "name"]
    return f"{search.name}: {', '.join(parts)}"
