"""Writes data/materials/*.csv from the check tables and the estimates stated here.

Columns: wavelength_nm, reflectance (diffuse, 0..1; held beyond the first and last row) and, where the material can be
a pane, index and absorption_per_m (logarithmic between rows; held outside).
A pane's reflectance is that of a sheet of its nominal thickness for diffuse light with a dark room behind it: glass
mirrors rather than scatters, so as a wall it is an approximation.
"""
import numpy as np

import tables

CLEAR = 1e-3      # 1/m, "no absorption": 1 m of it would keep 99.9 %
OPAQUE = 1e5      # 1/m, "nothing passes": 0.1 mm keeps 5e-5, 1 mm 4e-44
POINTS = [300, 320, 350, 400, 550, 850]
ORDER = []


def face(n, cos_out):
    """Fresnel reflectances of one face, both polarisations, and the cosine inside."""
    cos_in = np.sqrt(1 - (1 - cos_out**2) / n**2)
    return (((cos_out - n * cos_in) / (cos_out + n * cos_in)) ** 2,
            ((n * cos_out - cos_in) / (n * cos_out + cos_in)) ** 2, cos_in)


def diffuse_reflectance(n, absorption, thickness):
    """Hemispherical reflectance of a sheet for diffuse light: the mean over mu dmu of R(mu)."""
    x, w = np.polynomial.legendre.leggauss(64)
    total = 0.0
    for mu, weight in zip((x + 1) / 2, w / 2):
        rs, rp, cos_in = face(n, mu)
        t = np.exp(-absorption * thickness / cos_in)
        for r in (rs, rp):
            total += weight * mu * r * (1 + (1 - r) ** 2 * t**2 / (1 - r**2 * t**2))
    return total


def absorption_of(transmittance, n, thickness):
    """Absorption coefficient from the total transmittance at normal incidence: T = (1-r)^2 t / (1 - r^2 t^2)."""
    r = ((n - 1) / (n + 1)) ** 2
    a = transmittance * r**2
    t = 2 * transmittance / ((1 - r) ** 2 + np.sqrt((1 - r) ** 4 + 4 * a * transmittance))
    return np.maximum(-np.log(np.minimum(t, 1)) / thickness, CLEAR)


def write(id, name, source, confidence, header, rows):
    ORDER.append(id)
    tables.write(f"materials/{id}.csv", {"id": id, "name": name, "source": source, "confidence": confidence},
                 header, rows)


def surface(id, name, rows, source, confidence):
    write(id, name, source, confidence, ["wavelength_nm", "reflectance"], rows)


def pane(id, name, nm, n, absorption, thickness, source, confidence):
    rows = zip(nm, diffuse_reflectance(n, absorption, thickness), n, absorption)
    write(id, name, source, confidence, ["wavelength_nm", "reflectance", "index", "absorption_per_m"], rows)


def glass():
    t = tables.numbers("float_glass_optical_constants.csv")
    nm, n, a = t["wavelength_nm"], t["n"], t["absorption_per_m"]
    nm = np.concatenate([[200, 309], nm])
    n = np.concatenate([[n[0]] * 2, n])
    a = np.concatenate([[OPAQUE] * 2, a])
    pane("float_glass", "Float glass, clear", nm, n, a, 0.004,
         "Rubin 1985, Solar Energy Materials 12:275-288 (clear soda-lime glass; numbers by way of refractiveindex.info, CC0); taken as opaque below 310 nm", "high")


# n^2 - 1 = A l^2 / (l^2 - B), l in micrometres: Sultanova, Kasarova & Nikolov 2009, Acta Physica Polonica A
# 116:585-587 (from memory; measured 437-1052 nm, held below 350 nm). Where B is 0 the index is constant (handbook).
SHEETS = {
    "acrylic": ("acrylic_standard", "Acrylic, cast, standard clear", 0.003, 1.1819, 0.011313),
    "acrylic_extruded": ("acrylic_extruded", "Acrylic, extruded, standard clear", 0.003, 1.1819, 0.011313),
    "acrylic_uv_blocking": ("acrylic_uv_blocking", "Acrylic, UV-blocking", 0.003, 1.1819, 0.011313),
    "acrylic_uv_transmitting": ("acrylic_uv_transmitting", "Acrylic without absorber, UV-transmitting", 0.003, 1.1819, 0.011313),
    "polycarbonate": ("polycarbonate", "Polycarbonate, clear", 0.002, 1.4182, 0.021304),
    "polycarbonate_uv_stabilised": ("polycarbonate_uv_stabilised", "Polycarbonate, UV-stabilised", 0.003, 1.4182, 0.021304),
    "pvc_clear": ("pvc_clear", "PVC, clear rigid", 0.003, 1.54**2 - 1, 0.0),
    "polystyrene": ("polystyrene", "Polystyrene, clear", 0.003, 1.4435, 0.020216),
    "petg": ("petg", "PETG, clear", 0.003, 1.57**2 - 1, 0.0),
}


def plastics():
    t = tables.numbers("plastic_transmittance.csv")
    for id, (column, name, thickness, A, B) in SHEETS.items():
        measured = np.array([float(v) for v in t[column]])
        keep = np.isfinite(measured)
        nm, measured = t["wavelength_nm"][keep], measured[keep]
        um2 = (np.maximum(nm, 350) / 1000) ** 2
        n = np.sqrt(1 + A * um2 / (um2 - B))
        a = absorption_of(measured, n, thickness)
        nm, n, a = (np.concatenate([[200, 279], nm]), np.concatenate([[n[0]] * 2, n]), np.concatenate([[OPAQUE] * 2, a]))
        pane(id, name, nm, n, a, thickness,
             f"transmittance of one sheet ({thickness * 1000:.0f} mm nominal, 280-850 nm) measured by P. J. Aphalo, University of Helsinki, by way of photobiologyFilters; "
             "index of Sultanova et al. 2009, Acta Physica Polonica A 116:585 (PVC 1.54 and PETG 1.57: handbook), from memory; absorption by inverting Fresnel and Beer-Lambert; taken as opaque below 280 nm and as at 850 nm beyond", "medium")


WATER_UM_N_K = """0.200 1.396 1.10E-7;0.225 1.373 4.90E-8;0.250 1.362 3.35E-8;0.275 1.354 2.35E-8;0.300 1.349 1.60E-8
0.325 1.346 1.08E-8;0.350 1.343 6.50E-9;0.375 1.341 3.50E-9;0.400 1.339 1.86E-9;0.425 1.338 1.30E-9;0.450 1.337 1.02E-9
0.475 1.336 9.35E-10;0.500 1.335 1.00E-9;0.525 1.334 1.32E-9;0.550 1.333 1.96E-9;0.575 1.333 3.60E-9;0.600 1.332 1.09E-8
0.625 1.332 1.39E-8;0.650 1.331 1.64E-8;0.675 1.331 2.23E-8;0.700 1.331 3.35E-8;0.725 1.330 9.15E-8;0.750 1.330 1.56E-7
0.775 1.330 1.48E-7;0.800 1.329 1.25E-7;0.825 1.329 1.82E-7;0.850 1.329 2.93E-7;0.875 1.328 3.91E-7;0.900 1.328 4.86E-7
0.925 1.328 1.06E-6;0.950 1.327 2.93E-6;0.975 1.327 3.48E-6;1.0 1.327 2.89E-6;1.2 1.324 9.89E-6;1.4 1.321 1.38E-4
1.6 1.317 8.55E-5;1.8 1.312 1.15E-4;2.0 1.306 1.10E-3;2.2 1.296 2.89E-4;2.4 1.279 9.56E-4;2.5 1.261 1.74E-3"""


def water():
    rows = np.array([[float(v) for v in row.split()] for row in WATER_UM_N_K.replace("\n", ";").split(";")])
    nm, n = rows[:, 0] * 1000, rows[:, 1]
    a = 4 * np.pi * rows[:, 2] / (rows[:, 0] * 1e-6)
    # Seen from above deep water mirrors at its one upper face only: an infinitely thick, dark sheet.
    write("water", "Water", "Hale & Querry 1973, Applied Optics 12:555-563 (pure water at 25 degC; numbers by way of refractiveindex.info, CC0; the row at 2500 nm interpolated); reflectance: the surface of deep water under diffuse light, computed from the index. Water with peat or leaves in it absorbs far more ultraviolet", "medium",
          ["wavelength_nm", "reflectance", "index", "absorption_per_m"],
          zip(nm, diffuse_reflectance(n, np.full_like(a, OPAQUE), 1.0), n, a))


def checked(material, kind=None, source_word=None):
    """The row of material_optics.csv with that material (and a word of its source)."""
    t = tables.read("material_optics.csv")
    for i, found in enumerate(t["material"]):
        if found == material and t["quantity"][i] == "reflectance" and (source_word is None or source_word in t["source"][i]):
            return {nm: float(t[f"at_{nm}_nm"][i]) for nm in POINTS if t[f"at_{nm}_nm"][i]}
    raise KeyError(material)


def rows_of(values):
    return sorted(values.items())


ASTER = "ASTER/ECOSTRESS spectral library (Baldridge et al. 2009, Remote Sensing of Environment 113:711-715), by way of photobiologyFilters"
FEISTER = "Feister & Grewe 1995, Photochemistry and Photobiology 62:736-744"
RUTILE = {380: 0.10, 400: 0.35, 410: 0.62, 420: 0.80, 450: 0.84}  # the absorption edge of rutile near 400 nm, estimate


def surfaces():
    surface("black", "Black (ideal)", [(200, 0), (2500, 0)], "definition: an ideal absorber", "high")


def more_surfaces():
    surface("pvc_white", "PVC, white", rows_of({**checked("pvc_white"), **RUTILE}),
            "estimate: rutile-pigmented plastic, taken as white TiO2 paint (Levinson, Berdahl & Akbari 2005, Solar Energy Materials and Solar Cells 89:319-389; Koller 1965), from memory", "low")
    surface("pvc_black", "PVC, black", rows_of(checked("pvc_black")),
            "estimate: carbon black in a polymer of index 1.54, first-surface reflection (Fresnel)", "medium")
    surface("white_paint", "White paint (titanium dioxide)", rows_of({**checked("paint_white_tio2"), **RUTILE}),
            "estimate: Levinson, Berdahl & Akbari 2005, Solar Energy Materials and Solar Cells 89:319-389; Koller 1965; from memory", "medium")
    surface("wood", "Wood, bare pine", rows_of(checked("wood_pine_weathered")),
            "ASTER/ECOSTRESS spectral library (Baldridge et al. 2009, Remote Sensing of Environment 113:711-715), pine 0404UUU, by way of helios", "high")
    surface("bark", "Bark, rough brown", [(300, 0.04), (350, 0.045), (400, 0.06), (550, 0.13), (700, 0.25), (850, 0.38)],
            "estimate: near cork bark and somewhat darker in the visible, from memory; no measurement below 400 nm known to us", "low")
    surface("cork_bark", "Cork bark", rows_of(checked("cork_bark")),
            "estimate in the ultraviolet, from memory; visible and near infrared after beech cork in Pilarski et al. 2008, Polish Journal of Environmental Studies 17:773-779", "low")
    surface("slate", "Slate, dark", rows_of(checked("slate")), "estimate: dark slate, from memory", "low")
    surface("soil", "Soil, bare", [(300, 0.045), (320, 0.045), (350, 0.065), (400, 0.08), (550, 0.14), (850, 0.25)],
            f"{FEISTER} (bare fertile soil, up to 400 nm); beyond, estimate: between the light clay and the black loam of the ASTER library", "medium")
    surface("dry_sand", "Sand, dry", rows_of(checked("dry_sand")),
            f"{FEISTER} (dry bright beach sand, 300 and 400 nm; taken slightly darker at 300); beyond 400 nm estimate: light quartz sand, from memory", "medium")
    surface("leaf_litter", "Leaf litter", rows_of(checked("leaf_litter")), "estimate: dry brown leaves, from memory", "low")
    surface("moss", "Moss", rows_of(checked("moss")), "estimate: living moss cushion, from memory", "low")
    surface("grass", "Grass, green", rows_of(checked("grass_green")), f"{ASTER}; green rye grass sod", "high")
    surface("leaf", "Leaf, green (a solid surface of leaves)", [(300, 0.05), (350, 0.05), (400, 0.056), (550, 0.1094), (850, 0.5495)],
            f"Grant et al. 2003, Agricultural and Forest Meteorology 120:127-139 (ultraviolet, mid value from memory); beyond 400 nm {ASTER}, deciduous canopy", "medium")
    surface("concrete", "Concrete or cement render", [(300, 0.085), (320, 0.085), (400, 0.2), (550, 0.3312), (850, 0.3644)],
            f"{FEISTER} (ultraviolet); {ASTER}, construction concrete (550 and 850 nm); 400 nm interpolated by estimate", "medium")
    surface("aluminium", "Aluminium, clean and bare", rows_of(checked("aluminium_clean_evaporated")),
            "Rakic 1995, Applied Optics 34:4755-4767 (index of clean metal, Fresnel at normal incidence); polished sheet reflects 5-10 % less (Spisz et al. 1969, NASA TN D-5353)", "high")
    surface("aluminium_weathered", "Aluminium, weathered", rows_of(checked("aluminium_weathered")),
            f"{ASTER}; weathered bare aluminium 0384UUU", "high")
    surface("aluminium_anodised", "Aluminium, anodised bright", rows_of(checked("aluminium_anodised_clear")),
            "estimate: range of lighting-reflector handbooks, from memory", "low")
    surface("stainless_steel", "Stainless steel, polished", rows_of(checked("stainless_steel_polished")),
            "Spisz et al. 1969, NASA TN D-5353 (350-850 nm; held below)", "medium")
    surface("snow", "Snow, granular", rows_of(checked("snow_granular_82um")), f"{ASTER}; medium granular snow, modelled", "high")
    surface("ptfe_white", "White PTFE (reflectance standard)", rows_of(checked("white_ptfe")),
            "Weidner & Hsia 1981, Journal of the Optical Society of America 71:856-861, from memory", "medium")


if __name__ == "__main__":
    surfaces()
    glass()
    plastics()
    more_surfaces()
    water()
    (tables.DATA / "materials" / "order.txt").write_text("\n".join(ORDER) + "\n")
    print(f"materials: {len(ORDER)}")
