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
from scipy import stats

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
        u = {f: np.sqrt(r[0][1] ** 2 / 12 + instrument["repeatability"] ** 2) / np.sqrt(len(r)) for f, r in faces.items()}
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


def choose(eta, y, v, most):
    n, best = len(y), 1
    chi2 = [fit(eta, y, v, k)[2] for k in range(most + 1)]
    for k in range(2, most + 1):
        f = (chi2[k - 1] - chi2[k]) / (chi2[k] / (n - k - 1))
        aicc = [chi2[j] + 2 * (j + 1) + 2 * (j + 1) * (j + 2) / (n - j - 2) for j in (k - 1, k)]
        if stats.f.sf(f, 1, n - k - 1) < 0.02 and aicc[1] < aicc[0]:
            best = k
        else:
            break
    return best


def verdict(value, u, limits):
    inside = stats.norm.cdf((limits[1] - value) / u) - stats.norm.cdf((limits[0] - value) / u) if u > 0 else float(
        limits[0] <= value <= limits[1])
    return "within" if inside >= LEVEL else "outside" if inside <= 1 - LEVEL else "undecided", float(inside)


def main(plan_path, table, stage):
    with open(plan_path, "rb") as file:
        plan = tomllib.load(file)
    names, eta, y, own, shared = values(plan, measured(table, stage))
    v = np.diag(own ** 2) + np.outer(shared, shared)
    order = choose(eta, y, v, plan["rule"]["max_order"])
    beta, cov, chi2, rest, a = fit(eta, y, v, order)
    dof = len(y) - order - 1
    scale = max(1.0, np.sqrt(chi2 / dof)) if stats.chi2.sf(chi2, dof) < 0.05 else 1.0
    cov = cov * scale ** 2
    k = stats.t.ppf(0.975, dof) if scale > 1 else stats.norm.ppf(0.975)
    grid = np.vander(np.linspace(0, 1, 41), order + 1, increasing=True)
    grid[:, 0] = 0
    u = np.sqrt(np.einsum("ij,jk,ik->i", grid, cov, grid))
    together = k
    if order > 1:
        draws = np.random.default_rng(1).multivariate_normal(np.zeros(order + 1), cov, 20000)
        together = np.quantile(np.max(np.abs(draws @ grid[1:].T) / u[1:], axis=1), LEVEL)
    hat = a @ np.linalg.inv(a.T @ a) @ a.T
    standardised = rest / np.sqrt(1 - np.diag(hat))
    studentised = standardised / np.sqrt((chi2 - standardised ** 2) / (dof - 1))
    tol = {name: degrees(plan["tolerance"][name]) for name in ("setting", "washout", "station")}
    rows = np.vander(eta, order + 1, increasing=True)
    rows[:, 0] = 0
    stations = [{
        "name": name, "twist_error_deg": float(row @ beta), "u_deg": float(np.sqrt(row @ cov @ row)),
        "studentised": float(t), "verdict": verdict(row @ beta, np.sqrt(row @ cov @ row), (-tol["station"], tol["station"])),
    } for name, row, t in zip(names, rows, studentised)]
    washout, uw = beta[1:].sum(), np.sqrt(cov[1:, 1:].sum())
    print(json.dumps({
        "order": order, "chi2": chi2, "dof": dof, "scale": scale,
        "setting": {"value": beta[0], "u": np.sqrt(cov[0, 0]), "verdict": verdict(beta[0], np.sqrt(cov[0, 0]), (-tol["setting"], tol["setting"]))},
        "washout_error": {"value": washout, "u": uw, "verdict": verdict(washout, uw, (-tol["washout"], tol["washout"]))},
        "stations": stations,
        "band": [{"fit_deg": float(r @ beta), "pointwise_deg": float(k * s), "simultaneous_deg": float(together * s)} for r, s in zip(grid, u)],
    }))


main(*sys.argv[1:])
