"""Seconds that numpy takes for what the program does in compiled code. Reads the task as JSON, prints JSON.

    python3 arithmetic.py < TASK.json
"""

import json
import sys
import time

import numpy as np


def middle(work, rounds):
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return float(np.median(times))


def least_squares(task):
    """A weighted fit without bands."""
    eta, y, u = (np.array(task[k]) for k in ("eta", "y", "u"))

    def work():
        np.linalg.lstsq(np.vander(eta, 3, increasing=True) / u[:, None], y / u, rcond=None)

    work()
    return middle(work, 2001)


def simultaneous(task):
    """The sup-t factor from drawn coefficients."""
    rows, cov, draws = np.array(task["rows"]), np.array(task["covariance"]), task["draws"]
    u = np.sqrt(np.einsum("ij,jk,ik->i", rows, cov, rows))
    factor = []

    def work():
        drawn = np.random.default_rng(1).multivariate_normal(np.zeros(len(cov)), cov, draws)
        factor.append(np.quantile(np.max(np.abs(drawn @ rows.T) / u, axis=1), 0.95))

    return middle(work, 3), float(factor[-1])


def straightness(task):
    """Minimum zones of drawn profiles: the least over the slopes of all pairs of points."""
    y, z, u, draws = np.array(task["eta"]), np.array(task["y"]), np.array(task["u"]), task["draws"]
    pairs = [(i, j) for i in range(len(y)) for j in range(i)]
    mean = []

    def work():
        drawn = z + u * np.random.default_rng(1).standard_normal((draws, len(y)))
        best = np.full(draws, np.inf)
        for i, j in pairs:
            slope = (drawn[:, i] - drawn[:, j]) / (y[i] - y[j])
            rest = drawn - slope[:, None] * y
            np.minimum(best, rest.max(axis=1) - rest.min(axis=1), out=best)
        mean.append(best.mean())

    return middle(work, 3), float(mean[-1])


task = json.load(sys.stdin)
lstsq = least_squares(task)
band, factor = simultaneous(task)
zone, mean = straightness(task)
print(json.dumps({"lstsq": lstsq, "band": band, "factor": factor, "zone": zone, "mean": mean}))
