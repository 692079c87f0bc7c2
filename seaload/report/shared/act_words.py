"""The word to act on: one of three, the same on board, card, table, page and in the JSON of a result.

It renames the decision of the result; what is undecided goes by the best estimate.
"""

ACTS = ("Keep", "Watch", "Back off")
WHY = {  # word: what it says, in words that stand after it
    "Keep": "within your risk limit, also at worst",
    "Watch": "within your risk limit by the best estimate, past it at worst",
    "Back off": "past your risk limit by the best estimate",
}


def act_of(decision, odds, accepted):
    """One of ACTS; None where the result shows nothing to go by (a case ended early, or it cannot be reached).

    decision : a name of DECISION_NAMES, or None; odds : {side: Odds}; accepted : {side: odds [-]}, your risk limit.
    """
    if decision == "undecided":
        past = any(odds[side].deciding.best > level for side, level in accepted.items())
        return "Back off" if past else "Watch"
    return {"within": "Keep", "outside": "Back off"}.get(decision)
