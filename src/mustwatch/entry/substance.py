"""What a thing that was added is, by the name it was given: rules look for kinds, people write names."""

import re
from functools import lru_cache
from typing import Any, get_args

from mustwatch.ledger.events import Category
from mustwatch.ledger.visible import visible

NAME_ENDS = {
    "chips", "cubes", "staves", "spiral", "powder", "puree", "peel", "zest", "sticks", "beans", "hulls", "tablet",
    "tablets",
}  # fmt: skip
DAP_MG_PER_G = 212.1  # nitrogen in diammonium phosphate, stoichiometry: 2 x 14.007 / 132.056
SULFATE_MG_PER_G = 212.0  # nitrogen in ammonium sulfate, stoichiometry: 2 x 14.007 / 132.14
UREA_MG_PER_G = 466.5  # nitrogen in urea, stoichiometry: 2 x 14.007 / 60.056
# (kind, mg nitrogen per g, parts of names). The first that fits settles it. Misspelt forms are common practice.
PARTS: tuple[tuple[str, float | None, tuple[str, ...]], ...] = (
    ("nutrient", DAP_MG_PER_G, ("diammonium", "ammonium phosphate")),
    ("nutrient", SULFATE_MG_PER_G, ("ammonium sulfate", "ammonium sulphate")),
    ("sulfite", None, ("sulfit", "sulphit", "metabi", "sulfur dioxide", "sulphur dioxide", "campden", "camden tab")),
    ("sorbate", None, ("sorbate", "sorbic", "ksorb")),
    ("fining", None, ("bentonite", "isinglass", "gelatin", "egg white", "kieselsol", "chitosan", "irish moss")),
    ("acid", None, ("cream of tartar", "bitartrate")),
    ("carbonate", None, ("carbonate", "bicarb", "baking soda", "bread soda", "cooking soda", "pearl ash", "pearlash")),
    (
        "nutrient",
        None,
        ("nutrient", "yeast food", "yeast hulls", "yeast ghosts", "inactive yeast", "dead yeast", "killed yeast",
         "boiled yeast", "dead bread yeast", "yeast extract", "autolysate", "autolysed yeast", "autolyzed yeast",
         "energiser", "energizer", "vitamin b1", "thiamin"),
    ),
    ("tannin", None, ("tannin",)),
)  # fmt: skip
# What stands for a thing only where it is the whole name: cocoa hulls are none of yeast.
WHOLE_NAMES: dict[str, tuple[str, float | None]] = {
    **dict.fromkeys(("hulls", "ghosts"), ("nutrient", None)),
    **dict.fromkeys(("camden", "campdon"), ("sulfite", None)),
}
# Numbers of the European list of food additives, Regulation (EC) No 1333/2008, from memory.
E_NUMBERS = {
    **dict.fromkeys((220, 221, 222, 223, 224, 225, 226, 227, 228), "sulfite"),
    **dict.fromkeys((200, 202, 203), "sorbate"),
    **dict.fromkeys((270, 296, 330, 334), "acid"),
    **dict.fromkeys((170, 500, 501), "carbonate"),
    342: "nutrient",
}
WORDS: dict[str, tuple[str, float | None]] = {
    **dict.fromkeys(("dap", "e342"), ("nutrient", DAP_MG_PER_G)),
    **dict.fromkeys(("urea", "carbamide"), ("nutrient", UREA_MG_PER_G)),
    **dict.fromkeys(("so2", "meta", "kmeta", "nameta", "kms", "kmbs", "smb", "smbs", "pmbs", "kmetab"),
                    ("sulfite", None)),
    **dict.fromkeys(("tartaric", "malic", "citric", "lactic", "phosphoric", "ascorbic", "tartar"), ("acid", None)),
    "sorb": ("sorbate", None),
    **dict.fromkeys(("chalk", "potash", "khco3", "k2co3", "caco3", "nahco3"), ("carbonate", None)),
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
_FREE_OF = re.compile(
    r"\b(?:no|without|free of|not) (?:added )?(?:sul(?:f|ph)\w*|sorb\w*|preserv\w*)|\b(?:sul(?:f|ph)\w*|sorb\w*) free\b"
    r"|\bun(?:sul(?:f|ph)\w*)"
)
_E_NUMBER = re.compile(r"\be ?(\d{3})\b")
# Named so little that a wrong guess could hurt: of what it is, it says no more than its form.
_POWDERY = re.compile(
    r"\b(?:powders?|crystals?|granules?|tablets?|tabs?|pills?|capsules?|chemicals?|salts?|stabili[sz]ers?"
    r"|preservatives?|stuff|sachets?|packets?)\b"
)
_INITIALS = re.compile(r"[b-df-hj-np-tv-z]{2,5}\d?")  # no vowel in it: a short form
_HARMLESS_POWDERS = re.compile(r"\b(?:sea salt|table salt|cocoa|cacao|coffee|tea|pollen|enzyme|pectinase|matcha)\b")


def kind_of(what: str) -> tuple[str, float | None]:
    """(category, mg nitrogen per g or None) of a name; `other` where the name does not tell.

    >>> kind_of("potassium metabisulfite"), kind_of("2 l of apple juice"), kind_of("marbles")
    (('sulfite', None), ('juice', None), ('other', None))
    """
    low = _FREE_OF.sub(" ", _plain(what)).strip()
    words = low.split()
    if low in get_args(Category):
        return low, None
    if low in WHOLE_NAMES:
        return WHOLE_NAMES[low]
    for category, nitrogen, parts in PARTS:
        if any(part in low for part in parts):
            return category, nitrogen
    if (found := _E_NUMBER.search(low)) and (numbered := E_NUMBERS.get(int(found[1]))):
        return numbered, DAP_MG_PER_G if found[1] == "342" else None
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


def is_sodium(what: str) -> bool:
    """Whether a name tells a salt of sodium: of the sulfites it holds more SO2.

    >>> is_sodium("SMB"), is_sodium("campden")
    (True, False)
    """
    low = _plain(what)
    return "sodium" in low or not {"smb", "smbs", "nameta", "na", "e223", "na2s2o5"}.isdisjoint(low.split())


def is_unknown_powder(what: str) -> bool:
    """Whether a name tells a powder, a tablet or a short form, and not of what.

    >>> is_unknown_powder("white powder"), is_unknown_powder("campden tablets"), is_unknown_powder("marbles")
    (True, False, False)
    """
    low = _plain(what)
    if kind_of(what)[0] != "other" or _HARMLESS_POWDERS.search(low):
        return False
    return bool(_POWDERY.search(low)) or _INITIALS.fullmatch(low) is not None


def what_is(what: str) -> str:
    """The question about a powder whose name does not tell what it is."""
    kinds = "nutrient, acid, carbonate, sulfite, sorbate, fining, tannin, other"
    return f"{visible(what, limit=30)}: what is it? Read the label. One of: {kinds}."


def _plain(what: str) -> str:
    return " ".join(re.sub(r"[-.,;:()/]", " ", what.lower()).split())


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
