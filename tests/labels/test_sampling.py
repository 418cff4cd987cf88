"""Sampling: the shortest, the longest and the oddest of many labels, by what fills the boxes of one layout."""

from hilum.labels.designs import design
from hilum.labels.sampling import choose_three
from tests.labels.builders import LONG_VARIETY, a_label

LAYOUT = design("packet").layouts[1]


def test_the_shortest_longest_and_oddest_words_are_chosen() -> None:
    """Whatever their order; the oddest has letters that no other has."""
    labels = [
        a_label("A", variety="Hollow Lane Giant"),
        a_label("B", variety=LONG_VARIETY),
        a_label("C", variety="Ferryman’s Grey"),
        a_label("D", variety="Żółty Łabędź"),
        a_label("E", variety="Po", grower="", place_grown="Ir"),
    ]
    for order in (labels, labels[::-1]):
        found = {each.kind: each.label.key for each in choose_three(LAYOUT, order)}
        assert found == {"shortest": "E", "oddest": "D", "longest": "B"}


def test_a_letter_that_no_font_has_is_odder_than_any_other() -> None:
    """A letter of private use against an accent nobody else has."""
    labels = [
        a_label("A"),
        a_label("B", variety="Ŵŷṽ"),
        a_label("C", variety="leek \ue123 leek"),
        a_label("D"),
    ]
    found = {
        each.kind: each.label.key
        for each in choose_three(LAYOUT, [*labels, a_label("E", variety=LONG_VARIETY)])
    }
    assert found["oddest"] == "C"


def test_only_what_the_design_shows_is_measured() -> None:
    """Long notes do not count where no box shows them."""
    labels = [a_label("A", notes="word " * 90), a_label("B", variety=LONG_VARIETY), a_label("C")]
    assert {each.kind: each.label.key for each in choose_three(LAYOUT, labels)}["longest"] == "B"


def test_of_few_lots_each_is_given_once() -> None:
    """None, one, two."""
    assert choose_three(LAYOUT, []) == ()
    assert [(each.kind, each.label.key) for each in choose_three(LAYOUT, [a_label("A")])] == [
        ("longest", "A")
    ]
    two = choose_three(LAYOUT, [a_label("A", variety=LONG_VARIETY), a_label("B")])
    assert [(each.kind, each.label.key) for each in two] == [("shortest", "B"), ("longest", "A")]
