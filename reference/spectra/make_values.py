"""Writes lamp_spectra_values.csv: every shipped lamp spectrum integrated independently of the engine.

Each file of data/spectra is read anew, laid through by a cubic spline (CIE 015 asks for a smooth interpolation; what
dips below zero is cut; for the boxes UVC, UVB and UVA, whose edges are sharp, straight lines) and integrated by the trapezoidal rule every 0.1 nm. Weights: the erythema formula of
ISO/CIE 17166 at 0.1 nm; previtamin D3 a cubic spline, S(lambda) logarithmic between the rows of reference/checks;
V(lambda) of the colour-science package (1 nm, linear between). Erythema and S(lambda) end half a nanometre beyond 400 nm,
since a sum over whole nanometres counts that one in full.
"""
import datetime
import pathlib

import colour
import numpy as np
from scipy.interpolate import CubicSpline

import tables

X = np.round(np.arange(200, 2500.05, 0.1), 1)
HERE = pathlib.Path(__file__).parent


def weights():
    erythema = np.where(X <= 298, 1, np.where(X <= 328, 10 ** (0.094 * (298 - X)), 10 ** (0.015 * (140 - X))))
    erythema[(X < 249.5) | (X > 400.5)] = 0
    d3 = tables.numbers("previtamin_d3_action_spectrum.csv")
    s = tables.numbers("actinic_uv_hazard.csv")
    v = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    actinic = np.exp(np.interp(X, s["wavelength_nm"], np.log(s["weight"])))
    actinic[X > 400.5] = 0
    return {
        "uvi": 40 * erythema,
        "d3_w_m2": np.nan_to_num(CubicSpline(d3["wavelength_nm"], d3["weight"], extrapolate=False)(X)),
        "actinic_w_m2": actinic,
        "lux": 683 * np.interp(X, v.wavelengths, v.values[:, 1], left=0, right=0),
    }


def box(nm, power, low, high):
    e = np.interp(X, nm, power, left=0, right=0)
    inside = (X >= low) & (X <= high)
    return np.trapezoid(e[inside], X[inside])


def main():
    weight = weights()
    names = list(weight) + ["uvc_w_m2", "uvb_w_m2", "uva_w_m2", "irradiance_w_m2"]
    with open(HERE / "lamp_spectra_values.csv", "w") as out:
        out.write("# Quantities of every shipped lamp spectrum as it stands (irradiance in W/m2/nm = its relative column).\n")
        out.write(f"# By make_values.py: 0.1 nm trapezoidal quadrature of cubic splines, numpy {np.__version__}, V(lambda) of colour-science {colour.__version__}; {datetime.date.today()}.\n")
        out.write("id," + ",".join(names) + "\n")
        for id in (tables.DATA / "spectra" / "order.txt").read_text().split():
            rows = [line.split(",") for line in (tables.DATA / "spectra" / f"{id}.csv").read_text().splitlines() if line[0].isdigit()]
            nm, power = np.array(rows, float).T
            e = np.maximum(np.nan_to_num(CubicSpline(nm, power, extrapolate=False)(X)), 0)
            values = [np.trapezoid(e * w, X) for w in weight.values()]
            values += [box(nm, power, *edges) for edges in ((200, 280), (280, 315), (315, 400), (200, 2500))]
            out.write(id + "," + ",".join(f"{value:.6g}" for value in values) + "\n")


if __name__ == "__main__":
    main()
