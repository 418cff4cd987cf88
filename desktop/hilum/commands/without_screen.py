"""Without a screen: the main job on the demo library, from the due list to a proofed sheet of packet labels."""

from pathlib import Path

from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.files import PdfFile
from hilum.commands.lots import lot_table

LABEL_STOCK, LABELS_ON_A_SHEET = "a4-3x8", 24


def main_job(desk: Desk, named: str | None) -> Answer:
    """List what is due today and write one sheet of packet labels into the current folder.

    `named` is a catalogue that was asked for; without one it is the demo library.
    """
    from hilum.benches import keeping
    from hilum.benches.folders import ready_demo
    from hilum.benches.lots import LotFilter, find_lots
    from hilum.benches.printing import LabelJob, lot_labels

    today = desk.clock().date()
    target = Path.cwd() / f"hilum-packet-labels-{today.isoformat()}.pdf"
    place = ready_demo(clock=desk.clock) if named is None else named
    with PdfFile(target) as file, keeping.open_at(place, clock=desk.clock) as catalogue:
        due = find_lots(catalogue, LotFilter(due=True), on=today, sort="due")
        chosen = due if due.lots else find_lots(catalogue, LotFilter(), on=today)
        numbers = [each.number for each in chosen.lots if each.line.place_grown][:LABELS_ON_A_SHEET]
        sheets = lot_labels(catalogue, numbers, LabelJob("packet", LABEL_STOCK), on=today)
        file.write(sheets.pdf)
        where = catalogue.where
    proof = f"{sheets.proof.read} of {sheets.proof.codes} codes read back"
    whose = "the demo library of an invented valley" if named is None else "the catalogue"
    lines = [
        f"There is no window here. This is {whose}:",
        where,
        "",
        f"Due for a germination test on {today.isoformat()}: {due.total} lots",
        "",
        *lot_table(due.lots, with_reasons=True),
        "",
        f"A sheet of {sheets.labels} packet labels, {proof}:",
        str(target),
        "",
        "All other work is done by command, see: hilum --help",
        "Where there is a screen, a window opens: hilum, or hilum --demo",
    ]
    document = {
        "catalogue": where,
        "on": today.isoformat(),
        "due": [each.as_json() for each in due.lots],
        "total": due.total,
        "labels": sheets.labels,
        "proof": {
            "codes": sheets.proof.codes,
            "read": sheets.proof.read,
            "unread": list(sheets.proof.unread),
        },
        "file": str(target),
    }
    return answer(document, lines, changed=True)
