"""Words that can mean danger of bottles, air and drink. Which words people use is common practice."""

from mustwatch.entry.danger.topic import Sign, Topic

OF_DRINK: dict[str, Topic] = {
    "burst": Topic(
        name="a bottle that burst or lifts its cap",
        asks="did a bottle burst by itself, or does a cork or cap move?",
        look="Cover eyes, face and hands. Look at corks, caps and necks from a distance.",
        seen=("seen", {"signs": ["bottle burst or cap lifted"]}),
        where="bs",
        signs=(
            Sign(r"bottle ?bomb\w*|grenades?"),
            Sign(
                r"{MOVES}|burst\w*(?! out| of| with| into)|explod\w*|shatter\w*|went off|gone off|going off|weep\w*"
                r"|leak\w*|seep\w*|puddles?|pools?|ooz\w*|crack(?:ed|s|ing)?(?! open| one)|brok(?:e|en)|snapped"
                r"|proud|pinged|split|in (?:bits|pieces)|go(?:es)? bang|went (?:bang|boom|pop)|open itself"
                r"|on the move|(?:popping|banging|cracking) (?:noises?|sounds?)|sticks? out|sticking out|gone|higher"
                r"|by itself|on its own|raised|smash\w*",
                unless=r"{CLUMSY}|{AGENT} {BOTTLED}|popped open an?|wax seal",
                beside=r"{BOTTLED}|noises?|sounds?",
            ),
            Sign(
                r"{BOTTLED}(?: \w+){0,3}? (?:(?<!came )out|off|on the floor)(?: this| last| again| of|$)",
                unless=r"{CLUMSY}",
            ),
            Sign(
                r"(?:burst|exploded|exploding|shattered|broken|leaking|weeping|bulging|swollen|cracked|blown|lifted"
                r"|domed|sticky|wet|loose|raised|popped) (?:bottle|cork|cap|crown|glass|neck)s?",
                unless=r"{CLUMSY}",
            ),
            Sign(
                r"bang(?! on| for)|boom|(?:heard|sound of) (?:\w+ )?(?:breaking|smashing)|explosions?"
                r"|explod\w*(?! with)|(?:a|gun) ?shot rang|went off in the (?:night|cellar)",
                unless=r"{CLUMSY}",
            ),
            Sign(
                r"glass (?:is |was |lies )?(?:all over|all around|everywhere|shards?|splinters?|broken|shattered"
                r"|in the box)|shards?|(?:breaking|shattering) glass|glass breaking|in bits",
            ),
            Sign(r"(?:seep|weep|leak|ooz)\w* ~ (?:corks?|caps?|seals?)"),
            Sign(r"(?:rock|stone) hard|hard as (?:a )?(?:rock|stone)s?"),
            Sign(
                r"bottoms? ~ (?:blown|off|out)|blown (?:clean )?off|(?:lost|losing) ~ (?:bottles?|explosions?"
                r"|pressure)",
            ),
            Sign(r"^(?:it |all )?burst\b(?! (?:of|with))"),
        ),
        foreign=r"party|wedding|balloons?|popcorn|tyre|pipe|fireworks|laugh\w*|water pipe",
    ),
    "hot": Topic(
        name="something hot in glass",
        asks="is hot or boiling liquid in the glass, or was it within the last hours?",
        look="Do not touch or lift the glass. Look at it for cracks from a distance.",
        seen=("seen", {"signs": ["hot in glass"]}),
        where="vr",
        signs=(
            Sign(
                r"{HOT}|(?:[6-9]\d|1[0-9]\d) ?(?:c|f|degrees)",
                unless=(
                    r"cool\w*|cold (?:now|again|cellar)|lukewarm|pepper\w*|chil\w+|sauce|days?|weather|summer|room"
                    r"|toddy|spell|tea|coffee|chocolate|steamer|honey jars?|outside|bath"
                ),
                near=r"{GLASS}",
            ),
            Sign(r"hot to touch|(?:from|out of) the kettle|kettle water|off the boil", unless=r"cool\w*|tea|coffee"),
        ),
        foreign=r"kitchen|tea|coffee|bath|dinner",
        settled=r"let (?:\w+ )?cool(?: down)?(?! there| in)|cooled|once cool|when cool|cooling first",
    ),
    "gas": Topic(
        name="bad air",
        asks="did somebody feel dizzy or faint, or did a flame go out, where the ferments stand?",
        look="Stay out of the room until it is aired. Carbon dioxide cannot be smelt.",
        seen=("seen", {"signs": ["dizzy, bad air"]}),
        where="vrbs",
        signs=(
            Sign(
                r"diz+(?:y|iness|yness)|light ?head\w+|woozy|giddy|nause\w*|saw stars|seeing stars|ears ring\w*"
                r"|heart (?:racing|pounding)",
                unless=(
                    r"joy|happ\w*|love|heights?|from the (?:smell|scent|aroma)|dizzy (?:from|with|by) (?!the (?:gas"
                    r"|fumes|air|co2)|degass|fumes|gas|stirring|bending|breathing)"
                ),
            ),
            Sign(
                r"(?:nearly|almost|felt|feel|feeling|went|a bit|and|sick) faint|faint(?:ed|ing)|pass(?:ed|ing) out"
                r"|black(?:ed|ing) out|unconscious|collapsed|keeled over",
                unless=r"rafts|foam|krausen|fruit",
            ),
            Sign(
                r"head ?aches?|sore head|head (?:aching|hurts|spins|spinning|pounding|throbs|swims|swimming|swam"
                r"|aches|hurting)|migraine",
                unless=r"wine|beer|dinner|party|work|dr[au]nk|drinking|tablets",
                beside=r"{PLACE}|every time|whenever|work in|check\w*",
            ),
            Sign(
                r"(?:felt|feel|feeling|felt a bit|went) (?:\w+ )?(?:funny|sick|ill|weird|strange|odd|queasy|weak"
                r"|drunk|unwell|groggy|sleepy|drowsy|numb)|had to sit down|knees went",
                beside=r"{PLACE}",
            ),
            Sign(
                r"short(?:ness)? of breath|gasp\w*|suffocat\w*|breathless|out of breath|(?:took|takes"
                r"|take) my breath",
                unless=r"carry\w*|stairs|upstairs|running|colou?r|view|taste",
            ),
            Sign(
                r"(?:cant|cannot|couldnt|could not|hard to|hardly|struggl\w+ to|trouble|difficult\w*(?: to)?"
                r"|barely) (?:\w+ ){0,2}breath?\w*|breathing (?:\w+ )?(?:got|is|was|became|felt) (?:\w+ )?(?:hard"
                r"|difficult|heavy|short)",
                denies=True,
            ),
            Sign(
                r"(?:co2|carbon dioxide|gas) (?:alarm|meter|monitor|detector)",
                unless=r"bought|ordered|installed|silent|quiet",
            ),
            Sign(
                r"(?:candles?|flames?|match|matches|lighter|lamp|lantern|tea ?light) (?:(?!stays|lit"
                r"|burns)\w+ ){0,4}?(?:out|wont|will not|doesnt|does not|died|dies|dim\w*|snuffed|goes|went|not burn"
                r"|not light|wouldnt|would not)",
                unless=r"bought|dinner|birthday",
                denies=True,
            ),
            Sign(
                r"(?:it|they|all) (?:just )?(?:went|goes|go) out",
                near=r"candles?|flames?|match|matches|lighter|tea ?light",
            ),
            Sign(
                r"stuffy|bad air|no oxygen|stale air|air is (?:bad|thick|stale)",
                unless=r"nose",
                beside=r"{PLACE}|felt|faint|air",
                denies=True,
            ),
        ),
    ),
    "mould": Topic(
        name="mould",
        asks="does something fuzzy or coloured grow on it now?",
        look="Look at the surface in good light, and do not taste. Is it fuzzy or coloured?",
        seen=("seen", {"surface": "fuzzy"}),
        where="vrbs",
        signs=(
            Sign(
                r"mou?ld(?:s|y|ed|ing|ier|iness)?|mil+dew\w*|fung(?:us|i|al)|penicil\w+",
                unless=r"candle|silicone|soap|shed|cleared out",
            ),
            Sign(
                r"fuzz\w*|furr(?:y|ed)?|fur",
                unless=r"memor\w*|head|logic|picture|wash\w*|tongue|photo|camera|friend|details?|about|feeling",
            ),
            Sign(
                r"hairy|hairs|hair like|hair",
                unless=r"cut|dr[yi]er|peel\w*|my|her|his|wash\w*|getting old|dogs?|cats?|picked out|situation|brush",
                beside=(
                    r"hairy|has hair|with hair|layer|patch\w*|spots?|grow\w*|surface|top|on the|on it|white|gr[ea]y"
                    r"|green|thing|stuff|black|looks|something|islands?|circles?|strands?|fruit|floating|weird"
                ),
            ),
            Sign(
                r"cotton\w*(?! bag| cloth| sock| thread| string)|tufts?|wool|velvet\w*|fluff\w*|whisker\w*|downy"
                r"|woolly|cobweb\w*|spores?",
                unless=r"palate|mouth\w*|smooth|finish|tast\w*|texture|cloth|body|towels?|pillow|candy",
            ),
            Sign(r"slim(?:e|y|ey)|snot\w*|ropy|ropey"),
            Sign(
                r"{COLOUR}",
                unless=(
                    r"vanilla|cinnamon|pepper\w*|cocoa|lees|yeast|zest|peel|labels?|tape|pen|hops?|herbs?|teas?"
                    r"|petals?|mint|clay|chips|pollen|colou?r|glow|lamp|juice|clear|blossom"
                ),
                beside=r"{GROWTH}",
            ),
            Sign(
                r"(?:something|stuff|things?) (?:is |was |s )?gr(?:ow\w*|ew)|growths? (?:on|in|at|round|around"
                r"|inside)|growing (?:on|in|at|round|around|inside)",
                unless=r"yeast|garden|family|herbs?|nicely",
            ),
        ),
        foreign=(
            r"bread(?! mou?ld)|cheese|loaf|toast|pantry|fridge|cats?|dogs?|jumper|kids?|kiwis?|uncle|shower|bathroom"
            r"|walls?|memory|compost|clothes|tiles|soap|okra|coconut|salad|shed|rabbit|sofa|blanket of snow|coat|jam"
            r"|hall|paint\w*"
        ),
        settled=(
            r"(?<!not )(?:only|just) (?:pollen|yeast|foam|dust|rafts|krausen|lees|protein|pulp|bubbles)|(?:was"
            r"|is) pollen|binned (?:it|them)|threw (?:it|them) out"
        ),
    ),
    "fizz": Topic(
        name="gas in a drink that should be still",
        asks="did it gush, hiss or taste of gas, though it should be still?",
        look="Chill a bottle. Cover eyes, face and hands. Open it under a cloth.",
        seen=("seen", {"signs": ["gushing, gas in it"]}),
        where="brs",
        signs=(
            Sign(
                r"gush\w*|geysers?|fountains?|spray\w*|spew\w*|erupt\w*|volcan\w*|went everywhere|frothed|(?:foam"
                r"|froth)\w* (?:out|over|up|everywhere|all over|came)",
                unless=r"about how|clean\w*|garden|town|praise|cat|garden hose|sauce",
            ),
            Sign(
                r"fizz\w*|hiss\w*|ps+h?h?t\w*|pf+t|tss+\w*|spritz\w*|sparkl\w*|prickl\w*|bubbl(?!ers?\b)\w*"
                r"|carbonat\w*|gassy|effervesc\w*|soda|referment\w*|tastes? (?:of|like) gas|(?:some|is|has|got"
                r"|full of|more|lots? of|too much) gas|gas in (?:it|this|there|the)|(?:loud|big) pop"
                r"|like (?:a )?(?:champagne|coke|cola|lemonade)|petillant|foam(?:s|ed|ing)?|froth(?:s|ed|ing|y)?"
                r"|tingl\w*|woken up|woke up",
                unless=r"bread|fizzy (?:drink|water)|sparkling (?:water|clear|wine for)|wrap|fridge",
            ),
        ),
        foreign=r"party|wedding|kids?|lunch|dinner|bread",
    ),
    "vinegar": Topic(
        name="vinegar",
        asks="does it smell or taste of vinegar now?",
        look="Smell it. Vinegar stays when the glass is swirled.",
        seen=("seen", {"smell": ["vinegar"]}),
        where="vrbs",
        signs=(
            Sign(
                r"vin[aei]g[ae]r\w*|acetic|acetified",
                unless=(
                    r"clean\w*|kettle|salad|trap|balsamic|bought|fly|flies|rinsed|descal\w*|dressing|chips|mother"
                    r"|maker|made"
                ),
            ),
        ),
        foreign=r"salad|kettle|kitchen|pickles?|chutney|fair",
    ),
}
