"""The keys of the round, once: for the bindings, for the foot of the screen and for the page of keys."""

from __future__ import annotations

# (key as Textual names it, action of the screen, key as shown, what it does)
LIST_KEYS = (
    ("enter,r", "reading", "enter r", "fill in the reading form of this batch"),
    ("l", "looked", "l", "looked, all well; go on to the next batch"),
    ("s", "did('swirled')", "s", "swirled"),
    ("p", "did('cap_pushed')", "p", "cap pushed down"),
    ("a", "did('aerated')", "a", "aerated"),
    ("b", "saw('bubbling')", "b", "airlock bubbling"),
    ("t", "saw('still')", "t", "airlock still"),
    ("c", "closure", "c", "a closure was put on"),
    ("n", "note", "n", "write a note"),
    ("d", "do", "d", "do what the finding advises"),
    ("e", "explain", "e", "why: the page of the finding's rule, or of what is normal"),
    ("h", "hush", "h", "hush a finding until a date"),
    ("u", "undo", "u", "take back the newest entry of this batch"),
    ("slash", "filter", "/", "show only batches that match"),
    ("o", "reorder", "o", "order the list anew by need"),
    ("v", "ended", "v", "show or hide ended batches"),
    ("equals_sign", "bench", "=", "the calculators"),
    ("q", "quit", "q", "quit; what was typed and not saved is kept"),
)
SCREEN_KEYS = (
    ("pageup", "page(-1)", "PgUp", "the detail pane, up"),
    ("pagedown", "page(1)", "PgDn", "the detail pane, down"),
)
JUMP_KEYS = (
    ("right", "jump(1)", "right", "next part of the detail pane"),
    ("left", "jump(-1)", "left", "part before"),
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
LIST_FOOT = "enter reading  l looked  s swirled  b bubbling  d do  e why  u undo  ? all keys"
FORM_FOOT = "tab next field  ctrl+s save and next  up/down other batch  esc list  F1 keys"
ENTRY_EXAMPLES = (
    '1.042 21C swirled bubbling "smells of pear" @yesterday 21:00',
    "10.5Bx   pH3.6   must 20C   ring   smell:pear   +5g nutrient   closed airlock",
)
