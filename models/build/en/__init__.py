"""English."""

from __future__ import annotations

from pathlib import Path

from models.build.en import accents, pronounce, words
from models.build.en.phones import UNITS
from models.build.en.sentences import SENTENCES
from models.build.en.symbols import espeak_phonemes, ipa
from models.build.language import ModelLanguage

LANGUAGE = ModelLanguage(
    tag="en",
    units=UNITS,
    with_stress=pronounce.with_stress,
    model_phones=pronounce.model_phones,
    by_hand=pronounce.HAND_LIST,
    further_words=(words.GIVEN_NAMES, words.CALENDAR, words.WEATHER_WORDS),
    general_words=Path(__file__).with_name("general_words.txt"),
    sentences=SENTENCES,
    somebody=accents.drawn,
    engines=("kokoro", "espeak", "flite", "flite-times", "pico"),
    ipa=ipa,
    espeak_phonemes=espeak_phonemes,
    kokoro_voices="ab",  # American, British
    accent_voices=accents.VOICES,
    espeak_voices=("en-us", "en-us", "en-us", "en-gb", "en-gb-scotland", "en-029", "en-gb-x-rp"),
)
