"""The print book: what was printed, and any label of it once more; and papers to work from."""

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.files import PdfFile
from hilum.commands.labels import OVERWRITES, sheet_lines, sheets_document
from hilum.commands.parser import Verbs, add_day
from hilum.commands.terminal import wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue
    from hilum.benches.print_book import PrintBookLine
    from hilum.benches.printing import LabelSheets

PAPERS = ("count", "picking", "stocktake", "tally")


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    printed = verbs.add("printed", _printed, "list what was printed, or print a job of it again",
                        f"With a job's number and -o its labels are made again as they were. {OVERWRITES}")  # fmt: skip
    printed.add_argument(
        "job", metavar="JOB", nargs="?", type=figures.positive, help="the number of a print job"
    )
    printed.add_argument(
        "--lot", metavar="LOT", type=figures.words, default="", help="only jobs with a label of this lot"
    )
    printed.add_argument(
        "--limit", metavar="N", type=figures.positive, default=50, help="the newest N jobs (50)"
    )
    printed.add_argument("--labels", metavar="K,K", type=figures.positives, default=(),
                         help="only these labels of the job, by their place in it")  # fmt: skip
    printed.add_argument("-o", "--output", metavar="FILE", type=Path, help="the PDF to write")
    paper = verbs.add("paper", _paper, "make a paper to work from, with codes",
                      f"count: for the dishes of running tests. {OVERWRITES}")  # fmt: skip
    paper.add_argument("kind", metavar="KIND", choices=PAPERS, help=", ".join(PAPERS))
    lots = paper.add_mutually_exclusive_group(required=True)
    lots.add_argument("--lots", metavar="A,B", type=figures.listed, help="lot numbers")
    lots.add_argument(
        "--find", metavar="WORDS", nargs="+", type=figures.words, help="all lots found by these words"
    )
    lots.add_argument("--due", action="store_true", help="all lots due for a germination test")
    paper.add_argument(
        "--page", metavar="P", choices=("a4", "letter"), default="a4", help="a4 or letter (a4)"
    )
    paper.add_argument("-o", "--output", metavar="FILE", type=Path, required=True, help="the PDF to write")
    add_day(paper, "the day that is printed (today if left out)")


def _printed(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import print_book

    if asked.job is None:
        if asked.output is not None or asked.labels:
            raise BadInput("Say which job is printed again by its number: hilum printed JOB -o FILE")
        with desk.catalogue(asked) as catalogue:
            found = print_book.printed_jobs(catalogue, lot=asked.lot, limit=asked.limit)
        lines = [_line(each) for each in found] or [
            "Nothing was printed yet." if not asked.lot else "No job has that lot."
        ]
        return answer({"jobs": [_job(each) for each in found]}, lines)
    if asked.output is None:
        return _one(asked, desk)
    with PdfFile(asked.output) as file, desk.catalogue(asked) as catalogue:
        sheets = print_book.print_again(catalogue, asked.job, asked.labels)
        file.write(sheets.pdf)
        number = print_book.book(
            catalogue, sheets, on=desk.day(asked), went_to=f"file {asked.output.name}", again=asked.job
        )
    document = {**sheets_document(sheets), "job": number, "again": asked.job, "file": str(asked.output)}
    return answer(document, sheet_lines(sheets, asked.output), changed=True)


def _one(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import print_book

    with desk.catalogue(asked) as catalogue:
        job = print_book.printed_job(catalogue, asked.job)
        labels = print_book.printed_labels(catalogue, asked.job)
    document = {
        "job": job.id,
        "sha256": job.sha256,
        "labels": [
            {"place": each.place, "label": each.key, "copies": each.copies, "changed": list(each.changed)}
            for each in labels
        ],
    }
    lines = [f"{job.title}, {job.at:%Y-%m-%d %H:%M}, {job.went_to or 'not known where to'}"]
    for each in labels:
        since = f": {'; '.join(each.changed)}" if each.changed else ""
        lines += wrapped(f"{each.place}  {each.key} × {each.copies}{since}")
    return answer(document, [*lines, f"SHA-256 {job.sha256}"])


def _job(line: "PrintBookLine") -> dict[str, object]:
    job = line.job
    return {
        "job": job.id, "at": job.at.isoformat(), "title": job.title, "design": job.design,
        "label_stock": job.label_stock, "labels": job.labels, "pages": job.pages, "sha256": job.sha256,
        "went_to": job.went_to, "who": line.who or None, "again": job.again_id,
    }  # fmt: skip


def _line(line: "PrintBookLine") -> str:
    job = line.job
    who = f", {line.who}" if line.who else ""
    return f"{job.id}  {job.at:%Y-%m-%d %H:%M}  {job.title} on {job.label_stock}, {job.went_to or 'not known'}{who}"


def _paper(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.papers import lots_paper
    from hilum.commands.labels import chosen_lots

    on = desk.day(asked)
    with PdfFile(asked.output) as file, desk.catalogue(asked) as catalogue:
        numbers = chosen_lots(catalogue, asked, desk)
        if asked.kind == "count":
            sheets = _count_sheet(catalogue, numbers, asked, desk)
        else:
            sheets = lots_paper(catalogue, asked.kind, numbers, asked.page, on=on)
        file.write(sheets.pdf)
    document = {**sheets_document(sheets), "file": str(asked.output)}
    return answer(document, sheet_lines(sheets, asked.output, "row"))


def _count_sheet(
    catalogue: "Catalogue", numbers: tuple[str, ...], asked: Namespace, desk: Desk
) -> "LabelSheets":
    from hilum.benches.papers import count_paper
    from hilum.commands.labels import running_tests

    return count_paper(catalogue, running_tests(catalogue, numbers), asked.page, on=desk.day(asked))
