"""What the trade says for numbers and quantities in Spanish, as one grammar: `NUMBERS`.

Numerals follow the *Ortografía de la lengua española* (RAE and ASALE, 2010, chapter VIII, from memory): one word to
thirty, "y" between tens and ones only, "un" and "veintiún" before masculine nouns, "una", "doscientas" before feminine
ones, "cien" alone and before "mil". Letters follow the ICAO alphabet (Annex 10, volume II, 5.2.1.3, from memory), with
the letters' own names beside it (the same *Ortografía*). Both "punto" and "coma" stand before decimals. How crews say
fractions of an inch and times of day is common practice, no published source.
"""

from __future__ import annotations

from fractions import Fraction
from functools import partial
from types import MappingProxyType
from typing import NamedTuple

from fieldassist.language import number_nodes as nodes
from fieldassist.language.number_grammar import NumberGrammar, NumberKind, Rule
from fieldassist.language.number_nodes import Affine, Alt, Node, Only, Tokens, Within, WordForms, spread, ways

# Other spellings of the same word, forms before a noun, and endings that noise swallows. Of thirty-seconds the ending
# stays: it alone tells 31/32 from 30-1/32.
_FORMS_OF = (
    "un:uno una:uno veintiún:veintiuno veintiuna:veintiuno media:medio medios:medio medias:medio tercios:tercio "
    "cuartos:cuarto octavos:octavo décimos:décimo décima:décimo décimas:décimo dieciseisavos:dieciseisavo "
    "segundos:segundo minutos:minuto horas:hora pulgadas:pulgada pies:pie milímetros:milímetro "
    "centímetros:centímetro metros:metro cuadrados:cuadrado cuadradas:cuadrado cuadrada:cuadrado gramos:gramo "
    "kilogramos:kilogramo kilos:kilo libras:libra litros:litro mililitros:mililitro galones:galón grados:grado "
    "centígrado:celsius centígrados:celsius baldosas:baldosa losetas:loseta azulejos:azulejo paneles:panel "
    "láminas:lámina piezas:pieza sacos:saco bolsas:bolsa cubetas:cubeta cajas:caja mezclas:mezcla huecos:hueco "
    "esquinas:esquina personas:persona trabajadores:trabajador alpha:alfa juliet:juliett whisky:whiskey"
)
_HUNDREDS_OF = "doscient trescient cuatrocient quinient seiscient setecient ochocient novecient"
_ACCENTED = (
    "dieciséis veintidós veintitrés veintiséis lámina área habitación número galón décimo milímetro centímetro "
    "mediodía mañana víctor óscar papá"
)
_BARE_LETTERS = str.maketrans("áéíóúñ", "aeioun")


def _same() -> dict[str, str]:
    """Every form to the one that is compared; letters without their accents, as many type, too."""
    same = dict(pair.split(":") for pair in _FORMS_OF.split())
    same |= {f"{stem}as": f"{stem}os" for stem in _HUNDREDS_OF.split()}
    for word in {*same, *same.values(), *_ACCENTED.split()}:
        if word.translate(_BARE_LETTERS) != word:
            same.setdefault(word.translate(_BARE_LETTERS), same.get(word, word))
    return same


_FORMS = WordForms(
    MappingProxyType(_same()),
    tuple(spread(word) for word in ["cero", "uno", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve"]),
)
_Table = partial(nodes.Table, _FORMS)
_Then = partial(nodes.Then, _FORMS)
_Counted = partial(nodes.Counted, _FORMS)
_ValuePlace = partial(nodes.ValuePlace, _FORMS)
_DigitRow = partial(nodes.DigitRow, _FORMS)
_Decimals = partial(nodes.Decimals, _FORMS)

# Numbers


def _table(text: str, start: int = 1) -> nodes.Table:
    return _Table(tuple(((word,), value) for value, word in enumerate(text.split(), start)))


class _Cardinals(NamedTuple):
    """Whole numbers as they stand alone, or before nouns of one gender."""

    under_100: Node
    two_digits: Node
    every: Node
    ones: nodes.Table


_TENS = _table("treinta cuarenta cincuenta sesenta setenta ochenta noventa", 3)


def _cardinals(one: str, twenty_one: str, ending: str) -> _Cardinals:
    """one, twenty_one: 1 and 21, of which the last stands for 31 to 91 too; ending: of the hundreds from 200."""

    def below_1000(ones: nodes.Table, twenty_one: str) -> tuple[Node, Node, Node]:
        to_29 = _table(
            "diez once doce trece catorce quince dieciséis diecisiete dieciocho diecinueve veinte "
            f"{twenty_one} veintidós veintitrés veinticuatro veinticinco veintiséis veintisiete veintiocho veintinueve",
            10,
        )
        two_digits = Alt((to_29, _ValuePlace(_TENS, 10, ((),), ways("y"), ones)))
        under_100 = Alt((ones, *two_digits.options))
        hundreds = _table(" ".join(f"{stem}{ending}" for stem in _HUNDREDS_OF.split()), 2)
        under_1000 = Alt(
            (
                under_100,
                _Table(((spread("cien"), 100),)),
                _ValuePlace(_table("ciento"), 100, (), ((),), under_100),
                _ValuePlace(hundreds, 100, ((),), ((),), under_100),
                Only(_Table(((spread("ciento"), 100),)), "never"),
            )
        )
        return under_100, two_digits, under_1000

    ones = _table(f"{one} dos tres cuatro cinco seis siete ocho nueve")
    under_100, two_digits, under_1000 = below_1000(ones, twenty_one)
    # Before "mil" one is "un" and twenty-one "veintiún" with any noun; a single thousand is "mil" alone.
    un = _table("un dos tres cuatro cinco seis siete ocho nueve")
    _, _, heads = below_1000(un, "veintiún")
    every = Alt(
        (
            _table("cero", 0),
            under_1000,
            _ValuePlace(_table("mil"), 1000, ((),), ((),), under_1000),
            _ValuePlace(Within(heads, 2, 999), 1000, ways("mil"), ways("mil"), under_1000),
            Only(_ValuePlace(_table("un"), 1000, ways("mil"), ways("mil"), under_1000), "never"),
        )
    )
    return _Cardinals(under_100, two_digits, every, ones)


_ALONE = _cardinals("uno", "veintiuno", "os")
_HE = _cardinals("un", "veintiún", "os")
_SHE = _cardinals("una", "veintiuna", "as")
_MOST = 999_999

_DIGIT_RUN = _DigitRow(2, 5)
# "Doce cincuenta" for 1250, "siete cero cinco" for 705.
_PAIR = _ValuePlace(_ALONE.under_100, 100, (), ((),), Alt((_ALONE.two_digits, _Then(ways("cero"), _ALONE.ones))))
_DECIMALS = _Decimals(5, _ALONE.two_digits, Within(_ALONE.two_digits, 11, 99, lambda value: value % 10 == 0))
_POINT = _ValuePlace(Alt((_ALONE.every, Only(_DIGIT_RUN, "digits"))), 1, (), ways("punto|coma"), _DECIMALS)
_BARE_POINT = _Then(ways("punto|coma"), _DECIMALS)

_DENOMINATORS = {
    3: ("tercio", "tercios"),
    4: ("cuarto", "cuartos"),
    8: ("octavo", "octavos"),
    10: ("décimo", "décimos"),
    16: ("dieciseisavo", "dieciseisavos"),
    32: ("treintaidosavo", "treintaidosavos"),
}


def _fractions(*denominators: int, reduced: bool = True) -> nodes.Table:
    """Every fraction below one with these denominators, those in lowest terms or the others."""
    rows: list[tuple[Tokens, Fraction]] = []
    for bottom in denominators:
        one, many = _DENOMINATORS[bottom]
        for top in range(1, bottom):
            value = Fraction(top, bottom)
            if (value.denominator == bottom) is reduced:
                noun = one if top == 1 else many
                rows += (((*words, noun), value) for words in _HE.under_100.wordings(top, frozenset()))
    return _Table(tuple(rows))


_HALF_HE, _HALF_SHE = (_Table(((spread(word), Fraction(1, 2)),)) for word in ("medio", "media"))
_PARTS = (
    _fractions(4),
    Only(_fractions(10), "tenths"),
    Only(_fractions(3), "thirds"),
    Only(_fractions(4, 10, reduced=False), "never"),
)
# Eighths to thirty-seconds are read off a tape in inches; nobody says tres octavos de milímetro.
_RULER = Alt((Only(_fractions(8, 16, 32), "ruler"), Only(_fractions(8, 16, 32, reduced=False), "never")))


class _Numbers(NamedTuple):
    """Numbers before a noun of one gender, or alone: whole ones, one, a half."""

    whole: Node
    one_up: Node
    two_up: Node
    one: nodes.Table
    half: Node


def _numbers(cardinals: _Cardinals, half: Node, one: str) -> _Numbers:
    every = cardinals.every
    return _Numbers(every, Within(every, 1, _MOST), Within(every, 2, _MOST), _table(one), half)


_BARE = _numbers(_ALONE, _HALF_HE, "uno")
_MASCULINE = _numbers(_HE, _HALF_HE, "un")
_FEMININE = _numbers(_SHE, _HALF_SHE, "una")

_COMMON = Alt((_HALF_HE, *_PARTS))
_FRACTION = Alt((_COMMON, _RULER))
_MIXED = _ValuePlace(_BARE.one_up, 1, (), ways("y"), _COMMON)
_MIXED_RULER = _ValuePlace(_BARE.one_up, 1, (), ways("y"), _RULER)
_RUN = Only(_DIGIT_RUN, "digits")
_PAIRS = Only(_PAIR, "never")
_ANY = Alt((_BARE.whole, _POINT, _BARE_POINT, _MIXED, _MIXED_RULER, _RUN))
_PLAIN = Alt((_BARE.whole, _POINT, _BARE_POINT, _MIXED, _RUN))

# Rules

_THINGS = MappingProxyType(
    {
        "baldosa": "baldosas",
        "loseta": "losetas",
        "azulejo": "azulejos",
        "panel": "paneles",
        "lámina": "láminas",
        "pieza": "piezas",
        "saco": "sacos",
        "bolsa": "bolsas",
        "cubeta": "cubetas",
        "caja": "cajas",
        "mezcla": "mezclas",
        "hueco": "huecos",
        "esquina": "esquinas",
        "persona": "personas",
        "trabajador": "trabajadores",
    }
)
_HIS_THINGS = spread("azulejo panel saco hueco trabajador")
_NAMED = spread(
    "baldosa loseta azulejo panel lámina pieza saco bolsa cubeta caja mezcla área pared piso habitación fila hilada "
    "lote"
)


def _measured(
    unit: str,
    one: str,
    many: str,
    number: _Numbers,
    *,
    thing: str = "",
    decimal: bool = False,
    parts_of_one: tuple[Node, ...] = _PARTS,
) -> list[Rule]:
    """Every pattern in which a number meets a unit, the usual one first.

    decimal: decimals go before halves. parts_of_one: those that are said of one of it.
    """
    single, plural = spread(one), spread(many)
    points: Node = _Counted(_POINT, single, (plural,))
    part: Node = Alt((*parts_of_one, _RULER))
    mixed = _ValuePlace(number.one_up, 1, (), ways("y"), Alt((number.half, part)))
    behind = Alt((number.half, *_PARTS, _RULER))
    half: list[Node] = [_Then(((),), number.half, (single,))]
    parts: list[Node] = [_Then(((),), part, (("de", *single),))]
    whole: list[Node] = [_Counted(number.whole, single, (plural,))]
    sums: list[Node] = [
        _ValuePlace(number.one, 1, (), ((*single, "y"),), behind),
        _ValuePlace(number.two_up, 1, (), ((*plural, "y"),), behind),
    ]
    rest: list[Node] = [
        _Then(((),), mixed, (plural, ("de", *single))),
        _Counted(Only(_DIGIT_RUN, "digits"), single, (plural,)),
        _Then(((),), part, (single,)),
        Only(_Then(((*single, "y"),), Affine(behind, 1, 1)), "never"),
        Only(_Then(((),), _BARE_POINT, (plural,)), "never"),
    ]
    ordered = [*half, *whole, points, *parts, *sums] if decimal else [*half, *whole, *parts, *sums, points]
    return [Rule(node, unit, thing) for node in (*ordered, *rest)]


def _bare(*, ruler: bool = True, pairs: bool = False) -> list[Rule]:
    """Numbers without a unit; those that only a tape has are kept apart."""
    rules = [Rule(Alt((*_PLAIN.options, *([_PAIRS] if pairs else []), _COMMON)), None)]
    return [*rules, Rule(Alt((_MIXED_RULER, _RULER)), None, ruler=True)] if ruler else rules


def _length_rules() -> list[Rule]:
    rules = _bare(pairs=True)
    rules += _measured("mm", "milímetro", "milímetros", _MASCULINE, decimal=True)
    rules += _measured("in", "pulgada", "pulgadas", _FEMININE)
    rules += _measured("ft", "pie", "pies", _MASCULINE)
    rules += _measured("cm", "centímetro", "centímetros", _MASCULINE, decimal=True)
    rules += _measured("m", "metro", "metros", _MASCULINE, decimal=True)
    rules.append(Rule(_Then(((),), _PAIR, ways("milímetros")), "mm", offered=False))
    below_a_foot = Fraction(383, 32)
    inches = [Within(rule.node, 0, below_a_foot) for rule in rules if rule.unit == "in"]
    bare_inches = Within(Alt((_BARE.whole, _MIXED, _MIXED_RULER)), 1, below_a_foot)
    either = Alt((bare_inches, *inches))
    rules.append(Rule(_ValuePlace(_MASCULINE.two_up, 12, (), ways("pies|pies y|pies con"), either), "in", feet=True))
    rules.append(Rule(_ValuePlace(_MASCULINE.one, 12, (), ways("pie|pie y|pie con"), either), "in", feet=True))
    hundredths = Affine(
        Alt((_Counted(_HE.under_100, spread("centímetro"), ways("centímetros")), _ALONE.two_digits)), Fraction(1, 100)
    )
    for head, link in ((_MASCULINE.two_up, "metros|metros con|metros y"), (_MASCULINE.one, "metro|metro con|metro y")):
        rules.append(Rule(_ValuePlace(head, 1, (), ways(link), hundredths), "m"))
    return rules


def _percent_rules() -> list[Rule]:
    after = ways("por ciento")
    return [
        Rule(_Then(((),), Alt((_BARE.whole, _POINT, _MIXED, _RUN)), after), "percent"),
        Rule(_Then(((),), _ANY, ways("porciento|por cien")), "percent", offered=False),
        Rule(Alt((_BARE.whole, _POINT, _MIXED, _RUN)), None),
        Rule(_Then(((),), _HALF_HE, after), "percent"),
        # A bare fraction is a share of the whole: "tres cuartos" is 75 %. "Punto nueve" may be meant either way.
        Rule(Affine(_FRACTION, 100), "percent"),
        Rule(Affine(_BARE_POINT, 100), "percent", offered=False),
        Rule(_BARE_POINT, None, offered=False),
    ]


def _temperature_rules() -> list[Rule]:
    scales = (
        ("degC", "grados celsius|grados centígrados|centígrados|celsius"),
        ("degF", "grados fahrenheit|fahrenheit"),
        ("deg", "grados"),
        (None, ""),
    )
    rules = []
    for unit, text in scales:
        after = ways(text)
        one = tuple(
            ("grado", *("centígrado" if word == "centígrados" else word for word in way[1:]))
            for way in after
            if way[:1] == ("grados",)
        )
        number = Alt((_MASCULINE.whole if one else _BARE.whole, _POINT, _MIXED, _RUN))
        many = _Then(((),), Within(number, 0, 999, lambda value: value == 1), after)
        single = _MASCULINE.one if one else _BARE.one
        above: Node = Alt((many, _Then(((),), single, one or after)))
        rules += [
            Rule(above, unit),
            Rule(_Then(ways("menos"), Affine(above, -1)), unit),
            Rule(_Then(((),), Affine(above, -1), ways("bajo cero")), unit),
        ]
    return rules


def _duration_rules() -> list[Rule]:
    rules = _bare(ruler=False)
    rules += _measured("min", "minuto", "minutos", _MASCULINE)
    rules += _measured("h", "hora", "horas", _FEMININE)
    rules += _measured("s", "segundo", "segundos", _MASCULINE)
    minutes = Within(_HE.under_100, 1, 59)
    rest = Alt((_Counted(minutes, spread("minuto"), ways("minutos")), Within(_ALONE.under_100, 1, 59)))
    seconds = _Counted(minutes, spread("segundo"), ways("segundos"))
    for number, noun, unit, more in ((_FEMININE, "hora", "min", rest), (_MASCULINE, "minuto", "s", seconds)):
        links = f"{noun}|{noun} y|{noun} con"
        rules.append(Rule(_ValuePlace(number.two_up, 60, (), ways(links.replace(noun, f"{noun}s")), more), unit))
        rules.append(Rule(_ValuePlace(number.one, 60, (), ways(links), more), unit))
    return rules


def _count_rules() -> list[Rule]:
    whole = Alt((_BARE.whole, _MIXED, _RUN))
    rules = [Rule(whole, None), Rule(whole, "count", offered=False), Rule(_COMMON, None)]
    for one, many in _THINGS.items():
        number = _MASCULINE if one in _HIS_THINGS else _FEMININE
        if one in ("saco", "bolsa", "cubeta", "caja", "mezcla"):
            rules += _measured("count", one, many, number, thing=one)
        else:
            rules.append(Rule(_Counted(number.whole, spread(one), ways(many)), "count", one))
    return rules


def _clock_rules() -> list[Rule]:
    def hours(twelve: int) -> nodes.Table:
        words = ["una", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve", "diez", "once"]
        values = [*((word, hour) for hour, word in enumerate(words, 1)), ("doce", twelve)]
        return _Table(
            tuple(
                row
                for word, hour in values
                for row in (((word,), hour), (("la" if word == "una" else "las", word), hour))
            )
        )

    past_hour, to_hour = hours(0), hours(12)
    minutes = Alt((Within(_ALONE.two_digits, 10, 59), _Then(ways("cero"), _ALONE.ones)))
    quarter = _Table(((spread("cuarto"), 15), (spread("un cuarto"), 15)))
    few = Within(_ALONE.under_100, 1, 29)
    said_few = Alt((few, _Counted(Within(_HE.under_100, 1, 29), spread("minuto"), ways("minutos"))))
    half = _Table(((spread("media"), 30),))
    less = Affine(Alt((quarter, said_few)), -1)
    said = Alt(
        (
            _ValuePlace(past_hour, 60, ways("en punto|"), ((),), minutes),
            _ValuePlace(past_hour, 60, (), ways("y"), Alt((half, quarter, said_few))),
            _ValuePlace(to_hour, 60, (), ways("menos"), less),
            _ValuePlace(to_hour, 60, (), ways("para"), less, reverse=True),
        )
    )
    early = _Then(ways("cero"), _ALONE.ones)
    late = Within(_SHE.two_digits, 13, 23)
    on_the_hour = Alt((_table("cero", 0), _SHE.ones, Within(_SHE.two_digits, 10, 23)))
    return [
        Rule(said, None),
        Rule(Within(_Then(((),), said, ways("de la mañana")), 0, 719), "24h"),
        Rule(_Then(((),), Affine(Within(said, 0, 719), 1, 720), ways("de la tarde|de la noche")), "24h"),
        Rule(_Table(((spread("mediodía"), 720), (spread("medianoche"), 0))), "24h"),
        Rule(_ValuePlace(Alt((early, late)), 60, (), ((),), minutes), "24h"),
        Rule(_ValuePlace(on_the_hour, 60, ways("horas")), "24h"),
    ]


def _grammar() -> dict[NumberKind, tuple[Rule, ...]]:
    rules = {
        NumberKind.PERCENT: _percent_rules(),
        NumberKind.LENGTH: _length_rules(),
        NumberKind.AREA: [
            *_bare(),
            *_measured("m2", "metro cuadrado", "metros cuadrados", _MASCULINE, decimal=True),
            *_measured("ft2", "pie cuadrado", "pies cuadrados", _MASCULINE),
            *_measured("in2", "pulgada cuadrada", "pulgadas cuadradas", _FEMININE),
            *_measured("mm2", "milímetro cuadrado", "milímetros cuadrados", _MASCULINE, decimal=True),
            *_measured("cm2", "centímetro cuadrado", "centímetros cuadrados", _MASCULINE, decimal=True),
        ],
        NumberKind.TEMPERATURE: _temperature_rules(),
        NumberKind.DURATION: _duration_rules(),
        NumberKind.COUNT: _count_rules(),
        NumberKind.MASS: [
            *_bare(),
            *_measured("kg", "kilogramo", "kilogramos", _MASCULINE, decimal=True),
            *_measured("kg", "kilo", "kilos", _MASCULINE, decimal=True),
            *_measured("lb", "libra", "libras", _FEMININE),
            *_measured("g", "gramo", "gramos", _MASCULINE, decimal=True),
        ],
        NumberKind.VOLUME: [
            *_bare(),
            *_measured("L", "litro", "litros", _MASCULINE, decimal=True),
            *_measured("qt", "cuarto de galón", "cuartos de galón", _MASCULINE),
            # A quart is a quarter of a gallon, and called so.
            *_measured("gal", "galón", "galones", _MASCULINE, parts_of_one=_PARTS[1:3]),
            *_measured("mL", "mililitro", "mililitros", _MASCULINE, decimal=True),
        ],
        NumberKind.CLOCK_TIME: _clock_rules(),
        NumberKind.NUMBER: [
            *(Rule(node, None) for node in (_ANY, _PAIRS, _FRACTION)),
            Rule(_Then(ways("menos"), Affine(Alt((_ANY, _FRACTION)), -1)), None),
        ],
    }
    return {kind: tuple(own) for kind, own in rules.items()}


_LETTERS = {
    "a": ways("alfa|a"),
    "b": ways("bravo|be"),
    "c": ways("charlie|ce"),
    "d": ways("delta|de"),
    "e": ways("eco|e"),
    "f": ways("foxtrot|efe"),
    "g": ways("golf|ge"),
    "h": ways("hotel|hache"),
    "i": ways("india|i"),
    "j": ways("juliett|jota"),
    "k": ways("kilo|ka"),
    "l": ways("lima|ele"),
    "m": ways("mike|eme"),
    "n": ways("noviembre|ene"),
    "ñ": ways("eñe"),
    "o": ways("óscar|o"),
    "p": ways("papá|pe"),
    "q": ways("quebec|cu"),
    "r": ways("romeo|erre"),
    "s": ways("sierra|ese"),
    "t": ways("tango|te"),
    "u": ways("uniforme|u"),
    "v": ways("víctor|uve"),
    "w": ways("whiskey|uve doble"),
    "x": ways("equis"),
    "y": ways("yanqui|ye"),
    "z": ways("zulú|zeta"),
}
# What else the letters are called in America, and what the ICAO writes for those that have a Spanish word above.
_LETTERS_HEARD = {
    spread("ve"): "V",
    spread("doble ve"): "W",
    spread("doble u"): "W",
    spread("i griega"): "Y",
    spread("november"): "N",
    spread("uniform"): "U",
    spread("yankee"): "Y",
    spread("echo"): "E",
}


def _alike(whole: int) -> bool:
    """Sesenta and setenta with what follows, seiscientos and setecientos; dos and doce, tres and trece. Ours.

    >>> [_alike(value) for value in (60, 75, 12, 3, 5, 95, 612, 2400)]
    [True, True, True, True, False, False, True, True]
    """
    thousands, below = divmod(whole, 1000)
    return any(
        part // 100 in (6, 7) or part % 100 in (2, 3, 12, 13) or 60 <= part % 100 < 80 for part in (thousands, below)
    )


NUMBERS = NumberGrammar(
    _FORMS,
    rules=MappingProxyType(_grammar()),
    cardinal=_ALONE.every,
    two_digits=_ALONE.two_digits,
    pair=_PAIR,
    digit_run=_DIGIT_RUN,
    letters=MappingProxyType(_LETTERS),
    letters_heard=MappingProxyType(_LETTERS_HEARD),
    things=_THINGS,
    usual_things=("baldosa", "panel", "pieza", "saco"),
    named=_NAMED,
    number="número",
    by="por",
    minus="menos",
    point="punto",
    repeats=MappingProxyType({"doble": 2, "triple": 3}),
    tidied=MappingProxyType({}),
    alike=_alike,
)
