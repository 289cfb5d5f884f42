"""Dapple's field against Radiance and Mitsuba in one run, on the same 24,000 points, in turn: direct light, and where a
scene reflects, light with two reflections from the document on (opening counted, as rtrace's start is).

Usage: python ratios.py FOLDER/OF/BENCHMARKS [SCENE ...]

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
WANTED = ("fifty_pieces_black", "fifty_more_pieces_black", "boxes_black", "fifty_pieces_gray", "gray_walls", "dim_walls")


def ours(program, scene, points):
    text = subprocess.run([program, SCENES / f"{scene}.json", points], check=True, capture_output=True, text=True).stdout
    milliseconds, error = re.search(r"ours ([0-9.]+) ms\s+error ([0-9.]+) %", text).groups()
    return float(milliseconds) / 1000, float(error) / 100


def main():
    folder_of_ours, scenes = Path(sys.argv[1]), sys.argv[2:] or WANTED
    programs = {"direct": folder_of_ours / "bench_direct", "reflected": folder_of_ours / "bench_field"}
    with tempfile.TemporaryDirectory() as folder:
        points, timings = Path(folder) / "points.f32", Path(folder) / "timings.json"
        for scene in scenes:
            before = {kind: ours(program, scene, points) for kind, program in programs.items()}
            subprocess.run([sys.executable, HERE / "time_peers.py", "--points", points, "--json", timings,
                            "--keep", folder, scene], check=True, capture_output=True)
            seconds = {kind: max(before[kind][0], ours(program, scene, points)[0]) for kind, program in programs.items()}
            rows = [row for row in json.loads(timings.read_text())["results"] if row["rms_error"] is not None]
            for kind in programs:
                of_kind = [row for row in rows if ("-ab 2" in row["setting"]) == (kind == "reflected")]
                if of_kind:
                    print(f"{scene}, {kind}: ours {1000 * seconds[kind]:.2f} ms, error {100 * before[kind][1]:.3f} %")
                for row in of_kind:
                    print(f"  {row['setting']:44s} {row['seconds']:8.3f} s  error {100 * row['rms_error']:6.2f} %  "
                          f"{row['seconds'] / seconds[kind]:8.0f} times ours  (load {row['load_average']:.1f})", flush=True)


main()
