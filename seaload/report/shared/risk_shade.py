"""One scale of colour for odds, on paper and on the screen: anchored at the crew's own limit of risk.

The lighter half of the ramp is within the limit, the darker half beyond it, so that the eye finds the limit before it
has read a number, and a colour means the same in every panel, page and sea.
"""

import math

from seaload.report.shared.charts import LEAST_ODDS
from seaload.report.shared.figure_style import RAMP_LEVELS

MOST_ODDS = 1.0
HALF = RAMP_LEVELS // 2
USUAL = 0.02  # [-] level of odds that stands in where a result names none


def risk_shade(odds, accepted):
    """Step of the ramp for `odds` [-], 0 = lightest, RAMP_LEVELS - 1 = darkest; even steps of ln(odds) in each half.

    `accepted` [-] the crew's limit, None or nothing for the usual one.
    """
    limit = min(max(accepted or USUAL, 2.0 * LEAST_ODDS), 0.5 * MOST_ODDS)
    odds = min(max(odds, LEAST_ODDS), MOST_ODDS)
    if odds < limit:
        return min(int(HALF * math.log(odds / LEAST_ODDS) / math.log(limit / LEAST_ODDS)), HALF - 1)
    return min(HALF + int(HALF * math.log(odds / limit) / math.log(MOST_ODDS / limit)), RAMP_LEVELS - 1)
