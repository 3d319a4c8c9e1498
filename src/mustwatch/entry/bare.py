"""Words without case and accents, so that what was typed one way is found when it is sought another."""

import unicodedata

# Letters that no normal form takes apart.
LETTERS = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i"})


def bare(text: str) -> str:
    """The text in small letters, without accents, in single blanks.

    >>> bare("  Bouché  de  Müsli "), bare("STRASSE") == bare("Straße")
    ('bouche de musli', True)
    """
    if text.isascii():
        return " ".join(text.lower().split())
    apart = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return " ".join(letters.casefold().translate(LETTERS).split())
