"""Mutations that no test can notice, each with its reason; known by the key that mutations.json gives them."""

REASONS = {
    "seaload/evidence/trigger_rule.py|TIMES|TIMES = (1, 2, 4, 8)|constant|8|9|18": (
        "how often a rule may ask for a reading is a choice of what is tried, not a law: nine times is as good a rule"
    ),
    "seaload/foil/first_mode.py|first_mode|shape_y, shape_z = -cells.t_z * (mid - fine[0]) ** 2, "
    "cells.t_y * (mid - fine[0]) ** 2|operator|*|/|34": (
        "the shape that the iteration starts from: it ends at the same mode from any"
    ),
}
