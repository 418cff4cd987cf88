"""Pages by key: walked from the first to the last they give every lot once, in the order of the whole list."""

from datetime import date

import pytest

from hilum.catalogue import listing, saved
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.pages import SORTS
from hilum.errors import BadInput
from tests.catalogue.builders import a_lot

ON = date(2026, 11, 25)


@pytest.fixture
def filled(catalogue: Catalogue) -> Catalogue:
    """Give lots of three crops and several varieties, some without year, place, or stock."""
    names = (("leek", "Harrow Blue"), ("leek", "Arrow"), ("onion", "Harrow Blue"), ("carrot", "Zest"))
    for number in range(23):
        crop, variety = names[number * 7 % 4]
        a_lot(
            catalogue, crop=crop, variety=variety, year=None if number % 5 == 0 else 2018 + number % 6,
            **({} if number % 4 == 0 else {"place": f"Plot {number % 3}"}),
        )  # fmt: skip
    return catalogue


@pytest.mark.parametrize("descending", [False, True])
@pytest.mark.parametrize("sort", SORTS)
def test_pages_give_every_lot_once_in_the_order_of_the_list(
    filled: Catalogue, sort: str, descending: bool
) -> None:
    """Forwards and backwards, plain and narrowed; the last page says that it is the last."""
    for wanted in (LotFilter(), LotFilter(crop="leek"), LotFilter(words="harrow")):
        with filled.look() as connection:
            how = {"on": ON, "sort": sort, "descending": descending}
            whole, _ = listing.page_of_wanted(connection, wanted, **how)
            walked, end = [], None
            while True:
                page, end = listing.page_of_wanted(connection, wanted, limit=4, after=end, **how)
                walked += page
                assert len(page) <= 4
                if end is None:
                    break
            assert [line.number for line in walked] == [line.number for line in whole]
            assert listing.count_wanted(connection, wanted, ON) == len(whole)


def test_an_unknown_order_is_refused(filled: Catalogue) -> None:
    """With the orders that there are."""
    with filled.look() as connection, pytest.raises(BadInput, match="by entered, number, crop"):
        listing.page_of_wanted(connection, LotFilter(), on=ON, sort="colour")


def test_searches_are_kept_by_the_keepers_own_names(filled: Catalogue) -> None:
    """Found again however the name is typed, written over under the same name, removed and brought back."""
    wanted = {"filter": {"crop": "leek"}, "sort": "year"}
    with filled.job("save") as job:
        saved.save_search(job, "Beans to regrow", wanted)
    with filled.job("save") as job:
        saved.save_search(job, "beans TO regrow", {**wanted, "sort": "crop"})
    with filled.look() as connection:
        [line] = saved.saved_searches(connection)
        assert (line.name, line.wanted["sort"]) == ("beans TO regrow", "crop")
        assert saved.saved_search_named(connection, "Béans to Regrow ").name == "beans TO regrow"
    with filled.job("forget") as job:
        saved.forget_search(job, "beans to regrow")
    with filled.look() as connection:
        assert saved.saved_searches(connection) == ()
        with pytest.raises(BadInput, match="There is no saved search"):
            saved.saved_search_named(connection, "beans to regrow")
