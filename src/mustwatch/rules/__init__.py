"""Rules: what an old hand would say of a batch.

`RULES` is the catalogue: a plain tuple of the rule modules, in the order in
which findings of one severity are listed. To add a rule, write its module and
its story and name it here.
"""

from mustwatch.rules import (
    bottled_before_stable,
    bottled_sweet,
    closure_not_recorded,
    gravity_rose,
    impossible_number,
    long_on_gross_lees,
    must_too_cold,
    must_too_warm,
    no_sign_of_life,
    over_the_bottle,
    reading_overdue,
    sealed_while_alive,
    sluggish,
    stalled,
    start_gravity_missing,
)

RULES = (
    sealed_while_alive,
    closure_not_recorded,
    bottled_before_stable,
    bottled_sweet,
    over_the_bottle,
    no_sign_of_life,
    stalled,
    sluggish,
    must_too_warm,
    must_too_cold,
    long_on_gross_lees,
    reading_overdue,
    gravity_rose,
    impossible_number,
    start_gravity_missing,
)
