"""seaload: how often, and how hard, waves load a racing boat's foil.

The names below are found on first use, so that importing the package costs nothing.
"""

from importlib import import_module

__version__ = "0.1.0"

_HOMES = {
    "load_study": "seaload.studies.load_study",
    "boat_check": "seaload.studies.boat.check",
    "run": "seaload.studies.single_run",
    "sweep": "seaload.studies.sweep",
    "plan_leg": "seaload.studies.leg.plan_leg",
    "size": "seaload.studies.size.size",
    "read_log": "seaload.studies.log.read_log",
    "open_library": "seaload.studies.library.ask",
}

__all__ = ["__version__", *_HOMES]


def __getattr__(name):
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module 'seaload' has no attribute {name!r}")
