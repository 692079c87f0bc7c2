"""The answer of a result: frozen records, read once from the saved Dataset. Table, page, card, board and `--json` show
these; nothing else decides.

A variable whose name is neither in the vocabulary nor promised raises. One that this result does not hold is None in
its record, and its field stands in `absent`.
"""

from dataclasses import dataclass

from seaload.report.shared.named_values import Bounds

SETTING_SOURCES = {  # field: the variables that can fill it, the first that is there does
    "decision": ("decision",),
    "act": ("decision",),
    "reason": ("sampling_reason",),
    "time_to_decide": ("sea_to_decide",),
    "speed_attainable": ("speed_attainable",),
    "speed_in_sea": ("speed_attainable_in_sea",),
    "speed_cost": ("speed_given_up",),
    "gust_leaps": ("gust_leaps",),
    "odds.all_told": ("reverse_odds_all_told", "reverse_odds_all"),
    "worst.median": ("reverse_worst_median",),
    "worst.one_in_twenty": ("reverse_worst_one_in_twenty",),
    "worst.place": ("reverse_worst_place",),
}
SEA_SOURCES = {
    "chosen": ("chosen_setting",),
    "closest": ("least_bad_setting",),
    "reason": ("choice_reason",),
    "bears.hs": ("bears_hs", "hs_most"),
    "bears.tp_least": ("bears_tp_least", "tp_least"),
    "bears.tp_most": ("bears_tp_most", "tp_most"),
    "bears.angle_least": ("bears_angle_least",),
    "bears.angle_most": ("bears_angle_most",),
    "bears.ended": ("bears_ended",),
    "measure_first": ("measure_first",),
    "moves": ("move_name",),
    "neighbours": ("neighbour_name",),
    "trigger": ("trigger_threshold",),
    "readings": ("display_mean",),
}


@dataclass(frozen=True)
class Odds:
    """Odds [-] of at least one event past a limit in the exposure time, and the rate [1/s] behind them."""

    if_right: Bounds  # forecast and model right
    all_told: Bounds | None  # every uncertain input drawn once an exposure; in results made before, bounds that hold it
    rate: Bounds  # [1/s] of events, forecast and model right
    events: int | None  # counted
    in_duration: tuple = ()  # of (duration [s], Bounds of the odds all told in it); none in results made before

    @property
    def deciding(self):
        """The odds to decide by: the fullest that this result holds."""
        return self.all_told or self.if_right


@dataclass(frozen=True)
class WorstLoad:
    """The worst load as a share of the limit of its side."""

    seen: float  # in the simulated hours
    median: float | None  # to expect in the exposure time
    one_in_twenty: float | None
    place: int | None


@dataclass(frozen=True)
class SettingAnswer:
    """What is known of one setting in one sea."""

    setting: int
    sea: int
    decision: str | None  # a name of DECISION_NAMES
    act: str | None  # the word to act on, one of ACTS; None where nothing is shown to go by
    reason: str | None  # why no more sea was simulated
    at_least: bool | None  # a case ended early: every rate is "at least"
    reachable: bool
    odds: dict  # {side: Odds}
    worst: dict  # {side: WorstLoad}
    half_rate: Bounds  # [1/s] events past half the reverse limit
    event_rate: Bounds  # [1/s] events past the reverse limit, counted
    wear: Bounds  # [1/s] damage rate at the worst place
    speed: float  # [m/s] mean
    speed_set: float  # [m/s]
    speed_attainable: float | None  # [m/s] in calm water
    speed_in_sea: float | None  # [m/s] attainable in the sea
    speed_cost: float | None  # [m/s] against the fastest setting of the sea
    time: float  # [s] simulated
    time_to_decide: float | None  # [s] of sea in all that would decide
    gust_leaps: bool | None
    absent: tuple  # fields that this result does not hold


@dataclass(frozen=True)
class StatedMove:
    """A way of backing off as the boat file states it."""

    name: str
    words: str  # with its size
    time: float  # [s]
    only_below: float  # [m/s], infinity = always possible
    changes: dict  # {name of a setting or "waves_from_bow": SI change}, those that change


@dataclass(frozen=True)
class MoveAnswer:
    """What a move does in one sea, from its shown setting."""

    move: StatedMove
    possible: bool
    valid: bool
    factor: float  # [-] on the rate of reverse events; nan: too rare to say
    odds_after: float  # [-] upper bound of the reverse odds in the exposure time
    worst_change: dict  # {side: Bounds of what it adds to the worst load in 1 of 20 exposures, or None}
    odds_during: float  # [-] while it is made
    speed_change: float  # [m/s]


@dataclass(frozen=True)
class NeighbourAnswer:
    """What an actuator that is off by its tolerance does in one sea to the suggested setting."""

    name: str  # the actuator, and which way it is off
    factor: float  # [-] on the rate of reverse events; nan: too rare to say
    worst_change: dict  # {side: Bounds of what it adds to the worst load in 1 of 20 exposures, or None}


@dataclass(frozen=True)
class Trigger:
    """The display reading that calls for backing off."""

    station: int
    low: bool  # past means below
    times: int
    kind: str  # "passed", "share", "swing" or "spread", see trigger_rule
    share: float  # [-] of the window, of that kind
    window: float  # [s]
    threshold: float  # [-] plain share or strain
    span: float  # [s]
    false_alarm: Bounds  # [-]
    missed_alarm: Bounds  # [-]
    delay: float  # [s]
    next_rate: Bounds  # [1/s] of events past either limit in the worse sea
    worse_hs: float  # [m]
    called: tuple  # of (in what another sea differs, Bounds of the odds that it calls there [-])


@dataclass(frozen=True)
class Reading:
    """What the display of one station shows with the shown setting; plain shares or strain."""

    station: int
    mean: float
    lowest: Bounds
    highest: Bounds
    silent: bool
    attenuation: float


@dataclass(frozen=True)
class Bears:
    """The sea that the shown setting bears; nan where it bears none of those simulated."""

    hs: float | None  # [m]
    tp_least: float | None  # [s]
    tp_most: float | None
    angle_least: float | None  # [rad]
    angle_most: float | None
    ended: str | None  # ways beyond which it is not known, for runs ended there; empty: known as far as was looked


@dataclass(frozen=True)
class PrescribedAnswer:
    """What a motion that the study prescribes did to a foil in flat water, from the shown setting of a sea.

    None where there was no calm trim to start from; times and places are None on a side that was never loaded.
    """

    name: str
    note: str
    foil: str
    share: dict | None  # {side: highest share of that limit at any place outside}
    time: dict | None  # {side: [s] from the first row}
    material: dict | None  # {side: [m] from the root}
    beyond: dict | None  # {side: [s] past the limit}
    hold_down: float | None  # [N] highest
    tip_depth: float | None  # [m] least


@dataclass(frozen=True)
class SeaAnswer:
    """The answer in one sea."""

    sea: int
    chosen: int | None  # number of the suggested setting
    closest: int | None  # number of the least bad one
    reason: str | None
    bears: Bears
    measure_first: str | None
    moves: tuple  # of MoveAnswer, fastest first
    neighbours: tuple  # of NeighbourAnswer; none without a suggestion
    trigger: Trigger | None  # None: no reading tells
    readings: tuple  # of Reading
    absent: tuple
    prescribed: tuple = ()  # of PrescribedAnswer; beside the waves, in no odds

    @property
    def shown(self):
        """The setting that pictures of this sea are drawn for: the suggested one, else the closest, else the first."""
        return next((n for n in (self.chosen, self.closest) if n is not None), 0)


@dataclass(frozen=True)
class Answer:
    """Everything that is answered by a result."""

    exposure: float  # [s]
    gust_strength: float | None  # [-] of the true wind, a lull below 0
    display_window: float | None  # [s] whose lowest and highest reading are told
    accepted: dict  # {side: odds}
    settings: dict  # {(setting, sea): SettingAnswer}
    seas: tuple  # of SeaAnswer
    moves: tuple  # of StatedMove
