"""What blocks are prepared from is worked out once, and moves no bit of them."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import numpy as np
import pytest

from seaload.sailing.record_bytes import record_to_bytes
from seaload.simulation import prepared
from seaload.simulation.block import march_block
from seaload.simulation.layout import LANES
from seaload.simulation.model_options import FACTORS, model_factors
from seaload.simulation.prepared import Prepared
from seaload.studies.load_study import load_study
from tests.small_study import STUDIES, shortened

ENCOUNTER = 0.9  # [rad/s]


@pytest.fixture(scope="module")
def study():
    short = shortened(load_study(STUDIES / "quick-look.toml"), time=3.0)
    return replace(short, sampling=replace(short.sampling, run_in=1.0))


@pytest.fixture
def counted(monkeypatch):
    """{name: settings or seas worked out} of a `Prepared`."""
    worked, trimmed, shaped = {"settings": 0, "seas": 0}, prepared.settled, prepared.sea_shapes

    def settled(boat, foil, pairs, model):
        worked["settings"] += len(pairs)
        return trimmed(boat, foil, pairs, model)

    def shapes(*given):
        worked["seas"] += 1
        return shaped(*given)

    monkeypatch.setattr(prepared, "settled", settled)
    monkeypatch.setattr(prepared, "sea_shapes", shapes)
    return worked


def marched(study, cases, known=None, **model):
    foil, sea = study.boat.foils[study.foil_side], study.seas[0]
    records, _ = march_block(
        study.boat, foil, sea, cases, study.sampling, {**study.model, **model}, prepared=known
    )
    return [record_to_bytes(record) for record in records]


def lane_bytes(study, setting, encounter=ENCOUNTER, **model):
    """Bytes of everything that a lane is prepared as."""
    foil, factors = study.boat.foils[study.foil_side], {**model_factors(study.model), **model}
    (lane,) = prepared.settled(study.boat, foil, [(setting, encounter)], factors)
    return b"".join(np.asarray(value).tobytes() for part in lane[:3] for value in part.values())


def test_a_block_has_the_same_bytes_with_what_others_left(study, counted):
    one, other = study.settings[:2]
    blocks = [[(one, 0), (other, 0)], [(other, 1), (one, 1)], [(one, 2)], [(replace(one, rake=one.rake + 0.01), 0)]]
    known = Prepared()
    with_it = [marched(study, block, known) for block in blocks]
    assert counted == {"settings": 3, "seas": 1}
    with ThreadPoolExecutor(2) as pool:
        again = list(pool.map(lambda block: marched(study, block, known), blocks))
    assert counted == {"settings": 3, "seas": 1}
    assert with_it == again == [marched(study, block) for block in blocks]


@pytest.mark.parametrize("name", ["rake", "heel", "speed", "cant", "extension", "ballast_shift"])
def test_a_setting_off_by_one_bit_is_another(study, counted, name):
    setting, known = study.settings[0], Prepared()
    foil, model = study.boat.foils[study.foil_side], model_factors(study.model)
    near = replace(setting, **{name: float(np.nextafter(getattr(setting, name), -1.0))})
    for asked in (setting, near, setting):
        known.block(study.boat, foil, [asked] * LANES, [ENCOUNTER] * LANES, model)
    assert counted["settings"] == 2


def test_another_boat_foil_sea_frequency_or_model_is_prepared_anew(study, counted):
    setting, known = study.settings[0], Prepared()
    foil, model = study.boat.foils[study.foil_side], model_factors(study.model)
    others = [
        (study.boat, foil, ENCOUNTER, model),
        (replace(study.boat, mass=study.boat.mass + 1e-9), foil, ENCOUNTER, model),
        (study.boat, replace(foil, cl_max=foil.cl_max + 1e-9), ENCOUNTER, model),
        (study.boat, foil, np.nextafter(ENCOUNTER, 1.0), model),
        (study.boat, foil, ENCOUNTER, {**model, "lift_slope_factor": 1.01}),
    ]  # fmt: skip
    for boat, of, encounter, factors in others:
        known.block(boat, of, [setting] * LANES, [encounter] * LANES, factors)
    assert counted["settings"] == len(others)
    seas = [
        (study.boat, study.seas[0], study.sampling, model),
        (study.boat, replace(study.seas[0], name="another"), study.sampling, model),
        (study.boat, study.seas[0], replace(study.sampling, seed=study.sampling.seed + 1), model),
        (study.boat, study.seas[0], study.sampling, {**model, "heading_shift": 1e-9}),
        (replace(study.boat, heel_window=(0.0, study.boat.heel_window[1])), study.seas[0], study.sampling, model),
    ]
    for boat, sea, sampling, factors in seas:
        known.sea(boat, foil, sea, sampling, factors)
    assert counted["seas"] == len(seas)


@pytest.mark.parametrize("name", sorted(prepared.SEA_ONLY))
def test_a_calm_trim_does_not_hang_on_what_is_of_the_sea_only(study, name):
    """Those numbers are left out of what a lane is known by."""
    setting, plain = study.settings[0], model_factors(study.model)
    changed = plain[name] + 0.1
    assert lane_bytes(study, setting) == lane_bytes(study, setting, **{name: changed})


def test_what_a_sea_at_a_boat_hangs_on_is_known(study):
    """Every other number of the model leaves components and matrices of a sea as they are."""
    foil, sea, plain = study.boat.foils[study.foil_side], study.seas[0], model_factors(study.model)

    def arrays(model):
        components, shapes = Prepared().sea(study.boat, foil, sea, study.sampling, model)
        parts = (array for part in (shapes.hull, shapes.nodes) for array in (*part.terms, part.rows))
        return b"".join(np.asarray(part).tobytes() for part in (*components, *parts, shapes.project))

    first = arrays(plain)
    for name in FACTORS:
        moved = arrays({**plain, name: plain[name] + 0.1}) != first
        assert moved == (name in prepared.OF_SEA), name
