"""Spoilt lists for packaging/faults.py: CSV and XLSX with bytes flipped, cut, doubled and sown with what does harm."""

import csv
import io
import random
import resource
import subprocess
import sys
import zipfile
from collections import Counter
from datetime import datetime
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
NOON = datetime(2026, 11, 25, 12)  # noqa: DTZ001 - the keeper's own wall clock
TODAY = NOON.date()
HEADER = ("Crop", "Variety", "Year", "Weight", "Place grown", "Grower", "Received", "Notes")
ROWS = (
    ("Leek", "Fenlock Grey", "2024", "38.5 g", "Ashmere plot 14", "Marit", "2025-10-04", "=1+1"),
    ("Onion", "Sexton's Keeper", "2025", "54 g", "Sallow Farm", "", "2025-10-02", "@SUM(A1:A9)"),
    ("Tomato", "Kværnsø Gul", "2023", "3 g", "Glass Lane", "Żaneta", "2023-11-05", "+49 call"),
    ("Pea", "朝の豆", "2026", "120 seeds", "Upper Mill", "\u0627\u0645\u0644", "2026-11-20", "-2+3|cmd"),
)
# What a list may be sown with: controls, marks that turn the reading direction, half pairs, formulas, huge figures.
SOWN = (
    b"\x00", b"\x07", b"\xff\xfe", b"\xef\xbb\xbf", "\u202e".encode(), "\u200f".encode(), b"\xed\xa0\x80",
    b'"', b'""', b"\r", b"\n", b"\t", b";", b",", b"=cmd|' /C calc'!A0", b"1e400", b"-5", b"NaN", b"9" * 400,
    "\U0001f331".encode(), "e\u0301".encode() * 50, b"<", b"&#0;", b"_x0000_", b"]]>", b"x" * 5000,
)  # fmt: skip
# What reading any one list may add to the memory of a program that has read a sound one.
MOST_MEGABYTES = 700


def sound_csv() -> bytes:
    """Give a list that is read whole."""
    out = io.StringIO(newline="")
    csv.writer(out).writerows([HEADER, *ROWS])
    return out.getvalue().encode()


def sound_workbook() -> bytes:
    """Give the same list as a workbook; a spreadsheet program would calculate its notes."""
    import openpyxl

    book = openpyxl.Workbook()
    for row in (HEADER, *ROWS):
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def spoilt(data: bytes, draw: random.Random) -> bytes:
    """Flip, cut out, double, blot, sow or cut off."""
    hurt = bytearray(data)
    for _ in range(draw.randint(1, 8)):
        at, kind = draw.randrange(len(hurt) or 1), draw.randrange(6)
        if kind == 0 and hurt:
            hurt[at] ^= 1 << draw.randrange(8)
        elif kind == 1:
            del hurt[at : at + draw.randint(1, 20)]
        elif kind == 2:
            hurt[at:at] = hurt[at : at + draw.randint(1, 200)]
        elif kind == 3 and hurt:
            hurt[at] = draw.randrange(256)
        elif kind == 4:
            hurt[at:at] = draw.choice(SOWN)
        elif draw.random() < 0.2:
            del hurt[at:]
    return bytes(hurt)


def spoilt_workbook(sound: bytes, draw: random.Random) -> bytes:
    """Spoil the archive itself, or one part of it in an archive that is sound."""
    if draw.random() < 0.3:
        return spoilt(sound, draw)
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(sound)) as old, zipfile.ZipFile(out, "w") as new:
        victim = draw.choice(
            [name for name in old.namelist() if "sheet" in name or "book" in name or "Strings" in name]
        )
        for name in old.namelist():
            new.writestr(name, spoilt(old.read(name), draw) if name == victim else old.read(name))
    return out.getvalue()


def taken_in(
    library: Path, folder: Path, times: int, draw: random.Random
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Take in spoilt lists, half of each kind, one after another into one catalogue; gives figures and harm."""
    from hilum.benches import intake, keeping
    from hilum.errors import BadInput

    sound = {"csv": sound_csv(), "xlsx": sound_workbook()}
    outcomes: Counter[str] = Counter()
    harm: list[str] = []
    with keeping.open_at(library, clock=lambda: NOON) as catalogue:
        before = keeping.counted_lots(catalogue)
        for number in range(times):
            kind = "csv" if number % 2 else "xlsx"
            file = folder / f"spoilt.{kind}"
            file.write_bytes(
                spoilt(sound[kind], draw) if kind == "csv" else spoilt_workbook(sound[kind], draw)
            )
            try:
                done = intake.take_in(catalogue, intake.plan_file(catalogue, file, today=TODAY))
            except BadInput:
                outcomes[f"{kind} refused whole"] += 1
            # The point is to learn what else may come.
            except Exception as error:
                (folder.parent / f"faulty-{number}.{kind}").write_bytes(file.read_bytes())
                harm.append(f"list {number}: {type(error).__name__}: {error}"[:300])
            else:
                outcomes[f"{kind} {'taken in' if done.accepted else 'nothing taken in'}"] += 1
                before += len(done.accepted)
        if (now := keeping.counted_lots(catalogue)) != before:
            harm.append(f"{now} lots are there, {before} were told")
        harm += keeping.check(catalogue).findings
    return (
        f"{times} lists: " + ", ".join(f"{count} {what}" for what, count in sorted(outcomes.items())),
    ), tuple(harm)


# Small files that would become large ones.


def bombs(folder: Path) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Read archives made to do harm, each in a program of its own, and measure what memory it took at most."""
    figures: list[str] = []
    harm: list[str] = []
    idle = 0.0
    for name, file in {"a sound list": _sound_file(folder), **_bomb_files(folder)}.items():
        done = subprocess.run(
            [sys.executable, __file__, str(file)],
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=False,
        )
        said, _, peak = done.stdout.strip().rpartition(" ")
        if done.returncode or not peak:
            harm.append(f"{name}: code {done.returncode}, {done.stderr.strip()[-300:]}")
            continue
        idle = idle or float(peak)
        figures.append(
            f"{name} ({file.stat().st_size / 1e6:.1f} MB): {said}; {float(peak):.0f} MB of memory at most"
        )
        if float(peak) - idle > MOST_MEGABYTES:
            harm.append(figures[-1])
    return tuple(figures), tuple(harm)


def _sound_file(folder: Path) -> Path:
    file = folder / "sound.xlsx"
    file.write_bytes(sound_workbook())
    return file


def _bomb_files(folder: Path) -> dict[str, Path]:
    blanks = b" " * 1_000_000
    cell = '<c r="A1" t="inlineStr"><is><t>'
    sheet = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
    end = "</sheetData></worksheet>"
    wide = "".join(
        f'<row r="{row}"><c r="A{row}"><v>1</v></c><c r="XFD{row}"/></row>' for row in range(1, 3_001)
    )
    deep = "".join(f'<row r="{row * 100}"><c r="A{row * 100}"><v>1</v></c></row>' for row in range(1, 10_001))
    long = cell + "x" * 190_000_000 + "</t></is></c>"
    return {
        "2 GB of blanks": _packed(folder / "blanks.xlsx", [blanks] * 2_000),
        "2 GB said to be 1 kB": _lying(_packed(folder / "lying.xlsx", [blanks] * 2_000), 2_000_000_000),
        "one cell of 190 MB": _packed(
            folder / "cell.xlsx", [f"{sheet}<row r='1'>{long}</row>{end}".encode()]
        ),
        "rows of 16,384 empty cells": _packed(folder / "wide.xlsx", [f"{sheet}{wide}{end}".encode()]),
        "rows a hundred apart": _packed(folder / "deep.xlsx", [f"{sheet}{deep}{end}".encode()]),
    }


def _packed(file: Path, pieces: list[bytes]) -> Path:
    """Put the pieces into an otherwise sound workbook as its sheet."""
    with (
        zipfile.ZipFile(io.BytesIO(sound_workbook())) as old,
        zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as new,
    ):
        for name in old.namelist():
            if name != "xl/worksheets/sheet1.xml":
                new.writestr(name, old.read(name))
        with new.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as part:
            for piece in pieces:
                part.write(piece)
    return file


def _lying(file: Path, size: int) -> Path:
    """Say a thousand bytes wherever the archive says how large the sheet is unpacked."""
    file.write_bytes(file.read_bytes().replace(size.to_bytes(4, "little"), (1_000).to_bytes(4, "little")))
    return file


def _read_alone(file: Path) -> None:
    sys.path.insert(0, str(ROOT / "desktop"))
    from hilum.errors import BadInput
    from hilum.exchange.tables import read_table

    try:
        said = f"{len(read_table(file).rows)} rows read"
    except BadInput as error:
        said = f"refused: {error}"
    print(said[:160], _peak_megabytes())


def _peak_megabytes() -> float:
    """Give the most memory that this program had; what it inherits from its parent is not in it (proc(5), VmHWM)."""
    status = Path("/proc/self/status")
    if status.exists():
        [line] = [line for line in status.read_text().splitlines() if line.startswith("VmHWM")]
        return int(line.split()[1]) / 1000
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


if __name__ == "__main__":
    _read_alone(Path(sys.argv[1]))
