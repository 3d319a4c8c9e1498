"""What a thing that was added is, by the name it was given: rules look for kinds, people write names."""

import re
from functools import lru_cache
from typing import Any, get_args

from mustwatch.ledger.events import Category

NAME_ENDS = {"chips", "cubes", "staves", "spiral", "powder", "puree", "peel", "zest", "sticks", "beans", "hulls"}
DAP_MG_PER_G = 212.1  # nitrogen in diammonium phosphate, stoichiometry: 2 x 14.007 / 132.056
# (kind, mg nitrogen per g, parts of names). The first that fits settles it.
PARTS: tuple[tuple[str, float | None, tuple[str, ...]], ...] = (
    ("nutrient", DAP_MG_PER_G, ("diammonium", "ammonium phosphate")),
    ("sulfite", None, ("sulfite", "sulphite", "sulfur dioxide", "sulphur dioxide")),
    ("sorbate", None, ("sorbate", "sorbic")),
    ("fining", None, ("bentonite", "isinglass", "gelatin")),
    ("carbonate", None, ("carbonate",)),
    ("nutrient", None, ("nutrient", "yeast food", "yeast hulls", "inactive yeast", "dead yeast")),
    ("tannin", None, ("tannin",)),
    ("oak", None, ("oak",)),
)
WORDS: dict[str, tuple[str, float | None]] = {
    "dap": ("nutrient", DAP_MG_PER_G),
    "so2": ("sulfite", None),
    **dict.fromkeys(("tartaric", "malic", "citric", "lactic"), ("acid", None)),
    **dict.fromkeys(
        ("syrup", "sucrose", "glucose", "dextrose", "fructose", "maltose", "molasses", "treacle", "jaggery", "demerara",
         "muscovado", "candi", "candy", "agave", "malt", "sweetener", "caramel"),
        ("sugar", None),
    ),
    **dict.fromkeys(
        ("cordial", "nectar", "concentrate", "lemonade", "sap", "cider", "wine", "mead", "must", "wort"),
        ("juice", None),
    ),
    **dict.fromkeys(
        ("berries", "fruits", "raisin", "raisins", "sultanas", "dates", "jam", "marmalade", "puree", "pulp"),
        ("fruit", None),
    ),
    **dict.fromkeys(
        ("clove", "cloves", "cinnamon", "vanilla", "ginger", "nutmeg", "cardamom", "pepper", "chilli", "spices",
         "peel", "zest"),
        ("spice", None),
    ),
}  # fmt: skip


def kind_of(what: str) -> tuple[str, float | None]:
    """(category, mg nitrogen per g or None) of a name; `other` where the name does not tell.

    >>> kind_of("potassium metabisulfite"), kind_of("2 l of apple juice"), kind_of("marbles")
    (('sulfite', None), ('juice', None), ('other', None))
    """
    low = " ".join(re.sub(r"[-,;:()/]", " ", what.lower()).split())
    words = low.split()
    if low in get_args(Category):
        return low, None
    for category, nitrogen, parts in PARTS:
        if any(part in low for part in parts):
            return category, nitrogen
    # In "apple juice" and "sugar plums" the last word is the thing.
    for word in reversed(words):
        if word in get_args(Category):
            return word, None
        if word in WORDS:
            return WORDS[word]
        if (kind := _in_library(word)) is not None:
            return kind, None
    return _in_library(low) or "other", None


def substance(what: str, category: str | None = None) -> dict[str, Any]:
    """{"what", "category", "nitrogen_mg_per_g"?} of what goes in; category where it is not left to the name.

    The nitrogen of a name counts only where the thing is taken for food of the yeast.

    >>> substance("dap")["nitrogen_mg_per_g"], substance("dap", "acid")
    (212.1, {'what': 'dap', 'category': 'acid'})
    """
    told, nitrogen = kind_of(what)
    content = {} if nitrogen is None or category not in (None, told) else {"nitrogen_mg_per_g": nitrogen}
    return {"what": what, "category": category or told, **content}


def _in_library(name: str) -> str | None:
    return _library().get(name) or _library().get(_single(name))


@lru_cache(maxsize=1)
def _library() -> dict[str, str]:
    from mustwatch.trade.library import INGREDIENTS

    whole = {name.lower().replace("-", " "): INGREDIENTS[name].category for name in INGREDIENTS}
    tails = {name.split()[-1]: category for name, category in whole.items() if category == "fruit"}
    return tails | whole


def _single(name: str) -> str:
    if name.endswith("ies"):
        return name[:-3] + "y"
    if name.endswith(("ches", "oes")):
        return name[:-2]
    return name.removesuffix("s")
