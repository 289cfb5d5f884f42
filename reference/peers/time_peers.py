"""How fast the peers are, and how exact at that speed: 24,000 receivers facing up, two cores.

Usage: python time_peers.py [--points FILE] [--json FILE] [--keep FOLDER] [SCENE ...]

Every setting is timed three times and the fastest counts. The error is the RMS difference over the mean from the
same peer's own converged values, so that no peer pays for another's model. FILE of points: float32 x, y, z in cm,
nothing else. KEEP is where the points and the converged references are left as .npy and .f32 (both float32).
"""
import argparse
import datetime
import json
import os
import platform
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

import enclosure
import receivers

SCENES = ("fifty_pieces_black", "fifty_more_pieces_black", "fifty_pieces_gray")
POINTS = 24_000
CORES = 2
HERE = Path(__file__).resolve().parent
RTRACE_DIRECT = {
    "rtrace -ab 0, fine": "-ab 0 -lr 0 -dj 0 -ds 0.02",
    "rtrace -ab 0": "-ab 0 -lr 0 -dj 0 -ds 0.1",
    "rtrace -ab 0, coarse": "-ab 0 -lr 0 -dj 0 -ds 0.3",
}
# -lw far below its default: an ambient ray of many (-ad) weighs little and would be dropped, which darkens.
RTRACE_BOUNCES = {
    f"rtrace -ab 2 -aa {aa} -ad {ad} -ar {ar}": f"-ab 2 -lr 6 -lw 1e-6 -dj 0 -ds 0.1 -aa {aa} -ad {ad} -as 0 -ar {ar}"
    for aa, ad, ar in ((0.7, 256, 8), (0.5, 128, 8), (0.5, 256, 8), (0.4, 128, 8), (0.5, 512, 8), (0.3, 128, 16))
}
MITSUBA_DIRECT = {f"Mitsuba direct, {n} samples": n for n in (16, 64, 256)}


def grid_points(scene, count=POINTS):
    """Free points of the enclosure's volume below the lamps, drawn once from a fixed stream."""
    random = np.random.default_rng(24)
    found = np.empty((0, 3))
    while len(found) < count:
        p = random.uniform((2, 2, 0.5), (scene.size[0] - 2, scene.size[1] - 2, 44), (count, 3))
        found = np.concatenate([found, p[receivers.clear(scene, p)]])
    return found[:count].astype(np.float32)


def fastest(run, times=3):
    seconds, answer = [], None
    for _ in range(times):
        start = time.perf_counter()
        answer = run()
        seconds.append(time.perf_counter() - start)
    return min(seconds), answer


def rms(values, reference):
    return float(np.sqrt(((values - reference) ** 2).mean()) / reference.mean())


def time_radiance(scene, points, keep):
    import radiance_scenes as radiance
    up = np.column_stack([points, np.tile([0, 0, 1], (len(points), 1))])
    base = f"-I -h -w -n {CORES} -dt 0 -dc 1 -dp 0 -ffd"
    # The lamp as Radiance's own cylinder: the fastest it can be given, sampled along its axis.
    with tempfile.TemporaryDirectory() as folder:
        octree = radiance.build(scene, folder, lamp_pieces=1)
        empty, _ = fastest(lambda: radiance.rtrace(octree, f"{base} -ab 0", up[:2]))
        yield "rtrace, start and end alone", empty, None
        # The finest partition rtrace allows is 64 a lamp: its own steps, averaged out by moderate jitter.
        converged, _ = radiance.repeated(octree, f"{base} -u+ -ab 0 -lr 0 -dj 0.5 -ds 0.02", up, 32, per_run=4)
        leave(keep, scene, "radiance", converged)
        for words, options in RTRACE_DIRECT.items():
            seconds, e = fastest(lambda: radiance.rtrace(octree, f"{base} {options}", up))
            yield words, seconds, rms(e, converged)
        if not scene.reflects:
            return
        # Two bounces without the ambient cache: unbiased; a subset keeps it affordable.
        subset = np.random.default_rng(1).choice(len(up), min(200, len(up)), replace=False)
        radiance.REPLICATES, radiance.BOUNCES = 8, "-dv- -ab 1 -lr 0 -lw 1e-7 -aa 0 -as 0 -ad 1 -dj 0.5 -ds 0.2"
        bounced, _ = radiance.reflected(octree, points[subset], up[subset, 3:], 1024, np.random.default_rng(4))
        two_bounces = converged[subset] + bounced
        for words, options in RTRACE_BOUNCES.items():
            seconds, e = fastest(lambda: radiance.rtrace(octree, f"{base} {options}", up), times=1)
            yield words, seconds, rms(e[subset], two_bounces)


def time_mitsuba(scene, points, keep):
    import drjit as dr
    import mitsuba_scenes as mitsuba
    mi = mitsuba.mi
    dr.set_thread_count(CORES)
    world = mitsuba.build(scene, true_cylinders=True)
    random = np.random.default_rng(2)
    up = np.tile([0.0, 0, 1], (len(points), 1))
    converged = np.mean([samples_mean(mitsuba, mi, world, scene, points, up, 512, random) for _ in range(16)], axis=0)
    leave(keep, scene, "mitsuba", converged)
    for words, count in MITSUBA_DIRECT.items():
        p, n = mitsuba.spread_out(points, count), mi.Vector3f(mitsuba.spread_out(up, count))
        u = mitsuba.point2(mitsuba.even_samples(count, len(points), random.uniform(size=(len(points), 2))))
        dr.eval(p, n, u)

        def run():
            value = dr.block_sum(mitsuba.from_lamps(world, scene, p, n, u)[0], count) / count
            dr.eval(value)
            dr.sync_thread()
            return value

        run()  # compiles the kernel, which is not counted
        seconds, value = fastest(run)
        yield words + f" ({mi.variant()})", seconds, rms(np.array(value), converged)


def samples_mean(mitsuba, mi, world, scene, points, up, count, random):
    p, n = mitsuba.spread_out(points, count), mi.Vector3f(mitsuba.spread_out(up, count))
    u = mitsuba.point2(mitsuba.even_samples(count, len(points), random.uniform(size=(len(points), 2))))
    return np.array(mitsuba.from_lamps(world, scene, p, n, u)[0]).reshape(len(points), count).mean(axis=1)


def leave(keep, scene, peer, values):
    np.save(keep / f"{scene.name}.{peer}.npy", values.astype(np.float32))


def machine():
    model = next((line.split(":")[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.processor())
    return {"cpu": model, "cores_used": CORES, "system": platform.platform(terse=True), "python": platform.python_version()}


def versions():
    import mitsuba
    import radiance_scenes
    return {"mitsuba": mitsuba.__version__, "radiance": radiance_scenes.version()}


def main():
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("scenes", nargs="*", default=SCENES)
    options.add_argument("--points", type=Path, help="float32 x, y, z in cm")
    options.add_argument("--json", type=Path, default=HERE / "timings.json")
    options.add_argument("--keep", type=Path, default=HERE / "converged")
    given = options.parse_args()
    given.keep.mkdir(exist_ok=True)
    os.sched_setaffinity(0, set(sorted(os.sched_getaffinity(0))[:CORES]))
    report = {"date": datetime.date.today().isoformat(), "machine": machine(), "versions": versions(), "results": []}
    print(report["machine"], report["versions"], f"load {os.getloadavg()[0]:.1f}", sep="\n")
    print("| scene | points | setting | seconds | RMS error |\n| --- | --- | --- | --- | --- |")
    for name in given.scenes:
        scene = enclosure.read(name)
        points = np.fromfile(given.points, np.float32).reshape(-1, 3) if given.points else grid_points(scene)
        points.astype(np.float32).tofile(given.keep / f"{scene.name}.points.f32")
        for time_peer in (time_radiance, time_mitsuba):
            for words, seconds, error in time_peer(scene, points, given.keep):
                shown = "" if error is None else f"{100 * error:.3f} %"
                print(f"| {scene.name} | {len(points)} | {words} | {seconds:.4f} | {shown} |", flush=True)
                report["results"].append({"scene": scene.name, "points": len(points), "setting": words, "seconds": seconds,
                                          "rms_error": error, "load_average": os.getloadavg()[0]})
    given.json.write_text(json.dumps(report, indent=1) + "\n")


if __name__ == "__main__":
    sys.exit(main())
