"""Writes data/spectra/*.csv: relative spectral power of generic lamps, W/nm of a lamp that radiates 1 W in 250-780 nm.

Every one is synthetic. Below 380 nm, and where no CIE table is part of it, a spectrum is the column of
reference/checks/lamp_spectra.csv (our own model). The visible part of the columns that lean on a CIE table (daylight
phosphor, metal halide, white LED) is replaced by a model of our own, a sum of Gaussian bands and mercury lines whose
strengths are found by non-negative least squares, with these held to the column's: the power in 380-400 nm and in
380-780 nm, the illuminance, and the erythemal power in 380-400 nm.
"""
import numpy as np
from scipy.optimize import nnls

import tables

NM = np.arange(250, 781)
LONG = np.arange(200, 2501)
COLUMNS = tables.numbers("lamp_spectra.csv")
MERCURY_VISIBLE = [404.66, 407.78, 435.83, 546.07, 576.96, 579.07]
ORDER = []


def gaussian(nm, centre, fwhm):
    g = np.exp(-4 * np.log(2) * ((nm - centre) / fwhm) ** 2)
    return g / g.sum()


def photopic(nm):
    # The check table, linear between its rows: only to tune against the columns, which were made with it.
    t = tables.numbers("photopic_luminosity.csv")
    return np.interp(nm, t["wavelength_nm"], t["v_lambda"], left=0, right=0)


def erythema(nm):
    return np.where(nm <= 298, 1, np.where(nm <= 328, 10 ** (0.094 * (298.0 - nm)), 10 ** (0.015 * (140.0 - nm))))


def remodel(column, bands):
    """The column with its part from 380 nm on replaced by the bands (centre, FWHM) at their best strengths."""
    target = COLUMNS[column]
    visible = NM >= 380
    nm, wanted = NM[visible], target[visible]
    shapes = np.array([gaussian(nm, centre, fwhm) for centre, fwhm in bands]).T
    uva = (nm < 400) + 0.5 * (nm == 400)
    held = np.array([uva, np.ones(len(nm)), photopic(nm), erythema(nm) * (nm <= 400)])
    scale = 1e3 / np.maximum(held @ wanted, 1e-30)  # relative to its own size, and far above the shape's weight
    smooth = 1 / wanted.max()
    A = np.vstack([shapes * smooth, (held @ shapes) * scale[:, None]])
    b = np.concatenate([wanted * smooth, (held @ wanted) * scale])
    strengths, _ = nnls(A, b, maxiter=100 * len(bands))
    result = target.copy()
    result[visible] = shapes @ strengths
    off = (held @ result[visible]) / (held @ wanted) - 1
    shape = 1 - np.sum((result[visible] - wanted) ** 2) / np.sum((wanted - wanted.mean()) ** 2)
    print(f"{column}: power 380-400 {off[0]:+.1e}, power {off[1]:+.1e}, lux {off[2]:+.1e}, erythemal 380-400 {off[3]:+.1e}; R2 of the shape {shape:.3f}")
    return result


MERCURY = [(line, fwhm) for line in MERCURY_VISIBLE for fwhm in (1.6, 3)]
DAYLIGHT_PHOSPHOR = MERCURY + [(c, w) for c in (360, 375, 390, 405, 420, 450, 480, 510, 540, 570, 600, 630, 660, 700, 740) for w in (35, 60)]
METAL_HALIDE = MERCURY + [(c, 12.0) for c in np.arange(376, 790, 8)]
WHITE_LED = [(c, w) for c in (443, 449, 455, 461) for w in (16, 24, 34)] + [(c, w) for c in (500, 520, 540, 560, 580, 600, 620, 640, 660, 700) for w in (60, 100)] + [(390, 6), (400, 8), (410, 10)]


def planck(kelvin):
    """Spectral exitance of a black body, any scale (CODATA second radiation constant)."""
    um = LONG / 1000
    return um**-5 / np.expm1(14387.769 / (um * kelvin))


def edge(nm, centre, width):
    return 1 / (1 + np.exp(-(nm - centre) / width))


def extended(column):
    """A column on the long axis, nothing below 250 or beyond 780 nm."""
    result = np.zeros(len(LONG))
    result[(LONG >= 250) & (LONG <= 780)] = column
    return result


def filament(column, kelvin, bare=False):
    """The column, continued beyond 780 nm (and, without glass, below 250 nm) by the black body it follows there."""
    body = planck(kelvin)
    join = (LONG >= 740) & (LONG <= 780)
    result = extended(column)
    beyond = (LONG > 780) | (bare & (LONG < 250))
    result[beyond] = (body * column[(NM >= 740) & (NM <= 780)].sum() / body[join].sum())[beyond]
    return result


# Lines of the medium-pressure arc outside 250-780 nm, beside its 546.1 nm line of 24.5 W: Calvert & Pitts 1966,
# Photochemistry, chapter 7 (from memory, reference/checks/mercury_lines.csv).
INFRARED_MERCURY = {1014.0: 10.5, 1128.7: 3.3, 1367.3: 2.6}
SHORT_MERCURY = {222.4: 3.7, 232.0: 1.5, 236.0: 2.3, 238.0: 2.3, 240.0: 1.9, 248.2: 2.3}
GREEN_MERCURY_W = 24.5


def with_mercury(long, lines):
    green = (LONG >= 540) & (LONG <= 552)
    ground = 0.5 * (long[LONG == 540] + long[LONG == 552])
    line = np.sum(long[green] - ground)
    return long + sum(w / GREEN_MERCURY_W * line * gaussian(LONG, nm, 2.5) for nm, w in lines.items())


def quartz_arc():
    """The bare arc; the column ends at 250 nm, so the lines below it are added below it only."""
    column = extended(COLUMNS["mercury_medium_pressure_quartz"])
    short = np.where(LONG < 250, with_mercury(column, SHORT_MERCURY), 0)
    return with_mercury(column, INFRARED_MERCURY) + short


def write(id, name, source, long):
    ORDER.append(id)
    keep = (LONG >= np.min(LONG[long > 0]) - 1) & (LONG <= np.max(LONG[long > 0]) + 1)  # a zero at either end
    step = (LONG <= 780) | (LONG % 5 == 0) | (long != 0) & (np.abs(np.gradient(np.gradient(long))) > 1e-7)
    tables.write(f"spectra/{id}.csv", {"id": id, "name": name, "source": f"synthetic: {source}"},
                 ["wavelength_nm", "relative"], zip(LONG[keep & step], long[keep & step]), digits=4)


def main():
    tube = "daylight tube of {} % UVB phosphor (313 nm), {} % UVA phosphor (351 nm), {} % daylight phosphor (Gaussian bands) and mercury lines, UVB glass edge at 284 nm; nothing beyond 780 nm"
    write("fluorescent_uvb_weak", "Fluorescent UVB, weak", tube.format(2, 6, 88), extended(remodel("fluorescent_uvb_weak", DAYLIGHT_PHOSPHOR)))
    write("fluorescent_uvb_mid", "Fluorescent UVB, middling", tube.format(4.5, 12, 79.5), extended(remodel("fluorescent_uvb_mid", DAYLIGHT_PHOSPHOR)))
    write("fluorescent_uvb_strong", "Fluorescent UVB, strong", tube.format(10, 20, 66), extended(remodel("fluorescent_uvb_strong", DAYLIGHT_PHOSPHOR)))
    write("fluorescent_uvb_broadband", "Fluorescent UVB, broadband sunlamp", "UVB phosphor (two-sided Gaussian, peak 312 nm) with a glass edge at 284 nm, 10 % mercury lines; nothing beyond 780 nm", extended(COLUMNS["fluorescent_uvb_broadband_313"]))
    write("fluorescent_uvb_narrowband", "Fluorescent UVB, narrowband", "gadolinium phosphor line at 311.5 nm, 12 % mercury lines; nothing beyond 780 nm", extended(COLUMNS["fluorescent_uvb_narrowband_311"]))
    write("fluorescent_uva", "Fluorescent UVA", "lead-activated barium silicate, peak 351 nm, and mercury lines; nothing beyond 780 nm", extended(COLUMNS["fluorescent_uva_351"]))
    daylight = remodel("fluorescent_uvb_weak", DAYLIGHT_PHOSPHOR) * np.where(NM >= 380, edge(NM, 388, 2), 0)
    write("fluorescent_daylight", "Fluorescent daylight, no UVB", "the daylight phosphor and lines of the fluorescent UVB tubes alone behind an edge at 388 nm; nothing beyond 780 nm", extended(daylight / daylight.sum()))
    arc = "medium-pressure mercury arc (line powers of Calvert & Pitts 1966, 12 % continuum)"
    lines = "three infrared mercury lines beyond 780 nm, without the warmth of the bulb itself"
    write("mercury_vapour", "Mercury vapour", f"{arc} behind a UV-transmitting hard-glass bulb (edge 301 nm); {lines}", with_mercury(extended(COLUMNS["mercury_vapour"]), INFRARED_MERCURY))
    mixed = COLUMNS["mercury_vapour_tungsten_ballast"]
    arc_part = 0.45 * with_mercury(extended(COLUMNS["mercury_vapour"]), INFRARED_MERCURY)
    tungsten = mixed - arc_part[(LONG >= 250) & (LONG <= 780)]
    write("mercury_vapour_self_ballasted", "Mercury vapour, self-ballasted", f"45 % mercury vapour lamp and 55 % filament at 2700 K by power up to 780 nm, the filament continued to 2500 nm; {lines}",
          np.where(LONG > 780, arc_part + filament(tungsten, 2700), extended(mixed)))
    write("mercury_quartz", "Mercury arc in bare quartz (emits UVC)", f"{arc}, no glass: emits UVC; {lines}", quartz_arc())
    write("metal_halide", "Metal halide", "bands 12 nm wide every 8 nm and mercury lines from 380 nm; below, an exponential tail (55 nm) with mercury lines and a glass edge at 300 nm; nothing beyond 780 nm, so its irradiance is that of ultraviolet and visible only", extended(remodel("metal_halide", METAL_HALIDE)))
    write("led_uvb", "LED UVB, 310 nm", "two-sided Gaussian, peak 310 nm, full width 12 nm", extended(COLUMNS["led_uvb_310"]))
    write("led_uva", "LED UVA, 365 nm", "two-sided Gaussian, peak 365 nm, full width 11 nm", extended(COLUMNS["led_uva_365"]))
    write("led_white", "LED white", "blue diode near 455 nm and a broad phosphor (Gaussian bands), about 5100 K; nothing below 380 or beyond 780 nm", extended(remodel("led_white", WHITE_LED)))
    write("halogen", "Halogen behind glass", "Planck 3000 K behind hard or UV-absorbing glass (logistic edge 335 nm, width 9 nm), continued to 2500 nm", filament(COLUMNS["halogen"], 3000))
    write("halogen_uncovered", "Halogen, bare quartz capsule", "Planck 3000 K, no cover glass, 200-2500 nm", filament(COLUMNS["blackbody_3000k"], 3000, bare=True))
    for id, name, kelvin in (("incandescent", "Incandescent", 2700), ("infrared_heat_lamp", "Infrared heat lamp, clear", 2400)):
        body = planck(kelvin) * edge(LONG, 315, 5)
        write(id, name, f"Planck {kelvin} K behind soda-lime glass (logistic edge 315 nm, width 5 nm), to 2500 nm", body / body[(LONG >= 250) & (LONG <= 780)].sum())
    (tables.DATA / "spectra" / "order.txt").write_text("\n".join(ORDER) + "\n")


if __name__ == "__main__":
    main()
