"""The profile fit and its verdicts from a plan and a table of readings, by numpy and scipy.

    python3 check.py PLAN.toml READINGS.csv STAGE

READINGS is what `jigtrue export` writes. The same answers as the `twist` of `jigtrue check --json`, for incidences read by
an angle instrument whose zero is shared by its readings of a round.
"""

import csv
import json
import sys
import tomllib

import numpy as np
from scipy import optimize, stats

LEVEL = 0.95


def degrees(text):
    return float(str(text).replace("deg", ""))


def measured(path, stage):
    """Station -> values by facing, of its last round in the stage."""
    found, here = {}, False
    with open(path, newline="", encoding="utf-8") as table:
        for row in csv.DictReader(table):
            if row["kind"] == "stage":
                here = json.loads(row["detail"])["body"]["name"] == stage
            if here and row["point"].startswith("incidence@") and not row["withdrawn_by"]:
                name = row["point"].split("@")[1]
                rounds = found.setdefault(name, {}).setdefault(int(row["round"]), {})
                rounds.setdefault(row["facing"], []).append((float(row["angle_deg"]), float(row["resolution"])))
    return {name: rounds[max(rounds)] for name, rounds in found.items()}


def values(plan, readings):
    instrument = next(i for i in plan["instrument"] if i["kind"] == "inclinometer")
    eta, deviation, own, shared, names = [], [], [], [], []
    root, tip = (plan["station"][k]["span"] for k in (0, -1))
    for station in plan["station"]:
        faces = readings.get(station["name"])
        if not faces:
            continue
        q2 = instrument["repeatability"] ** 2
        u = {f: np.sqrt(r[0][1] ** 2 / 12 + q2 / len(r)) for f, r in faces.items()}
        mean = {f: np.mean([v for v, _ in r]) for f, r in faces.items()}
        if len(faces) == 2:
            value, su, zero = (mean["forward"] - mean["aft"]) / 2, np.hypot(*u.values()) / 2, 0.0
        else:
            face = next(iter(faces))
            value, su, zero = mean[face] * (1 if face == "forward" else -1), u[face], instrument["accuracy"] / np.sqrt(3)
        names.append(station["name"])
        eta.append((station["span"] - root) / (tip - root))
        deviation.append(value - station["incidence"])
        own.append(su)
        shared.append(zero)
    return names, *(np.array(x, float) for x in (eta, deviation, own, shared))


def fit(eta, y, v, order):
    whiten = np.linalg.inv(np.linalg.cholesky(v))
    x = np.vander(eta, order + 1, increasing=True)
    a, b = whiten @ x, whiten @ y
    beta, *_ = np.linalg.lstsq(a, b, rcond=None)
    cov = np.linalg.inv(a.T @ a)
    rest = b - a @ beta
    return beta, cov, rest @ rest, rest, a


def order_of(eta):
    """The order follows from where the stations are."""
    n = len(eta)
    if n >= 10 and abs(eta[0]) <= 0.03 and abs(eta[-1] - 1) <= 0.03:
        return 4
    return max(1, min(3, n - 3))


def half_width(u):
    """The h with mean over k of 2 Phi(h/u_k) - 1 = 0.95."""
    return optimize.brentq(lambda h: np.mean(2 * stats.norm.cdf(h / u) - 1) - LEVEL, 0.1 * u.min(), 20 * u.max())


def verdict(value, u, limits):
    inside = np.mean(stats.norm.cdf((limits[1] - value) / u) - stats.norm.cdf((limits[0] - value) / u))
    return "within" if inside >= LEVEL else "outside" if inside <= 1 - LEVEL else "undecided", float(inside)


def main(plan_path, table, stage):
    with open(plan_path, "rb") as file:
        plan = tomllib.load(file)
    names, eta, y, own, shared = values(plan, measured(table, stage))
    v = np.diag(own ** 2) + np.outer(shared, shared)
    order = order_of(eta)
    beta, cov, chi2, rest, a = fit(eta, y, v, order)
    dof = len(y) - order - 1
    x = np.vander(eta, order + 1, increasing=True)
    inverse = np.linalg.inv(v)
    trace = np.trace(inverse - inverse @ x @ cov @ x.T @ inverse)
    phi = np.maximum(1, chi2 / stats.chi2.ppf((np.arange(200) + 0.5) / 200, dof))
    tau2 = (phi - 1) * dof / trace
    of = cov @ x.T @ inverse

    def spread(readings, ribs):
        return np.sqrt(readings @ v @ readings + tau2 * (ribs @ ribs))

    tol = {name: degrees(plan["tolerance"][name]) for name in ("setting", "washout", "station")}

    def judged(value, u, name):
        half = half_width(u)
        found = verdict(value, u, (-tol[name], tol[name]))
        return {"value": value, "u": half / stats.norm.ppf(0.975), "lower95": value - half, "upper95": value + half, "verdict": found}

    w = of[0]
    stations = []
    for i, name in enumerate(names):
        one = judged(y[i] - beta[0], spread(np.eye(len(y))[i] - w, w), "station")
        stations.append({"name": name, "twist_error_deg": one["value"], "u_deg": one["u"], "verdict": one["verdict"]})
    grid = np.vander(np.linspace(0, 1, 41), order + 1, increasing=True)
    grid[:, 0] = 0
    u = np.sqrt(np.einsum("ij,jk,ik->i", grid, cov, grid))
    draws = np.random.default_rng(1).multivariate_normal(np.zeros(order + 1), cov, 20000)
    most = np.max(np.abs(draws @ grid[1:].T) / u[1:], axis=1)
    roots = np.sqrt(phi)
    together = optimize.brentq(lambda c: np.mean([np.mean(most <= c / r) for r in roots[::5]]) - LEVEL, 0.5, 60)
    washout = of[1:].sum(axis=0)
    print(json.dumps({
        "order": order, "chi2": chi2, "dof": dof,
        "setting": judged(beta[0], spread(w, w), "setting"),
        "washout_error": judged(beta[1:].sum(), spread(washout, washout), "washout"),
        "stations": stations,
        "band": [{"fit_deg": float(r @ beta), "simultaneous_deg": float(together * s)} for r, s in zip(grid, u)],
    }))


main(*sys.argv[1:])
