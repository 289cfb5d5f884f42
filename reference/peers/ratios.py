"""Dapple's direct field against Radiance and Mitsuba in one run, on the same 24,000 points, in turn.

Usage: python ratios.py PATH/TO/bench_direct [SCENE ...]

Ours runs before and after each peer's set and the slower median counts. Ratios are the peer's best seconds over ours;
every line names both errors, each against its own program's converged values.
"""
import json
import re
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
SCENES = HERE.parent.parent / "tests" / "scenes"
WANTED = ("fifty_pieces_black", "fifty_more_pieces_black", "boxes_black")


def ours(bench, scene, points):
    text = subprocess.run([bench, SCENES / f"{scene}.json", points], check=True, capture_output=True, text=True).stdout
    milliseconds, error = re.search(r"ours ([0-9.]+) ms\s+error ([0-9.]+) %", text).groups()
    return float(milliseconds) / 1000, float(error) / 100


def main():
    bench, scenes = sys.argv[1], sys.argv[2:] or WANTED
    with tempfile.TemporaryDirectory() as folder:
        points, timings = Path(folder) / "points.f32", Path(folder) / "timings.json"
        for scene in scenes:
            before, error = ours(bench, scene, points)
            subprocess.run([sys.executable, HERE / "time_peers.py", "--points", points, "--json", timings,
                            "--keep", folder, scene], check=True, capture_output=True)
            after, _ = ours(bench, scene, points)
            seconds = max(before, after)
            print(f"{scene}: ours {1000 * seconds:.2f} ms (before {1000 * before:.2f}, after {1000 * after:.2f}), error {100 * error:.3f} %")
            for row in json.loads(timings.read_text())["results"]:
                if row["rms_error"] is None:
                    continue
                print(f"  {row['setting']:44s} {row['seconds']:8.3f} s  error {100 * row['rms_error']:6.2f} %  "
                      f"{row['seconds'] / seconds:8.0f} times ours  (load {row['load_average']:.1f})", flush=True)


main()
