"""Messages in Fluent's syntax (projectfluent.org, syntax 1.0), read by fluent.syntax and told here.

Fluent's own runtime for Python brings the numbers, dates and plurals of some hundred languages along, 40 MB of them.
Here numbers are told by `language` itself before they come to a message, so that what is left is small: text, figures,
functions of one figure, other messages, and choices by a name, a number or the number's plural category.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeAlias

from fluent.syntax import FluentParser, ast

Pattern: TypeAlias = ast.Pattern
FigureTold: TypeAlias = str | int
# One message that tells another that tells the first would never end.
_DEEPEST = 20


def plural_category(number: int) -> str:
    """English (Unicode CLDR 48, plural rules, en): "one" for 1, "other" for all else.

    >>> plural_category(1), plural_category(0)
    ('one', 'other')
    """
    return "one" if number == 1 else "other"


class Patterns:
    """The messages of one language.

    functions: what a message may call, each of one figure; plural: the category of a whole number in this language.

    >>> told = Patterns({"LOUD": str.upper})
    >>> told.add(parsed("lifts = { $count ->" + chr(10) + "  [one] One lift" + chr(10)
    ...                 + " *[other] { $count } lifts" + chr(10) + " } by { LOUD($who) }."))
    >>> told.tell(told.pattern("lifts"), {"count": 1, "who": "rosa"})
    'One lift by ROSA.'
    """

    def __init__(
        self, functions: Mapping[str, Callable[[str], str]], plural: Callable[[int], str] = plural_category
    ) -> None:
        self._functions = functions
        self._plural = plural
        self._messages: dict[str, ast.Message] = {}

    def add(self, resource: ast.Resource) -> None:
        """Take in the messages of a file; one that is there already stays."""
        for entry in resource.body:
            if isinstance(entry, ast.Message):
                self._messages.setdefault(entry.id.name, entry)

    def pattern(self, code: str, attribute: str = "") -> Pattern | None:
        """The pattern of a message, or of its attribute where it has that; None where there is no such message."""
        message = self._messages.get(code)
        if message is None:
            return None
        return next((each.value for each in message.attributes if each.id.name == attribute), message.value)

    def tell(self, pattern: Pattern, figures: Mapping[str, FigureTold], depth: int = 0) -> str:
        """The pattern with these figures. A figure that is missing is told by its name, and nothing stops."""
        return "".join(
            part.value if isinstance(part, ast.TextElement) else str(self._value(part.expression, figures, depth))
            for part in pattern.elements
        )

    def _value(self, told: object, figures: Mapping[str, FigureTold], depth: int) -> FigureTold:
        match told:
            case ast.VariableReference():
                return figures.get(told.id.name, f"{{${told.id.name}}}")
            case ast.StringLiteral():
                return str(told.parse()["value"])
            case ast.NumberLiteral():
                return int(told.value)
            case ast.FunctionReference():
                function = self._functions[told.id.name]
                return function(str(self._value(told.arguments.positional[0], figures, depth)))
            case ast.MessageReference():
                other = self.pattern(told.id.name)
                return told.id.name if other is None or depth > _DEEPEST else self.tell(other, figures, depth + 1)
            case ast.SelectExpression():
                return self.tell(self._chosen(told, self._value(told.selector, figures, depth)), figures, depth)
            case ast.Placeable():
                return self._value(told.expression, figures, depth)
        raise ValueError(f"a message holds what is not told here: {type(told).__name__}")

    def _chosen(self, choice: ast.SelectExpression, by: FigureTold) -> Pattern:
        for variant in choice.variants:
            key = variant.key
            if isinstance(key, ast.NumberLiteral):
                fits = isinstance(by, int) and by == int(key.value)
            else:
                fits = key.name == (self._plural(by) if isinstance(by, int) else by)
            if fits:
                return variant.value
        return next(variant.value for variant in choice.variants if variant.default)


def parsed(text: str) -> ast.Resource:
    """A file's messages."""
    return FluentParser(with_spans=False).parse(text)
