"""Values of the test scenes by Radiance. Usage: radiance_scenes.py [SCENE ...]

Direct light: rtrace -I with jittered source samples, each receiver repeated until its mean is smooth.
Interreflection: rays over each receiver's hemisphere, which rtrace follows by its ambient calculation without the
cache (-aa 0) and with one ray a bounce (-ad 1), which then is plain path tracing; lamps met directly stay dark (-dv-).

Lamps are made of flat rectangles, because rtrace samples rectangles without bias; a cylinder it samples as its
axis (half a per cent off nearby, 2 % with jitter), a ring as a square of equal area (2 % off nearby).
"""
import os
import shlex
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import pyradiance

import enclosure
import receivers
import values

HOME = Path(pyradiance.__file__).parent
# -dt 0 -dc 1: test every source sample; -st 0: screens pass rays straight on; -u+: independent samples.
COMMON = "-h -w -n 2 -u+ -dt 0 -dc 1 -dp 0 -st 0 -ffd"
DIRECT = "-I -ab 0 -lr 64 -dj 1 -ds 0.05"
BOUNCES = "-dv- -ab 64 -lr 0 -lw 1e-4 -aa 0 -as 0 -ad 1 -dj 1 -ds 0"
REPLICATES = 16
FINE, COARSE = 49, 5  # rectangles a lamp is made of; odd, so that a prism looks equally wide from every side


# ---- the scene ------------------------------------------------------------------------------------------------

def item(modifier, kind, id, *groups):
    flat = np.concatenate([np.ravel(g) for g in groups])
    return f"{modifier} {kind} {id}\n0\n0\n{len(flat)} " + " ".join(f"{v:.9g}" for v in flat) + "\n"


def gray(id, rho):
    return item("void", "plastic", id, [rho] * 3, [0, 0])


def straight_through(id, transmittance):
    """Absorbs what it does not pass straight on: colour T, all of it transmitted, all of that specular."""
    return item("void", "trans", id, [transmittance] * 3, [0, 0, 1, 1])


def quad(modifier, id, corner, u, v):
    return item(modifier, "polygon", id, [corner, corner + u, corner + u + v, corner + v])


def profiled(lamp):
    return abs(lamp.power - (1 if lamp.kind == "spot" else 0)) > 1e-9


def profile(lamp, id):
    """How radiance falls off the aim; D is the ray's direction, towards the lamp."""
    forward = "-(Dx*({:.9g})+Dy*({:.9g})+Dz*({:.9g}))".format(*lamp.aim)
    if lamp.kind == "spot":
        return f"{id}_beam = if(fwd, fwd^{lamp.power - 1:.9g}, 0); fwd = {forward};\n"
    along = "Dx*({:.9g})+Dy*({:.9g})+Dz*({:.9g})".format(*lamp.along)
    return (f"{id}_beam = if(fwd, (fwd/across)^{lamp.power:.9g}, 0); fwd = {forward};\n"
            f"across = sqrt(1-along*along); along = {along};\n")


def lamp_text(lamp, id, folder, pieces):
    text, modifier = "", "void"
    if profiled(lamp):
        (folder / f"{id}.cal").write_text(profile(lamp, id))
        modifier = f"{id}_pattern"
        text = f"void brightfunc {modifier}\n2 {id}_beam {folder}/{id}.cal\n0\n0\n"
    text += item(modifier, "light", f"{id}_light", [lamp.radiance] * 3)
    if pieces == 1 and lamp.kind != "spot":
        half = lamp.along * lamp.length / 2
        return text + item(f"{id}_light", "cylinder", id, lamp.centre - half, lamp.centre + half, [lamp.diameter / 2])
    rectangles = disc_rectangles(lamp, pieces) if lamp.kind == "spot" else tube_rectangles(lamp, pieces)
    return text + "".join(quad(f"{id}_light", f"{id}_{i}", *r) for i, r in enumerate(rectangles))


def tube_rectangles(lamp, sides):
    """A prism of the cylinder's surface; every side faces outwards."""
    points, _ = enclosure.tube_triangles(lamp, sides)
    for i in range(sides):
        yield points[i], points[(i + 1) % sides] - points[i], points[i + sides] - points[i]


def disc_rectangles(lamp, strips):
    """Parallel strips of the disc's area, each as long as its mean chord, facing the aim."""
    u = enclosure.unit(np.cross(lamp.aim, np.eye(3)[np.argmin(np.abs(lamp.aim))]))
    v = np.cross(lamp.aim, u)
    r = lamp.diameter / 2
    edges = np.linspace(-r, r, strips + 1)
    area = edges * np.sqrt(np.maximum(0, r * r - edges ** 2)) / 2 + r * r / 2 * np.arcsin(edges / r)
    half = np.diff(area) / np.diff(edges)
    for low, high, h in zip(edges[:-1], edges[1:], half):
        yield lamp.centre + low * u - h * v, (high - low) * u, 2 * h * v


def box_text(piece, id):
    x, y, z = (2 * piece.half * piece.turn).T
    low = piece.centre - (x + y + z) / 2
    faces = [(low, y, x), (low + z, x, y), (low, z, y), (low + x, y, z), (low, x, z), (low + y, z, x)]
    return "".join(quad(f"{id}_gray", f"{id}_{i}", *face) for i, face in enumerate(faces))


def piece_text(piece, id):
    paint = gray(f"{id}_gray", piece.reflectance)
    if isinstance(piece, enclosure.Box):
        return paint + box_text(piece, id)
    if isinstance(piece, enclosure.Cylinder):
        axis = piece.end - piece.start
        return (paint + item(f"{id}_gray", "cylinder", f"{id}_side", piece.start, piece.end, [piece.radius])
                + item(f"{id}_gray", "ring", f"{id}_start", piece.start, -axis, [0, piece.radius])
                + item(f"{id}_gray", "ring", f"{id}_end", piece.end, axis, [0, piece.radius]))
    points, faces = enclosure.ellipsoid_triangles(piece, rounds=3)
    return paint + "".join(item(f"{id}_gray", "polygon", f"{id}_{i}", points[face]) for i, face in enumerate(faces))


def screen_text(screen, id):
    axis = int(np.argmin(screen.high - screen.low))
    u, v = (np.eye(3)[i] * (screen.high - screen.low)[i] for i in range(3) if i != axis)
    return straight_through(f"{id}_mesh", screen.transmittance) + quad(f"{id}_mesh", id, screen.low, u, v)


def scene_text(scene, folder, lamp_pieces):
    parts = [lamp_text(lamp, f"lamp{i}", folder, lamp_pieces) for i, lamp in enumerate(scene.lamps)]
    for face, rho in scene.walls.items():
        parts.append(gray(f"{face}_gray", rho) + quad(f"{face}_gray", face, *enclosure.wall_corners(scene.size)[face]))
    parts += [piece_text(piece, f"piece{i}") for i, piece in enumerate(scene.furniture)]
    parts += [screen_text(screen, f"screen{i}") for i, screen in enumerate(scene.screens)]
    return "".join(parts)


def program(name):
    return [str(HOME / "bin" / name)]


def environment():
    return os.environ | {"RAYPATH": f".:{HOME / 'lib'}"}


def build(scene, folder, lamp_pieces=FINE):
    """Writes the scene's octree into `folder` and returns its path. One lamp piece: Radiance's own cylinder."""
    folder = Path(folder)
    (folder / "scene.rad").write_text(scene_text(scene, folder, lamp_pieces))
    octree = folder / f"{lamp_pieces}.oct"
    with open(octree, "wb") as out:
        subprocess.run(program("oconv") + ["-w", str(folder / "scene.rad")], stdout=out, check=True, env=environment())
    return octree


# ---- light ----------------------------------------------------------------------------------------------------

def rtrace(octree, options, rays):
    """One value a row (point, direction); `options` must ask for -ffd. The scene is gray: one channel."""
    out = subprocess.run(program("rtrace") + options.split() + [str(octree)], input=rays.astype(np.float32).tobytes(),
                         stdout=subprocess.PIPE, check=True, env=environment()).stdout
    return np.frombuffer(out, dtype=np.float64).reshape(-1, 3)[:, 1]


def repeated(octree, options, rays, repeats, per_run=16):
    """Mean and standard error of `repeats` independent estimates of each row."""
    runs = []
    for _ in range(max(1, repeats // per_run)):
        e = rtrace(octree, options, np.repeat(rays, per_run, axis=0))
        runs.append(e.reshape(len(rays), per_run))
    estimates = np.concatenate(runs, axis=1)
    return estimates.mean(axis=1), estimates.std(axis=1, ddof=1) / np.sqrt(estimates.shape[1])


def reflected(octree, points, normals, count, random):
    """Mean and standard error, from replicates whose directions are shifted independently."""
    means = []
    for _ in range(REPLICATES):
        rays = [np.column_stack([np.tile(p, (count, 1)), cosine_directions(n, count, random)]) for p, n in zip(points, normals)]
        radiance = rtrace(octree, f"{COMMON} {BOUNCES}", np.concatenate(rays))
        means.append(np.pi * radiance.reshape(len(points), count).mean(axis=1))
    return np.mean(means, axis=0), np.std(means, axis=0, ddof=1) / np.sqrt(REPLICATES)


def cosine_directions(normal, count, random):
    """Directions dense as the cosine, from the R2 low-discrepancy points (Roberts 2018), shifted at random."""
    steps = np.array([0.7548776662466927, 0.5698402909980532])
    a, b = np.mod(random.uniform(size=2) + np.arange(1, count + 1)[:, None] * steps, 1).T
    u = enclosure.unit(np.cross(normal, np.eye(3)[np.argmin(np.abs(normal))]))
    v = np.cross(normal, u)
    r, angle = np.sqrt(a), 2 * np.pi * b
    return np.outer(r * np.cos(angle), u) + np.outer(r * np.sin(angle), v) + np.outer(np.sqrt(1 - a), normal)


def version():
    return subprocess.run(program("rtrace") + ["-version"], capture_output=True, text=True, env=environment()).stdout.strip()


def simulate(name, direct_repeats=32, paths=256):
    scene = enclosure.read(name)
    facing, points, normals = receivers.read(name)
    rays = np.column_stack([points, normals])
    with tempfile.TemporaryDirectory() as folder:
        straight = repeated(build(scene, folder), f"{COMMON} {DIRECT}", rays, direct_repeats)
        results = {"0": straight}
        if scene.reflects:
            bounced = reflected(build(scene, folder, COARSE), points, normals, paths, np.random.default_rng(4))
            results["all"] = (straight[0] + bounced[0], np.hypot(straight[1], bounced[1]))
    about = [f"peer: {version()}", f"package: pyradiance {pyradiance.__version__}",
             f"command: python radiance_scenes.py {shlex.quote(name)}",
             f"bounces 0: {direct_repeats} x rtrace {COMMON} {DIRECT}"]
    if scene.reflects:
        about.append(f"bounces all: bounces 0, plus {REPLICATES} x {paths} directions by rtrace {COMMON} {BOUNCES}")
    values.write(name, "radiance", about, facing, points, normals, results)
    for bounces, (uvi, error) in results.items():
        print(f"{name:26} {bounces:4} mean {uvi.mean():8.4f}  noise {np.sqrt((error ** 2).mean()) / uvi.mean():.2e}", flush=True)


if __name__ == "__main__":
    for name in sys.argv[1:] or enclosure.scene_names():
        simulate(name)
