"""The two languages. The British sentence is the key; the American one stands in a catalogue.

Decision: British text as key and no British catalogue, so that a sentence reads in the code as
it reads on the screen, and only what differs has to be translated.
"""

import gettext
import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

import resources

BRITISH = "en_GB"
AMERICAN = "en_US"
LANGUAGES = (BRITISH, AMERICAN)
DOMAIN = "firstpull"
TRANSLATIONS = Path(resources.__file__).resolve().parent / "translations"

_FIELD = re.compile(r"\{([a-z_]+)\}")


def msg(text: str) -> str:
    """Mark a literal as a sentence to be translated when it is shown."""
    return text


def fields(template: str) -> frozenset[str]:
    """The names of the places in a sentence where values go."""
    return frozenset(_FIELD.findall(template))


def fill(template: str, values: Mapping[str, str]) -> str:
    """The sentence with its values in place. Raises KeyError when one is missing.

    Values are put in once and never read again, so a name like `{0}` or `%s` stays as it is.
    """
    return _FIELD.sub(lambda match: values[match[1]], template)


def catalogue_path(language: str, suffix: str) -> Path:
    """Where the catalogue of a language lies; `suffix` is po or mo."""
    return TRANSLATIONS / language / "LC_MESSAGES" / f"{DOMAIN}.{suffix}"


@lru_cache(maxsize=len(LANGUAGES))
def translations(language: str) -> gettext.NullTranslations:
    """The catalogue of a language. Raises ValueError for one that is not shipped."""
    if language not in LANGUAGES:
        raise ValueError(f"{language!r} is none of {LANGUAGES}")
    if language == BRITISH:
        return gettext.NullTranslations()
    with catalogue_path(language, "mo").open("rb") as compiled:
        return gettext.GNUTranslations(compiled)


def language_of(name: str | None) -> str:
    """The nearest of the two languages to a locale's name; British when it is not American."""
    words = re.split(r"[^a-z]+", (name or "").lower())
    american = words[:2] in (["en", "us"], ["english", "united"]) and words[2:3] != ["kingdom"]
    return AMERICAN if american else BRITISH
