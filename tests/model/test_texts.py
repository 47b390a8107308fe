"""Sentences to train on: the same for the same seed, all of them sayable, and what crews say among them."""

from __future__ import annotations

from collections import Counter
from random import Random

from fieldassist.language.spoken import spoken_language
from models.build import texts
from models.build.language import language
from models.build.words import vocabulary

COUNT = 8000


def test_sentences_are_sayable_are_in_the_vocabulary_and_follow_from_the_seed() -> None:
    random, again, known = Random(5), Random(5), set(vocabulary())
    said = [texts.sentence(random) for _ in range(COUNT)]
    assert said == [texts.sentence(again) for _ in range(COUNT)]
    words = Counter(word for sentence in said for word in sentence.split())
    assert not {word for word in words if not language().pronunciations(word)}
    assert not words.keys() - known
    # Teens and tens are what readings go wrong by: both must be heard often.
    assert min(words["fourteen"], words["forty"], words["sixteen"], words["sixty"]) > COUNT / 400
    assert sum(spoken_language().attention in sentence for sentence in said) > COUNT / 50
    assert {"coverage", "lippage", "remixed", "mortar", "percent", "millimeters"} <= words.keys()
    assert len(words) > 3000, "general English too"
