"""Writes sun_positions.csv: 10,000 random times 1950-2050 and places, topocentric position of the sun by pvlib's
implementation of NREL SPA (Reda & Andreas 2004), without refraction, delta T by Espenak & Meeus 2006."""
import numpy as np
import pandas as pd
import pvlib

COUNT = 10_000
random = np.random.default_rng(20260401)
begin, end = pd.Timestamp("1950-01-01", tz="UTC"), pd.Timestamp("2050-01-01", tz="UTC")
seconds = random.integers(0, int((end - begin).total_seconds()), COUNT)
latitude = np.round(np.degrees(np.arcsin(random.uniform(-1, 1, COUNT))), 4)
longitude = np.round(random.uniform(-180, 180, COUNT), 4)
elevation = np.round(random.uniform(0, 5000, COUNT))

with open("sun_positions.csv", "w") as file:
    file.write(f"# Topocentric sun, no refraction, by pvlib {pvlib.__version__} (NREL SPA, delta T of Espenak & Meeus 2006), "
               "azimuth from north through east. Made by make_positions.py.\n")
    file.write("utc,lat_deg,lon_deg,elevation_m,elevation_deg,azimuth_deg\n")
    for s, lat, lon, metres in zip(seconds, latitude, longitude, elevation):
        time = begin + pd.Timedelta(seconds=int(s))
        delta_t = float(pvlib.spa.calculate_deltat(time.year, time.month))
        unix = np.array([time.timestamp()])
        _, _, _, true, azimuth, _ = pvlib.spa.solar_position_numpy(
            unix, lat, lon, metres, 1013.25, 15, delta_t, 0.5667, 1)
        place = f"{lat:.4f},{lon:.4f},{metres:.0f}"
        file.write(f"{time:%Y-%m-%dT%H:%M:%SZ},{place},{true[0]:.5f},{azimuth[0]:.5f}\n")
