"""Joining lots: one variety poured together into a new lot, or several mixed in shares; whole, or not at all."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hilum.benches.lots import in_lot_unit, refuse_if_held
from hilum.benches.views import LotView, view
from hilum.catalogue import listing, names
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import carry_to_lot
from hilum.catalogue.joining import BULKED, MIXED, Part, join_lots
from hilum.catalogue.lots import NewLot, refresh_find_text
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.settings import read_settings
from hilum.errors import BadInput

__all__ = ["BULKED", "MIXED", "Component", "JoiningPlan", "SharePlan", "join", "plan_joining"]

WHOLE_PPM = 1_000_000


@dataclass(frozen=True, slots=True)
class Component:
    """One lot that goes in, and how much of it: grams, seeds, or all there is when neither is said."""

    lot: str
    mass_mg: int | None = None
    seeds: int | None = None


@dataclass(frozen=True, slots=True)
class SharePlan:
    """What one lot would give and its share in parts of a million."""

    lot: LotView
    drawn: int
    amount: int
    share_ppm: int
    share_by: str


@dataclass(frozen=True, slots=True)
class JoiningPlan:
    """What joining some lots would make, and what is to be known first."""

    kind: str
    shares: tuple[SharePlan, ...]
    unit: str
    amount: int
    is_estimate: bool
    warnings: tuple[str, ...]

    @property
    def amount_words(self) -> str:
        """The stock of the new lot."""
        words = shown_amount(self.amount, self.unit)
        return f"about {words}" if self.is_estimate else words


def plan_joining(catalogue: Catalogue, kind: str, components: Sequence[Component]) -> JoiningPlan:
    """Say what pouring lots together (BULKED) or mixing them (MIXED) would make; nothing is written."""
    with catalogue.look() as connection:
        settings = read_settings(connection)
        shown = []
        for each in components:
            lot_id = resolve_lot(connection, each.lot)
            lot = view(listing.one_lot(connection, lot_id), settings)
            refuse_if_held(connection, lot_id, lot)
            shown.append(lot)
    return _plan(kind, components, shown)


def _plan(kind: str, components: Sequence[Component], shown: Sequence[LotView]) -> JoiningPlan:
    _refuse_unfit(kind, shown)
    units = {lot.line.unit for lot in shown}
    unit = units.pop() if len(units) == 1 else "mg"
    drawn = [_drawn(each, lot) for each, lot in zip(components, shown, strict=True)]
    amounts = [
        taken if lot.line.unit == unit else _as_weight(lot, taken)
        for taken, lot in zip(drawn, shown, strict=True)
    ]
    shares, share_by = _shares(shown, amounts, unit)
    plans = [
        SharePlan(lot, taken, amount, share, share_by)
        for lot, taken, amount, share in zip(shown, drawn, amounts, shares, strict=True)
    ]
    is_estimate = any(lot.line.stock_is_estimate or lot.line.unit != unit for lot in shown)
    warnings = _warnings(kind, plans)
    return JoiningPlan(kind, tuple(plans), unit, sum(amounts), is_estimate, warnings)


def _refuse_unfit(kind: str, shown: Sequence[LotView]) -> None:
    if kind not in (BULKED, MIXED):
        raise BadInput(f"Lots are {BULKED} or {MIXED}.")
    numbers = [lot.number for lot in shown]
    if len(shown) < 2 or len(set(numbers)) < len(numbers):
        raise BadInput("Joining takes two different lots at least.")
    for lot in shown:
        if lot.line.withdrawn_on is not None:
            raise BadInput(f"Lot {lot.number} was withdrawn; it has no seed to give.")
        if lot.line.treatment:
            raise BadInput(
                f"Lot {lot.number} is treated seed ({lot.line.treatment}). Treated seed is kept by itself: it is not "
                "poured together with other seed."
            )
        if lot.line.identity == "unknown":
            raise BadInput(
                f"The identity of lot {lot.number} is unknown; joined with others it would spoil their names. "
                "Grow it out first."
            )
    varieties = {(lot.line.crop_key, lot.line.variety) for lot in shown}
    if kind == BULKED and len(varieties) > 1:
        said = "; ".join(f"{lot.number} is {lot.line.crop} “{lot.line.variety}”" for lot in shown)
        raise BadInput(
            f"Only lots of one variety are poured together ({said}). Several varieties make a mix."
        )
    if len({lot.line.crop_key for lot in shown}) > 1:
        for lot in shown:
            if lot.reference is not None and lot.reference.poisonous:
                raise BadInput(
                    f"Lot {lot.number}: {lot.line.crop} is poisonous and is not mixed with other crops: the mix "
                    "would not carry its caution."
                )


def _drawn(component: Component, lot: LotView) -> int:
    if lot.line.stock is None:
        raise BadInput(f"Lot {lot.number} has not been weighed yet. Weigh it first (Preparing).")
    if component.mass_mg is None and component.seeds is None:
        if lot.line.stock == 0:
            raise BadInput(f"Lot {lot.number} is empty; there is nothing to join.")
        return lot.line.stock
    return in_lot_unit(lot, mass_mg=component.mass_mg, seeds=component.seeds)


def _as_weight(lot: LotView, seeds: int) -> int:
    tsw_ug = lot.thousand_seed_weight_ug
    if tsw_ug is None:
        raise BadInput(
            f"Lot {lot.number} is booked in seeds and has no thousand-seed weight, so it cannot be joined by weight. "
            "Count and weigh a sample of it first (Preparing)."
        )
    return max(1, round(seeds * tsw_ug / 1_000_000))


def _shares(shown: Sequence[LotView], amounts: Sequence[int], unit: str) -> tuple[list[int], str]:
    """Give each lot's share: by seeds where every lot's own seed weight is known, else by weight."""
    by, parts = unit, [float(amount) for amount in amounts]
    weights = [None if lot.thousand_seed_weight_is_estimate else lot.thousand_seed_weight_ug for lot in shown]
    if unit == "mg" and None not in weights:
        by = "seeds"
        parts = [amount / weight for amount, weight in zip(amounts, weights, strict=True) if weight]
    shares = [int(WHOLE_PPM * part / sum(parts)) for part in parts]
    # What rounding leaves goes to the largest, so that the shares are the whole.
    shares[shares.index(max(shares))] += WHOLE_PPM - sum(shares)
    return shares, by


def _warnings(kind: str, plans: Sequence[SharePlan]) -> tuple[str, ...]:
    said = []
    if kind == BULKED:
        said.append("Seed that was poured together cannot be parted again. The new lot has no test yet.")
        years = {plan.lot.line.year for plan in plans}
        if len(years) > 1:
            said.append("The lots are of different years; the new lot has no year of its own.")
    else:
        said.append(
            "A mix has no forecast: its components age each in its own way. The oldest of their tests counts."
        )
    for plan in plans:
        left = plan.lot.line.stock or 0
        per_seed = 1 if plan.lot.line.unit == "seeds" else (plan.lot.thousand_seed_weight_ug or 0) / 1_000_000
        if left > plan.drawn and per_seed and (left - plan.drawn) / per_seed < plan.lot.reserve_seeds:
            said.append(f"Lot {plan.lot.number} is left with less than its reserve.")
        if plan.lot.line.below_standard:
            said.append(f"Lot {plan.lot.number} germinates below its standard.")
    return tuple(said)


def join(
    catalogue: Catalogue,
    kind: str,
    components: Sequence[Component],
    *,
    on: date,
    name: str = "",
    crop: str = "",
    notes: str = "",
) -> LotView:
    """Draw the components from their lots and make the lot of them, with its parents and shares, in one job.

    A mix needs a `name` for its variety, and the `crop` (its key) it is filed under where its components are of
    several; lots of one variety keep theirs. Taking the job back brings all the seed back.
    """
    words = "pour together" if kind == BULKED else "mix"
    with catalogue.job(f"{words} {', '.join(each.lot for each in components)}") as job:
        ids = [resolve_lot(job.connection, each.lot) for each in components]
        shown = [view(listing.one_lot(job.connection, lot_id), job.settings) for lot_id in ids]
        for lot_id, lot in zip(ids, shown, strict=True):
            refuse_if_held(job.connection, lot_id, lot)
        plan = _plan(kind, components, shown)
        new = _new_lot(job, plan, ids, on=on, name=name, crop=crop, notes=notes)
        parts = [
            Part(lot_id, share.drawn, share.amount, share.share_ppm, share.share_by)
            for lot_id, share in zip(ids, plan.shares, strict=True)
        ]
        numbers = ", ".join(lot.number for lot in shown)
        made, _ = join_lots(job, new, parts, on=on, words=f"{kind} from {numbers}")
        carry_to_lot(job, made)
        refresh_find_text(job, [made])
        recompute(job, [made, *ids])
        return view(listing.one_lot(job.connection, made), job.settings)


def _new_lot(
    job: Job, plan: JoiningPlan, ids: Sequence[int], *, on: date, name: str, crop: str, notes: str
) -> NewLot:
    lines = [share.lot.line for share in plan.shares]
    crop_id, variety_id = _filed_under(job, plan, ids, name, crop)
    years = {line.year for line in lines}
    places = {line.place_grown for line in lines}
    growers = {line.grower for line in lines}
    [place] = places if len(places) == 1 else [None]
    [grower] = growers if len(growers) == 1 else [None]
    identities = {line.identity for line in lines}
    return NewLot(
        crop_id=crop_id,
        variety_id=variety_id,
        year=years.pop() if len(years) == 1 else None,
        unit=plan.unit,
        amount=plan.amount,
        amount_is_estimate=plan.is_estimate,
        received_on=on,
        place_id=names.place_id(job, place) if place else None,
        grower_id=names.person_id(job, grower) if grower else None,
        notes=notes,
        identity="seen true" if identities == {"seen true"} else "claimed",
        is_f1=any(line.is_f1 for line in lines),
        rights_notice="; ".join(dict.fromkeys(line.rights_notice for line in lines if line.rights_notice)),
        made_as=plan.kind,
    )


def _filed_under(job: Job, plan: JoiningPlan, ids: Sequence[int], name: str, crop: str) -> tuple[int, int]:
    first = plan.shares[0].lot.line
    own_crop = listing.crop_of(job.connection, ids[0])
    if plan.kind == BULKED:
        return own_crop, names.variety_id(job, own_crop, first.variety)
    if not name.strip():
        raise BadInput("A mix needs a name of its own, such as “Meadow by the mill”.")
    if len({share.lot.line.crop_key for share in plan.shares}) == 1:
        return own_crop, names.variety_id(job, own_crop, name)
    if not crop:
        raise BadInput(
            "The mix is of several crops. Say under which crop it is filed; a crop of the library's own will do."
        )
    crop_id = listing.crop_named(job.connection, crop)
    return crop_id, names.variety_id(job, crop_id, name)
