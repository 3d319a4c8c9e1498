"""The forms there are, by name."""

from __future__ import annotations

from mustwatch.screens.forms import add, bottle, close, pitch, rack

FORMS = {module.FORM.name: module.FORM for module in (pitch, add, rack, bottle, close)}
