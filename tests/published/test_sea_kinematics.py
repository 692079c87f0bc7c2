"""Dispersion, water motion and encounter against tables of the closed formulas (derived, ten digits)."""

import numpy as np

from seaload.basis.constants import SEA_WATER_DENSITY, STANDARD_GRAVITY
from seaload.waves import bulk, components, encounter, spectra
from seaload.waves.dispersion import deep_wavenumber
from tests.oracles import direct_sum, dispersion
from tests.oracles.encounter import encounter_moment, encounter_slope, wave_frequencies_met

RADIAN = np.pi / 180.0


def test_dispersion(reference_table, check_against):
    rows = reference_table("sea_dispersion.csv")
    deep, published, ours = [], [], []
    for row in rows:
        omega = row["omega_rad_s"]
        if row["depth_class"] == "deep":
            deep.append((row["k_rad_m"], deep_wavenumber(omega)))
            k, depth = row["k_rad_m"], 1e9
        else:
            k, depth = float(dispersion.finite_wavenumber(omega, row["h_m"])), row["h_m"]
        published += [row["k_rad_m"], row["c_m_s"], row["cg_m_s"]]
        ours += [k, dispersion.phase_speed(omega, k), dispersion.group_speed(omega, k, depth)]
    asked = ("linear dispersion", "derived")
    check_against("sea", "wavenumber in deep water", *asked, *zip(*deep, strict=True), relative=1e-9,
                  of=deep_wavenumber)  # fmt: skip
    check_against("sea", "wavenumber, phase and group speed", *asked, published, ours, relative=1e-9,
                  of=dispersion.group_speed)  # fmt: skip


def test_water_motion_under_a_single_wave(reference_table, check_against):
    published, ours = [], []
    for row in reference_table("sea_orbital_kinematics_deep.csv"):
        omega = 2.0 * np.pi / row["T_s"]
        wave = components.Components(
            np.array([omega]),
            np.array([omega**2 / STANDARD_GRAVITY]),
            np.array([0.5 * row["H_m"]]),
            np.zeros(1),
        )
        crest = direct_sum.velocities(wave, np.zeros(1), 0.0, 0.0, 0.0, -row["z_m"])
        rising = direct_sum.velocities(wave, np.array([0.5 * np.pi]), 0.0, 0.0, 0.0, -row["z_m"])
        falling = direct_sum.accelerations(wave, np.zeros(1), 0.0, 0.0, 0.0, -row["z_m"])
        published += [row["u_amp_m_s"], row["w_amp_m_s"], row["acc_amp_m_s2"]]
        ours += [crest[0], rising[2], -falling[2]]
        assert abs(crest[2]) < 1e-12 and abs(crest[1]) < 1e-12  # at the crest the water only goes forward
        pressure = SEA_WATER_DENSITY * STANDARD_GRAVITY * 0.5 * row["H_m"] * row["exp_kz"]
        assert abs(pressure / row["dyn_pressure_amp_Pa"] - 1.0) < 1e-8
    check_against(
        "sea",
        "orbital velocity and acceleration",
        "linear deep-water wave",
        "derived",
        published,
        ours,
        relative=1e-9,
    )


def test_encounter_frequency(reference_table, check_against):
    rows = reference_table("sea_encounter_frequency.csv")
    arguments = [(row["omega_rad_s"], row["U_m_s"], row["mu_deg"] * RADIAN) for row in rows]
    check_against(
        "sea",
        "signed encounter frequency [rad/s]",
        "Doppler shift",
        "derived",
        [row["omega_e_signed"] for row in rows],
        [float(encounter.encounter_frequency(*a)) for a in arguments],
        relative=1e-8,
        absolute=1e-9,
        of=encounter.encounter_frequency,
    )
    check_against(
        "sea",
        "slope of the encounter frequency [-]",
        "Doppler shift",
        "derived",
        [row["J"] for row in rows],
        [float(encounter_slope(*a)) for a in arguments],
        relative=1e-8,
        absolute=1e-9,
        of=encounter_slope,
    )


def test_marching_a_point_through_the_sea_meets_the_encounter_frequency(reference_table, check_against):
    """The phase a moving point sees turns at the tabulated signed rate, overtaking included."""
    published, ours = [], []
    for row in reference_table("sea_encounter_frequency.csv")[::7]:
        omega, mu = np.array([row["omega_rad_s"]]), np.array([row["mu_deg"] * RADIAN])
        wave = components.Components(omega, omega**2 / STANDARD_GRAVITY, np.ones(1), mu)
        time = np.linspace(0.0, 30.0, 3001)
        x = row["U_m_s"] * time
        cosine = direct_sum.elevation(wave, np.zeros(1), x, 0.0, time)
        sine = direct_sum.elevation(wave, np.full(1, -0.5 * np.pi), x, 0.0, time)
        turned = np.unwrap(np.arctan2(sine, cosine))
        published.append(row["omega_e_signed"])
        ours.append(-(turned[-1] - turned[0]) / 30.0)
    assert min(published) < -0.1 and max(published) > 0.5  # both overtaking and meeting are among them
    check_against(
        "sea",
        "encounter frequency met by a marching point [rad/s]",
        "Doppler shift",
        "derived",
        published,
        ours,
        relative=1e-8,
        absolute=1e-9,
    )


def test_fold_over(reference_table, check_against):
    published, ours = [], []
    for row in reference_table("sea_encounter_foldover.csv"):
        found = wave_frequencies_met(
            row["we"], row["U_kn"] * 1852.0 / 3600.0, row["mu_deg"] * RADIAN
        )
        at_fold = abs(row["we"] / row["we_max"] - 1.0) < 1e-9
        for ours_one, name in zip(found, ("w1", "w2", "w3"), strict=True):
            if at_fold and name != "w3":
                continue  # a double root, printed to ten digits: only its square is known to 1e-9
            assert np.isnan(ours_one) == np.isnan(row[name])
            if not np.isnan(row[name]):
                published.append(row[name])
                ours.append(ours_one)
    check_against(
        "sea",
        "wave frequencies met at one encounter frequency",
        "Doppler shift",
        "derived",
        published,
        ours,
        relative=1e-7,
    )


def test_encounter_moments(reference_table, check_against):
    peak = 2.0 * np.pi / 8.0
    omega = np.linspace(0.2 * peak, 5.0 * peak, 60001)
    density = spectra.jonswap(omega, 2.5, 8.0, 3.3, normalisation="short")
    moments = [bulk.spectral_moment(omega, density, order) for order in range(9)]
    rows = reference_table("sea_encounter_moments.csv")
    for order, column in ((2, "m2e"), (4, "m4e")):
        ours = [
            encounter_moment(moments, row["U_kn"] * 1852.0 / 3600.0, row["mu_deg"] * RADIAN, order)
            for row in rows
        ]
        check_against(
            "sea",
            f"encountered moment {column}",
            "binomial of the Doppler shift",
            "derived",
            [row[column] for row in rows],
            ours,
            relative=1e-4,
            of=encounter_moment,
        )
