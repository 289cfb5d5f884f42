"""Reference posteriors of the fit (src/inference/fit.h), by SciPy and emcee from a light model and a likelihood of its own.

    python3 -m venv env && . env/bin/activate && pip install numpy scipy emcee
    python fit_reference.py      # writes fit_readings.csv, fit_posterior.csv beside this file

For each case, from its document fit_NAME.json and readings simulated here:
- the light by closed forms (points of cos^k, a tube by adaptive quadrature, the weave of ASTM E2016, Monsi & Saeki),
  for a sensor that lies flat;
- the posterior that fit.h states, as it stands: no expectation-maximisation, every factor's effect on the spread of
  the readings included; placement by Gauss-Hermite with 5 nodes an axis.
fit_posterior.csv has, for each factor, the posterior's mode (SciPy's BFGS) with the standard error of its logarithm
(SciPy's least_squares there), and its median by emcee with the standard deviation of its logarithm, good to about 0.3 % and
1 %. The enclosures and readings are invented.
"""
import json
import pathlib

import emcee
import numpy as np
import scipy
import scipy.interpolate
import scipy.optimize
from scipy.integrate import quad

HERE = pathlib.Path(__file__).parent
CASES = ("two_lamps", "half_mesh", "leaves")
SD = {"lamp": 0.25, "screen": 0.15, "foliage": 0.5, "meter": 0.05}
NOISE, FLOOR, PLACEMENT, SPOILED = 0.08, 0.05, 0.02, 1 / 12


def vector(values, scale=0.01):
    return scale * np.array(values, float)


class Enclosure:
    """What the light of each lamp at a flat sensor is, for given factors on meshes and leaves."""

    def __init__(self, document):
        self.size = vector(document["size_cm"])
        self.lamps = document["lamps"]
        self.screens = document.get("screens", [])
        self.foliage = [f for f in document.get("furniture", []) if f["shape"] == "foliage"]
        self.strength = [lamp["output"]["uvi"] / self.beam(lamp, *self.rated(lamp)) for lamp in self.lamps]
        self.unknowns = ([("lamp", lamp["id"]) for lamp in self.lamps]
                         + [("screen", s["id"]) for s in self.screens]
                         + [("foliage", f["id"]) for f in self.foliage] + [("meter", "uvi")])

    @staticmethod
    def rated(lamp):
        """Where its output was read: on the aim axis, `at_cm` from the surface, the sensor facing the lamp."""
        aim = vector(lamp["aim"], 1)
        out = lamp["output"]["at_cm"] / 100 + (lamp["diameter_cm"] / 200 if lamp["kind"] == "tube" else 0)
        return vector(lamp["centre_cm"]) + out * aim, -aim

    @staticmethod
    def beam(lamp, point, normal, through=lambda source: 1.0):
        centre, aim = vector(lamp["centre_cm"]), vector(lamp["aim"], 1)
        if lamp["kind"] == "spot":
            way = point - centre
            r = np.linalg.norm(way)
            k = np.log(0.5) / np.log(np.cos(np.radians(lamp["beam_deg"] / 2)))
            return max(0, way @ aim / r) ** k * max(0, -way @ normal / r) / r**2 * through(centre)
        along = vector(lamp["along"], 1)
        power = lamp["spread"]["forward_power"]

        def per_metre(s):
            source = centre + s * along
            way = point - source
            r = np.linalg.norm(way)
            across = way - (way @ along) * along
            theta = np.linalg.norm(across) / r
            phi = max(0, across @ aim / np.linalg.norm(across))
            return theta * phi**power * max(0, -way @ normal / r) / r**2 * through(source)

        half = lamp["length_cm"] / 200
        return quad(per_metre, -half, half, epsrel=1e-7, limit=200)[0]

    def crossing(self, screen, source, point):
        low, high = vector(screen["min_cm"]), vector(screen["max_cm"])
        t = (low[2] - source[2]) / (point[2] - source[2])  # all lie flat
        at = source + t * (point - source)
        return 0 < t < 1 and (at[:2] >= low[:2]).all() and (at[:2] <= high[:2]).all()

    def transmittance(self, source, point, screens, foliage):
        tau = 1.0
        w = (point - source) / np.linalg.norm(point - source)
        for screen, factor in zip(self.screens, screens):
            if not self.crossing(screen, source, point):
                continue
            ratio = screen["mesh"]["wire_mm"] / screen["mesh"]["pitch_mm"]
            layer = [max(0, 1 - ratio * np.hypot(wi, w[2]) / abs(w[2])) for wi in w[:2]]
            tau *= layer[0] * layer[1] * factor
        for leaves, factor in zip(self.foliage, foliage):
            low, high = vector(leaves["min_cm"]), vector(leaves["max_cm"])
            with np.errstate(divide="ignore"):
                a, b = (low - source) / w, (high - source) / w
            enter, leave = np.minimum(a, b).max(), np.maximum(a, b).min()
            path = max(0, min(leave, np.linalg.norm(point - source)) - max(enter, 0))
            tau *= np.exp(-0.5 * leaves["leaf_area_density"] * factor * path)
        return tau

    def light(self, point, screens=None, foliage=None):
        """By lamp, UVI at a sensor facing up, the lamps as strong as the document says."""
        screens = [1] * len(self.screens) if screens is None else screens
        foliage = [1] * len(self.foliage) if foliage is None else foliage
        up = np.array([0, 0, 1.0])
        return np.array([
            strength * self.beam(lamp, point, up, lambda s: self.transmittance(s, point, screens, foliage))
            for lamp, strength in zip(self.lamps, self.strength)
        ])


class Likelihood:
    def __init__(self, enclosure, points, values):
        self.enclosure = enclosure
        self.read = np.log(np.array([np.median(v) for v in values]) + FLOOR)
        n = np.array([len(v) for v in values])
        self.repeats = np.where(n < 3, n, 2 * n / np.pi)
        self.scatter = np.array([
            NOISE if len(v) < 3 else
            max(NOISE, 1.4826 * np.median(np.abs(np.array(v) - np.median(v))) / np.median(v)) for v in values])
        self.placement = np.array([self.placement_sd(p) for p in points])
        self.sd = np.array([SD[kind] for kind, _ in enclosure.unknowns])
        # Light by lamp and reading on a net of the leaves' factor, in between by cubic splines; a mesh's factor is exact:
        # its effect is linear.
        self.net = np.linspace(-2.5, 2.5, 41) if enclosure.foliage else np.zeros(1)
        tables = [[[enclosure.light(p, [s] * len(enclosure.screens), [np.exp(f)] * len(enclosure.foliage))
                    for p in points] for s in (0, 1)] for f in self.net]
        self.tables = np.array(tables)  # [net][without or with what comes through the mesh][reading][lamp]
        if enclosure.foliage:
            self.spline = scipy.interpolate.CubicSpline(self.net, self.tables, axis=0)

    def placement_sd(self, point):
        nodes, weights = np.polynomial.hermite_e.hermegauss(5)
        weights = weights / weights.sum()
        here = np.log(self.enclosure.light(point).sum() + FLOOR)
        variance = 0
        for x, wx in zip(nodes, weights):
            for y, wy in zip(nodes, weights):
                for z, wz in zip(nodes, weights):
                    at = np.clip(point + PLACEMENT * np.array([x, y, z]), 0, self.enclosure.size)
                    step = np.log(self.enclosure.light(at).sum() + FLOOR) - here
                    assert abs(step) < np.log(2), "a shadow's edge: choose another place"
                    variance += wx * wy * wz * step**2
        return np.sqrt(variance)

    def expected(self, theta):
        lamps, screens = len(self.enclosure.lamps), len(self.enclosure.screens)
        table = (np.broadcast_to(self.tables[0], (len(theta),) + self.tables[0].shape)
                 if not self.enclosure.foliage else self.spline(np.clip(theta[:, lamps + screens], -2.5, 2.5)))
        s = np.exp(theta[:, lamps]) if screens else np.ones(len(theta))
        by_lamp = table[:, 0] + s[:, None, None] * (table[:, 1] - table[:, 0])
        return np.einsum("wrl,wl->wr", by_lamp, np.exp(theta[:, :lamps])) * np.exp(theta[:, -1:])

    def densities(self, theta):
        """Of each reading as a good and as a spoiled one, each times its probability; and a good one's variance."""
        light = self.expected(theta)
        variance = ((self.scatter * light) ** 2 / self.repeats + FLOOR**2) / (light + FLOOR) ** 2 + self.placement**2
        off = self.read - np.log(light + FLOOR)
        good = np.exp(-off**2 / (2 * variance)) / np.sqrt(2 * np.pi * variance)
        bad = np.where(off < 0, 0.8, 0.2) / np.log(20)
        return (1 - SPOILED) * good, SPOILED * bad, variance

    def log_posterior(self, theta):
        good, bad, _ = self.densities(theta)
        return np.log(good + bad).sum(axis=1) - 0.5 * ((theta / self.sd) ** 2).sum(axis=1)


def simulate(case, random):
    """Readings of an enclosure whose factors are not 1."""
    enclosure = Enclosure(json.loads((HERE / f"fit_{case}.json").read_text()))
    truth = {"two_lamps": [-0.3, 0.2, 0.04], "half_mesh": [-0.2, 0.15, -0.15, 0.03],
             "leaves": [-0.15, 0.1, 0.15, -0.03]}[case]
    lamps, screens = len(enclosure.lamps), len(enclosure.screens)
    places = {"two_lamps": [(x, y, 12) for y in (15, 35) for x in (15, 35, 55, 75, 95)],
              "half_mesh": [(x, y, 10) for y in (15, 35) for x in (10, 25, 40, 75, 90, 105)],
              "leaves": [(x, y, 8) for y in (15, 35) for x in (10, 25, 40, 70, 90, 110)]}[case]
    points, values = [], []
    for i, place in enumerate(places):
        point = vector(place)
        shaken = np.clip(point + PLACEMENT * random.standard_normal(3), 0, enclosure.size)
        light = (enclosure.light(shaken, np.exp(truth[lamps:lamps + screens]), np.exp(truth[lamps + screens:-1]))
                 @ np.exp(truth[:lamps])) * np.exp(truth[-1])
        count = 3 if case == "leaves" and i % 2 else 1
        spoiled = 0.2 if case == "half_mesh" and i == 2 else 1
        points.append(point)
        values.append([float(f"{max(0, spoiled * light * np.exp(NOISE * random.standard_normal()) + FLOOR * random.standard_normal()):.3f}")
                       for _ in range(count)])
    return enclosure, points, values


def mode(likelihood):
    """The logarithms at the posterior's peak; and their standard errors by weighted least squares there, a reading
    weighing as much as it is likely not to be spoiled."""
    lost = lambda theta: -likelihood.log_posterior(np.array(theta)[None])[0]
    peak = scipy.optimize.minimize(lost, np.zeros(len(likelihood.sd)), method="BFGS", options={"gtol": 1e-4}).x
    good, bad, variance = likelihood.densities(peak[None])
    root = np.sqrt(good / (good + bad) / variance)[0]

    def residuals(theta):
        off = likelihood.read - np.log(likelihood.expected(np.array(theta)[None])[0] + FLOOR)
        return np.concatenate([root * off, theta / likelihood.sd])

    there = scipy.optimize.least_squares(residuals, peak, jac="3-point")
    return peak, np.sqrt(np.diag(np.linalg.inv(there.jac.T @ there.jac)))


def sample(likelihood, random):
    walkers, n = 64, len(likelihood.sd)
    start = 0.02 * random.standard_normal((walkers, n))
    sampler = emcee.EnsembleSampler(walkers, n, likelihood.log_posterior, vectorize=True,
                                    moves=[(emcee.moves.DEMove(), 0.8), (emcee.moves.StretchMove(), 0.2)])
    sampler.random_state = np.random.RandomState(1).get_state()
    sampler.run_mcmc(start, 8000)
    chain = sampler.get_chain(discard=1000, flat=True)
    independent = len(chain) / sampler.get_autocorr_time(discard=1000, tol=20).max()
    assert independent > 10_000, independent
    return chain


with open(HERE / "fit_readings.csv", "w") as readings, open(HERE / "fit_posterior.csv", "w") as posterior:
    head = f"# by fit_reference.py, emcee {emcee.__version__}, SciPy {scipy.__version__}, NumPy {np.__version__}\n"
    readings.write(head + "case,x_cm,y_cm,z_cm,values\n")
    posterior.write(head + "case,kind,of,mode,standard_error,median,log_sd\n")
    for number, case in enumerate(CASES):
        random = np.random.default_rng(20261125 + number)
        enclosure, points, values = simulate(case, random)
        for point, value in zip(points, values):
            readings.write(f"{case},{','.join(f'{c:g}' for c in 100 * point)},{' '.join(map(str, value))}\n")
        likelihood = Likelihood(enclosure, points, values)
        peak, error = mode(likelihood)
        chain = sample(likelihood, random)
        for (kind, of), at, sd, draws in zip(enclosure.unknowns, peak, error, chain.T):
            posterior.write(f"{case},{kind},{of},{np.exp(at):.5f},{sd:.5f},{np.exp(np.median(draws)):.5f},{draws.std():.5f}\n")
