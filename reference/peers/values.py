"""The committed result files: values/<scene>.<peer>.csv, and values/<scene>.<peer>.aimed.csv for aimed receivers."""
import csv
import datetime
from pathlib import Path

import numpy as np

FOLDER = Path(__file__).resolve().parent / "values"
COLUMNS = ("x_cm", "y_cm", "z_cm", "nx", "ny", "nz", "bounces", "uvi", "stderr_uvi")


def write(scene, peer, about, facing, points, normals, results):
    """`results`: bounces ("0" or "all") -> (uvi, standard error), one per receiver. `about`: header lines."""
    FOLDER.mkdir(exist_ok=True)
    for suffix, chosen in (("", facing != "aimed"), (".aimed", facing == "aimed")):
        if not chosen.any():
            continue
        with open(FOLDER / f"{scene}.{peer}{suffix}.csv", "w", newline="") as file:
            file.write(f"# Planar irradiance as UVI in tests/scenes/{scene}.json, computed by an independent simulator.\n")
            for line in about:
                file.write(f"# {line}\n")
            file.write(f"# date: {datetime.date.today().isoformat()}\n")
            for bounces, (uvi, error) in results.items():
                mean = uvi[chosen].mean()
                noise = np.sqrt((error[chosen] ** 2).mean())
                file.write(f"# noise, bounces {bounces}: RMS standard error {noise / mean:.2e} of the mean {mean:.5g} UVI\n")
            out = csv.writer(file, lineterminator="\n")
            out.writerow(COLUMNS)
            for bounces, (uvi, error) in results.items():
                for i in np.flatnonzero(chosen):
                    out.writerow([*(f"{v:g}" for v in points[i]), *(f"{v:.7g}" for v in normals[i]), bounces,
                                  f"{uvi[i]:.6g}", f"{error[i]:.2g}"])


def read(path):
    with open(path) as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    numbers = {c: np.array([float(row[c]) for row in rows]) for c in COLUMNS if c != "bounces"}
    return numbers | {"bounces": np.array([row["bounces"] for row in rows])}
