"""Killed in the middle of writing: a fault of packaging/faults.py."""

import random
import signal
import time
from pathlib import Path

from fault_tools import DAY, SEED, Outcome, asked, child, clock, findings, fresh_catalogue

# What the writing child adds at each step; a third of its steps are lots, a third packets, a third a pair of movements.
LOTS_A_STEP = 3


def write_on(file: Path, first: int) -> None:
    """Write job after job for ever, and say each one's number once it is committed."""
    from hilum.benches import intake, keeping, packing
    from hilum.benches.printing import LabelJob
    from hilum.catalogue.ledger import move

    print("ready", flush=True)
    with keeping.open_at(file, clock=clock) as catalogue:
        number = str(asked(file, "SELECT number FROM lot ORDER BY id LIMIT 1")[0][0])
        width = len(intake.GRID_COLUMNS)
        for step in range(first, first + 100_000):
            if step % 3 == 0:
                rows = [("Leek", f"Step {step} {letter}", "2025", "20 g") for letter in "ABC"]
                cells = [(*row, *("",) * (width - len(row))) for row in rows]
                intake.take_in(catalogue, intake.plan_rows(catalogue, cells, today=DAY.date()))
            elif step % 3 == 1:
                packing.pack(
                    catalogue, number, packets=1, seeds=10,
                    job=LabelJob(design="packet", label_stock="a4-3x8"), on=DAY.date(),
                )  # fmt: skip
            else:
                with catalogue.job("pour over") as job:
                    move(job, 1, "sown", -1, on=DAY.date(), why=f"step {step}")
                    move(job, 2, "returned", 1, on=DAY.date(), why=f"step {step}")
            print(step, flush=True)


def killed(folder: Path, times: int) -> Outcome:
    """End a writing program without warning, again and again; what it said was committed must be there, whole."""
    file, draw = fresh_catalogue(folder), random.Random(SEED)
    told: set[int] = set()
    logs = unsaid = 0
    harm: list[str] = []
    for number in range(times):
        with child("--write", str(file), str(number * 100_000)) as running:
            assert running.stdout is not None
            # Every eighth dies while it opens the catalogue, which may mean taking up what the last one left.
            waited_for = "ready" if number % 8 == 0 else str(number * 100_000)
            while running.stdout.readline().strip() not in (waited_for, ""):
                pass
            time.sleep(draw.uniform(0, 0.4))
            running.send_signal(signal.SIGKILL)
            lines = {int(line) for line in running.stdout.read().split() if line.isdigit()}
        told |= lines | ({number * 100_000} if waited_for != "ready" else set())
        logs += Path(f"{file}-wal").exists() and Path(f"{file}-wal").stat().st_size > 0
        found = findings(file)
        harm += [f"check after kill {number + 1}: {line}" for line in found]
        more, lost = _compared(file, told)
        unsaid = more
        harm += [f"after kill {number + 1}: {line}" for line in lost]
        if harm:
            break
    figures = (
        f"{times} kills, {len(told)} jobs told as committed and found again whole",
        f"{unsaid} more were committed in the moment before they could be told; {logs} times a log was left to take up",
    )
    return Outcome(figures, tuple(harm))


def _compared(file: Path, told: set[int]) -> tuple[int, list[str]]:
    """Hold what the file has against what was told: the jobs that are there untold, and what is lost or half done."""
    lots = {
        int(str(step)): count
        for step, count in asked(
            file,
            "SELECT substr(name, 6, length(name) - 7), count(*) FROM lot JOIN variety ON variety.id = variety_id "
            "WHERE name LIKE 'Step %' GROUP BY 1",
        )
    }
    moves = {
        int(str(why)[5:]): (count, left)
        for why, count, left in asked(
            file, "SELECT why, count(*), sum(amount) FROM movement WHERE why LIKE 'step %' GROUP BY why"
        )
    }
    packed = [
        int(str(count))
        for ((count,),) in (
            asked(file, "SELECT count(*) FROM packet_batch"),
            asked(file, "SELECT count(*) FROM movement WHERE kind = 'packed'"),
            asked(file, "SELECT count(*) FROM print_job WHERE went_to = 'packing'"),
        )
    ]
    harm = [f"step {step} has {count} lots" for step, count in lots.items() if count != LOTS_A_STEP]
    harm += [f"step {step} has {pair} of a pair" for step, pair in moves.items() if pair != (2, 0)]
    harm += [f"step {step} is lost" for step in told if step % 3 == 0 and step not in lots]
    harm += [f"step {step} is lost" for step in told if step % 3 == 2 and step not in moves]
    told_packed = sum(step % 3 == 1 for step in told)
    if len(set(packed)) != 1 or packed[0] < told_packed:
        harm.append(f"packets: {told_packed} told; batches, movements and printed orders: {packed}")
    return len(lots) + len(moves) + packed[0] - len(told), harm
