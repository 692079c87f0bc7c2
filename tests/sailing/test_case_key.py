"""A case is named by what decides its numbers and by nothing else."""

from dataclasses import replace

import numpy as np
import pytest

from seaload.basis.exact_hash import hash_of
from seaload.sailing.case_key import CaseKeys


def key(study, **options):
    return CaseKeys(study, **options).key(study.settings[0], 0, 2)


def test_names_paths_and_amount_of_sea_do_not_matter(small_study):
    other = replace(
        small_study, name="x", path="y.toml", raw={}, sampling=replace(small_study.sampling, realisations=99)
    )
    assert key(other) == key(small_study)


def changed(study, field):
    boat, sea, foil = study.boat, study.seas[0], study.boat.foils[study.foil_side]
    return {
        "boat": lambda: replace(study, boat=replace(boat, mass=np.nextafter(boat.mass, np.inf))),
        "foil": lambda: replace(
            study, boat=replace(boat, foils={study.foil_side: replace(foil, cl_max=foil.cl_max + 1e-12)})
        ),
        "sea": lambda: replace(study, seas=(replace(sea, name="other"),)),
        "setting": lambda: replace(study, settings=(replace(study.settings[0], rake=0.0),)),
        "sampling": lambda: replace(study, sampling=replace(study.sampling, seed=2)),
    }[field]()


@pytest.mark.parametrize("field", ["boat", "foil", "sea", "setting", "sampling"])
def test_every_input_matters_and_is_told_apart(small_study, field):
    other = changed(small_study, field)
    assert key(other) != key(small_study)
    one = CaseKeys(small_study).inputs(small_study.settings[0], 0)
    two = CaseKeys(other).inputs(other.settings[0], 0)
    assert [name for name in one if one[name] != two[name]] == [field]


def test_model_and_gust_matter(small_study):
    assert key(small_study, named_model={**small_study.model, "roll": "fixed"}) != key(small_study)
    assert key(small_study, gust=np.ones(3)) != key(small_study)


def test_realisations_differ(small_study):
    keys = CaseKeys(small_study)
    assert len({keys.key(small_study.settings[0], 0, r) for r in range(5)}) == 5


@pytest.mark.parametrize("one, other", [([1, 23], [12, 3]), (0.1 + 0.2, 0.3), ("a", ["a"]), (1, 1.0), (0.0, -0.0)])
def test_near_misses_hash_apart(one, other):
    assert hash_of(one) != hash_of(other)


def test_unknown_things_are_not_hashed_by_address():
    with pytest.raises(TypeError):
        hash_of(object())


def test_which_of_two_like_foils_it_is_does_not_matter(small_study):
    side = small_study.foil_side
    foil = replace(small_study.boat.foils[side], id="another one")
    other = replace(small_study, boat=replace(small_study.boat, foils={side: foil}))
    assert key(other) == key(small_study)
