"""Reference values of the decay posterior (src/inference/life_posterior.h), by SciPy and statsmodels.

    python3 -m venv env && . env/bin/activate && pip install scipy==1.* statsmodels numpy
    python life_reference.py     # writes life_posterior.csv, life_least_squares.csv beside this file

life_posterior.csv      moments and quantiles of alpha and of the crossing hours, by dense Simpson quadrature over
                        (ln alpha, ln sigma, level) with SciPy's densities: 121 x 41 x 1601 nodes.
life_least_squares.csv  slope and standard error by statsmodels' weighted least squares with known variances, where
                        the readings decide and nothing is spoiled.
The readings are invented.
"""
import pathlib
import numpy as np
import scipy
import scipy.optimize
import statsmodels
import statsmodels.api as sm
from scipy.integrate import simpson
from scipy.stats import norm

HERE = pathlib.Path(__file__).parent

CASES = {
    # name: (alpha median, log sd, hours in thousands, values, limit)
    "three_surveys": (0.12, 0.5, [0.2, 0.9, 1.7], [5.1, 4.9, 4.2], 2.9),
    "one_reading": (0.08, 0.5, [0.4], [4.4], 2.9),
    "one_spoiled": (0.08, 0.5, [0.2, 0.6, 1.0, 1.4, 1.9, 2.3], [6.2, 5.8, 5.9, 2.1, 5.1, 5.0], 2.9),
    "twelve_surveys": (0.11, 0.5, [0.3 * k for k in range(1, 13)],
                       [6.1, 6.3, 5.4, 5.9, 5.2, 4.9, 5.3, 4.6, 4.1, 4.5, 4.0, 3.8], 2.9),
}
NOISE, NOISE_LOG_SD, SPOILED, WIDE = 0.08, 0.3, 0.05, 5.0


def posterior(median, log_sd, hours, values, limit):
    h, y = np.array(hours), np.log(values)
    centre = h.mean()
    ln_alpha = np.linspace(np.log(median) - 5 * log_sd, np.log(median) + 5 * log_sd, 121)
    ln_sigma = np.linspace(np.log(NOISE) - 5 * NOISE_LOG_SD, np.log(NOISE) + 5 * NOISE_LOG_SD, 41)
    level = np.linspace(y.min() - 3, y.max() + 3, 1601)
    log_p = np.zeros((121, 41, 1601))
    log_p += norm.logpdf(ln_alpha, np.log(median), log_sd)[:, None, None]
    log_p += norm.logpdf(ln_sigma, np.log(NOISE), NOISE_LOG_SD)[None, :, None]
    sigma = np.exp(ln_sigma)[None, :, None]
    alpha = np.exp(ln_alpha)
    for hour, value in zip(h, y):
        mean = level[None, None, :] - alpha[:, None, None] * (hour - centre)
        log_p += np.logaddexp(np.log(1 - SPOILED) + norm.logpdf(value, mean, sigma),
                              np.log(SPOILED) + norm.logpdf(value, mean, WIDE * sigma))
    p = np.exp(log_p - log_p.max())
    joint = simpson(p, x=ln_sigma, axis=1)
    joint /= simpson(simpson(joint, x=level, axis=1), x=ln_alpha)
    marginal = simpson(joint, x=level, axis=1)
    mean = simpson(marginal * alpha, x=ln_alpha)
    sd = np.sqrt(simpson(marginal * (alpha - mean) ** 2, x=ln_alpha))
    # P(crossing <= t) = P(level - alpha (t - centre) <= ln limit): level's own distribution, alpha by alpha.
    cumulative = np.concatenate([np.zeros((121, 1)),
                                 np.cumsum(0.5 * (joint[:, 1:] + joint[:, :-1]) * np.diff(level), axis=1)], axis=1)

    def below(t):
        edge = np.log(limit) + alpha * (t - centre)
        return simpson([np.interp(e, level, c) for e, c in zip(edge, cumulative)], x=ln_alpha)

    crossing = [scipy.optimize.brentq(lambda t: below(t) - q, -1e3, 1e4, xtol=1e-6) for q in (0.05, 0.5, 0.95)]
    return mean, sd, crossing


def least_squares():
    """Long series of 60 readings, 8 % noise of known size: alpha's posterior is the weighted least-squares slope."""
    random = np.random.default_rng(7)
    rows = []
    for case, alpha in enumerate((0.05, 0.12, 0.3)):
        h = np.linspace(0.2, 12, 60)
        y = np.log(6) - alpha * h + 0.08 * random.standard_normal(60)
        design = sm.add_constant(h)
        fit = sm.WLS(y, design, weights=np.full(60, 1 / 0.08**2)).fit(cov_type="fixed scale")
        rows += [(case, f"{a:.6f}", f"{b:.9f}", f"{-fit.params[1]:.9f}", f"{fit.bse[1]:.9f}") for a, b in zip(h, y)]
    return rows


HEAD = f"# by life_reference.py, SciPy {scipy.__version__}, statsmodels {statsmodels.__version__}, NumPy {np.__version__}\n"

with open(HERE / "life_posterior.csv", "w") as out:
    out.write(HEAD + "case,alpha_median,alpha_log_sd,hours,values,limit,alpha_mean,alpha_sd,crossing_05,crossing_50,crossing_95\n")
    for name, (median, log_sd, hours, values, limit) in CASES.items():
        mean, sd, crossing = posterior(median, log_sd, hours, values, limit)
        out.write(f"{name},{median},{log_sd},{' '.join(f'{h:.4g}' for h in hours)},{' '.join(map(str, values))},{limit},"
                  f"{mean:.9f},{sd:.9f},{','.join(f'{c:.6f}' for c in crossing)}\n")

with open(HERE / "life_least_squares.csv", "w") as out:
    out.write(HEAD + "case,kilohours,log_value,alpha,standard_error\n")
    for row in least_squares():
        out.write(",".join(map(str, row)) + "\n")
