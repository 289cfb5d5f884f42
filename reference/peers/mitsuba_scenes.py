"""Values of the test scenes by Mitsuba 3. Usage: mitsuba_scenes.py [--aim] [SCENE ...]

Direct light: Mitsuba's emitter sampling and ray casting from every receiver. Interreflection: Mitsuba's own
path tracers follow the light met in directions drawn over the receiver's hemisphere; where a lamp has an angular
profile Mitsuba lacks (reflectors, narrow beams), a small loop over the same primitives takes their place.
"""
import math
import shlex
import sys

import drjit as dr
import mitsuba as mi
import numpy as np

import enclosure
import receivers
import values

mi.set_variant("llvm_ad_mono")
REPLICATES = 16
NEAR = 1e-3  # cm, start of shadow rays
AT_LAMP = 0.3  # cm, end of shadow rays before the lamp: nothing is so near a lamp, except its own rounded surface


# ---- the scene ------------------------------------------------------------------------------------------------

def gray(rho):
    return {"type": "diffuse", "reflectance": {"type": "uniform", "value": rho}}


def frame(x, y, z, centre):
    matrix = np.eye(4)
    matrix[:3, 0], matrix[:3, 1], matrix[:3, 2], matrix[:3, 3] = x, y, z, centre
    return mi.ScalarTransform4f(matrix)


def quad(corner, u, v, bsdf):
    return {"type": "rectangle", "to_world": frame(u / 2, v / 2, enclosure.unit(np.cross(u, v)), corner + (u + v) / 2), "bsdf": bsdf}


def perpendicular(axis):
    u = enclosure.unit(np.cross(axis, np.eye(3)[np.argmin(np.abs(axis))]))
    return u, np.cross(axis, u)


def disc(centre, normal, radius, bsdf):
    u, v = perpendicular(normal)
    return {"type": "disk", "to_world": frame(u * radius, v * radius, normal, centre), "bsdf": bsdf}


def lamp_shape(lamp, true_cylinders):
    if lamp.kind == "spot":
        shape = disc(lamp.centre, lamp.aim, lamp.diameter / 2, gray(0))
    elif true_cylinders:
        half = lamp.along * lamp.length / 2
        shape = {"type": "cylinder", "p0": list(lamp.centre - half), "p1": list(lamp.centre + half),
                 "radius": lamp.diameter / 2, "bsdf": gray(0)}
    else:
        return mesh(*enclosure.tube_triangles(lamp), {"bsdf": gray(0), "emitter": area_light(lamp)})
    return shape | {"emitter": area_light(lamp)}


def area_light(lamp):
    return {"type": "area", "radiance": {"type": "uniform", "value": lamp.radiance}}


def mesh(points, faces, parts):
    properties = mi.Properties()
    for key, part in parts.items():
        properties[key] = mi.load_dict(part)
    shape = mi.Mesh("mesh", len(points), len(faces), props=properties)
    parameters = mi.traverse(shape)
    parameters["vertex_positions"] = points.astype(np.float32).ravel()
    parameters["faces"] = faces.astype(np.uint32).ravel()
    parameters.update()
    return shape


def furniture_shapes(piece):
    bsdf = gray(piece.reflectance)
    if isinstance(piece, enclosure.Box):
        return [{"type": "cube", "to_world": frame(*(piece.turn * piece.half).T, piece.centre), "bsdf": bsdf}]
    if isinstance(piece, enclosure.Cylinder):
        axis = enclosure.unit(piece.end - piece.start)
        side = {"type": "cylinder", "p0": list(piece.start), "p1": list(piece.end), "radius": piece.radius, "bsdf": bsdf}
        return [side, disc(piece.start, -axis, piece.radius, bsdf), disc(piece.end, axis, piece.radius, bsdf)]
    return [mesh(*enclosure.ellipsoid_triangles(piece), {"bsdf": bsdf})]


def screen_shape(screen):
    axis = int(np.argmin(screen.high - screen.low))
    u, v = (np.eye(3)[i] * (screen.high - screen.low)[i] for i in range(3) if i != axis)
    return quad(screen.low, u, v, {"type": "mask", "opacity": 1 - screen.transmittance, "nested": gray(0)})


def build(scene, true_cylinders=False):
    """`true_cylinders` sample better but shade themselves in Mitsuba's own integrators: for direct light only."""
    shapes = {f"lamp_{i}": lamp_shape(lamp, true_cylinders) for i, lamp in enumerate(scene.lamps)}
    for face, rho in scene.walls.items():
        shapes[face] = quad(*enclosure.wall_corners(scene.size)[face], gray(rho))
    for i, piece in enumerate(scene.furniture):
        shapes |= {f"piece_{i}_{j}": shape for j, shape in enumerate(furniture_shapes(piece))}
    for i, screen in enumerate(scene.screens):
        shapes[f"screen_{i}"] = screen_shape(screen)
    return mi.load_dict({"type": "scene"} | shapes, optimize=False)


# ---- light ----------------------------------------------------------------------------------------------------

def profiled(lamp):
    return abs(lamp.power - (1 if lamp.kind == "spot" else 0)) > 1e-9


def profile(world, scene, emitter, leaving):
    """Radiance along `leaving` relative to a Lambertian lamp's, for lamps that are not Lambertian."""
    weight = mi.Float(1)
    for i, lamp in enumerate(scene.lamps):
        if not profiled(lamp):
            continue
        forward = dr.dot(leaving, mi.Vector3f(lamp.aim))
        if lamp.kind == "spot":
            here = dr.power(dr.maximum(forward, 0), lamp.power - 1)
        else:
            across = leaving - dr.dot(leaving, mi.Vector3f(lamp.along)) * mi.Vector3f(lamp.along)
            here = dr.power(dr.maximum(forward / dr.norm(across), 0), lamp.power)
        mine = emitter == mi.EmitterPtr(emitter_of(world, f"lamp_{i}"))
        weight = dr.select(mine, here, weight)
    return weight


def emitter_of(world, id):
    return next(shape.emitter() for shape in world.shapes() if shape.id() == id)


def through(world, scene, origin, direction, distance, active):
    """What part of a straight ray's light arrives: 0 behind anything opaque, the screens' transmittance otherwise."""
    ray = mi.Ray3f(origin + direction * NEAR, direction)
    ray.maxt = distance - NEAR - AT_LAMP
    if not scene.screens:
        return dr.select(world.ray_test(ray, active), mi.Float(0), mi.Float(1))
    passed = mi.Float(1)
    for _ in range(len(scene.screens) + 1):
        hit = world.ray_intersect(ray, active)
        active = active & hit.is_valid()
        passed = dr.select(active, passed * hit.bsdf(ray).eval_null_transmission(hit, active)[0], passed)
        ray = mi.Ray3f(hit.p + direction * NEAR, direction)
        ray.maxt = distance - NEAR - dr.norm(hit.p - origin) - AT_LAMP
        active = active & (passed > 0) & (ray.maxt > 0)
    return passed


def from_lamps(world, scene, p, n, sample, active=True):
    """One unbiased sample of planar irradiance straight from the lamps, with its direction."""
    at = dr.zeros(mi.SurfaceInteraction3f, dr.width(p))
    at.p = p
    towards, weight = world.sample_emitter_direction(at, sample, False, active)
    cosine = dr.maximum(dr.dot(n, towards.d), 0)
    active = mi.Bool(active) & (cosine > 0) & (weight[0] > 0)
    value = weight[0] * cosine * profile(world, scene, towards.emitter, -towards.d)
    return dr.select(active, value * through(world, scene, p, towards.d, towards.dist, active), 0), towards.d


def path_integrator(scene):
    return mi.load_dict({"type": "volpath" if scene.screens else "path", "max_depth": 96, "rr_depth": 12})


def met_light(world, scene, sampler, ray, active):
    """Reflected radiance met along `ray`: lamps seen directly are left out, they are counted as direct light."""
    if not any(profiled(lamp) for lamp in scene.lamps):
        behind = first_solid(world, scene, ray, active)
        radiance, _, _ = path_integrator(scene).sample(world, sampler, ray, None, active & (behind.emitter(world) == None))
        return radiance[0]
    assert not scene.screens, "profiled lamps and screens together are left to the other peer"
    return own_path(world, scene, sampler, ray, active)


def first_solid(world, scene, ray, active):
    """The first thing along a ray that is not a screen."""
    hit = world.ray_intersect(ray, active)
    for _ in scene.screens:
        is_screen = hit.is_valid() & (hit.bsdf(ray).eval_null_transmission(hit, active)[0] > 0)
        further = world.ray_intersect(mi.Ray3f(hit.p + ray.d * NEAR, ray.d), is_screen)
        hit = dr.select(is_screen, further, hit)
    return hit


def own_path(world, scene, sampler, ray, active):
    """Follows diffuse bounces until none of them carries a millionth of the light."""
    light, carried = mi.Float(0), mi.Float(1)
    while True:
        hit = world.ray_intersect(ray, active)
        active = active & hit.is_valid() & (hit.wi.z > 0) & (hit.emitter(world) == None)
        carried *= hit.bsdf(ray).eval_diffuse_reflectance(hit, active)[0]
        active = active & (carried > 1e-6)
        if not dr.any(active):
            return light
        straight, _ = from_lamps(world, scene, hit.p, hit.n, sampler.next_2d(), active)
        light += dr.select(active, carried * straight / math.pi, 0)
        ray = hit.spawn_ray(hit.to_world(mi.warp.square_to_cosine_hemisphere(sampler.next_2d())))
        dr.eval(ray, light, carried, active)


# ---- estimates ------------------------------------------------------------------------------------------------

def even_samples(count, receivers_count, shift):
    """Per receiver the R2 low-discrepancy points (Roberts 2018), each receiver's shifted on its own."""
    i = np.arange(1, count + 1)
    steps = np.array([0.7548776662466927, 0.5698402909980532])
    return np.mod(shift[:, None, :] + (i[:, None] * steps)[None], 1).reshape(receivers_count * count, 2)


def spread_out(points, count):
    return mi.Point3f(np.repeat(points, count, axis=0).T.astype(np.float32))


def point2(samples):
    return mi.Point2f(np.clip(samples, 0, 0.99999994).T.astype(np.float32))


def replicate_means(estimate, random, receivers_count, count):
    """Mean and standard error from replicates whose sample shifts are independent."""
    means = []
    for _ in range(REPLICATES):
        samples = even_samples(count, receivers_count, random.uniform(size=(receivers_count, 2)))
        means.append(np.array(estimate(samples)).astype(float).reshape(receivers_count, count).mean(axis=1))
    means = np.array(means)
    return means.mean(axis=0), means.std(axis=0, ddof=1) / math.sqrt(REPLICATES)


def direct(world, scene, points, normals, count, random):
    p, n = spread_out(points, count), mi.Vector3f(spread_out(normals, count))
    return replicate_means(lambda samples: from_lamps(world, scene, p, n, point2(samples))[0], random, len(points), count)


def reflected(world, scene, points, normals, count, random):
    p, n = spread_out(points, count), mi.Frame3f(mi.Vector3f(spread_out(normals, count)))

    def estimate(samples):
        sampler = mi.load_dict({"type": "independent"})
        sampler.seed(int(random.integers(2 ** 31)), len(samples))
        d = n.to_world(mi.warp.square_to_cosine_hemisphere(point2(samples)))
        return math.pi * met_light(world, scene, sampler, mi.Ray3f(p, d), mi.Bool(True))

    return replicate_means(estimate, random, len(points), count)


def aimed_normals(world, scene, points, random, count=4096):
    """Per point the normal that maximises direct planar irradiance: fixed points n ~ sum of w d over n.d > 0."""
    everywhere = spread_out(points, count)
    samples = even_samples(count, len(points), random.uniform(size=(len(points), 2)))
    at = dr.zeros(mi.SurfaceInteraction3f, len(points) * count)
    at.p = everywhere
    towards, _ = world.sample_emitter_direction(at, point2(samples), False)
    weight, _ = from_lamps(world, scene, everywhere, towards.d, point2(samples))
    d = np.array(towards.d).T.reshape(len(points), count, 3).astype(float)
    w = np.array(weight).reshape(len(points), count).astype(float)
    return np.array([best_normal(d[i], w[i], random) for i in range(len(points))])


def best_normal(d, w, random):
    if w.sum() == 0:
        return np.array([0, 0, 1.0])
    found = []
    for start in [(w[:, None] * d).sum(axis=0), *random.normal(size=(24, 3)), *d[random.choice(len(w), 8, p=w / w.sum())]]:
        n = enclosure.unit(start)
        for _ in range(60):
            seen = w * (d @ n > 0)
            if seen.sum() == 0:
                break
            n = enclosure.unit((seen[:, None] * d).sum(axis=0))
        found.append(((w * np.maximum(0, d @ n)).sum(), n))
    return max(found, key=lambda pair: pair[0])[1].round(7)


def add_aimed_receivers(name):
    scene = enclosure.read(name)
    facing, points, normals = receivers.read(name)
    up = points[facing == "up"]
    aimed = aimed_normals(build(scene), scene, up, np.random.default_rng(5))
    kept = [(f, p, n) for f, p, n in zip(facing, points, normals) if f != "aimed"]
    receivers.write(name, kept + [("aimed", p, n) for p, n in zip(up, aimed)])


def simulate(name, direct_count=8192, reflected_count=4096):
    scene = enclosure.read(name)
    world = build(scene)
    facing, points, normals = receivers.read(name)
    random = np.random.default_rng(3)
    straight = direct(world, scene, points, normals, direct_count, random)
    results = {"0": straight}
    if scene.reflects:
        bounced = reflected(world, scene, points, normals, reflected_count, random)
        results["all"] = (straight[0] + bounced[0], np.hypot(straight[1], bounced[1]))
    about = [f"peer: mitsuba {mi.__version__}, variant {mi.variant()}",
             f"command: python mitsuba_scenes.py {shlex.quote(name)}",
             f"samples per receiver: {REPLICATES} x {direct_count} direct"
             + (f", {REPLICATES} x {reflected_count} paths" if scene.reflects else "")]
    values.write(name, "mitsuba", about, facing, points, normals, results)
    for bounces, (uvi, error) in results.items():
        print(f"{name:26} {bounces:4} mean {uvi.mean():8.4f}  noise {np.sqrt((error ** 2).mean()) / uvi.mean():.2e}", flush=True)


if __name__ == "__main__":
    names = [a for a in sys.argv[1:] if not a.startswith("-")] or enclosure.scene_names()
    for name in names:
        add_aimed_receivers(name) if "--aim" in sys.argv else simulate(name)
