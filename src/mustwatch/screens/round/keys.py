"""The keys of the round, once: for the bindings, for the foot of the screen and for the page of keys."""

# (key as Textual names it, act of the screen and what it is about, key as shown, what it does)
LIST_KEYS = (
    ("enter,r", "fill gravity", "enter r", "fill in the reading form of this batch"),
    ("l", "looked", "l", "looked, all well; go on to the next batch"),
    ("s", "did swirled", "s", "swirled"),
    ("p", "did cap_pushed", "p", "cap pushed down"),
    ("a", "did aerated", "a", "aerated"),
    ("b", "saw bubbling", "b", "airlock bubbling"),
    ("t", "saw still", "t", "airlock still"),
    ("c", "closure", "c", "a closure was put on"),
    ("n", "fill note", "n", "write a note"),
    ("y", "form pitch", "y", "the yeast went in: its form"),
    ("i", "form add", "i", "something went in: nutrient, sulfite, fruit, water"),
    ("m", "form rack", "m", "moved off the lees: racked into another vessel"),
    ("f", "form bottle", "f", "filled into bottles"),
    ("g", "form take", "g", "bottles leave the shelf: their form"),
    ("x", "form close", "x", "a closure with its liquid, or one put on earlier"),
    ("w", "acts", "w", "write down anything else: a new batch, a tasting, an end"),
    ("d", "do", "d", "do what the finding advises"),
    ("e", "explain", "e", "why: the page of the finding's rule, or of what is normal"),
    ("h", "hush", "h", "hush a finding until a date"),
    ("u", "undo", "u", "take back the newest entry of this batch"),
    ("slash", "filter", "/", "show only batches that match"),
    ("o", "reorder", "o", "order the list anew by need"),
    ("v", "ended", "v", "show or hide ended batches"),
    ("A", "ahead", "A", "what falls due: today, this week, later"),
    ("S", "shelf", "S", "the shelf: bottles by lot, what is on hold"),
    ("equals_sign", "bench", "=", "the calculators"),
    ("q", "leave", "q", "quit; what was typed and not saved is kept"),
)
SCREEN_KEYS = (
    ("pageup", "page -1", "PgUp", "the detail pane, up"),
    ("pagedown", "page 1", "PgDn", "the detail pane, down"),
)
JUMP_KEYS = (
    ("right", "jump 1", "right", "next part of the detail pane"),
    ("left", "jump -1", "left", "part before"),
)
FORM_KEYS = (
    ("tab", "next field; shift+tab the one before"),
    ("enter", "next field; in the last one save"),
    ("ctrl+s", "save and go on to the next batch"),
    ("up down", "another batch; what was typed stays with its batch"),
    ("a letter", "in airlock, surface and scale: picks the word; space goes through them"),
    ("ctrl+l", "empty the form"),
    ("escape", "back to the list"),
)
LIST_FOOT = "enter read  l looked  d do  e why  y yeast  i add  m rack  f bottle  ? all keys"
FORM_FOOT = "ctrl+s save and next  esc list  tab next field  up/down other batch  F1 keys"
DEED_KEYS = (
    ("tab enter", "next field; shift+tab and up the one before"),
    ("a letter", "in class, kind, closure and style: picks the word; space goes through them"),
    ("ctrl+s", "save; where it would be a danger, once more"),
    ("ctrl+l", "empty the form"),
    ("PgUp PgDn", "read on in what the rules would say"),
    ("escape", "back to the list; what was typed stays until the round ends"),
)
BENCH_KEYS = (
    ("up down", "another calculation; in its form another field"),
    ("enter", "fill it in; in its form the next field"),
    ("PgUp PgDn", "read on in the result"),
    ("ctrl+l", "empty the form"),
    ("escape", "from the form to the list, from the list back to the round"),
)
ENTRY_EXAMPLES = (
    '1.042 21C swirled bubbling "smells of pear" @yesterday 21:00',
    "10.5Bx   pH3.6   must 20C   ring   smell:pear   +5g nutrient   closed airlock",
)


def foot_within(foot: str, width: int) -> str:
    """The foot in `width` columns: what gives way stands before its last item, the way to all keys."""
    *others, last = foot.split("  ")
    while others and len("  ".join([*others, last])) > width:
        others.pop()
    return "  ".join([*others, last])
