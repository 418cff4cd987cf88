"""Keeping: make a catalogue, copy it, bring a copy back, look it through."""

from argparse import Namespace
from collections.abc import Sequence
from pathlib import Path

from hilum.commands.answer import DONE, FAILED, Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs
from hilum.commands.terminal import wrapped
from hilum.errors import BadInput, KeeperError


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    new = verbs.add(
        "new", _new, "make a new catalogue", "A file that is already there is never written over."
    )
    new.add_argument(
        "where", metavar="WHERE", nargs="?", help="a file such as library.hilum, or a database address"
    )
    new.add_argument(
        "--demo", dest="with_demo", action="store_true", help="put the invented demo library into it"
    )
    backup = verbs.add(
        "backup", _backup, "write a checked copy of the whole catalogue",
        "A file that is already there is never written over: give each copy a name of its own.",
    )  # fmt: skip
    backup.add_argument("file", metavar="FILE", type=Path)
    copy_to = verbs.add(
        "copy-to", _copy_to, "copy the whole catalogue into a new file or onto a server",
        "From a file to an empty PostgreSQL database or back; every row is compared. Go on with the copy afterwards.",
    )  # fmt: skip
    copy_to.add_argument("where", metavar="WHERE", help="a file such as library.hilum, or a database address")
    restore = verbs.add(
        "restore", _restore, "put a copy in the place of the catalogue",
        "The catalogue that was there is kept beside it under another name.",
    )  # fmt: skip
    restore.add_argument("file", metavar="FILE", type=Path)
    pack = verbs.add(
        "hand-over", _hand_over, "write a pack for the next keeper",
        "The whole catalogue, tables, printed lists, and a page that says how to go on.",
    )  # fmt: skip
    pack.add_argument(
        "place", metavar="WHERE", type=Path, help="a folder to be made, or one file that ends in .zip"
    )
    pack.add_argument(
        "--with-people", action="store_true", help="with the names of growers, donors and helpers"
    )
    verbs.add("check", _check, "look through the whole catalogue for anything that is not right")


def _new(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import keeping

    where = asked.where or desk.where(asked)
    with keeping.make(where, clock=desk.clock, demo=asked.with_demo) as catalogue:
        lots = keeping.counted_lots(catalogue)
        what = f"A new catalogue with the demo library: {lots} lots." if lots else "A new, empty catalogue."
        return answer(
            {"catalogue": catalogue.where, "lots": lots},
            [what, keeping.where_it_lies(catalogue)],
            changed=True,
        )


def _backup(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import keeping

    with desk.catalogue(asked) as catalogue:
        made = keeping.backup(catalogue, asked.file)
        lots = keeping.counted_lots(catalogue)
    return answer(
        {"ok": True, "findings": [], "file": str(made), "lots": lots},
        [f"Copied and checked: {lots} lots, in {made}"],
        changed=True,
    )


def _copy_to(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.moving import copy_whole

    with desk.catalogue(asked) as catalogue:
        copied = copy_whole(catalogue, asked.where, clock=desk.clock)
    return answer(
        {"ok": True, "catalogue": copied.where, "lots": copied.lots, "rows": sum(copied.rows.values())},
        wrapped(copied.words),
        changed=True,
    )


def _restore(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import keeping

    where = desk.where(asked)
    if "://" in where:
        raise BadInput(
            "A catalogue on a server is restored with the server's own tools; ask whoever runs the server."
        )
    kept = keeping.restore(asked.file, Path(where).expanduser(), clock=desk.clock)
    lots, findings = _looked_through(where, desk)
    lines = [f"Restored: {where}" if lots is None else f"Restored: {lots} lots, in {where}"]
    if kept is not None:
        lines.append(f"What was there before is kept as {kept}")
    return answer(
        {
            "ok": not findings,
            "findings": list(findings),
            "catalogue": where,
            "lots": lots,
            "kept": None if kept is None else str(kept),
        },
        [*lines, *_found(findings)],
        changed=True,
    )


def _looked_through(where: str, desk: Desk) -> tuple[int | None, tuple[str, ...]]:
    """Look through what was brought back; by now a trouble with it is a finding, for something has changed."""
    from hilum.benches import keeping

    try:
        with keeping.open_at(where, clock=desk.clock) as catalogue:
            return keeping.counted_lots(catalogue), keeping.check(catalogue).findings
    except KeeperError as trouble:
        return None, (str(trouble),)


def _hand_over(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.hand_over import hand_over

    with desk.catalogue(asked) as catalogue:
        done = hand_over(
            catalogue, asked.place.expanduser().absolute(), on=desk.day(asked), with_people=asked.with_people
        )
    lines = [f"The pack for the next keeper lies in {done.place}: {done.lots} lots."]
    lines += [f"  {name}: {words}" for name, words in done.files]
    lines += [line for words in done.warnings for line in wrapped(words)]
    return answer(
        {
            "place": str(done.place),
            "files": [name for name, _ in done.files],
            "lots": done.lots,
            "with_people": done.with_people,
            "warnings": list(done.warnings),
        },
        lines,
        changed=True,
    )


def _check(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import keeping

    with desk.catalogue(asked) as catalogue:
        report = keeping.check(catalogue)
        lots = keeping.counted_lots(catalogue)
    number = len(report.findings)
    return answer(
        {"ok": report.ok, "findings": list(report.findings), "lots": lots},
        _found(report.findings) or [f"All is well: {lots} lots looked through."],
        trouble=""
        if report.ok
        else f"{number} {'thing is' if number == 1 else 'things are'} not as they should be.",
        exit_code=DONE if report.ok else FAILED,
    )


def _found(findings: Sequence[str]) -> list[str]:
    return [line for finding in findings for line in wrapped(f"- {finding}")]
