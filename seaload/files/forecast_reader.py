"""Variables of a forecast's file on one order of axes, in SI; directions come FROM, however the file tells them."""

import numpy as np

from seaload.basis.errors import InputError
from seaload.basis.units import DEGREE
from seaload.files import forecast_layouts as known
from seaload.scenario.text_file import shown

ANGLES = {"degree": DEGREE, "degrees": DEGREE, "degree true": DEGREE, "degrees true": DEGREE, "deg": DEGREE,
          "degree_true": DEGREE, "degrees_true": DEGREE, "radian": 1.0, "radians": 1.0, "rad": 1.0}  # fmt: skip
METRES = {"m": 1.0, "metre": 1.0, "metres": 1.0, "meter": 1.0, "meters": 1.0}
SECONDS = {"s": 1.0, "second": 1.0, "seconds": 1.0}
HERTZ = {"s-1": 1.0, "hz": 1.0, "s^-1": 1.0, "s**-1": 1.0, "1/s": 1.0}
SPEEDS = {"m s-1": 1.0, "m/s": 1.0, "m s**-1": 1.0, "m s^-1": 1.0}


class Reader:
    """Variables of one file on the axes that a forecast needs: times, members, latitudes, longitudes."""

    def __init__(self, path, dataset, order):
        self.path, self.dataset, self.order = path, dataset, order

    def held(self, name):
        """Whether the file has a variable of this name over the grid."""
        return name in self.dataset.variables and {self.order[2], self.order[3]} <= set(self.dataset[name].dims)

    def values(self, name, further=()):
        """Values (t, m, a, o, ...) of a variable; axes of one entry are left out, `further` stand last."""
        variable = self.dataset[name]
        wanted = [dim for dim in self.order if dim] + list(further)
        extra = [dim for dim in variable.dims if dim not in wanted]
        many = [f"{dim} of {variable.sizes[dim]}" for dim in extra if variable.sizes[dim] != 1]
        if many:
            raise InputError(self.path, f"{name} axes", ", ".join(many), "cut out one")
        variable = variable.isel(dict.fromkeys(extra, 0))
        for dim in wanted:
            if dim not in variable.dims:
                variable = variable.expand_dims({dim: self.dataset.sizes[dim]})
        if self.order[1] is None:
            variable = variable.expand_dims({"member of one": 1})
        axes = [self.order[0], self.order[1] or "member of one", *self.order[2:], *further]
        if variable.dtype.kind not in "fiu":
            raise InputError(self.path, name, f"of kind {variable.dtype}", "numbers")
        try:
            values = np.array(variable.transpose(*axes).values, dtype=float)
        except Exception as error:  # damaged or foreign bytes
            raise InputError(self.path, str(name), "unreadable", str(error)[:100]) from None
        if np.any(np.isinf(values)):
            raise InputError(self.path, str(name), "inf", "finite numbers, or missing ones")
        return values

    def unit(self, name):
        """The unit of a variable as written, in small letters."""
        return str(self.dataset[name].attrs.get("units", "")).strip().lower()

    def in_unit(self, name, allowed):
        """Values of a variable times the size of its unit, `allowed` {unit: size [SI]}; InputError for others."""
        if self.unit(name) not in allowed:
            written = self.dataset[name].attrs.get("units", "no units")
            raise InputError(self.path, f"{name} units", shown(written), " or ".join(filter(None, allowed)))
        return self.values(name) * allowed[self.unit(name)]

    def came_from(self, name, usual):
        """Directions [rad] true that waves or wind come FROM, whichever way the file tells them."""
        angle = self.in_unit(name, ANGLES)
        return angle if self.sense(name, usual) == known.FROM else angle + np.pi

    def sense(self, name, usual):
        """FROM or TO of a direction, as its attributes say, else as is `usual` for its name; InputError for neither."""
        attrs = self.dataset[name].attrs
        words = " ".join(str(attrs.get(key, "")) for key in ("standard_name", "long_name", "comment", "direction"))
        said = {word for word in (known.FROM, known.TO) if word in words.lower().replace("_", " ").split()}
        if len(said) == 2:  # a comment may name both: the standard name alone
            name_words = str(attrs.get("standard_name", "")).lower().split("_")
            said = {word for word in said if word in name_words}
        if len(said) == 1:
            return said.pop()
        if usual:
            return usual
        allowed = "an attribute that says from or to; it is not guessed"
        raise InputError(self.path, name, shown(words.strip()) or "no attribute", allowed)
