"""Where the peers and the engine are compared: receiver rows of a scene, placed once and committed.

receivers/<scene>.csv: `facing` is up (horizontal), fixed (a given normal) or aimed (the normal of the largest
planar irradiance of direct light, found by mitsuba_scenes.py --aim).
"""
import csv
from pathlib import Path

import numpy as np

import enclosure

FOLDER = Path(__file__).resolve().parent / "receivers"
NORMALS = np.array([(1, 0, 0), (-1, 0, 0), (0, -1, 0), (0.6, 0, 0.8), (-0.48, 0.64, 0.6), (0, -0.8, 0.6)])
COLUMNS = ("facing", "x_cm", "y_cm", "z_cm", "nx", "ny", "nz")
POINTS = 60


def place(scene):
    """A third on the floor, a third beside and below furniture, a third anywhere: clear of everything and of lamps."""
    random = np.random.default_rng(11)
    third = POINTS // 3
    size = scene.size
    groups = [lambda n: np.column_stack([random.uniform(2, size[:2] - 2, (n, 2)), np.full(n, 0.5)]),
              lambda n: around_furniture(scene, random, n),
              lambda n: random.uniform((2, 2, 0.5), (size[0] - 2, size[1] - 2, 44), (n, 3))]
    points = []
    for draw in groups:
        kept = []
        while len(kept) < third:
            p = draw(1).round(2)
            if clear(scene, p)[0]:
                kept.append(p[0])
        points += kept
    rows = [("up", p, np.array([0, 0, 1.0])) for p in points]
    return rows + [("fixed", p, NORMALS[i % len(NORMALS)]) for i, p in enumerate(points)]


def around_furniture(scene, random, n):
    if not scene.furniture:
        return random.uniform((2, 2, 0.5), (scene.size[0] - 2, scene.size[1] - 2, 30), (n, 3))
    points = []
    for _ in range(n):
        piece = scene.furniture[random.integers(len(scene.furniture))]
        if isinstance(piece, enclosure.Cylinder):
            centre = piece.start + random.uniform() * (piece.end - piece.start)
            reach = np.full(3, piece.radius)
        else:
            centre, reach = piece.centre, piece.half if isinstance(piece, enclosure.Box) else piece.radii
        p = centre + random.uniform(-1, 1, 3) * (reach + 4)
        p[2] = random.uniform(0.5, max(1, centre[2] + reach[2] + 1))
        points.append(p)
    return np.array(points)


def clear(scene, points, margin=0.5):
    free = ((points > 0.4) & (points < scene.size - 0.4)).all(axis=1) & (points[:, 2] < 44.5)
    for piece in scene.furniture:
        free &= ~enclosure.inside(piece, points, margin)
    for screen in scene.screens:
        axis = int(np.argmin(screen.high - screen.low))
        free &= np.abs(points[:, axis] - screen.low[axis]) > margin
    return free


def write(name, rows):
    FOLDER.mkdir(exist_ok=True)
    with open(FOLDER / f"{name}.csv", "w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(COLUMNS)
        for facing, p, n in rows:
            out.writerow([facing, *(f"{v:g}" for v in p), *(f"{v:.7g}" for v in n)])


def read(name):
    with open(FOLDER / f"{name}.csv") as file:
        rows = [row for row in csv.DictReader(file)]
    facing = np.array([row["facing"] for row in rows])
    points = np.array([[float(row[c]) for c in COLUMNS[1:4]] for row in rows])
    normals = np.array([[float(row[c]) for c in COLUMNS[4:]] for row in rows])
    return facing, points, normals


if __name__ == "__main__":
    for name in enclosure.scene_names():
        write(name, place(enclosure.read(name)))
