"""Reading check tables and writing shipped ones; the wavelength axis all scripts here share."""
import csv
import pathlib

import numpy as np

ROOT = pathlib.Path(__file__).resolve().parents[2]
CHECKS = ROOT / "reference" / "checks"
DATA = ROOT / "data"


def read(name):
    """A check table as {column: list of strings}."""
    with open(CHECKS / name, newline="") as f:
        rows = list(csv.DictReader(line for line in f if not line.startswith("#")))
    return {key: [row[key] for row in rows] for key in rows[0]}


def numbers(name):
    """A table of numbers as {column: array}; what is not a number is left as it stands."""
    def convert(column):
        try:
            return np.array([float(v) for v in column])
        except ValueError:
            return column
    return {key: convert(column) for key, column in read(name).items()}


def write(path, notes, header, rows, digits=5):
    """A shipped table: `# key: value` lines, a header row, numbers."""
    with open(DATA / path, "w") as f:
        for key, value in notes.items():
            f.write(f"# {key}: {value}\n")
        f.write(",".join(header) + "\n")
        for row in rows:
            f.write(",".join(f"{value:.{digits}g}" for value in row) + "\n")
