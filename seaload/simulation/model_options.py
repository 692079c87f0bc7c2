"""Named choices of a study's model turned into the switches and factors that the arrays carry."""

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE

SWITCHES = {
    "roll": {"free": ("roll", 1.0), "fixed": ("roll", 0.0)},
    "speed": {"held": ("speed_held", 1.0), "free": ("speed_held", 0.0)},
    "surge": {"free": ("surge", 1.0), "fixed": ("surge", 0.0)},
    "keel_fin": {"on": ("keel_fin", 1.0), "off": ("keel_fin", 0.0)},
    "rudders": {"on": ("rudders", 1.0), "off": ("rudders", 0.0)},
    "lag": {"on": ("wake_memory", 1.0), "off": ("wake_memory", 0.0)},
    "lift_limits": {"on": ("lift_limits", 1.0), "off": ("lift_limits", 0.0)},
    "free_surface": {"finite-froude": ("finite_froude", 1.0), "high-froude": ("finite_froude", 0.0)},
    "bending": {"mode": ("bending", 1.0), "quasi-static": ("bending", 0.0)},
    "leeway": {"balanced": ("leeway_held", 0.0), "held": ("leeway_held", 1.0)},
    "wind": {"steady": ("gusts", 0.0), "gusts": ("gusts", 1.0)},
    "amplitudes": {"random": ("random_amplitudes", 1.0), "fixed": ("random_amplitudes", 0.0)},
}

FACTORS = {
    "fast_added_mass": 1.0,
    "flow_memory": 1.0,
    "orbital": 1.0,
    "lift_slope_factor": 1.0,
    "cavitation_factor": 1.0,
    "rake_zero_shift": 0.0,  # [rad]
    "steering_gain_factor": 1.0,
    "roll_inertia_factor": 1.0,
    "hull_damping_factor": 1.0,
    "hull_wave_factor": 1.0,
    "held_leeway": 0.5 * DEGREE,  # [rad]
    "crest_factor": 1.0,
    "hs_factor": 1.0,
    "tp_factor": 1.0,
    "tail_factor": 1.0,
    "wind_sea_factor": 1.0,
    "heading_shift": 0.0,  # [rad]
    "normal_limit_factor": 1.0,
    "reverse_limit_factor": 1.0,
}


def model_factors(named=None):
    """Every switch and factor as a float: defaults, then the named choices and numbers of `named`."""
    factors = {key: value for options in SWITCHES.values() for key, value in [next(iter(options.values()))]}
    factors.update(FACTORS)
    for key, value in (named or {}).items():
        if key in SWITCHES:
            if value not in SWITCHES[key]:
                raise InputError("study", f"model.{key}", value, f"one of {', '.join(SWITCHES[key])}")
            name, number = SWITCHES[key][value]
            factors[name] = number
        elif key in FACTORS:
            factors[key] = float(value)
        else:
            known = ", ".join([*SWITCHES, *FACTORS])
            raise InputError("study", f"model.{key}", value, f"unknown; known are {known}")
    return factors
