"""Writes data/weights/*.csv. The erythema action spectrum is a formula and lives in src/spectrum/quantity.cpp."""
import numpy as np
from scipy.interpolate import CubicSpline

import tables

# V(lambda) every 10 nm, 380-780 nm, of the 2 degree observer adopted by the CIE in 1924 (to three digits: Gibson &
# Tyndall 1923, Visibility of radiant energy, Bulletin of the Bureau of Standards 19:131) and 1931. From memory;
# confirmed below against every second row of the table of CIE 018:2019.
V_NM = np.arange(380, 781, 10)
V = np.array([0.000039, 0.00012, 0.000396, 0.00121, 0.0040, 0.0116, 0.0230, 0.0380, 0.0600, 0.09098, 0.13902, 0.20802,
              0.323, 0.503, 0.710, 0.862, 0.954, 0.99495, 0.995, 0.952, 0.870, 0.757, 0.631, 0.503, 0.381, 0.265,
              0.175, 0.107, 0.061, 0.032, 0.017, 0.00821, 0.004102, 0.002091, 0.001047, 0.00052, 0.000249, 0.00012,
              0.00006, 0.00003, 0.000015])


def photopic():
    nm = np.arange(380, 781)
    v = np.exp(CubicSpline(V_NM, np.log(V))(nm))
    table = tables.numbers("photopic_luminosity.csv")
    ours = np.interp(table["wavelength_nm"], nm, v)
    worst_row = np.max(np.abs(V / table["v_lambda"][::2] - 1))
    print(f"photopic: rows at 10 nm within {worst_row:.1e} of CIE 018; all rows within {np.max(np.abs(ours - table['v_lambda'])):.1e} of the peak")
    tables.write("weights/photopic.csv",
                 {"what": "V(lambda), spectral luminous efficiency for photopic vision, relative, 380-780 nm",
                  "source": "numbers at 10 nm as adopted by the CIE in 1924 and 1931 (Gibson & Tyndall 1923, Bulletin of the Bureau of Standards 19:131); between them a cubic spline through the logarithms"},
                 ["wavelength_nm", "weight"], zip(nm, v))


def copied(check, path, notes):
    table = tables.numbers(check)
    tables.write(path, notes, ["wavelength_nm", "weight"], zip(table["wavelength_nm"], table["weight"]))


if __name__ == "__main__":
    photopic()
    copied("previtamin_d3_action_spectrum.csv", "weights/previtamin_d3.csv",
           {"what": "previtamin D3 action spectrum, human skin, relative, 252-330 nm",
            "source": "CIE 174:2006, as carried by the radiation model TUV-x (Apache-2.0)"})
    copied("actinic_uv_hazard.csv", "weights/actinic.csv",
           {"what": "S(lambda), actinic ultraviolet hazard to skin and eye, relative to 270 nm; interpolate logarithms",
            "source": "ICNIRP 2004, Health Physics 87:171-186, table 1 = IEC 62471:2006 table 4.1; rows as carried by TUV-x (Apache-2.0)"})
