"""Words that can mean danger to a vessel and its closures. Which words people use is common practice."""

from mustwatch.entry.danger.topic import Sign, Topic

OF_VESSELS: dict[str, Topic] = {
    "lid": Topic(
        name="a lid or bung that bulges or moves",
        asks="does the lid or bung bulge or move now?",
        look="Keep your face away. Look from the side whether lid or bung bulges or lifts.",
        seen=("seen", {"signs": ["bulging lid"]}),
        where="vr",
        signs=(
            Sign(
                r"{MOVES}",
                unless=(
                    r"top(?:ped)? up|fruit|cap of|back on|loose cap|(?:for a|to) (?:smell|look|sniff|taste|stir"
                    r"|sample)|{AGENT} {LID}"
                ),
                beside=r"{LID}",
            ),
            Sign(
                r"(?:it|they) (?:was|were|got|is|gets|keeps|s|has been) (?:pushed|lifted|blown|forced|raised"
                r"|shot) (?:up|out|off)",
            ),
            Sign(
                r"(?:bung|stopper|cork) (?:was |is )?out$|{LID} (?:was |is |lay |sits )*(?:lying|next to|beside"
                r"|higher|above|missing)",
            ),
            Sign(
                r"(?:something|it|gas|foam|pressure|yeast|ferment\w*) (?:has )?(?:pushed|lifted|popped|moved|raised"
                r"|forced|shoved|is pushing) ~ {LID}",
            ),
            Sign(
                r"{LID} (?:is |sits |was |stands |now )*(?:crooked|askew|tilted|lopsided|off (?:this|in the|again"
                r"|by)|loose by itself)",
            ),
            Sign(
                r"air ?locks? (?:\w+ ){0,3}?(?:took off|bl(?:ew|own)|shot|launched|ejected|flew|flying|landed"
                r"|hit the|popped (?:out|off)|gone|pushed (?:out|off|up)|forced|on the (?:ceiling|floor|wall)"
                r"|came (?:out|off)|off again)",
                unless=r"cleaned|swapped",
            ),
            Sign(
                r"(?:popped|blew|blown|lost) (?:its|their) (?:top|lid|bung|cork|stopper|stack|cap)|top has blown"
                r"|blew the (?:lid|top|bung)",
            ),
            Sign(r"(?:found|saw) ~ {LID} ~ (?:floor|ground|ceiling|behind|across|other side)"),
            Sign(
                r"{LID} (?:was |is |s |lay |lying |lies )*(?:on the (?:{FLOOR}|ceiling)|across the|gone$|half (?:out"
                r"|off)|behind the|in the corner)",
            ),
            Sign(
                r"(?:{VESSEL}|sides?)(?: \w+){0,3} (?:balloon\w*|bulg\w*|swoll?en|swell\w*|bow(?:ed|ing)|puff\w*"
                r"|inflat\w*|creak\w*)",
            ),
            Sign(r"(?:its |it is |is |all )?(?:bulging|swollen|domed|ballooning)"),
            Sign(r"{LID} ~ (?:like|as) a (?:drum|balloon)|(?:hold|held|holding) the {LID} down"),
            Sign(
                r"under pressure|pressure (?:is |has )?(?:build\w*|built|in|push\w*)|built up (?:a lot of )?pressure",
            ),
            Sign(
                r"blow ?outs?|explod\w*(?! with)|explosion|erupt\w*|volcan\w*|geysers?|on the ceiling"
                r"|ceiling ~ (?:sticky|covered)",
            ),
        ),
        foreign=r"pop ?corn|kids?|dad|mum|eyes?|wallet|pockets?|gravity|temperature",
    ),
    "leak": Topic(
        name="a leak or a crack",
        asks="does the glass leak, or is it cracked, now?",
        look="Do not lift the vessel. Look for cracks, drops and a wet ring under it.",
        seen=("seen", {"signs": ["leaking"]}),
        where="vr",
        signs=(
            Sign(r"leak\w*(?! test| free| proof)|leek(?:s|y|ed|ing)|seep\w*|ooz(?:es|ed|ing)|weep(?:s|ing|ed)?"),
            Sign(
                r"drip(?:s|ping|ped|py)?(?! tray| free| tip)|drops? (?:under|below|on the outside)|trickl\w*"
                r"|dribbl\w*",
                unless=r"siphon\w*|pour\w*|racking|honey",
            ),
            Sign(
                r"puddles?|pools? of|moisture(?! meter)|running (?:down|out)|hairline|fractur\w*|shatter\w*"
                r"|fissures?|in (?:pieces|bits|shards)|to pieces|splinters?|line (?:across|down|through) it|ticking"
                r"|star shaped|craz(?:ed|ing)|lets? (?:water|liquid|mead)|emptied itself|runs? down the (?:glass"
                r"|outside|side)",
            ),
            Sign(
                r"cracks?|cracked",
                unless=(
                    r"crack(?:ed|s)? (?:at (?:it|mead|this)|of|on (?:with|the next)|open|up|into|some|an?|two|three"
                    r"|four|black|pepper\w*|cardamom|joke|eggs?|wheat|corn|nuts?|on$|the (?:code|window|lid|eggs?"
                    r"|book|ice|case|whip))|first crack|(?:had|have|take|took|another) a crack|crack (?:on (?:with"
                    r"|to)|the)"
                ),
            ),
            Sign(
                r"{VESSEL}(?: \w+){0,3} (?:broke|broken|burst|exploded|gave way|smashed|pinged|in two)|broken glass"
                r"|big jar exploded|chip(?:ped)? (?:out|off|in|at|on) ~ (?:rim|neck|glass|base|crack)"
                r"|(?:{VESSEL}(?: \w+){0,3}|it|itself|a|small|long) split(?! (?:the|batch|in(?:to)? (?:two )?(?:jugs"
                r"|batches)|pea|vanilla))|split (?:in the side|down|along)",
                unless=r"split the|split in (?:two|half)|cinnamon",
            ),
            Sign(
                r"(?:bottom|base|neck|handle|side) ~ (?:fell|dropped|came|broke|blew|snapped|fallen)(?: off| out"
                r"| away)?",
                unless=r"yeast|lees|fruit|cap\b|settl\w*|sank|honey",
            ),
            Sign(r"ping(?:ed)?", beside=r"glass|line|crack|jug|carboy|jar"),
            Sign(
                r"line in the glass|(?:fine|thin) line|chip of glass|(?:losing|loses|lost) ~ (?:liquid|level|volume)"
                r"|escap\w* ~ (?:bottom|side|seam|joint|base|under\w*)|(?:drops|beads|sweat\w*) ~ (?:seam|crack"
                r"|joint)",
            ),
            Sign(
                r"{WET}",
                unless=(
                    r"(?<!not )(?<!didnt )spill\w*|(?<!not )spilt|splash\w*|mopped|racking|bottling|rain|dry"
                    r"|stirring|wip\w+|wash\w+|over (?:the )?(?:neck|top)|covered|week|day|rinsed|brush|cool\w*"
                    r"|wet (?:the )?(?:cloth|towel|sheet)"
                ),
                beside=r"{FLOOR}|ring|under\w*|beneath|below|patch|bottom|base",
            ),
            Sign(
                r"ring under|(?:mead|must|liquid|wine|brew|honey water|sticky) (?:is |was |s |all |every\w* |has "
                r"|run |spread )*(?:all over|on|under|across|over) (?:the |my )?{FLOOR}|{FLOOR} (?:is "
                r"|was )?filling up|(?:mead|must|liquid|wine|brew|it) ~ (?:under|below|beneath|out of) (?:the "
                r"|my ){VESSEL}",
                unless=(
                    r"(?<!not )(?<!didnt )spill\w*|(?<!not )spilt|splash\w*|mopped|racking|bottling|rain|dry"
                    r"|stirring|wip\w+|wash\w+"
                ),
            ),
            Sign(
                r"level ~ (?:dropped|fallen|fell|gone down|sunk|down|lower)",
                unless=r"{LOCK}",
                beside=r"overnight|floor|night|itself|cm|inch\w*",
            ),
        ),
        foreign=(
            r"roof|kitchen tap|kitchen|tap in|garden hose|rain|cars?|shed|faucet|sink|pipes?|boat|tyre|tire|gutter"
            r"|ceiling|washing|dishwasher|yard|garden|street|kids?|willow|eggs?|pepper(?:corns?)?|books?|jokes?|code"
            r"|nuts?|fire|ribs?|windows?|mug|plate|phone|batch|vanilla|pods?|pea|wood|cinnamon|barley|malt|grain"
            r"|coffee|walnuts?|lips?|voice|smile|shoes?|fridge|hydrometer|kettle|knees?|party|bones?|dawn|weather"
            r"|lees|layers?|joints? of|wall"
        ),
        settled=r"fixed|mended|repaired|false alarm|racked (?:it )?(?:out|over|into|to)|condensation",
    ),
    "closed": Topic(
        name="a tight closure",
        asks="is it closed tight now, so that no gas gets out?",
        look="Look at what closes the vessel. Can gas get out?",
        seen=("closed", {"closure": "tight-cap"}),
        where="vr",
        signs=(
            Sign(
                r"(?:sealed|resealed|corked|capped|stoppered|closed|bunged|shut|plugged|lidded|tightened|buttoned up"
                r"|latched|waxed|screwed)(?: (?:it|this|them|all|everything|both|up|down|off|now|again|today|tonight"
                r"|yesterday|tight|tightly|well|properly|over|fully|completely|firmly|hard|airtight|good))*(?:$"
                r"| (?:so|to|for|with|until|till|since|because|and|(?:the |my |both |all )?{VESSEL}))",
            ),
            Sign(
                r"(?:{VESSEL}|{CLOSER})(?: is| was| are| s| now)* (?:closed|shut|sealed|screwed|clamped|clipped"
                r"|snapped|locked)",
            ),
            Sign(
                r"{CLOSER}",
                unless=r"pushed the cap|punched|fruit|schedule|budget|honey|screwed up|sits|fits?|hard to|closed with",
                beside=(
                    r"tight|tightly|tightened|latched|buttoned up|closed the|clips|fast|hammered|screwed|clamped"
                    r"|clipped|sealed|shut|completely|fully|wedged|taped|bolted|fastened|air ?tight|firmly|waxed"
                    r"|twisted|snapped|locked|all the way|hard|as far as"
                ),
            ),
            Sign(
                r"(?:stuck|put|threw|shoved|jammed|wedged|rammed|stuffed|inserted|pushed|banged"
                r"|knocked) (?:\w+ ){0,3}(?:bung|stopper|cork|plug|solid one)(?: (?:in|on|into)| $|$)",
                unless=r"(?<!no ){LOCK}|back",
            ),
            Sign(
                r"(?:bung|cork|stopper|plug) (?:is |now )?(?:in|into)(?! (?:the )?(?:sink|dishwasher|drawer|bits"
                r"|pieces)| crumbs)|hole ?less|no (?:vent|gap|way out)|nothing (?:gets|can get) out|gas tight",
                unless=r"(?<!no ){LOCK}|out|sample|{MOVES}",
                denies=True,
            ),
            Sign(r"(?:solid|blank) (?:bung|stopper|cork|lid|cap|one)s?"),
            Sign(
                r"(?:swapped|replaced|changed) (?:\w+ ){0,2}{LOCK} (?:for|with|by) (?:\w+ ){0,3}{CLOSER}"
                r"|{CLOSER} ~ instead of ~ {LOCK}",
                denies=True,
            ),
            Sign(
                r"(?:plugged|taped|blanked|blocked|stuffed|sealed|stopped)(?: over| off| up)? (?:\w+ ){0,3}(?:hole"
                r"|grommet|vent)",
            ),
            Sign(
                r"(?:no|without|without an|without a|removed the|took off the|took the|took out the|lost the"
                r"|out of) (?:air ?locks?|locks?|bubblers?)(?: off| out)?",
                unless=r"took the air ?lock out to|sample|clean\w*",
                beside=r"{CLOSER}",
                denies=True,
            ),
            Sign(r"(?:used|using|original) ~ (?:screw ?cap|screw ?top|cap|lid)", unless=r"honey"),
            Sign(r"air ?tight|hermetic\w*|(?:hand|finger) tight"),
            Sign(r"(?:put|used|using|with|has|under) (?:\w+ ){0,2}screw ?(?:caps?|tops?)", unless=r"loose\w*"),
            Sign(r"(?:shut|closed|close) the (?:clip|swing top|lid|cap|tap of)"),
            Sign(r"bunged and \w+|sealed (?:and|with|by) \w+"),
        ),
        foreign=(
            r"cold today|a cold|nose|honey|pails?|bags?|box|boxes|deal|envelope|letter|doors?|windows?|cupboard|shop"
            r"|store|curtains?|sachet|packet|oak|shelf|books?|gap|laptop|office|account|eyes?|road|pub|case|heater"
            r"|fridge|freezer|garage|school|schedule"
        ),
        settled=(
            r"loose\w*|vented|lightly|half a turn|quarter turn|burp\w*|foil|cloth|(?:with|under|has) (?:an? |the "
            r"|its )?(?:air ?lock|lock|blow ?off|bubbler)|air ?lock (?:on|in|fitted|back)|opened (?:it )?again"
            r"|(?:lock|airlock) back|bought|order\w*|shopping"
        ),
        planned=True,
    ),
    "lock": Topic(
        name="a blocked airlock",
        asks="is the airlock blocked or full of foam now?",
        look="Keep your face away. Look whether gas gets through the airlock and its tube.",
        seen=("seen", {"airlock": "foamed", "signs": ["airlock blocked"]}),
        where="vr",
        signs=(
            Sign(
                r"{BLOCKED}",
                unless=(
                    r"stuck (?:on|to)|fitted|bucket of|attached|switched|no longer needed|under the|(?:full of"
                    r"|filled with|filled up with) (?:\w+ )?{LIQUID}"
                ),
                beside=r"{LOCK}",
            ),
            Sign(
                r"(?:came|come|comes|coming|push\w*|climb\w*|crept|got|gone|sucked|spew\w*|must"
                r"|mead) (?:\w+ ){0,2}(?:through|into|in|inside|out of|over|up)(?: \w+){0,3} {LOCK}",
                unless=r"put|fitted|vodka|bubbles?|back",
            ),
            Sign(r"{LOCK} (?:is |was )?(?:full of|filled with|filled up with) \w+", unless=r"vodka|water"),
            Sign(r"(?:its|it is|now|up|already) (?:\w+ )?(?:in|inside) (?:the |my )?{LOCK}"),
            Sign(
                r"no (?:gas|air|bubbles?) (?:\w+ ){1,3}{LOCK}|nothing (?:gets|goes|comes) (?:through|out|past)"
                r"|(?:not|doesnt) let \w+ (?:through|out)|no (?:gas|air) (?:gets|comes|goes) (?:through|out)",
                unless=r"grows|wrong",
                denies=True,
            ),
        ),
        foreign=r"doors?|bike|cars?|keys?|hair|garden",
        settled=(
            r"clean(?:ed|s)?(?! tomorrow| later| soon| needed)|cleared|unblocked|replaced|swapped|freed|runs free"
            r"|free now|rinsed|refilled|changed"
        ),
    ),
    "dry": Topic(
        name="an airlock without water",
        asks="is the airlock dry now?",
        look="Look at the liquid in the airlock, and fill it.",
        seen=("seen", {"airlock": "dry"}),
        where="vr",
        signs=(
            Sign(r"{LOCK} (?:\w+ ){0,3}(?:dry|dried|empty|evaporated|run out|ran out)|(?:dry|empty) {LOCK}"),
            Sign(
                r"no {LIQUID}(?: left)? in (?:the |my )?{LOCK}|{LOCK} (?:\w+ )?no {LIQUID}"
                r"|forgot (?:\w+ ){1,3}{LOCK}",
                denies=True,
            ),
            Sign(r"{LIQUID} ~ {LOCK} (?:\w+ ){0,2}(?:gone|dried|evaporated|out|low)"),
            Sign(
                r"{LIQUID}|nothing left",
                unless=r"not low|enough|fine",
                beside=(
                    r"{LOCK} ~ (?:gone|evaporated|dried|low|missing|out)|(?:gone|evaporated|dried|low|missing|out"
                    r"|nothing left) ~ {LOCK}|(?:ran|run) out"
                ),
                near=r"{LOCK}",
                denies=True,
            ),
            Sign(r"{LIQUID} (?:\w+ )?(?:evaporated|dried) (?:\w+ ){0,2}{LOCK}"),
        ),
        settled=r"(?<!forgot to )(?<!not )(?:filled|refilled|topped)|replaced|new water",
    ),
}
