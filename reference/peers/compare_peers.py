"""Prints how well the peers agree: RMS difference over the scene's mean, beside the noise both state."""
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


def main():
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
