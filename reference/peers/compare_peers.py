"""Prints how well the peers agree: RMS difference over the scene's mean, beside the noise both state.

The empty black box is also compared with quadrature over its lamp: as the cylinder it is, and as a line.
"""
import math

import numpy as np

import enclosure
import values


def agreement(scene, bounces, suffix=""):
    a, b = (values.read(values.FOLDER / f"{scene}.{peer}{suffix}.csv") for peer in ("mitsuba", "radiance"))
    a, b = ({key: column[v["bounces"] == bounces] for key, column in v.items()} for v in (a, b))
    if len(a["uvi"]) == 0 or len(b["uvi"]) == 0:
        return None
    for column in ("x_cm", "y_cm", "z_cm", "nx", "ny", "nz"):
        assert np.array_equal(a[column], b[column]), f"{scene}: the peers' receivers differ in {column}"
    mean = a["uvi"].mean()
    difference = b["uvi"] - a["uvi"]
    noise = np.sqrt((a["stderr_uvi"] ** 2 + b["stderr_uvi"] ** 2).mean())
    return mean, np.sqrt((difference ** 2).mean()) / mean, noise / mean, difference.mean() / mean, np.abs(difference).max() / mean


def quadrature(lamp, points, normals, as_line):
    """Direct irradiance from an all-round tube, unobstructed: sum over its surface, or over its axis."""
    t = ((np.arange(1000) + 0.5) / 1000 - 0.5) * lamp.length
    if as_line:
        # Siegel & Howell's strip: (J0/D)(alpha + sin alpha cos alpha) facing the middle, here at the lamp's reading.
        return sum_over_line(lamp, points, normals, t)
    u, v = np.linalg.svd(lamp.along[None])[2][1:]
    angle = (np.arange(256) + 0.5) / 256 * 2 * math.pi
    t, angle = (grid.ravel()[:, None] for grid in np.meshgrid(t, angle))
    out = np.cos(angle) * u + np.sin(angle) * v
    places = lamp.centre + t * lamp.along + lamp.diameter / 2 * out
    area = math.pi * lamp.diameter * lamp.length / len(t)
    answer = []
    for p, n in zip(points, normals):
        d, squared = directions(places - p)
        answer.append((np.maximum(0, -(d * out).sum(axis=1)) * np.maximum(0, d @ n) / squared).sum() * area * lamp.radiance)
    return np.array(answer)


def sum_over_line(lamp, points, normals, t):
    at = 30 + lamp.diameter / 2
    alpha = math.atan(lamp.length / (2 * at))
    intensity = 6.0 * at / (alpha + math.sin(alpha) * math.cos(alpha))
    places = lamp.centre + np.outer(t, lamp.along)
    answer = []
    for p, n in zip(points, normals):
        d, squared = directions(places - p)
        answer.append((np.sqrt(1 - (d @ lamp.along) ** 2) * np.maximum(0, d @ n) / squared).sum())
    return np.array(answer) * intensity * lamp.length / len(t)


def directions(offsets):
    squared = (offsets ** 2).sum(axis=1)
    return offsets / np.sqrt(squared)[:, None], squared


def check_empty_box():
    lamp = enclosure.read("empty_black_box").lamps[0]
    for peer in ("mitsuba", "radiance"):
        v = values.read(values.FOLDER / f"empty_black_box.{peer}.csv")
        points = np.column_stack([v["x_cm"], v["y_cm"], v["z_cm"]])
        normals = np.column_stack([v["nx"], v["ny"], v["nz"]])
        for words, as_line in (("its cylinder", False), ("a line (closed form at the reading)", True)):
            e = v["uvi"] - quadrature(lamp, points, normals, as_line)
            print(f"empty_black_box, {peer} against {words}: RMS {100 * np.sqrt((e ** 2).mean()) / v['uvi'].mean():.3f} %, "
                  f"bias {100 * e.mean() / v['uvi'].mean():.3f} %, largest {100 * np.abs(e).max() / v['uvi'].mean():.2f} %")


def main():
    check_empty_box()
    print("| scene | bounces | mean UVI | RMS difference | joint noise | bias | largest |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    for scene in enclosure.scene_names():
        for suffix in ("", ".aimed"):
            for bounces in ("0", "all"):
                try:
                    row = agreement(scene, bounces, suffix)
                except FileNotFoundError:
                    continue
                if row:
                    print(f"| {scene}{suffix} | {bounces} | {row[0]:.3f} | " + " | ".join(f"{100 * v:.2f} %" for v in row[1:]) + " |")


if __name__ == "__main__":
    main()
