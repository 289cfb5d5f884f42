"""Writes data/sky/: the tables behind the clear sky. Numbers come from reference/checks and from pvlib; the ozone cross sections in
steps of 0.01 nm from the file 1995Malicet_O3.txt of TUV-x, whose path is the argument."""
import csv
import math
import pathlib
import sys

from pvlib import spa
from pvlib.spectrum.spectrl2 import _SPECTRL2_COEFFS as SPCTRAL2

ROOT = pathlib.Path(__file__).resolve().parents[2]
CHECKS = ROOT / "reference/checks"
DATA = ROOT / "data/sky"


def rows(name):
    with open(CHECKS / name) as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def write(name, notes, header, table):
    with open(DATA / name, "w") as file:
        for key, text in notes:
            file.write(f"# {key}: {text}\n")
        file.write(",".join(header) + "\n")
        for row in table:
            file.write(",".join(f"{value:.6g}" for value in row) + "\n")


def extraterrestrial():
    table = [(float(r["wavelength_nm"]), float(r["extraterrestrial"])) for r in rows("astm_g173.csv")]
    write("extraterrestrial.csv",
          [("what", "solar spectral irradiance above the atmosphere at 1 au, W/m2/nm"),
           ("source", "extraterrestrial column of ASTM G173-03, as carried by pvlib (BSD-3)")],
          ["wavelength_nm", "irradiance"], [row for row in table if row[0] <= 2501])


def ozone_cross_section(malicet):
    """Means over 1 nm, every half nanometre; `malicet` is the table of 0.01 nm steps, 195-345 nm."""
    kelvins = (295, 243, 228, 218)
    fine = []
    with open(malicet) as file:
        for line in file:
            cells = line.split()
            if len(cells) == 5 and cells[0][0].isdigit():
                fine.append([float(cell) for cell in cells])
    brion = {float(r["wavelength_nm"]): float(r["bdm_295k_cm2"] or 0) for r in rows("ozone_cross_section.csv")}
    table = []
    for half in range(560, 701):
        nm = half / 2
        if nm <= 344:
            inside = [row for row in fine if nm - 0.5 <= row[0] < nm + 0.5]
            means = [sum(row[i] for row in inside) / len(inside) for i in range(1, 5)]
        else:  # only the warm column was measured; absorption is next to nothing there
            means = [(brion[nm] if nm in brion else (brion[nm - 0.5] + brion[nm + 0.5]) / 2)] * 4
        table.append([nm] + means[::-1])
    write("ozone_cross_section.csv",
          [("what", "absorption cross section of ozone, cm2 a molecule, by temperature: means over 1 nm, every 0.5 nm"),
           ("source", "Malicet et al. 1995, J. Atmos. Chem. 21:263-273; beyond 344 nm Brion et al. 1998, "
                      "J. Atmos. Chem. 30:291-299 (295 K), as carried by TUV-x (Apache-2.0)")],
          ["wavelength_nm"] + [f"k{k}" for k in kelvins[::-1]], table)


def atmosphere():
    elterman = [2.40E-01, 1.06E-01, 4.56E-02, 1.91E-02, 1.01E-02, 7.63E-03, 5.38E-03, 5.00E-03, 5.15E-03, 4.94E-03,
                4.82E-03, 4.51E-03, 4.74E-03, 4.37E-03, 4.28E-03, 4.03E-03, 3.83E-03, 3.78E-03, 3.88E-03, 3.08E-03,
                2.26E-03, 1.64E-03, 1.23E-03, 9.45E-04, 7.49E-04, 6.30E-04, 5.50E-04, 4.21E-04, 3.22E-04, 2.48E-04,
                1.90E-04, 1.45E-04, 1.11E-04, 8.51E-05, 6.52E-05, 5.00E-05, 3.83E-05, 2.93E-05, 2.25E-05, 1.72E-05,
                1.32E-05, 1.01E-05, 7.72E-06, 5.91E-06, 4.53E-06, 3.46E-06, 2.66E-06, 2.04E-06, 1.56E-06, 1.19E-06,
                9.14E-07]
    air = rows("standard_atmosphere.csv")
    known = [(float(r["altitude_km"]), float(r["ozone"])) for r in air if r["ozone"]]

    def ozone(z):
        if z >= known[-1][0]:
            (a, na), (b, nb) = known[-2:]
        else:
            (a, na), (b, nb) = next(pair for pair in zip(known, known[1:]) if pair[1][0] > z)
        return math.exp(math.log(na) + (z - a) / (b - a) * (math.log(nb) - math.log(na)))

    table = []
    for r in air:
        z = float(r["altitude_km"])
        if z > 80:
            break
        aerosol = elterman[int(z)] if z < len(elterman) else 0
        table.append((z, float(r["air"]), ozone(z), float(r["temperature_k"]), aerosol))
    write("atmosphere.csv",
          [("what", "air and ozone (molecules per cm3; the logarithm of ozone interpolated between its levels), "
                    "temperature (K) and aerosol extinction at 340 nm (per km), by altitude"),
           ("source", "US Standard Atmosphere 1976, as carried by TUV-x (Apache-2.0); aerosol: Elterman 1968, "
                      "AFCRL-68-0153, continental")],
          ["altitude_km", "air", "ozone", "temperature_k", "aerosol"], table)


def climatology():
    table = [(float(r["month"]), float(r["latitude_deg"]), float(r["ozone_du"])) for r in rows("ozone_climatology.csv")]
    write("ozone_climatology.csv",
          [("what", "total ozone, DU, zonal monthly means, by the middle of the latitude band"),
           ("source", "Fortuin & Kelder 1998, J. Geophys. Res. 103:31709, as carried by TUV-x (Apache-2.0)")],
          ["month", "latitude_deg", "ozone_du"], table)


def spctral2():
    names = ("wavelength", "water_vapor_absorption", "ozone_absorption", "mixed_absorption")
    table = [[float(row[n]) for n in names] for row in SPCTRAL2 if row["wavelength"] <= 2600]
    write("spctral2.csv",
          [("what", "absorption coefficients of water vapour (per cm), ozone (per atm cm) and uniformly mixed gases"),
           ("source", "Bird & Riordan 1984, Simple Solar Spectral Model (SERI/TR-215-2436), table 2-1; "
                      "as carried by pvlib (BSD-3)")],
          ["wavelength_nm", "water", "ozone", "mixed"], table)


def sun():
    source = ("source", "Reda & Andreas 2004, Solar Energy 76:577-589 (NREL/TP-560-34302), table A4.2: the leading terms of "
                        "VSOP87 (Bretagnon & Francou 1988); as carried by pvlib (BSD-3)")
    series = [(code, power, getattr(spa, f"{letter}{power}")) for code, letter in enumerate("LBR")
              for power in range(6) if hasattr(spa, f"{letter}{power}")]
    with open(DATA / "earth_terms.csv", "w") as file:
        file.write("# what: heliocentric longitude (series 0), latitude (1) and radius vector (2) of the earth: sums of "
                   "a cos(b + c T) over the terms of each power of T in Julian millennia\n")
        file.write(f"# {source[0]}: {source[1]}\nseries,power,a,b,c\n")
        for code, power, terms in series:
            for a, b, c in terms:
                file.write(f"{code},{power},{a:.12g},{b:.12g},{c:.12g}\n")
    with open(DATA / "nutation_terms.csv", "w") as file:
        file.write("# what: nutation (0.0001 arc seconds): multiples of the arguments X0-X4, longitude a + b T, obliquity "
                   "c + d T\n")
        file.write("# source: Reda & Andreas 2004, table A4.3: the terms of the IAU 1980 theory; as carried by pvlib (BSD-3)\n")
        file.write("y0,y1,y2,y3,y4,a,b,c,d\n")
        for y, abcd in zip(spa.NUTATION_YTERM_ARRAY, spa.NUTATION_ABCD_ARRAY):
            file.write(",".join(f"{v:.12g}" for v in (*y, *abcd)) + "\n")


DATA.mkdir(exist_ok=True)
sun()
extraterrestrial()
ozone_cross_section(sys.argv[1])
atmosphere()
climatology()
spctral2()
