"""Links to terms in prose, and what is left of one that is not whole."""

import pytest

from build_tools.sources.term_links import half_link, plain_words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("A [[head-lap]] of 65 mm.", "A head lap of 65 mm."),
        ("The [[head-lap|lap]] and the [[eaves]].", "The lap and the eaves."),
        ("An empty [[eaves|]] shows its term.", "An empty eaves shows its term."),
        ("[one] is no link.", "[one] is no link."),
    ],
)
def test_link_is_read_as_its_words(text, words):
    assert plain_words(text) == words and half_link(text) == ""


@pytest.mark.parametrize(
    ("text", "half"),
    [
        ("A [[headlap] is", "[[headlap] is"),
        ("A headlap]] is", "A headlap]]"),
        ("[[eaves]] and [[", "[["),
    ],
)
def test_half_a_link_is_found(text, half):
    assert half_link(text) == half
