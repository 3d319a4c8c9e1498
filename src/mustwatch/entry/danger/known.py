"""Everyday words one slip of the finger from a word that means something here: they are never mended into it."""

NEVER_MENDED = frozenset(
    {
        "bailing", "banged", "battle", "battles", "blacked", "blocker", "blocks", "boilings", "bottled",
        "bottler", "bowling", "broiling", "bubble", "bubbled", "bubblers", "bubbles", "budged", "budging",
        "bugged", "bugging", "bulged", "bulking", "bungee", "bunging", "bungled", "carbon", "carbonate",
        "carbos", "carboys", "cocked", "cooked", "corded", "cracker", "crackers", "crackle", "crackled",
        "cranked", "demijohns", "dipping", "dripped", "drooping", "dropping", "explode", "explodes",
        "explore", "explored", "explores", "exploring", "fainter", "feinted", "fizzling", "flinted",
        "fountains", "frizzing", "fuzzing", "gashed", "glowing", "groping", "growling", "growths", "gushes",
        "gusted", "hairlines", "headaches", "hushing", "jambed", "leaded", "leading", "leafed", "leafing",
        "leaned", "leaning", "leaped", "leaping", "leased", "leasing", "leaving", "moulds", "mounds",
        "paddle", "patched", "patcher", "peddle", "pepped", "pipped", "plopped", "plunged", "pooped",
        "popper", "poppet", "propped", "puddled", "puddles", "puddling", "scaled", "scattered", "scattering",
        "scrawled", "sealer", "seamed", "seared", "seated", "seeding", "seeing", "seeking", "seeming",
        "shopper", "shuttered", "shuttering", "sleeping", "sparking", "spattered", "steeping", "stepper",
        "stollen", "stomped", "stopped", "stoppers", "strewed", "sweeping", "tightener", "vinegars",
        "weeding",
    }
)  # fmt: skip

# Everyday words that look like a word of quick entry and mean another thing.
EVERYDAY = frozenset(
    {
        "accelerated", "active", "aft", "babbling", "bring", "broken", "brushed", "building", "bulging",
        "bumbling", "bundling", "bungling", "bustling", "buzzy", "calendar", "calm", "canned", "cedar",
        "chill", "clawed", "cleanser", "cleared", "clerk", "clever", "cloaked", "clogged", "close", "closer",
        "closet", "clothed", "cloud", "clouded", "clouds", "cloudy", "color", "colour", "craft", "crazy",
        "crossed", "crushed", "cry", "day", "dear", "deceased", "degreased", "diary", "ding", "dirty",
        "doubling", "draft", "dressed", "dried", "dryer", "ear", "enclosed", "fail", "farm", "farmed", "feel",
        "file", "fill", "films", "firm", "fizzy", "flamed", "floured", "foal", "foil", "form", "formed",
        "framed", "from", "fry", "fuzz", "glossed", "graft", "hairy", "hay", "haze", "heated", "hunched",
        "king", "lazy", "leaded", "leaned", "learned", "lively", "loam", "moved", "mucky", "murk", "musky",
        "near", "ping", "pouched", "proved", "quiet", "quill", "raft", "rated", "rats", "remote", "resolved",
        "rind", "rings", "roam", "rubbing", "rumbling", "rushed", "shaker", "shaking", "shared", "sharpen",
        "shill", "silent", "silly", "sing", "skill", "soiled", "spill", "spiralled", "spoken", "spring",
        "stale", "stared", "started", "steel", "string", "taken", "till", "tired", "token", "try", "tumbling",
        "unclear", "whirled", "willed", "wing", "wired", "wobbling", "wring",
    }
)  # fmt: skip
