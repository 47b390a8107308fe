"""Words: what the other rooms hold as codes and figures, told in a language, in a system of units, to an ear or an eye.

`Words` is called with a `trade.message.Message`. Each language is a folder of Fluent files (projectfluent.org), one a
subject; a code begins with its subject. `numbers` holds numbers and quantities in words, to be said and to be heard.
"""

from fieldassist.language.words import FALLBACK, LANGUAGES, READ_LANGUAGES, UnknownLanguage, Words

__all__ = ["FALLBACK", "LANGUAGES", "READ_LANGUAGES", "UnknownLanguage", "Words"]
