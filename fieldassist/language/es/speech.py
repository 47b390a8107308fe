"""How Spanish is spoken to the program."""

from __future__ import annotations

from fieldassist.language.es.numbers import NUMBERS
from fieldassist.language.es.talk import EVERYDAY, SITE_SENTENCES, SITE_WORDS
from fieldassist.language.spoken import SpokenLanguage

# "Por favor" is none of them: "por" belongs to numbers.
_FILLERS = frozenset(["eh", "este", "bueno", "pues", "ok", "oye", "mira", "ah"])
_LINKS = frozenset(["el", "la", "los", "las", "está", "están", "es", "son", "quedó", "quedaron"])
# How something is after work on it: a participle, or one of these.
_STATES = frozenset(["listo", "lista", "limpio", "limpia", "lleno", "llena", "vacío", "vacía", "sano", "sana"])
_PARTICIPLES = ("ado", "ada", "ados", "adas", "ido", "ida", "idos", "idas", "to", "ta", "tos", "tas", "cho", "cha")


def _feminine(words: list[str]) -> bool:
    return words[0].endswith(("a", "as", "ión", "iones", "dad", "dades", "pared"))


def _article(words: list[str]) -> str:
    feminine = words[0].endswith(("a", "as", "ión", "iones", "dad", "dades", "pared"))
    if words[0].endswith("s"):
        return "las" if feminine else "los"
    return "la" if feminine else "el"


def _variants(phrase: str, reordered: bool = True) -> list[str]:
    """Other ways to say a phrase without a value. reordered: also with its words in another order.

    >>> _variants("pared limpia")
    ['la pared limpia', 'pared está limpia', 'la pared está limpia', 'limpia pared', 'limpia la pared']
    >>> _variants("siguiente")
    []
    """
    *things, last = words = phrase.split()
    if not things or _LINKS.intersection(words):
        return []
    article, thing = _article(things), " ".join(things)
    variants = [f"{article} {phrase}"]
    if last in _STATES or last.endswith(_PARTICIPLES):
        verb = "están" if things[0].endswith("s") else "está"
        variants += [f"{thing} {verb} {last}", f"{article} {thing} {verb} {last}"]
        variants += [f"{last} {thing}", f"{last} {article} {thing}"] if reordered else []
    return variants


def _value_variants(before: str, after: str, value: str, reordered: bool = True) -> list[str]:
    """Other ways to say a value with its phrase's words before and after it. reordered: also with the value first.

    >>> _value_variants("cobertura", "", "noventa")
    ['cobertura es noventa', 'la cobertura noventa', 'la cobertura es noventa', 'noventa cobertura']
    """
    name = f"{before} {after}".strip()
    if not name:
        return []
    variants: list[str] = []
    if not after and not _LINKS.intersection(before.split()):
        the_name = f"{_article(name.split())} {name}"
        variants += [f"{name} es {value}", f"{the_name} {value}", f"{the_name} es {value}"]
    return [*variants, *([f"{value} {name}"] if reordered else [])]


SPEECH = SpokenLanguage(
    NUMBERS,
    attention="asistente de obra",
    fillers=_FILLERS,
    links=_LINKS,
    said_before=("bueno", "eh", "este"),
    said_after=(),
    joins=("y", "luego"),
    variants=_variants,
    value_variants=_value_variants,
    everyday=EVERYDAY,
    homophones=(),
    site_sentences=SITE_SENTENCES,
    site_words=SITE_WORDS,
)
