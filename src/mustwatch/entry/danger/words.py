"""Classes of words, and the words that take back what is said beside them. Common practice."""

CLASSES = {
    "VESSEL": (
        r"(?:carboys?|demijohns?|demi johns?|jugs?|jars?|buckets?|pails?|fermenters?|fermentors?|vessels?|tanks?"
        r"|barrels?|kegs?|crocks?|tubs?|growlers?|vats?|glass|glas|gallons?|containers?|flasks?)"
    ),
    "GLASS": r"(?:carboys?|demijohns?|demi johns?|jugs?|jars?|glass\w*|bottles?|growlers?|flasks?)",
    "LOCK": (
        r"(?:air ?locks?|(?<!door )(?<!bike )locks?|bubblers?|s bend|blow ?off(?: tubes?| hoses?| pipes?)?|tubes?"
        r"|hoses?|grommets?)"
    ),
    "LID": r"(?:lids?|bungs?|stoppers?|corks?|(?<!fruit )caps?|(?<!on )(?<!the )tops?|plugs?|covers?|closures?)",
    "CLOSER": (
        r"(?:screw ?caps?|screw ?tops?|swing ?tops?|flip ?tops?|lids?|bungs?|stoppers?|corks?|caps?|clips?|tops?"
        r"|covers?|plugs?|gaskets?)"
    ),
    "BOTTLED": (
        r"(?:bottles?|corks?|caps?|crowns?|lids?|tops?|stoppers?|one|two|three|four|another|third|second|necks?|wax"
        r"|pets?|cage|wires?|muselets?|seals?)"
    ),
    "FLOOR": (
        r"(?:floor|shelf|shelves|carpet|mat|towel|tray|cupboard|table|ground|counter\w*|worktop|bench|rug|drawer"
        r"|newspaper|paper|socks?|cardboard|cloth|boards?|lino|tiles?|box|wall|sofa|bed)"
    ),
    "WET": r"(?:wet|damp|moist|sticky|soaked|soaking|soggy)",
    "COLOUR": r"(?:colou?red|blue\w*|bluish|green\w*|black\w*|grey\w*|gray\w*|pink\w*|orange|red|reddish|purple)",
    "GROWTH": (
        r"(?:spots?|dots?|specks?|flecks?|patch\w*|blobs?|stuff|growths?|streaks?|islands?|circles?|bits?|dust"
        r"|blanket|film|skin|colon\w+|floaters|crust|spores?|blotch\w*|fluff|things?|mat|threads?|ring of)"
    ),
    "PLACE": (
        r"(?:cellar|cupboard|closet|basement|shed|garage|room|pantry|down|downstairs|there|here|fermenters?|buckets?"
        r"|inside|crawl space|attic|near|larder|stairs|bathroom|van|loft|after)"
    ),
    "HOT": r"(?:boil\w*|scald\w*|steaming|piping|kettle|hot|stove|hob|simmering)",
    "BLOCKED": (
        r"(?:block\w*|stopped up|backed up|clog\w*|plugged|plugging|jammed|stuck|choked|gummed|gunk\w*|kinked"
        r"|pinched|bunged|overflow\w*|full of|filled with|filled up|overtaken|foam(?!less|free)\w*|froth\w*|krausen"
        r"|pulp|fruit|seeds?|pips|crud|goo|sludge|slurry|yeast\w*|mush|obstruct\w*|stones?|skins?|raisins?"
        r"|\w*cherr\w*|\w*berr\w*|petals?|leaves|scum|bits)"
    ),
    "LIQUID": r"(?:water|liquid|vodka|gin|brandy|spirit|fluid|sanitiser|sanitizer|solution)",
    "CLUMSY": (
        r"(?:crumbs|crumbl\w*|pieces of cork|dropped|fault|knocked|slipped|fell|friends|birthday|off the (?:shelf"
        r"|rack)|clumsy|washing|went in|tiles|in from|home|back with)"
    ),
    "MOVES": (
        r"(?:bulg\w*|dom(?:e|es|ed|ing)|swoll?en|swell\w*|balloon\w*|convex|pregnant|puff\w*|inflat\w*|strain\w*"
        r"|warp\w*|stretch\w*|tented|mushroom\w*|pop+(?:ed|ing|s)?(?! (?:it|back|in|to|round|over|by|the|an?|one|two"
        r"|open an?|corks?|bottles?|question)\b)|bl(?:ew|own|ows|owing)|blast\w*|shot|shoot\w*|fl(?:ew|ies|ying|own)"
        r"|lift(?:ed|ing|s)?(?! (?:in|down|back|the|an?(?! bit| little| finger| cm| mm| touch| hair)|my|them|one"
        r"|it)\b)|ris(?:en|ing|es)|rose|push(?:ed|ing|es)(?! (?:in|down|back|the|an?(?! bit| little| finger| cm| mm"
        r"| touch| hair)|my|them|one|it)\b)|shoved|forc(?:ed|ing)|creep\w*|crept|walk(?:ed|ing)|inch(?:ed|ing)"
        r"|mov(?:ed|ing|es)(?! (?:to|into|from|house|it|them|the|upstairs|downstairs))|c(?:ame|ome|omes"
        r"|oming) (?:half |right |clean )?(?:out|off|up|loose|away)|jump\w*|launch\w*|eject\w*|spat|hurled|thrown"
        r"|stands? up|standing up|hopped|rounded|curved|(?:begun|began|start\w*|starting|begins?|seems?|wants?"
        r"|try\w*|tries) to (?:move|lift|rise|pop|bulge|push|creep|come out|dome)|dislodg\w*|displaced|wont stay"
        r"|will not stay|gave way|let go|took off|rocket\w*|sprang|sprung|(?:worked|working"
        r"|works) (?:itself )?(?:loose|out)|half (?:out|off|way out)|bowed|hit the|landed|wants out|proud|upwards"
        r"|sticks? out|sticking out|off by itself|gone (?:up|off|flying)|went (?:up|off|flying))"
    ),
    "AGENT": (
        r"(?<!something )(?<!it )(?<!gas )(?<!foam )(?<!pressure )(?<!yeast )(?<!has )(?:popped|lifted|raised|moved"
        r"|pushed|pulled|took|opened|put|removed|pressed|swirled|punched|cracked|uncorked|lift|pull|push|flipped"
        r"|eased|twisted|swapped|changed|gave|drank|drop\w*|brought|checked|turned)(?: (?:the|a|an|my|one|two|three"
        r"|each|every|another|old|new|last|first|all|both|off the|out the|up the|open the))*"
    ),
}

# What takes back what is said after it, in the same breath.
DENIED = (
    r"\b(?:no|not|never|without|none|nothing|neither|nor|nobody|isnt|wasnt|arent|werent|didnt|doesnt|dont|havent"
    r"|hasnt|free of|free from|zero|(?:check|test|look|inspect)(?:ed|ing)? (?:\w+ ){0,3}for|used to|if|in case"
    r"|read about|worr\w+ about|afraid of|fear of|avoid\w*|prevent\w*|against|instead of|stopped \w+ing|rather than"
    r"|lest|hardly)\b"
)
# What takes back the words just before it.
DENIED_AFTER = (
    r"^s? (?:none|test|free|proof|check\w*|nowhere|gone\b|(?:is |was )?fixed|(?:is |was )?mended|cleaned up"
    r"|as it should)"
)
# What takes back a clause of one or two words, standing alone behind it: leaks, none.
BARE_DENIAL = r"none|no|nope|nothing|ok|okay|fine|zero|negative|not any|not at all"
SCOPE_ENDS = r" (?:and|so|then|since|because|while|now|until|still) "
# A no that denies nothing.
NO_DENIAL = (
    r"\b(?:no \d+|no idea|no clue|not sure|dont know|do not know|no doubt|no joke|not good|not happy|not nice"
    r"|not only|not again)\b"
)
PLANNED = r"\b(?:to be|will|going to|plan\w*|must not|do not|dont|should|want to|would)\b"
CLAUSE_ENDS = r"[.,;:!?()\n\"]+|\bbut\b|\bthough\b|\balthough\b|\bhowever\b"
# Whose it is when it is not the mead's, whatever the topic.
FOREIGN = (
    r"slippers|sweaters?|scarf|scarves|toys?|teddy|driveway|in the drive|pavement|park|path|slippers|gloves|hats?"
    r"|jacket|boots|pot idea|praise|price|song|laugh\w*|tears|flames of|traffic|situation|customs|drain|road|account"
    r"|eyes|bank|news|story|memory|joke|phone|computer|laptop|e ?mail|letter|school|office|meeting|train|bus|bike"
    r"|tyre|tire|engine|lawn|hedge|hens?|rabbit|soup|cake|pie|roast|sauce|steak|salad|butter|cereal|wheat|rice|pasta"
    r"|pizza|sandwich|toilet|boiler|radiator|dishwasher|vacuum|concert|movie|film festival|novel|newspaper article"
    r"|music|radio|tv|thunder|storm|law|tax|money|plaster\w*|drywall|shopping|budget|schedule|pump|water (?:line"
    r"|pipe|main)|envelope|envy|whip|dawn|ice cream|marker|pen|crow|car|cars|roof|gutter"
)
# What says that a thing that was settled is not.
UNSETTLED = r"\b(?:comes back|came back|keeps|still (?:leak|drip|block|foam|seep)\w*|back again)\b"
# What somebody did to another thing: cracked the spine, closed the garage. The thing follows the verb.
DID_TO = (
    r"^(?:(?:i|we|have|has|just|then|and|today|also|quickly) )*(?:cracked|popped|sealed|closed|shut|screwed|bunged"
    r"|capped|corked|lifted|blew|raised|moved|pushed|plugged|boiled|burst|broke|split|stuck|dripped|sprayed|locked"
    r"|tightened)(?: (?:up|out|off|open|down|over|on|in))? (?:the|an?|my|our|some|two|three|his|her|their) (?!bit"
    r"|little|cm|centimet|mm|finger|inch|half|touch)"
)
DONE_TO = r"hole|grommet|vent|clip|swing|flip|ceiling|floor|wall|table|kitchen|room|shelf|top|place|honey|must"

# Words a slip of the finger may have meant.
MENDED = (
    "airlock", "bubbler", "blocked", "clogged", "plugged", "jammed", "carboy", "demijohn", "bottle",
    "bottles", "exploded", "shattered", "gushed", "gushing", "bulging", "swollen", "leaking", "leaked",
    "seeping", "weeping", "cracked", "dripping", "puddle", "hairline", "mouldy", "vinegar", "vinegary",
    "screwed", "tightened", "stopper", "boiling", "hissing", "hissed", "fizzing", "fountain", "sparkling",
    "carbonated", "lightheaded", "headache", "fainted", "popped", "growth", "growing", "patches", "krausen",
    "exploding", "shattering",
)  # fmt: skip
