"""What the trade says for numbers and quantities in English, as one grammar: `NUMBERS`.

"And" belongs to fractions ("one hundred and five thirty seconds" is 100-5/32), so what we say never puts it inside
a whole number, though it is understood there. What noise leaves of a fraction ("five thirty two", "three eight")
stands in the grammar as a rival reading, so that the dialogue asks.

Numerals follow the usage of the *Chicago Manual of Style*, 17th edition, 9.2 to 9.5 (from memory), without hyphens,
as recognizers write them. Letters follow the ICAO alphabet (Annex 10, volume II, 5.2.1.3, from memory) in the spelling
of common word lists ("alpha", "juliet"). How crews say fractions, sizes and times is common practice, no published
source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import partial
from types import MappingProxyType

from fieldassist.language import number_nodes as nodes
from fieldassist.language.number_grammar import NumberGrammar, NumberKind, Rule
from fieldassist.language.number_nodes import Affine, Alt, Node, Only, Tokens, Within, WordForms, spread, ways

# Other spellings of the same word, and endings that noise swallows.
_PLURALS = (
    "halves:half thirds:third quarters:quarter fourths:fourth eighths:eighth tenths:tenth sixteenths:sixteenth "
    "seconds:second minutes:minute hours:hour inches:inch feet:foot millimeters:millimeter centimeters:centimeter "
    "meters:meter grams:gram kilograms:kilogram kilos:kilo pounds:pound liters:liter milliliters:milliliter "
    "quarts:quart gallons:gallon degrees:degree tiles:tile panels:panel sheets:sheet pieces:piece bags:bag "
    "buckets:bucket boxes:box crates:crate batches:batch lifts:lift voids:void corners:corner clips:clip people:person "
    "workers:worker"
)
_SPELLINGS = (
    "an:a o:oh alfa:alpha juliett:juliet whisky:whiskey niner:nine centigrade:celsius "
    "millimetre:millimeter millimetres:millimeter centimetre:centimeter centimetres:centimeter metre:meter "
    "metres:meter litre:liter litres:liter millilitre:milliliter millilitres:milliliter kilogramme:kilogram "
    "kilogrammes:kilogram gramme:gram grammes:gram"
)
_FORMS = WordForms(
    MappingProxyType(dict(pair.split(":") for pair in (_PLURALS + " " + _SPELLINGS).split())),
    tuple(spread(ways) for ways in ("zero oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")),
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


_JUST_A = _Table(((spread("a"), 1),))
_ZERO = _Table(((spread("zero"), 0),))
_OH = _Table(((spread("oh"), 0),))
_ONES = _table("one two three four five six seven eight nine")
_TEENS = _table("ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen", 10)
_TENS = _table("twenty thirty forty fifty sixty seventy eighty ninety", 2)
_TENS_ONES = _ValuePlace(_TENS, 10, ((),), ((),), _ONES)
_TWO_DIGITS = Alt((_TEENS, _TENS_ONES))
_UNDER_100 = Alt((_ONES, _TEENS, _TENS_ONES))
_HUNDREDS = _ValuePlace(_ONES, 100, ways("hundred"), ways("hundred|hundred and"), _UNDER_100)
_A_HUNDRED = _ValuePlace(_JUST_A, 100, ways("hundred"), ways("hundred|hundred and"), _UNDER_100)
_UNDER_1000 = Alt((_UNDER_100, _HUNDREDS))
_THOUSAND_HEADS = Alt((_UNDER_100, _JUST_A))
_THOUSANDS = _ValuePlace(_THOUSAND_HEADS, 1000, ways("thousand"), ways("thousand"), _UNDER_1000)
_THOUSANDS_AND = _ValuePlace(_THOUSAND_HEADS, 1000, (), ways("thousand and"), _UNDER_100)
# "Twelve hundred": eleven to ninety-nine, never the whole thousands ("thirty hundred" is nobody's number).
_HUNDRED_HEADS = Within(
    Alt((Within(_TEENS, 11, 19), _ValuePlace(_TENS, 10, (), ((),), _ONES))), 11, 99, lambda value: value % 10 == 0
)
_TWELVE_HUNDRED = _ValuePlace(_HUNDRED_HEADS, 100, ways("hundred"))
_TWELVE_HUNDRED_FIVE = _ValuePlace(_HUNDRED_HEADS, 100, (), ways("hundred|hundred and"), _UNDER_100)
_CARDINAL = Alt(
    (
        Only(_TWELVE_HUNDRED, "hundreds"),
        _ZERO,
        _UNDER_1000,
        _THOUSANDS,
        _A_HUNDRED,
        _THOUSANDS_AND,
        Only(_TWELVE_HUNDRED_FIVE, "hundreds"),
    )
)
_ONE_UP = Within(_CARDINAL, 1, 99_999)
_TWO_UP = Within(_CARDINAL, 2, 99_999)

_DIGIT_RUN = _DigitRow(2, 5)
_OH_ONES = _Then((spread("oh"), spread("zero")), _ONES)
# "Twelve fifty" for 1250, "five thirty two" for 532, "seven oh five" for 705.
_PAIR = _ValuePlace(_UNDER_100, 100, (), ((),), Alt((_TWO_DIGITS, _OH_ONES)))
# Offered to a recognizer only as sizes are made, in tens: "twelve fifty", "twenty four forty".
_PAIR_OF_TENS = _ValuePlace(
    _HUNDRED_HEADS,
    100,
    (),
    ((),),
    Alt((Within(_TEENS, 10, 10), _ValuePlace(_TENS, 10, ((),)))),
)
_DECIMALS = _Decimals(5, _TWO_DIGITS, _HUNDRED_HEADS)
_POINT = _ValuePlace(Alt((_CARDINAL, _OH, Only(_DIGIT_RUN, "digits"))), 1, (), ways("point"), _DECIMALS)
_BARE_POINT = _Then(ways("point"), _DECIMALS)

_DENOMINATORS = {
    2: ("half", "halves"),
    3: ("third", "thirds"),
    4: ("quarter", "quarters"),
    8: ("eighth", "eighths"),
    10: ("tenth", "tenths"),
    16: ("sixteenth", "sixteenths"),
    32: ("thirty second", "thirty seconds"),
}


def _fraction_rows(denominator: int, *, reduced: bool) -> Iterator[tuple[Tokens, Fraction]]:
    one, many = (spread(text) for text in _DENOMINATORS[denominator])
    tops: list[Tokens]
    for top in range(1, denominator):
        value = Fraction(top, denominator)
        if (value.denominator == denominator) is not reduced:
            continue
        if top == 1:
            article: Tokens = ("an",) if one[0] == "eighth" else ("a",)
            tops = [article, ("one",)] if denominator in (2, 4) else [("one",), article]
            # "Quarter inch" and "half inch" go without a number; "eighth inch" is what noise leaves of "three eighths".
            tops += [()] if denominator in (2, 4) else []
        else:
            tops = list(_UNDER_100.wordings(top, frozenset()))
        noun = one if top == 1 else many
        yield from ((words + noun, value) for words in tops)
        if denominator == 4:
            fourth = ("fourth",) if top == 1 else ("fourths",)
            yield from ((words + fourth, value) for words in tops if words)


def _with_top(table: nodes.Table) -> nodes.Table:
    return _Table(tuple(row for row in table.rows if row[0] not in (("half",), ("quarter",))))


def _fractions(*denominators: int, reduced: bool = True) -> nodes.Table:
    return _Table(tuple(row for each in denominators for row in _fraction_rows(each, reduced=reduced)))


_HALVES = _fractions(2, 4)
_COMMON = Alt(
    (
        _HALVES,
        Only(_fractions(10), "tenths"),
        Only(_fractions(3), "thirds"),
        Only(_fractions(4, 10, reduced=False), "never"),
    )
)
# Eighths to thirty-seconds are read off a tape in inches; nobody says three eighths of a millimeter.
_RULER = Alt((Only(_fractions(8, 16, 32), "ruler"), Only(_fractions(8, 16, 32, reduced=False), "never")))
_FRACTION = Alt((_COMMON, _RULER))
_HALF = _Table(((spread("half"), Fraction(1, 2)),))
# "And half" is what is left of "and a half": understood, never said.
_AFTER_AND = Alt((_with_top(_HALVES), *_COMMON.options[1:], Only(_HALVES, "never")))
_MIXED_COMMON = _ValuePlace(_ONE_UP, 1, (), ways("and"), _AFTER_AND)
_MIXED_RULER = _ValuePlace(_ONE_UP, 1, (), ways("and"), _RULER)


def _swallowed_rows() -> Iterator[tuple[Tokens, Fraction]]:
    for bottom, name in ((8, "eight"), (16, "sixteen"), (32, "thirty two")):
        for top in range(1, bottom, 2):
            for words in _UNDER_100.wordings(top, frozenset()):
                yield words + spread(name), Fraction(top, bottom)


# What is left of a fraction when its ending is not heard: "three eight", "five sixteen", "five thirty two".
_SWALLOWED = Only(_Table(tuple(_swallowed_rows())), "never")

_RUN = Only(_DIGIT_RUN, "digits")
_PAIRS = Alt((Only(_PAIR_OF_TENS, "pairs"), Only(_PAIR, "never")))
_DECIMAL_FIRST = Alt((_CARDINAL, _POINT, _BARE_POINT, _MIXED_COMMON, _MIXED_RULER, _RUN))
_FRACTION_FIRST = Alt((_CARDINAL, _MIXED_COMMON, _MIXED_RULER, _POINT, _BARE_POINT, _RUN))
_DECIMAL_LENGTH = Alt((*_DECIMAL_FIRST.options, _PAIRS))
_FRACTION_LENGTH = Alt((*_FRACTION_FIRST.options, _PAIRS))
_WHOLE_OR_MIXED = Alt((_CARDINAL, _MIXED_COMMON, _RUN))


# Rules


_THINGS: Mapping[str, str] = MappingProxyType(
    {
        "tile": "tiles",
        "panel": "panels",
        "sheet": "sheets",
        "piece": "pieces",
        "bag": "bags",
        "bucket": "buckets",
        "box": "boxes",
        "crate": "crates",
        "batch": "batches",
        "lift": "lifts",
        "void": "voids",
        "corner": "corners",
        "clip": "clips",
        "person": "people",
        "worker": "workers",
    }
)
_NAMED = spread("tile panel sheet piece bag bucket box crate batch area wall floor room row course lot")


def _measured(
    unit: str, one: str, many: str, number: Node, *, loose: str = "", thing: str = "", decimal: bool = False
) -> list[Rule]:
    """Every pattern in which a number meets a unit, the usual one first."""
    single, plurals = spread(one), tuple(spread(noun) for noun in (many, loose) if noun)
    article = ("an",) if one in ("inch", "hour") else ("a",)
    one_of = _Table(((article, 1),))
    counted: Node = _Counted(number, single, plurals)
    of = _Then(((),), _FRACTION, (("of", *article, *single),))
    nodes: list[Node] = [
        _Then(((),), _HALF, ((*article, *single),)),
        *((counted, of) if decimal else (of, counted)),
        _Then(((),), one_of, (single,)),
        _ValuePlace(one_of, 1, (), ((*single, "and"),), _AFTER_AND),
        _ValuePlace(one_of, 1, (), ((*single, "and"),), _RULER),
        _ValuePlace(_TWO_UP, 1, (), tuple((*noun, "and") for noun in plurals), _AFTER_AND),
        _ValuePlace(_TWO_UP, 1, (), tuple((*noun, "and") for noun in plurals), _RULER),
        _Then(((),), _FRACTION, (single,)),
    ]
    return [Rule(node, unit, thing) for node in nodes]


def _bare(number: Node, *, ruler: bool = True) -> list[Rule]:
    """Numbers without a unit; those that only a tape has are kept apart."""
    plain = [node for node in number.options if node is not _MIXED_RULER] if isinstance(number, Alt) else [number]
    rules = [Rule(Alt((*plain, _COMMON)), None)]
    return [*rules, Rule(Alt((_MIXED_RULER, _RULER)), None, ruler=True)] if ruler else rules


def _length_rules() -> list[Rule]:
    rules = _bare(_FRACTION_LENGTH)
    rules += _measured("mm", "millimeter", "millimeters", _DECIMAL_LENGTH, decimal=True)
    rules += _measured("in", "inch", "inches", _FRACTION_LENGTH)
    rules += _measured("ft", "foot", "feet", _FRACTION_LENGTH, loose="foot")
    rules += _measured("cm", "centimeter", "centimeters", _DECIMAL_LENGTH, decimal=True)
    rules += _measured("m", "meter", "meters", _DECIMAL_LENGTH, decimal=True)
    rules.append(Rule(_Then(((),), _SWALLOWED, ways("inch|inches")), "in", offered=False))
    rules.append(Rule(_SWALLOWED, None, ruler=True, offered=False))
    inches = Alt(
        (
            _Counted(Within(_FRACTION_LENGTH, 0, Fraction(383, 32)), spread("inch"), (spread("inches"),)),
            _Then(((),), _FRACTION, ways("of an inch|inch")),
            _Then(((),), _HALF, ways("an inch")),
        )
    )
    bare_inches = Within(Alt((_CARDINAL, _MIXED_COMMON, _MIXED_RULER)), 1, Fraction(383, 32))
    either = Alt((bare_inches, inches))
    one_foot = Alt((Within(_ONES, 1, 1), _JUST_A))
    # Nothing but whole or mixed inches may go without its unit: "four feet and a half" is four and a half feet.
    many_feet = ways("foot|feet|foot and|feet and")
    rules.append(Rule(_ValuePlace(_TWO_UP, 12, (), many_feet, either), "in", feet=True))
    rules.append(Rule(_ValuePlace(one_foot, 12, (), ways("foot|foot and"), either), "in", feet=True))
    hundredths = Affine(
        Alt((_Counted(_UNDER_100, spread("centimeter"), (spread("centimeters"),)), _TWO_DIGITS)), Fraction(1, 100)
    )
    rules.append(
        Rule(_ValuePlace(Alt((_ONE_UP, _JUST_A)), 1, (), ways("meter|meters|meter and|meters and"), hundredths), "m")
    )
    return rules


def _percent_rules() -> list[Rule]:
    bare = Alt((_CARDINAL, _POINT, _MIXED_COMMON, _RUN))
    return [
        Rule(_Counted(_DECIMAL_FIRST, spread("percent"), (spread("percent"),)), "percent"),
        Rule(_Then(((),), _DECIMAL_FIRST, ways("per cent")), "percent", offered=False),
        Rule(bare, None),
        Rule(_Then(((),), _HALF, ways("a percent|percent")), "percent"),
        Rule(_Then(((),), _COMMON, ways("of a percent|percent")), "percent"),
        # A bare fraction is a share of the whole: "nine tenths" is 90 %. "Point nine" may be meant either way.
        Rule(Affine(_FRACTION, 100), "percent"),
        Rule(Affine(_BARE_POINT, 100), "percent", offered=False),
        Rule(_BARE_POINT, None, offered=False),
    ]


def _temperature_rules() -> list[Rule]:
    scales = (
        ("degC", "degrees celsius|degrees c|celsius|c"),
        ("degF", "degrees fahrenheit|degrees f|fahrenheit|f"),
        ("deg", "degrees"),
        (None, ""),
    )
    rules = []
    for unit, text in scales:
        after = ways(text)
        one = tuple(("degree", *way[1:]) for way in after if way[:1] == ("degrees",))
        many = _Then(((),), Within(_DECIMAL_FIRST, 0, 999, lambda value: value == 1), after)
        above: Node = Alt((many, _Then(((),), Within(_ONES, 1, 1), one or after)))
        rules += [
            Rule(above, unit),
            Rule(_Then(ways("minus|negative"), Affine(above, -1)), unit),
            Rule(_Then(((),), Affine(above, -1), ways("below|below zero")), unit),
        ]
    return rules


def _duration_rules() -> list[Rule]:
    rules = _bare(_FRACTION_FIRST, ruler=False)
    rules += _measured("min", "minute", "minutes", _FRACTION_FIRST)
    rules += _measured("h", "hour", "hours", _FRACTION_FIRST)
    rules += _measured("s", "second", "seconds", _FRACTION_FIRST)
    units: list[tuple[str, str, Node]] = [
        (
            "hour",
            "min",
            Alt(
                (
                    _Counted(Within(_UNDER_100, 1, 59), spread("minute"), (spread("minutes"),)),
                    Within(_UNDER_100, 1, 59),
                )
            ),
        ),
        ("minute", "s", _Counted(Within(_UNDER_100, 1, 59), spread("second"), (spread("seconds"),))),
    ]
    for noun, unit, rest in units:
        article = _Table((((("an",) if noun == "hour" else ("a",)), 1), (("one",), 1)))
        one, many = (noun,), (noun + "s",)
        rules.append(Rule(_ValuePlace(_TWO_UP, 60, (), (many, (*many, "and")), rest), unit))
        rules.append(Rule(_ValuePlace(article, 60, (), (one, (*one, "and")), rest), unit))
    return rules


def _count_rules() -> list[Rule]:
    rules = [Rule(_WHOLE_OR_MIXED, None), Rule(_WHOLE_OR_MIXED, "count", offered=False), Rule(_COMMON, None)]
    for one, many in _THINGS.items():
        if one in ("bag", "bucket", "box", "batch"):
            rules += _measured("count", one, many, _WHOLE_OR_MIXED, thing=one)
        else:
            rules.append(Rule(_Counted(_WHOLE_OR_MIXED, spread(one), (spread(many),)), "count", one))
            rules.append(Rule(_Then(((),), _JUST_A, (spread(one),)), "count", one))
    return rules


def _clock_rules() -> list[Rule]:
    hours = "one two three four five six seven eight nine ten eleven"
    past_hour = _Table((*_table(hours).rows, (spread("twelve"), 0)))
    to_hour = _Table((*_table(hours).rows, (spread("twelve"), 12)))
    minutes = Alt((Within(_TWO_DIGITS, 10, 59), _Then(ways("oh"), _ONES)))
    quarter = _Table(((spread("quarter"), 15), (spread("a quarter"), 15)))
    few = _Then(((),), Within(_UNDER_100, 1, 29), ((), ("minutes",)))
    half = _Table(((spread("half"), 30),))
    said = Alt(
        (
            _ValuePlace(past_hour, 60, ways("o'clock|"), ((),), minutes),
            _ValuePlace(past_hour, 60, (), ways("past"), Alt((half, quarter, few)), reverse=True),
            _ValuePlace(past_hour, 60, (), ways("after"), Alt((quarter, few)), reverse=True),
            _ValuePlace(to_hour, 60, (), ways("to|till"), Affine(Alt((quarter, few)), -1), reverse=True),
        )
    )
    morning = ways("a m|in the morning")
    afternoon = ways("p m|in the afternoon|in the evening")
    early = _Then(ways("oh|zero"), _ONES)
    late = Alt((Within(_TEENS, 13, 19), Within(_TENS_ONES, 20, 23)))
    day = Alt((early, late))
    # On the hour in four digits: "oh eight hundred", "eighteen hundred hours"; ten to twelve are settled by it too.
    on_the_hour = _ValuePlace(
        Alt((early, Within(_TEENS, 10, 19), Within(_TENS_ONES, 20, 23))), 60, ways("hundred|hundred hours")
    )
    return [
        Rule(said, None),
        Rule(Within(_Then(((),), said, morning), 0, 719), "24h"),
        Rule(_Then(((),), Affine(Within(said, 0, 719), 1, 720), afternoon), "24h"),
        Rule(_Table(((spread("noon"), 720), (spread("midnight"), 0))), "24h"),
        Rule(_ValuePlace(day, 60, (), ((),), minutes), "24h"),
        Rule(on_the_hour, "24h"),
    ]


def _grammar() -> dict[NumberKind, tuple[Rule, ...]]:
    def gather(*units: list[Rule]) -> list[Rule]:
        return [rule for rules in units for rule in rules]

    area = gather(
        _bare(_FRACTION_FIRST),
        _measured("m2", "square meter", "square meters", _DECIMAL_FIRST, decimal=True),
        _measured("ft2", "square foot", "square feet", _FRACTION_FIRST),
        _measured("in2", "square inch", "square inches", _FRACTION_FIRST),
        _measured("mm2", "square millimeter", "square millimeters", _DECIMAL_FIRST, decimal=True),
        _measured("cm2", "square centimeter", "square centimeters", _DECIMAL_FIRST, decimal=True),
    )
    mass = gather(
        _bare(_FRACTION_FIRST),
        _measured("kg", "kilogram", "kilograms", _DECIMAL_FIRST, decimal=True),
        _measured("kg", "kilo", "kilos", _DECIMAL_FIRST, decimal=True),
        _measured("lb", "pound", "pounds", _FRACTION_FIRST),
        _measured("g", "gram", "grams", _DECIMAL_FIRST, decimal=True),
    )
    volume = gather(
        _bare(_FRACTION_FIRST),
        _measured("L", "liter", "liters", _DECIMAL_FIRST, decimal=True),
        _measured("qt", "quart", "quarts", _FRACTION_FIRST),
        _measured("gal", "gallon", "gallons", _FRACTION_FIRST),
        _measured("mL", "milliliter", "milliliters", _DECIMAL_FIRST, decimal=True),
    )
    rules = {
        NumberKind.PERCENT: _percent_rules(),
        NumberKind.LENGTH: _length_rules(),
        NumberKind.AREA: area,
        NumberKind.TEMPERATURE: _temperature_rules(),
        NumberKind.DURATION: _duration_rules(),
        NumberKind.COUNT: _count_rules(),
        NumberKind.MASS: mass,
        NumberKind.VOLUME: volume,
        NumberKind.CLOCK_TIME: _clock_rules(),
        NumberKind.NUMBER: [
            *(Rule(node, None) for node in (_DECIMAL_LENGTH, _FRACTION)),
            Rule(_Then(ways("minus|negative"), Affine(Alt((_DECIMAL_LENGTH, _FRACTION)), -1)), None),
        ],
    }
    return {kind: tuple(own) for kind, own in rules.items()}


_ICAO = (
    "alpha bravo charlie delta echo foxtrot golf hotel india juliet kilo lima mike november oscar papa quebec romeo "
    "sierra tango uniform victor whiskey yankee zulu"
)
# "X-ray" is two words to a recognizer.
_LETTERS = {name[0]: ways(f"{name}|{name[0]}|{name[0]} as in {name}") for name in _ICAO.split()} | {
    "x": ways("x ray|x|x as in x ray")
}


def _alike(whole: int) -> bool:
    """Teens and tens (13/30, 14/40 ... 19/90) in the last two figures, in the thousands, and in "thirteen hundred"."""
    thousands, below = divmod(whole, 1000)
    two_figures = [below % 100, thousands]
    if whole < 10_000:
        two_figures.append(whole // 100 if thousands else 0)
    return any(13 <= pair <= 19 for pair in two_figures) or any(pair in range(30, 100, 10) for pair in two_figures[:2])


NUMBERS = NumberGrammar(
    _FORMS,
    rules=MappingProxyType(_grammar()),
    cardinal=_CARDINAL,
    two_digits=_TWO_DIGITS,
    pair=_PAIR,
    digit_run=_DIGIT_RUN,
    letters=MappingProxyType(_LETTERS),
    letters_heard=MappingProxyType({("oh",): "O", ("xray",): "X"}),
    things=_THINGS,
    usual_things=("tile", "panel", "piece", "bag"),
    named=_NAMED,
    number="number",
    by="by",
    minus="minus",
    point="point",
    repeats=MappingProxyType({"double": 2, "triple": 3}),
    tidied=MappingProxyType({"am": "a-m", "a.m.": "a-m", "pm": "p-m", "p.m.": "p-m"}),
    alike=_alike,
)
