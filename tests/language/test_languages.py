"""A language is a folder of words: what it lacks is told in English, and nothing is lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldassist.language import LANGUAGES, UnknownLanguage, Words, words
from fieldassist.trade.message import Message, message


@pytest.fixture
def dutch(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Words]:
    """A second language, that holds one message of one subject."""
    for language, subject, text in (
        ("en", "page", "page-number = page { $number } of { $total }\npage-reference = page { $number }\n"),
        ("en", "trial", "trial-tie = { $letters }: no difference found.\n    .ear = no difference\n"),
        ("nl", "page", "page-number = blad { $number } van { $total }\n"),
    ):
        (tmp_path / language).mkdir(exist_ok=True)
        (tmp_path / language / f"{subject}.ftl").write_text(text, encoding="utf-8")
    (tmp_path / "no-words").mkdir()
    monkeypatch.setattr(words, "FOLDER", tmp_path)
    monkeypatch.setattr(words, "LANGUAGES", words.languages_in(tmp_path))
    words._catalogue.cache_clear()
    yield Words("nl")
    words._catalogue.cache_clear()


def test_languages_are_the_folders_that_hold_words_and_the_one_made_from_english(dutch: Words) -> None:
    assert dutch.language == "nl"
    assert words.LANGUAGES == ("en", "nl", "pseudo")
    assert LANGUAGES[0] == "en"
    with pytest.raises(UnknownLanguage, match="en, nl, pseudo"):
        Words("no-words")


@pytest.mark.parametrize(
    ("told", "ear", "text"),
    [
        (message("page-number", number=2, total=7), False, "blad 2 van 7"),
        # The language has the subject, and not this message of it.
        (message("page-reference", number=2), False, "page 2"),
        # It has nothing of the subject.
        (message("trial-tie", letters="A"), False, "A: no difference found."),
        (message("trial-tie", letters="A"), True, "no difference"),
    ],
)
def test_what_a_language_lacks_is_told_in_english(dutch: Words, told: Message, ear: bool, text: str) -> None:
    assert (dutch.aloud if ear else dutch)(told) == text


def test_what_no_language_has_is_told_by_its_code(dutch: Words) -> None:
    nowhere = Message("page-nowhere", {"number": 3})
    assert dutch(nowhere) == str(nowhere)
    assert not dutch.has("page-nowhere")
    assert dutch.has("trial-tie")
