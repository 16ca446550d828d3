"""Words in a rhombus: all of them, in order, inside its edges."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from build_tools.model import Question
from build_tools.site.fitting import LONGEST_WORD, in_rhombus, text_width

LONGEST = "Does the wet that you found uphill of the highest mark stay where it was after dry days?"
LONGEST_HEADLINE = Question.model_json_schema()["properties"]["question"]["maxLength"]
words = st.lists(st.text("abcdefghimwW", min_size=1, max_size=14), min_size=1, max_size=16)


@given(words)
def test_a_rhombus_keeps_every_word_in_order(said: list[str]) -> None:
    first, *lines = in_rhombus("12", " ".join(said)).lines
    assert first == "12"
    assert " ".join(lines).split() == said


@given(words)
def test_a_line_ends_inside_the_edges_at_its_height(said: list[str]) -> None:
    width, height, lines = in_rhombus("12", " ".join(said))
    for place, line in enumerate(lines):
        farther_edge = abs(place - (len(lines) - 1) / 2) * 17 + 7
        assert text_width(line) <= width * (1 - 2 * farther_edge / height)


def test_the_longest_question_the_rules_allow_leaves_room_beside_it_on_a_phone() -> None:
    assert len(LONGEST) < 90
    assert in_rhombus("38", LONGEST).width <= 390 - 2 * 16


@given(st.text("abcdefghimwW ", min_size=1, max_size=LONGEST_HEADLINE).filter(str.strip))
def test_every_headline_that_an_author_may_write_is_held_with_every_letter(said: str) -> None:
    first, *lines = in_rhombus("Gate 12", said).lines
    assert first == "Gate 12"
    assert "".join(lines).replace(" ", "") == said.replace(" ", "")


def test_only_a_word_of_absurd_length_is_broken() -> None:
    assert in_rhombus("1", f"Is it {'w' * LONGEST_WORD} ?").lines[1].split()[-1] == "w" * LONGEST_WORD
    assert all(len(line) <= LONGEST_WORD for line in in_rhombus("1", "W" * LONGEST_HEADLINE).lines)


def test_a_text_of_absurd_length_is_refused() -> None:
    with pytest.raises(ValueError, match="no rhombus holds"):
        in_rhombus("1", "word " * 4000)


@given(st.text("abcdefghimwW ", max_size=60), st.randoms())
def test_width_does_not_depend_on_the_order_of_summing(text: str, dice: Random) -> None:
    shuffled = "".join(dice.sample(text, len(text)))
    assert text_width(shuffled) == text_width(text)
