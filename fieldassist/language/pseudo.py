"""A language made from English letter by letter, to see what was never put into words at the edge.

Whatever a day in it still tells in plain English is a sentence that no language file holds.
"""

from __future__ import annotations

from typing import Any

from fluent.syntax import ast
from fluent.syntax.visitor import Transformer

_LETTERS = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
    "áƀćđéƒǵĥíĵķĺḿńóṕɋŕśťúṽŵẋýźÁɃĆĐÉƑǴĤÍĴĶĹḾŃÓṔɊŔŚŤÚṼŴẊÝŹ",
)


def pseudo(text: str) -> str:
    """English as nobody writes it.

    >>> pseudo("Yes or no?")
    'Ýéś óŕ ńó?'
    """
    return text.translate(_LETTERS)


class _Everywhere(Transformer):
    def visit_TextElement(self, node: Any) -> Any:  # noqa: N802 - the visitor's own name
        node.value = pseudo(node.value)
        return node


def pseudo_resource(resource: ast.Resource) -> ast.Resource:
    """A file of messages with all its text changed, its figures and choices left alone."""
    changed: ast.Resource = _Everywhere().visit(resource)
    return changed
