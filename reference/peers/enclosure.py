"""An enclosure document ("dapple/enclosure@1") as the peers need it: plain shapes in centimetres.

Only what a gray, wavelength-free light simulation can use is read; anything else is an error, so that a
peer never silently simulates a different scene from the one the document describes.
"""
import json
import math
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

SCENES = Path(__file__).resolve().parents[2] / "tests" / "scenes"
FACES = ("floor", "left", "right", "front", "back", "top")


@dataclass(frozen=True)
class Lamp:
    """A luminous cylinder (tube, coil) or disc (spot). `radiance` makes peers answer in UVI directly."""
    id: str
    kind: str
    centre: np.ndarray
    aim: np.ndarray
    along: np.ndarray | None
    length: float
    diameter: float
    power: float  # forward power m of a tube (0: all round), k of a spot
    radiance: float


@dataclass(frozen=True)
class Box:
    centre: np.ndarray
    half: np.ndarray
    turn: np.ndarray
    reflectance: float


@dataclass(frozen=True)
class Cylinder:
    start: np.ndarray
    end: np.ndarray
    radius: float
    reflectance: float


@dataclass(frozen=True)
class Ellipsoid:
    centre: np.ndarray
    radii: np.ndarray
    turn: np.ndarray
    reflectance: float


@dataclass(frozen=True)
class Screen:
    low: np.ndarray
    high: np.ndarray
    transmittance: float


@dataclass(frozen=True)
class Enclosure:
    name: str
    size: np.ndarray
    walls: dict  # face -> reflectance; an open face is absent
    lamps: list
    screens: list
    furniture: list

    @property
    def reflects(self):
        return any(self.walls.values()) or any(piece.reflectance for piece in self.furniture)


def scene_names():
    return sorted(path.stem for path in SCENES.glob("*.json"))


def read(name_or_path):
    path = Path(name_or_path)
    if path.suffix != ".json":
        path = SCENES / f"{name_or_path}.json"
    document = json.loads(path.read_text())
    assert document["format"] == "dapple/enclosure@1", path
    walls = {face: 0.0 for face in FACES if face != "top"}
    for face, material in document.get("walls", {}).items():
        walls[face] = material
    return Enclosure(
        name=path.stem,
        size=vector(document["size_cm"]),
        walls={face: reflectance(m) for face, m in walls.items() if m != "open"},
        lamps=[read_lamp(lamp) for lamp in document["lamps"]],
        screens=[read_screen(screen) for screen in document.get("screens", [])],
        furniture=[read_piece(piece) for piece in document.get("furniture", [])],
    )


def vector(numbers):
    return np.array(numbers, dtype=float)


def unit(v):
    return v / np.linalg.norm(v)


def reflectance(material):
    if isinstance(material, (int, float)):
        return float(material)
    value = material["reflectance"]
    if not isinstance(value, (int, float)):
        raise ValueError("the peers are wavelength-free: a reflectance must be one number")
    return float(value)


def turn_matrix(degrees):
    """About x, then y, then z, as the document format says."""
    x, y, z = np.radians(degrees)
    about_x = np.array([[1, 0, 0], [0, math.cos(x), -math.sin(x)], [0, math.sin(x), math.cos(x)]])
    about_y = np.array([[math.cos(y), 0, math.sin(y)], [0, 1, 0], [-math.sin(y), 0, math.cos(y)]])
    about_z = np.array([[math.cos(z), -math.sin(z), 0], [math.sin(z), math.cos(z), 0], [0, 0, 1]])
    return about_z @ about_y @ about_x


def read_piece(piece):
    rho = reflectance(piece["material"])
    turn = turn_matrix(piece.get("turn_deg", [0, 0, 0]))
    if piece["shape"] == "box":
        low, high = vector(piece["min_cm"]), vector(piece["max_cm"])
        return Box((low + high) / 2, (high - low) / 2, turn, rho)
    if piece["shape"] == "ellipsoid":
        return Ellipsoid(vector(piece["centre_cm"]), vector(piece["radii_cm"]), turn, rho)
    if piece["shape"] == "cylinder":
        start, end = vector(piece["from_cm"]), vector(piece["to_cm"])
        middle = (start + end) / 2
        return Cylinder(middle + turn @ (start - middle), middle + turn @ (end - middle), piece["diameter_cm"] / 2, rho)
    raise ValueError(f"no peer models a {piece['shape']}")


def read_screen(screen):
    return Screen(vector(screen["min_cm"]), vector(screen["max_cm"]), float(screen["transmittance"]))


def read_lamp(lamp):
    uvi, at = lamp["output"]["uvi"], lamp["output"]["at_cm"]
    aim = unit(vector(lamp.get("aim", [0, 0, -1])))
    diameter = float(lamp["diameter_cm"])
    if lamp["kind"] in ("tube", "coil"):
        along = unit(vector(lamp["along"]))
        length = float(lamp["length_cm"])
        power = float(lamp.get("spread", {}).get("forward_power", 0))
        aim = unit(aim - (aim @ along) * along)
        bare = Lamp(lamp["id"], lamp["kind"], vector(lamp["centre_cm"]), aim, along, length, diameter, power, 1.0)
        return replace(bare, radiance=uvi / cylinder_on_axis(bare, at + diameter / 2))
    if lamp["kind"] == "spot":
        k = math.log(0.5) / math.log(math.cos(math.radians(lamp["beam_deg"]) / 2))
        return Lamp(lamp["id"], "spot", vector(lamp["centre_cm"]), aim, None, 0.0, diameter, k,
                    uvi / disc_on_axis(diameter / 2, k, at))
    raise ValueError(f"no peer models a {lamp['kind']}")


def cylinder_on_axis(lamp, distance, steps=2048):
    """Irradiance at unit radiance of a sensor facing the middle of a luminous cylinder, by the midpoint rule.

    Not the closed form of the line: a finite cylinder's surface is nearer than its axis, which is half a per cent
    for a common tube at 30 cm; calibrated by its own reading, the two agree to 0.1 % elsewhere.
    """
    t = ((np.arange(steps) + 0.5) / steps - 0.5) * lamp.length
    angle = ((np.arange(steps) + 0.5) / steps - 0.5) * math.pi
    t, angle = np.meshgrid(t, angle)
    r = lamp.diameter / 2
    out = np.stack([np.cos(angle), np.sin(angle), 0 * angle], axis=-1)  # aim, sideways, along
    to_sensor = np.stack([distance - r * np.cos(angle), -r * np.sin(angle), -t], axis=-1)
    squared = (to_sensor ** 2).sum(axis=-1)
    w = to_sensor / np.sqrt(squared)[..., None]
    profile = np.maximum(0, w[..., 0] / np.hypot(w[..., 0], w[..., 1])) ** lamp.power
    seen = np.maximum(0, (w * out).sum(axis=-1)) * w[..., 0] * profile / squared
    return seen.mean() * math.pi * r * lamp.length


def disc_on_axis(radius, k, distance):
    """Irradiance per L0 of a disc of radiance L0 cos^(k-1), on its axis: 2 pi times the integral of cos^k sin."""
    edge = distance / math.hypot(distance, radius)
    return 2 * math.pi * (1 - edge ** (k + 1)) / (k + 1)


def emission(lamp, towards):
    """Radiance relative to `lamp.radiance` of light that leaves along unit vectors `towards` (n, 3)."""
    if lamp.kind == "spot":
        return np.maximum(0, towards @ lamp.aim) ** (lamp.power - 1)
    if lamp.power == 0:
        return np.ones(len(towards))
    across = towards - np.outer(towards @ lamp.along, lamp.along)
    return np.maximum(0, across @ lamp.aim / np.linalg.norm(across, axis=1)) ** lamp.power


def inside(piece, points, margin=0.0):
    """Which points lie in a piece of furniture grown by `margin`."""
    if isinstance(piece, Box):
        return (np.abs((points - piece.centre) @ piece.turn) < piece.half + margin).all(axis=1)
    if isinstance(piece, Ellipsoid):
        return (((points - piece.centre) @ piece.turn / (piece.radii + margin)) ** 2).sum(axis=1) < 1
    axis = piece.end - piece.start
    length = np.linalg.norm(axis)
    t = (points - piece.start) @ axis / length
    off = np.linalg.norm(points - piece.start - np.outer(t, axis / length), axis=1)
    return (t > -margin) & (t < length + margin) & (off < piece.radius + margin)


def ellipsoid_triangles(piece, rounds=5):
    """A subdivided icosahedron, 20 * 4^rounds triangles, swollen so that its volume is the ellipsoid's."""
    g = (1 + 5 ** 0.5) / 2
    points = [vector(p) for p in ((-1, g, 0), (1, g, 0), (-1, -g, 0), (1, -g, 0), (0, -1, g), (0, 1, g), (0, -1, -g),
                                  (0, 1, -g), (g, 0, -1), (g, 0, 1), (-g, 0, -1), (-g, 0, 1))]
    faces = [(0, 11, 5), (0, 5, 1), (0, 1, 7), (0, 7, 10), (0, 10, 11), (1, 5, 9), (5, 11, 4), (11, 10, 2), (10, 7, 6),
             (7, 1, 8), (3, 9, 4), (3, 4, 2), (3, 2, 6), (3, 6, 8), (3, 8, 9), (4, 9, 5), (2, 4, 11), (6, 2, 10),
             (8, 6, 7), (9, 8, 1)]
    for _ in range(rounds):
        middles, finer = {}, []
        for a, b, c in faces:
            mids = []
            for p, q in ((a, b), (b, c), (c, a)):
                edge = (min(p, q), max(p, q))
                if edge not in middles:
                    middles[edge] = len(points)
                    points.append(unit(points[p]) + unit(points[q]))
                mids.append(middles[edge])
            ab, bc, ca = mids
            finer += [(a, ab, ca), (b, bc, ab), (c, ca, bc), (ab, bc, ca)]
        faces = finer
    sphere = np.array([unit(p) for p in points])
    faces = np.array(faces)
    a, b, c = (sphere[faces[:, i]] for i in range(3))
    volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6
    sphere *= (4 / 3 * math.pi / volume) ** (1 / 3)
    return piece.centre + sphere * piece.radii @ piece.turn.T, faces


def tube_triangles(lamp, sides=96):
    """The lateral surface of a tube, as a prism of equal surface, seen from outside.

    A mesh because single-precision rays that graze a true cylinder take it for its own shadow.
    """
    u = unit(np.cross(lamp.along, np.eye(3)[np.argmin(np.abs(lamp.along))]))
    v = np.cross(lamp.along, u)
    angle = 2 * math.pi * np.arange(sides) / sides
    radius = lamp.diameter / 2 * (math.pi / sides) / math.sin(math.pi / sides)
    ring = radius * (np.outer(np.cos(angle), u) + np.outer(np.sin(angle), v))
    half = lamp.along * lamp.length / 2
    i = np.arange(sides)
    j = (i + 1) % sides
    faces = np.concatenate([np.column_stack([i, j, j + sides]), np.column_stack([i, j + sides, i + sides])])
    return lamp.centre + np.concatenate([ring - half, ring + half]), faces


def wall_corners(size):
    """Each inner face as corner, two edges; their cross product points inwards."""
    w, d, h = size
    x, y, z = vector([w, 0, 0]), vector([0, d, 0]), vector([0, 0, h])
    zero = np.zeros(3)
    return {"floor": (zero, x, y), "top": (z, y, x), "left": (zero, y, z), "right": (x, z, y),
            "front": (zero, z, x), "back": (y, x, z)}
