"""Writes tests/scenes/*.json: enclosures of gray walls and furniture that every peer can simulate.

Scattered furniture is drawn from fixed random streams, so running this again changes nothing.
"""
import json

import numpy as np

from enclosure import SCENES

SIZE = [120, 60, 60]
STRONG = "fluorescent_uvb_strong"


def gray(value):
    return {"reflectance": value}


def tube(id, centre, length=85, diameter=1.6, along=(1, 0, 0), aim=(0, 0, -1), uvi=6.0, at=30, forward_power=None):
    lamp = {"id": id, "kind": "tube", "length_cm": length, "diameter_cm": diameter, "centre_cm": list(centre),
            "along": list(along), "aim": list(aim), "spectrum": STRONG, "output": {"uvi": uvi, "at_cm": at}}
    if forward_power is not None:
        lamp["spread"] = {"forward_power": forward_power}
    return lamp


def spot(id, centre, beam=120, diameter=9, aim=(0, 0, -1), uvi=5.0, at=30):
    return {"id": id, "kind": "spot", "diameter_cm": diameter, "beam_deg": beam, "centre_cm": list(centre),
            "aim": list(aim), "spectrum": STRONG, "output": {"uvi": uvi, "at_cm": at}}


def coil(id, centre, length, diameter, along, uvi=4.0, at=25):
    return {"id": id, "kind": "coil", "length_cm": length, "diameter_cm": diameter, "centre_cm": list(centre),
            "along": list(along), "aim": [0, 0, -1], "spectrum": STRONG, "output": {"uvi": uvi, "at_cm": at}}


def box(id, low, high, rho=0, turn=None):
    piece = {"id": id, "shape": "box", "min_cm": list(low), "max_cm": list(high), "material": gray(rho)}
    return turned(piece, turn)


def cylinder(id, start, end, diameter, rho=0):
    return {"id": id, "shape": "cylinder", "from_cm": list(start), "to_cm": list(end), "diameter_cm": diameter,
            "material": gray(rho)}


def ellipsoid(id, centre, radii, rho=0, turn=None):
    piece = {"id": id, "shape": "ellipsoid", "centre_cm": list(centre), "radii_cm": list(radii), "material": gray(rho)}
    return turned(piece, turn)


def turned(piece, turn):
    if turn:
        piece["turn_deg"] = list(turn)
    return piece


def screen(id, low, high, transmittance):
    return {"id": id, "min_cm": list(low), "max_cm": list(high), "transmittance": transmittance}


def walls(rho, top="open", **others):
    faces = {face: gray(rho) for face in ("floor", "left", "right", "front", "back")}
    faces["top"] = top if top == "open" else gray(top)
    faces.update({face: gray(value) for face, value in others.items()})
    return faces


def boxes(rho=0):
    return [box("slab", (45, 20, 0), (75, 40, 18), rho), box("shelf", (5, 35, 24), (40, 58, 27), rho),
            box("post", (85, 10, 0), (91, 16, 34), rho), box("bridge", (80, 22, 20), (112, 30, 23), rho),
            box("ledge", (96, 44, 30), (118, 58, 33), rho), box("block", (14, 6, 0), (30, 18, 12), rho),
            box("plank", (35, 4, 30), (70, 12, 32), rho, (0, 12, 8)), box("step", (60, 44, 0), (84, 56, 9), rho)]


def rounds(rho=0):
    return [cylinder("branch", (10, 10, 10), (60, 50, 40), 4, rho), cylinder("trunk", (76, 47, 0.8), (72, 51, 42), 9, rho),
            cylinder("twig", (70, 8, 26), (114, 20, 18), 2, rho), cylinder("root", (20, 45, 6), (52, 40, 3), 5, rho),
            ellipsoid("hide", (100, 30, 8), (12, 10, 7.9), rho), ellipsoid("boulder", (32, 16, 7), (11, 8, 6.9), rho),
            ellipsoid("leaf", (66, 30, 30), (12, 8, 1.5), rho, (15, -10, 30))]


def scattered(count, stream, rho=lambda random: 0):
    """`count` pieces of every shape and size that keep clear of each other, most of them low, some hanging high."""
    random = np.random.default_rng(stream)
    pieces, taken = [], []
    while len(pieces) < count:
        half = random.uniform((0.7, 0.7, 0.4), (5, 4.2, 3.5)).round(2)
        place = random.uniform(0, 1, 3)
        place[2] *= random.uniform(0.2, 1)
        centre = (np.array([8.2, 7.2, 6.2]) + place * np.array([103.6, 45.6, 34])).round(2)
        reach = np.linalg.norm(half)
        if any(np.linalg.norm(centre - other) < reach + size for other, size in taken):
            continue
        taken.append((centre, reach))
        pieces.append(piece_of_any_shape(random, len(pieces), centre, half, rho(random)))
    return pieces


def piece_of_any_shape(random, i, centre, half, rho):
    turn = random.uniform((-15, -15, -180), (15, 15, 180)).round(1).tolist()
    if i % 3 == 0:
        return box(f"box-{i}", (centre - half).round(2).tolist(), (centre + half).round(2).tolist(), rho, turn)
    if i % 3 == 2:
        return ellipsoid(f"stone-{i}", centre.tolist(), half.tolist(), rho, turn)
    axis = random.normal(size=3) * (1, 1, 0.4)
    axis *= half[0] / np.linalg.norm(axis)
    return cylinder(f"stick-{i}", (centre - axis).round(2).tolist(), (centre + axis).round(2).tolist(),
                    round(float(half[1]) * 0.8, 2), rho)


def scenes():
    one = [tube("uv", (60, 30, 54))]
    two = [tube("uv", (60, 18, 54), uvi=5), tube("second", (52, 44, 54), length=60, diameter=2.6, uvi=3)]
    with_spot = two + [spot("basking", (100, 30, 54))]
    # A wide tube is a cylinder to the peers and a line to Dapple; where reflected light or a reflector's profile is in
    # question the tubes are thin, so that nothing else is.
    thin = dict(diameter=0.3)
    one_thin = [tube("uv", (60, 30, 54), **thin)]
    two_thin = [tube("uv", (60, 18, 54), uvi=5, **thin), tube("second", (52, 44, 54), length=60, uvi=3, **thin)]
    yield "empty_black_box", "One tube in an empty black box", walls(0), one, [], []
    yield "thin_tube_black", "A tube so thin that it is a line, above black boxes", walls(0), [tube("uv", (60, 30, 54), diameter=0.3)], [], boxes()
    yield "boxes_black", "One tube above eight black boxes", walls(0), one, [], boxes()
    yield "round_things_black", "One tube above black cylinders and ellipsoids", walls(0), one, [], rounds()
    yield "two_tubes_and_spot_black", "Two tubes and a wide spot above black furniture", walls(0), with_spot, [], boxes()[:5] + rounds()[4:]
    yield "screens_black", "A tube above a screened lid, and a guard inside", walls(0), [tube("uv", (60, 30, 64))], [
        screen("lid", (0, 0, 60), (70, 60, 60), 0.65), screen("guard", (20, 10, 46), (50, 50, 46), 0.8),
        screen("divider", (78, 0, 0), (78, 60, 40), 0.5)], boxes()[:4]
    yield "reflectors_black", "Two tubes with reflectors, one tilted, above black furniture", walls(0), [
        tube("uv", (60, 20, 54), forward_power=2, **thin), tube("tilted", (50, 42, 54), length=55, **thin, along=(1, 0.1, 0),
                                                       aim=(0, -0.4, -1), forward_power=0.7, uvi=4)], [], boxes()[:4] + rounds()[4:]
    yield "narrow_spots_black", "Two narrow spots, one tilted, above black furniture", walls(0), [
        spot("narrow", (30, 30, 54), beam=40), spot("tilted", (90, 25, 52), beam=70, diameter=6, aim=(-0.3, 0.2, -1))], [], boxes()[:6]
    yield "coil_black", "A coil lamp alone, near and far", walls(0), [coil("coil", (60, 30, 52), 12, 4, (1, 0, 0))], [], boxes()[:3]
    yield "fifty_pieces_black", "One tube above fifty black pieces of furniture", walls(0), one, [], scattered(50, 50)
    yield "dim_walls", "Walls and boxes that reflect 5 %", walls(0.05), one, [], boxes(0.05)
    yield "gray_walls", "Two tubes, everything reflects 30 %", walls(0.3), two_thin, [], boxes(0.3)[:5] + rounds(0.3)[4:]
    yield "mixed_walls", "Bright walls, sand, dark furniture, a screen and a spot", walls(0.5, floor=0.3, back=0.15), two_thin + with_spot[2:], [
        screen("guard", (80, 8, 46), (116, 52, 46), 0.8)], boxes(0.1)[:5] + rounds(0.6)[4:]
    yield "white_closed_box", "Everything white, closed on all six sides", walls(0.8, top=0.8), one_thin, [], boxes(0.8)[:4] + rounds(0.8)[4:6]
    yield "reflectors_gray", "Tubes with reflectors between gray walls", walls(0.4), [
        tube("uv", (60, 20, 52), forward_power=2, **thin), tube("second", (50, 42, 52), length=55, forward_power=1, uvi=4, **thin)], [], boxes(0.2)[:5]
    yield "fifty_pieces_gray", "Two tubes above fifty pieces of every gray", walls(0.4, floor=0.25), two_thin, [], \
        scattered(50, 51, lambda random: round(float(random.uniform(0.05, 0.7)), 2))
    yield "fifty_more_pieces_black", "A tube with a reflector above fifty other black pieces", walls(0), [
        tube("uv", (60, 30, 54), length=105, forward_power=1)], [], scattered(50, 52)


def main():
    for id, name, faces, lamps, screens, furniture in scenes():
        document = {"format": "dapple/enclosure@1", "id": id.replace("_", "-"), "name": name, "size_cm": SIZE,
                    "walls": faces, "lamps": lamps, "screens": screens, "furniture": furniture}
        (SCENES / f"{id}.json").write_text(json.dumps(document, indent=1) + "\n")


if __name__ == "__main__":
    main()
