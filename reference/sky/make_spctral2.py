"""Writes spctral2_checks.csv: Bird & Riordan's model by pvlib, relative to the extraterrestrial spectrum."""
import numpy as np
from pvlib.spectrum import spectrl2

CASES = [(0, 101300, 1.5, 0.30, 0.10, 0.2), (48.19, 101300, 1.42, 0.34, 0.27, 0.2), (70, 80000, 0.5, 0.30, 0.05, 0.8),
         (80, 101300, 3.0, 0.25, 0.20, 0.1)]

with open("spctral2_checks.csv", "w") as file:
    file.write("# Direct normal and diffuse horizontal irradiance over extraterrestrial (1 au), by pvlib's SPCTRAL2 (Bird & "
               "Riordan 1984), air mass of Kasten & Young 1989. Made by make_spctral2.py.\n")
    file.write("zenith_deg,pressure_pa,water_cm,ozone_atm_cm,aod_500,albedo,wavelength_nm,direct,diffuse\n")
    for zenith, pressure, water, ozone, aod, albedo in CASES:
        mass = 1 / (np.cos(np.radians(zenith)) + 0.50572 * (96.07995 - zenith) ** -1.6364)
        one = [np.array([float(v)]) for v in (zenith, zenith, 0, albedo, pressure, mass, water, ozone, aod)]
        out = spectrl2(*one, dayofyear=np.array([94]))
        for i, nm in enumerate(out["wavelength"]):
            if nm < 300 or nm > 2500:
                continue
            top = out["dni_extra"][i, 0]
            file.write(f"{zenith},{pressure},{water},{ozone},{aod},{albedo},{nm:g},{out['dni'][i, 0] / top:.6g},"
                       f"{out['dhi'][i, 0] / top:.6g}\n")
