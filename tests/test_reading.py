"""How hard a passage reads, against published values of the same formula."""

import pytest

from build_tools.proof.reading import reading_age, sentences, syllables, words

PLATYPUS = "The Australian platypus is seemingly a hybrid of a mammal and reptilian creature."


# "Flesch-Kincaid readability tests" in an encyclopaedia (read in a copy): this sentence is
# of grade 11.3, having 24 syllables and 13 words. Ours is the age, five years above the grade; the estimate of
# syllables is ours, so it is counted apart. The formula itself is in `reading` from memory.
def test_reading_age_of_the_published_sentence():
    assert len(words(PLATYPUS)) == 13 and len(sentences(PLATYPUS)) == 1
    assert sum(syllables(each) for each in words(PLATYPUS)) == 24
    assert reading_age(PLATYPUS) - 5 == pytest.approx(11.3, abs=0.05)


# The easiest text of all has one word of one syllable in each sentence: 0.39 + 11.8 - 15.59 = -3.40 by the
# formula; the encyclopedia gives this as the lowest grade (from memory, not seen).
def test_reading_age_of_the_easiest_text():
    assert reading_age("Go. Stop. Look.") - 5 == pytest.approx(-3.40)


def test_reading_age_of_nothing_is_nothing():
    assert reading_age("") == reading_age("12. 3.5!") == 0


# Counted by ear, no source. It is an estimate: "interstitial" comes out as four.
@pytest.mark.parametrize(
    ("count", "spoken"),
    [
        (1, "roof tile hole whole slipped tree dye slate the of b"),
        (2, "ladder gutter rafter table single lifted"),
        (3, "underlay abutment single-lap"),
        (4, "condensation"),
    ],
)
def test_syllables_of_words_of_the_trade(count, spoken):
    assert [(each, syllables(each)) for each in spoken.split()] == [(each, count) for each in spoken.split()]


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("One. Two! Three?", 3),
        ("One: two; three", 3),
        ("It is 1.5 m long.", 1),
        ("Use 3:1 slopes. Then stop.", 2),
        ("", 0),
    ],
)
def test_sentences_end_at_marks_and_not_within_numbers(text, count):
    assert len(sentences(text)) == count


def test_sentence_keeps_its_numbers_as_written():
    assert sentences("It is 1.5 m long, at 3:1.") == ("It is 1.5 m long, at 3:1.",)
