"""Packets and envelopes beside published sizes."""

import pytest

from hilum.labels.folding import FoldingPacket, blanks_on, folding_packet
from hilum.labels.stocks import label_stock

KIND = "published"
KINDS = {
    "test_blanks_fit_pages_as_reckoned_by_hand": "derived",
    "test_the_blank_is_as_large_as_reckoned_by_hand": "derived",
    "test_coin_envelopes_are_their_inches": "from memory",
}


def test_the_folded_packet_is_a_c7_envelope() -> None:
    """DIN 476-2, C series: C7 is 81 x 114 mm; and its front is the panel that stays outside."""
    packet = folding_packet("c7")
    assert (packet.width_mm, packet.height_mm) == (81, 114)
    assert (packet.front.width_mm, packet.front.height_mm) == (81, 114)


@pytest.mark.parametrize(
    ("name", "page", "count"),
    [("c7", "a4", 2), ("c7", "letter", 2), ("small", "a4", 2), ("small", "letter", 2)],
)
def test_blanks_fit_pages_as_reckoned_by_hand(name: str, page: str, count: int) -> None:
    """By hand from ISO 216 and 8.5 x 11 inch: 2 x 134.5 and 2 x 115 are within 287 of A4 and 269.4 of Letter."""
    assert blanks_on(folding_packet(name), page).per_page == count


def test_the_blank_is_as_large_as_reckoned_by_hand() -> None:
    """12 + 81 + 80 wide, 20 + 114 + 14 high: worked by hand for a 20 mm closing and a 14 mm bottom flap."""
    packet = FoldingPacket("worked", 81, 114, 12, 14, 20)
    assert (packet.blank_w_mm, packet.blank_h_mm) == (173, 148)


@pytest.mark.parametrize(
    ("name", "size"),
    [("envelope-162x114", (162, 114)), ("envelope-220x110", (220, 110)), ("envelope-229x162", (229, 162))],
)
def test_envelopes_are_those_of_iso_269(name: str, size: tuple[float, float]) -> None:
    """ISO 269: C6 114 x 162, DL 110 x 220, C5 162 x 229 mm."""
    stock = label_stock(name)
    assert (stock.page_w_mm, stock.page_h_mm) == size


def test_coin_envelopes_are_their_inches() -> None:
    """From memory: No. 1 is 2 1/4 x 3 1/2 inches, No. 3 is 2 1/2 x 4 1/4."""
    for name, inches in (("envelope-57.2x88.9", (2.25, 3.5)), ("envelope-63.5x108", (2.5, 4.25))):
        stock = label_stock(name)
        assert (stock.page_w_mm / 25.4, stock.page_h_mm / 25.4) == pytest.approx(inches, abs=0.01)
