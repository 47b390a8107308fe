"""Spanish, begun: nothing is trained yet."""

from __future__ import annotations

from pathlib import Path
from types import MappingProxyType

from models.build.es import pronounce, words
from models.build.es.phones import UNITS
from models.build.es.sentences import SENTENCES
from models.build.es.symbols import espeak_phonemes, ipa
from models.build.language import ModelLanguage, Plain

LANGUAGE = ModelLanguage(
    tag="es",
    units=UNITS,
    with_stress=pronounce.with_stress,
    model_phones=pronounce.model_phones,
    by_hand=pronounce.HAND_LIST,
    further_words=(words.GIVEN_NAMES, words.CALENDAR, words.WEATHER_WORDS),
    general_words=Path(__file__).with_name("general_words.txt"),
    sentences=SENTENCES,
    somebody=lambda _: Plain(),
    engines=("kokoro", "espeak"),
    ipa=ipa,
    espeak_phonemes=espeak_phonemes,
    kokoro_voices="e",
    accent_voices=MappingProxyType({}),
    espeak_voices=("es-419", "es-419", "es"),
)
