"""Rules: what an old hand would say of a batch.

`RULES` is the catalogue: a plain tuple of the rule modules, in the order in
which findings of one severity are listed. To add a rule, write its module and
its story and name it here.
"""

from mustwatch.rules import (
    gravity_rose,
    must_too_warm,
    sealed_while_alive,
)

RULES = (
    sealed_while_alive,
    must_too_warm,
    gravity_rose,
)
