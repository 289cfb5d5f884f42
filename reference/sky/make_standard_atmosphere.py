"""Writes standard_atmosphere_checks.csv and standard_sky_checks.csv: the atmosphere of ASTM G173-03 solved in 16 streams with its whole field of radiance, by a
library of its own (PythonicDISORT), from the public tables in reference/checks alone: nothing of the program is called.

    python make_standard_atmosphere.py         the tables, and how the same set-up meets NCAR TUV
    python make_standard_atmosphere.py vary    the standard's tilted irradiance under other choices of what it leaves open
"""
import csv
import pathlib
import sys
import warnings

import numpy as np
from PythonicDISORT.pydisort import pydisort
from PythonicDISORT.subroutines import interpolate

CHECKS = pathlib.Path(__file__).resolve().parents[1] / "checks"
STREAMS = 16  # with 32 nothing changes by more than 1e-5, with 8 by 1e-3
MOLECULES_PER_DU = 2.6867e16  # per cm2
EDGES_KM = np.array([80, 60, 50, 45, 40, 35, *range(30, -1, -1)], float)
STARTS = range(300, 400, 5)


def rows(name):
    with open(CHECKS / name) as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def numbers(table, column):
    return np.array([float(row[column] or "nan") for row in table])


AIR = [row for row in rows("standard_atmosphere.csv") if float(row["altitude_km"]) <= 80]
CROSS = rows("ozone_cross_section.csv")
CROSS_NM = numbers(CROSS, "wavelength_nm")
STANDARD = {float(row["wavelength_nm"]): row for row in rows("astm_g173.csv")}


def by_height(column):
    known = [(float(row["altitude_km"]), np.log(float(row[column]))) for row in AIR if row[column]]
    km, logs = np.array(known).T
    slope = (logs[-1] - logs[-2]) / (km[-1] - km[-2])
    return lambda z: np.exp(np.where(z > km[-1], logs[-1] + slope * (z - km[-1]), np.interp(z, km, logs)))


def columns(density):
    heights = [np.linspace(low, high, 201) for high, low in zip(EDGES_KM, EDGES_KM[1:])]
    return np.array([np.trapezoid(density(z), z) for z in heights]) * 1e5


def shares(density):
    return columns(density) / columns(density).sum()


MOLECULES = columns(by_height("air"))  # per cm2
OZONE = shares(by_height("ozone"))
AEROSOL = shares(lambda z: np.exp(-z / 2))  # a scale height of 2 km: the standard gives no profile
KELVIN = np.interp((EDGES_KM[1:] + EDGES_KM[:-1]) / 2, numbers(AIR, "altitude_km"), numbers(AIR, "temperature_k"))


def rayleigh_cm2(nm):
    um = nm / 1000  # Nicolet 1984
    return 4.02e-28 / um ** (4 + 0.389 * um + 0.09426 / um - 0.3228)


def in_air(nm):
    s = (1000 / nm) ** 2  # Edlen 1966
    return nm / (1 + 1e-8 * (8342.13 + 2406030 / (130 - s) + 15997 / (38.9 - s)))


MALICET = {218: "bdm_218k_cm2", 228: "bdm_228k_cm2", 243: "bdm_243k_cm2", 295: "bdm_295k_cm2"}
BASS_PAUR = {226: "bass_paur_226k_cm2", 243: "bass_paur_243k_cm2", 298: "bass_paur_298k_cm2"}


def ozone_cm2(nm, measured=MALICET, vacuum=True):
    """Of each layer; logarithms linear in wavelength, then linear in temperature. Where a column ends, the longest goes on."""
    place = in_air(nm) if vacuum else nm
    at = []
    for column in measured.values():
        value = numbers(CROSS, column)
        value = np.where(value > 0, value, numbers(CROSS, "bdm_295k_cm2"))
        known = value > 0
        at.append(np.exp(np.interp(place, CROSS_NM[known], np.log(value[known]))) if place <= 350 else 0)
    return np.interp(KELVIN, list(measured), at)


def solve(nm, zenith_deg, ozone_du, haze_500, exponent, albedo, scattered, asymmetry, tilt_deg=37, haze=AEROSOL, **ozone):
    """Per unit of sunlight facing the sun: beam and sky on the horizontal, the sky on a surface tilted toward the sun."""
    tilt = np.radians(tilt_deg)
    rayleigh = MOLECULES * rayleigh_cm2(nm)
    aerosol = haze * haze_500 * (500 / nm) ** exponent
    scattering = rayleigh + scattered * aerosol
    depth = rayleigh + aerosol + OZONE * ozone_du * MOLECULES_PER_DU * ozone_cm2(nm, **ozone)
    orders = np.arange(2 * STREAMS)
    moments = (rayleigh[:, None] * np.select([orders == 0, orders == 2], [1, 0.1])
               + (scattered * aerosol)[:, None] * asymmetry**orders) / scattering[:, None]
    tau = np.cumsum(depth)
    cosine = min(np.cos(np.radians(zenith_deg)), 0.99999)
    *_, down, _, radiance = pydisort(tau, np.minimum(scattering / depth, 1 - 1e-9), STREAMS, moments, cosine, 1, 0,
                                     f_arr=moments[:, STREAMS], NT_cor=True, BDRF_Fourier_modes=[albedo])
    sky, beam = down(tau[-1])
    node, weight = np.polynomial.legendre.leggauss(64)
    z, dz = (node + 1) / 2, weight / 2
    phi = (np.arange(180) + 0.5) * np.pi / 180  # half the sky; the other is its mirror image
    bright = np.asarray(interpolate(radiance)(-z, tau[-1], phi)).reshape(64, 180)
    facing = z[:, None] * np.cos(tilt) + np.sqrt(1 - z * z)[:, None] * np.cos(phi) * np.sin(tilt)
    tilted = 2 * np.pi / 180 * np.sum(bright * np.maximum(facing, 0) * dz[:, None])
    return np.array([float(beam), float(sky), tilted])


# Shettle & Fenn's rural aerosol at 50 % humidity: scattered share and asymmetry 0.943 and 0.677 at 350 nm as fitted for SMARTS
# (Gueymard 1995, FSEC-PF-270-95). Albedo of light sandy soil there: 0.032 at 300, 0.072 at 350, 0.113 at 400 nm.
G173 = dict(zenith_deg=48.19, ozone_du=343.8, haze_500=0.084, exponent=0.933, albedo=0.05, scattered=0.94, asymmetry=0.68)
TRAPEZOID = [0.25, *[0.5] * 9, 0.25]  # five nanometres in halves


def standard_bands(even_sky=False, **other):
    """By five nanometres, W/m2: direct normal, diffuse horizontal, sky and ground on the tilt, all on the tilt."""
    case, tilt = {**G173, **other}, np.radians(37)
    cosine = np.cos(np.radians(case["zenith_deg"]))
    fine = {}
    for nm in np.arange(300, 400.5, 0.5):
        beam, sky, tilted = float(STANDARD[nm]["extraterrestrial"]) * solve(nm, **case)
        if even_sky:
            tilted = sky * (1 + np.cos(tilt)) / 2
        ground = case["albedo"] * (beam + sky) * (1 - np.cos(tilt)) / 2
        on_tilt = beam / cosine * np.cos(np.radians(case["zenith_deg"]) - tilt) + tilted + ground
        fine[nm] = np.array([beam / cosine, sky, tilted, ground, on_tilt])
    return {start: sum(w * fine[start + i / 2] for i, w in enumerate(TRAPEZOID)) for start in STARTS}


def of_standard(column):
    return {start: sum(w * float(STANDARD[start + i / 2][column]) for i, w in enumerate(TRAPEZOID)) for start in STARTS}


def write_table():
    bands = standard_bands()
    with open("standard_atmosphere_checks.csv", "w") as file:
        file.write("# The atmosphere of ASTM G173-03 in 16 streams (PythonicDISORT 1.8), W/m2 in each five nanometres: US Standard "
                   "Atmosphere 1976, ozone 343.8 DU, aerosol of optical depth 0.084 (500 nm / lambda)^0.933, scattered share 0.94, "
                   "asymmetry 0.68, albedo 0.05, sun 48.19 deg from the zenith, surface tilted by 37 deg toward it. Sunlight: "
                   "extraterrestrial column of G173. Made by make_standard_atmosphere.py.\n")
        file.write("from_nm,direct_normal,diffuse_horizontal,sky_on_tilt,ground_on_tilt,global_tilt\n")
        for start, values in bands.items():
            file.write(f"{start}," + ",".join(f"{value:.5g}" for value in values) + "\n")


def write_skies():
    with open("standard_sky_checks.csv", "w") as file:
        file.write("# In the atmosphere of standard_atmosphere_checks.csv: what a surface tilted toward the sun gets of the sky over what the "
                   "horizontal gets of it. Made by make_standard_atmosphere.py.\n")
        file.write("zenith_deg,tilt_deg,wavelength_nm,tilted_over_horizontal\n")
        for zenith, tilt in ((30, 30), (30, 90), (48.19, 37), (48.19, 90), (60, 60), (70, 37), (70, 70)):
            for nm in (305, 320, 340, 370, 395):
                _, sky, tilted = solve(nm, **{**G173, "zenith_deg": zenith}, tilt_deg=tilt)
                file.write(f"{zenith},{tilt},{nm},{tilted / sky:.4f}\n")


def meet_tuv():
    tuv = {float(row["wavelength_nm"]): row for row in rows("tuv_clear_sky_spectra.csv")}
    sun = {nm: float(row["extraterrestrial"]) for nm, row in STANDARD.items()}
    for zenith in (0, 30, 60):
        ratios = []
        for start in STARTS:
            ours, theirs = np.zeros(2), np.zeros(2)
            for nm in range(start, start + 5):
                light = (sun[nm] + 2 * sun[nm + 0.5] + sun[nm + 1]) / 4
                ours += light * solve(nm + 0.5, zenith, 300, 0.068 * 1.1, 1.0, 0.1, 0.99, 0.61)[:2]
                theirs += [float(tuv[nm + 0.5][f"{part}_{zenith}"]) for part in ("direct", "diffuse")]
            ratios.append([*ours / theirs, ours[1] / ours[0] / (theirs[1] / theirs[0])])
        worst = np.abs(np.array(ratios) - 1).max(axis=0)
        print(f"TUV at {zenith} deg, worst five nanometres: direct {worst[0]:.3f}, diffuse {worst[1]:.3f}, "
              f"diffuse over direct {worst[2]:.3f}")


def vary():
    print("tilted over ASTM G173 from", *list(STARTS)[:7])
    wanted = of_standard("global_tilt_37")
    for name, other in {"as it is": {}, "even sky": dict(even_sky=True), "albedo 0.03": dict(albedo=0.03), "albedo 0.11": dict(albedo=0.11),
                        "scattered 0.90": dict(scattered=0.90), "asymmetry 0.63": dict(asymmetry=0.63),
                        "ozone 330 DU": dict(ozone_du=330), "ozone of Bass & Paur": dict(measured=BASS_PAUR),
                        "ozone in air": dict(vacuum=False), "sun at 48.236 deg": dict(zenith_deg=48.236)}.items():
        bands = standard_bands(**other)
        print(f"{name:22}", *(f"{bands[start][4] / wanted[start]:.3f}" for start in list(STARTS)[:7]))


warnings.filterwarnings("ignore", message="Some delta-scaled")
if sys.argv[1:] == ["vary"]:
    vary()
else:
    write_table()
    write_skies()
    meet_tuv()
