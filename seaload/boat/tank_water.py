"""Water in ballast tanks: what it does to the centre of gravity and to the moments of inertia.

Each tank's water is a mass at one place: its own inertia about its middle and the free surface of a tank that is
part full are left out.
"""


def loaded_centre(mass, centre, water):
    """Centre of gravity (x, y, z) [m] of the boat and the water in her tanks.

    `mass` [kg] and `centre` (x, y, z) [m] of the boat without the water, `water` rows (mass [kg], x, y, z [m]), one a
    tank, all from the same point along the same axes. Mass-weighted mean (in any text on mechanics).
    """
    whole = mass + sum(row[0] for row in water)
    return tuple((mass * at + sum(row[0] * row[1 + i] for row in water)) / whole for i, at in enumerate(centre))


def loaded_inertia(mass, centre, water, whole_centre):
    """(roll, pitch) [kg m2] that the water adds to the boat's own moments of inertia.

    `mass`, `centre`, `water` as in `loaded_centre`; `whole_centre` (x, y, z) [m] centre of gravity of boat and water,
    about which the moments are then taken; x along the roll axis, y along the pitch axis. Parallel axes (in any text on
    mechanics).
    """
    parts = [(mass, *centre), *water]
    away = [(row[0], *(row[1 + i] - whole_centre[i] for i in range(3))) for row in parts]
    return sum(m * (y * y + z * z) for m, _, y, z in away), sum(m * (x * x + z * z) for m, x, _, z in away)
