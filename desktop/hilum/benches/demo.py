"""The demo library: an invented valley's seed over twelve years, made by the same benches a keeper uses.

The tables in resources/demo and a fixed seed make it; only the dates move with the day on which it is made.
"""

import csv
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from hilum.benches import intake, lots, preparing, reference, store, testing
from hilum.benches.packing import book_packets
from hilum.catalogue.joined import all_in_one
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import welcome
from hilum.catalogue.related import add_parent
from hilum.errors import KeeperError
from hilum.resources import resource

SEED = 20_231
YEARS = 12
LOTS = 400
# The last lots to come in stay as they came: the keeper's own work for the day.
UNTOUCHED = 12

Row = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Harvest:
    """One harvest to be taken in."""

    crop: Row
    variety: Row
    year: int
    received_on: date
    grower: Row
    place: Row


def fill_demo(catalogue: Catalogue, *, progress: Callable[[int, int], None] | None = None) -> int:
    """Fill an empty catalogue with the demo library in one transaction; gives the number of lots."""
    _Maker(catalogue.now().date(), progress).fill(catalogue)
    with catalogue.look() as connection:
        from hilum.catalogue.listing import count_lots

        return count_lots(connection)


def _rows(name: str) -> tuple[Row, ...]:
    with resource("demo", f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


class _Maker:
    """Draws the library's story from the tables, always the same for the same day."""

    def __init__(self, today: date, progress: Callable[[int, int], None] | None) -> None:
        self._draw = random.Random(SEED)
        self._today = today
        self._moment = datetime.combine(today, time(12))
        self._progress = progress
        self._crops = {row["crop"]: row for row in _rows("crops")}
        self._varieties = _rows("varieties")
        self._growers, self._places = _rows("growers"), _rows("places")
        self._remarks = [row["note"] for row in _rows("notes") if row["about"] == "lot"]

    def fill(self, catalogue: Catalogue) -> None:
        """Make the library, everything in one transaction."""
        with all_in_one(catalogue, "make the demo library", clock=lambda: self._moment) as joined:
            with joined.job("the bench") as job:
                joined.person_id = welcome(job, self._growers[0]["grower"])
            boxes = self._store(joined)
            harvests = self._harvests()
            numbers = self._take_in(joined, harvests)
            self._synonyms(joined)
            lived = list(zip(numbers, harvests, strict=True))
            for place, (number, harvest) in enumerate(lived[:-UNTOUCHED]):
                self._live(joined, number, harvest, boxes)
                if self._progress is not None:
                    self._progress(place + 1, len(lived))
            self._lineage(joined, lived)
            self._work_in_hand(joined, lived)

    def _store(self, joined: Catalogue) -> tuple[int, ...]:
        """Make the store's tree; gives the boxes that lots go into."""
        ids: dict[str, int] = {}
        boxes = []
        for row in _rows("store_places"):
            line = store.add_store_place(
                joined,
                name=row["name"],
                kind=row["kind"],
                parent_id=ids.get(row["parent"]),
                temperature_c=float(row["temperature_c"]) if row["temperature_c"] else None,
                humidity_percent=float(row["humidity_percent"]) if row["humidity_percent"] else None,
            )
            ids[row["key"]] = line.id
            if row["kind"] == "box":
                boxes.append(line.id)
        return tuple(boxes)

    def _harvests(self) -> list[_Harvest]:
        this_year = self._today.year if self._today.month >= 10 else self._today.year - 1
        chosen = list(self._varieties) + self._draw.choices(self._varieties, k=LOTS - len(self._varieties))
        harvests = []
        for variety in chosen:
            # More of what there is was harvested lately.
            year = this_year - int(YEARS * self._draw.random() ** 1.6)
            received = date(year, 9, 1) + timedelta(days=self._draw.randrange(0, 55))
            harvests.append(
                _Harvest(
                    self._crops[variety["crop"]],
                    variety,
                    year,
                    min(received, self._today),
                    self._draw.choice(self._growers),
                    self._draw.choice(self._places),
                )
            )
        harvests.sort(
            key=lambda harvest: (harvest.received_on, harvest.variety["crop"], harvest.variety["variety"])
        )
        return harvests

    def _take_in(self, joined: Catalogue, harvests: Sequence[_Harvest]) -> list[str]:
        rows = [self._as_typed(harvest, place, len(harvests)) for place, harvest in enumerate(harvests)]
        plan = intake.plan_rows(joined, rows, today=self._today)
        everything = frozenset(planned.read.row for planned in plan.rows)
        done = intake.take_in(joined, plan, anyway=everything)
        if done.refused:
            first = done.refused[0]
            raise KeeperError(f"The demo tables do not fit the crop table: row {first.row}, {first.why}")
        return [accepted.lot for accepted in done.accepted]

    def _as_typed(self, harvest: _Harvest, place: int, count: int) -> tuple[str, ...]:
        crop = harvest.crop
        grams = self._draw.uniform(float(crop["grams_low"]), float(crop["grams_high"]))
        amount = f"{grams:.1f} g" if grams >= 10 else f"{grams:.2f} g"
        if place % 41 == 7:
            amount = f"{self._draw.randrange(60, 900)} seeds"
        elif place >= count - 4:
            amount = ""
        isolation = self._draw.choice([*crop["isolation_words"].split(" / "), ""])
        return (
            crop["crop"],
            harvest.variety["variety"],
            str(harvest.year),
            amount,
            harvest.place["place_grown"],
            harvest.grower["grower"],
            harvest.received_on.isoformat(),
            str(self._draw.randint(int(crop["plants_low"]), int(crop["plants_high"]))),
            isolation,
            self._draw.choice(self._remarks) if self._draw.random() < 0.3 else "",
        )

    def _synonyms(self, joined: Catalogue) -> None:
        known = {(line.name): line.id for line in reference.varieties(joined)}
        for row in self._varieties:
            if row["synonym"] and row["variety"] in known:
                reference.add_synonym(joined, known[row["variety"]], row["synonym"])

    def _live(self, joined: Catalogue, number: str, harvest: _Harvest, boxes: Sequence[int]) -> None:
        """Clean, dry, count, freeze, store, test and pack one lot over its years."""
        shown, day = lots.lot_view(joined, number), harvest.received_on
        counted = shown.line.unit == "seeds"
        if not counted and shown.line.stock is not None:
            loss = self._draw.uniform(0.03, 0.18)
            day += timedelta(days=self._draw.randrange(2, 9))
            self._on(day)
            preparing.clean(joined, number, on=day, mass_mg=max(1, round(shown.line.stock * (1 - loss))))
        day += timedelta(days=self._draw.randrange(8, 16))
        self._on(day)
        if day > self._today:
            return
        preparing.dry(
            joined,
            number,
            on=day,
            evidence="jar humidity",
            value=float(self._draw.randint(16, 27)),
            sealed=True,
        )
        self._weigh_thousand(joined, number, harvest, day)
        frozen = self._freeze(joined, number, day)
        place = self._draw.choice(boxes if frozen else boxes[11:])
        day += timedelta(days=1)
        try:
            store.move_lot(joined, number, place, on=day, container="jar", airtight=True)
        except KeeperError:
            # A box in the freezer refuses seed that may not be frozen; it goes on an open shelf instead.
            store.move_lot(joined, number, boxes[-1], on=day, container="paper bag", airtight=False)
        self._years(joined, number, harvest)

    def _weigh_thousand(self, joined: Catalogue, number: str, harvest: _Harvest, day: date) -> None:
        if self._draw.random() < 0.25:
            return
        own_g = float(harvest.crop["thousand_seed_weight_g"]) * self._draw.uniform(0.92, 1.08)
        replicates = [max(1, round(own_g * 100 * self._draw.gauss(1, 0.012))) for _ in range(4)]
        preparing.count(joined, number, on=day, seeds=100, replicates_mg=replicates)

    def _freeze(self, joined: Catalogue, number: str, day: date) -> bool:
        if self._draw.random() > 0.6 or not preparing.may_freeze(joined, number, on=day).allowed:
            return False
        preparing.freeze(joined, number, on=day, until=day + timedelta(days=7), temperature_c=-18)
        return True

    def _years(self, joined: Catalogue, number: str, harvest: _Harvest) -> None:
        """Test and pack a lot now and then until today; some keepers forget."""
        first = date(harvest.received_on.year, 12, 1) + timedelta(days=self._draw.randrange(0, 80))
        if self._draw.random() < 0.12:
            return
        day = first
        while day < self._today - timedelta(days=20):
            self._on(day)
            if not self._test(joined, number, harvest, day):
                return
            if self._draw.random() < 0.55:
                self._pack(joined, number, day + timedelta(days=self._draw.randrange(20, 60)))
            day += timedelta(days=self._draw.randrange(600, 1500))

    def _test(self, joined: Catalogue, number: str, harvest: _Harvest, day: date) -> bool:
        plan = testing.plan_test(joined, number, on=day)
        spare = plan.lot.spare_seeds
        if spare is not None and spare < sum(plan.dishes):
            return False
        years = (day - harvest.received_on).days / 365.25
        crop = harvest.crop
        expected = float(crop["first_germination_percent"]) - 0.6 * years * float(crop["yearly_loss_percent"])
        share = min(0.995, max(0.02, expected / 100 + self._draw.gauss(0, 0.03)))
        normal = [sum(self._draw.random() < share for _ in range(seeds)) for seeds in plan.dishes]
        abnormal = [
            min(seeds - up, self._draw.choice((0, 0, 0, 1, 1, 2)))
            for seeds, up in zip(plan.dishes, normal, strict=True)
        ]
        dead = [seeds - up - odd for seeds, up, odd in zip(plan.dishes, normal, abnormal, strict=True)]
        testing.record_test(
            joined,
            number,
            on=day,
            seeds=plan.dishes,
            counts={"normal": normal, "abnormal": abnormal, "dead": dead},
        )
        return True

    def _pack(self, joined: Catalogue, number: str, day: date) -> None:
        if day > self._today:
            return
        self._on(day)
        shown = lots.lot_view(joined, number)
        seeds = self._draw.choice((15, 20, 30, 50, 80))
        with joined.job(f"pack {number}") as job:
            spare = shown.spare_seeds or 0
            packets = min(self._draw.randrange(6, 40), int(spare * 0.4) // seeds)
            if packets > 0 and not shown.line.below_standard:
                book_packets(job, shown.line.id, packets=packets, seeds=seeds, on=day)

    def _lineage(self, joined: Catalogue, lived: Sequence[tuple[str, _Harvest]]) -> None:
        """Let some lots have been grown from an older lot of the same variety."""
        older: dict[str, str] = {}
        with joined.job("note what was grown from what") as job:
            ids = {
                view.number: view.line.id for view in lots.find_lots(joined, LotFilter(), on=self._today).lots
            }
            for number, harvest in lived:
                name = harvest.variety["crop"] + harvest.variety["variety"]
                if name in older and self._draw.random() < 0.6:
                    add_parent(job, ids[number], ids[older[name]])
                older[name] = number

    def _work_in_hand(self, joined: Catalogue, lived: Sequence[tuple[str, _Harvest]]) -> None:
        """Leave something on the benches: dishes standing, holds, and a lot half prepared."""
        self._on(self._today)
        due = lots.find_lots(joined, LotFilter(due=True), on=self._today, sort="due").lots
        for place, shown in enumerate(due[:4]):
            laid = self._today - timedelta(days=(12, 7, 3, 15)[place])
            if laid <= shown.line.received_on:
                continue
            plan = testing.plan_test(joined, shown.number, on=laid)
            test = testing.start_test(joined, shown.number, on=laid, dishes=plan.dishes)
            if place in {0, 3}:
                day = laid + timedelta(days=6)
                testing.enter_counts(
                    joined,
                    test.id,
                    on=day,
                    counts={
                        n: {"normal": self._draw.randrange(seeds // 2, seeds * 3 // 4 + 1)}
                        for n, seeds in enumerate(plan.dishes, 1)
                    },
                )
        recent = [number for number, _ in lived[-UNTOUCHED:]]
        week_ago = self._today - timedelta(days=3)
        lots.hold_lot(joined, recent[0], "insects", on=week_ago, note="small holes, weevils in the bag")
        lots.hold_lot(
            joined, lived[-40][0], "doubtful identity", on=week_ago, note="two shapes of leaf in the row"
        )

    def _on(self, day: date) -> None:
        self._moment = datetime.combine(min(day, self._today), time(17, 30))
