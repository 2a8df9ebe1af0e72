"""Answers of reference libraries for mathematics that has no published check values.

    python3 crosscheck.py           compares fresh answers with recorded.json, exits 1 where they differ
    python3 crosscheck.py --record  writes recorded.json

Needs numpy, scipy and mpmath. The Rust tests read recorded.json (crates/numerics/tests/crosscheck.rs), so that they need
no Python. Inputs are made by formula, not drawn, so that they are the same everywhere.
"""

import json
import math
import pathlib
import sys

import mpmath
import numpy as np
import scipy
from scipy import optimize, stats
from scipy.interpolate import CubicSpline

RECORDED = pathlib.Path(__file__).with_name("recorded.json")
mpmath.mp.dps = 40


def wobble(i, k):
    """A fixed number between -1 and 1 that looks like scatter."""
    return ((i + 1) * (i + 17 * k + 3) * 7919 + k * 6007) % 2003 / 1001.5 - 1


def distributions():
    """Tails to 40 digits, by mpmath."""
    cases = []
    for dof in (0.7, 1, 2.5, 4, 9, 30.5, 200, 1e5):
        v = mpmath.mpf(dof)
        for x in (0.01, 0.5, 1.3, 2.2, 5, 30):
            m = mpmath.mpf(x)
            t_tail = mpmath.betainc(v / 2, 0.5, 0, v / (v + m * m), regularized=True) / 2
            cases.append({"name": "t", "dof": [dof], "x": x, "sf": float(t_tail)})
            # Near its mean, where it is used, for the many degrees of freedom.
            at = m if dof < 100 else v * (1 + (m - 2) / 100)
            cases.append({"name": "chi2", "dof": [dof], "x": float(at), "sf": float(
                mpmath.gammainc(v / 2, mpmath.mpf(float(at)) / 2, mpmath.inf, regularized=True))})
            for d1 in (1, 3.5, 12):
                y = v / (v + d1 * m)
                f_tail = mpmath.betainc(v / 2, mpmath.mpf(d1) / 2, 0, y, regularized=True)
                cases.append({"name": "f", "dof": [d1, dof], "x": x, "sf": float(f_tail)})
    return cases


def generalised():
    """Generalised least squares in 40 digits with full matrices."""
    cases = []
    for n, order, zero, scale in ((6, 1, 0.1, 0.0), (12, 2, 0.05, 0.01), (12, 3, 5.0, 0.0), (25, 3, 0.02, 0.2)):
        eta = [round((i + 0.3 * wobble(i, 1)) / (n - 1), 4) for i in range(n)]
        d = [round(0.3 * e * e - 0.1 + 0.05 * wobble(i, 2), 3) for i, e in enumerate(eta)]
        own = [round(0.05 + 0.02 * wobble(i, 3), 4) for i in range(n)]
        carries = [zero if i % 3 else 0.0 for i in range(n)]
        share = [scale * v for v in d]
        v = mpmath.diag([mpmath.mpf(s) ** 2 for s in own])
        for part in (carries, share):
            column = mpmath.matrix([mpmath.mpf(p) for p in part])
            v += column * column.T
        x = mpmath.matrix(n, order + 1)
        for i in range(n):
            for k in range(order + 1):
                x[i, k] = mpmath.mpf(eta[i]) ** k
        y = mpmath.matrix([mpmath.mpf(value) for value in d])
        p = v ** -1
        c = (x.T * p * x) ** -1
        b = c * (x.T * p * y)
        r = y - x * b
        chi2 = (r.T * p * r)[0]
        free = p - p * x * c * x.T * p
        z = [(p * r)[i] / mpmath.sqrt(free[i, i]) for i in range(n)]
        t = [zi / mpmath.sqrt((chi2 - zi * zi) / (n - order - 2)) for zi in z]
        cases.append({
            "order": order, "eta": eta, "values": d, "own": own, "shared": [carries, share],
            "coefficients": [float(v) for v in b],
            "covariance": [[float(c[i, j]) for j in range(order + 1)] for i in range(order + 1)],
            "chi2": float(chi2), "studentised": [float(v) for v in t],
        })
    return cases


def bands():
    """Sup-t factors: a million directions by numpy, the length integrated by scipy."""
    rng = np.random.default_rng(1)
    cases = []
    eta = np.arange(12) / 11
    v = np.diag([0.03**2] * 12) + 0.05**2
    for order in (1, 2, 3):
        for first in (0, 1):
            x = eta[:, None] ** np.arange(order + 1)
            c = np.linalg.inv(x.T @ np.linalg.solve(v, x))
            rows = (np.arange(41) / 40)[:, None] ** np.arange(order + 1)
            if first:
                rows = rows[1:]
                rows[:, 0] = 0.0
            units = rows @ np.linalg.cholesky(c)
            units /= np.linalg.norm(units, axis=1)[:, None]
            q, s, _ = np.linalg.svd(units.T, full_matrices=False)
            m = int((s > 1e-9).sum())
            units = units @ q[:, :m]
            if m == 1:
                largest = np.ones(1)
            else:
                chunks = []
                for _ in range(10):
                    u = rng.standard_normal((100_000, m))
                    u /= np.linalg.norm(u, axis=1)[:, None]
                    chunks.append(np.abs(u @ units.T).max(axis=1))
                largest = np.concatenate(chunks)
            # Directions alike to 5e-5 count by their mean: the factors change by 1.2e-9 at most.
            alike = (largest * 20_000).astype(int)
            count = np.bincount(alike)
            mean = np.bincount(alike, weights=largest)[count > 0] / count[count > 0]
            share = count[count > 0] / count.sum()
            for dof in (None, 9):
                def miss(k):
                    square = (k / mean) ** 2
                    below = stats.chi2.cdf(square, m) if dof is None else stats.f.cdf(square / m, m, dof)
                    return (share * below).sum() - 0.95
                cases.append({
                    "rows": rows.tolist(), "covariance": c.tolist(), "dof": dof,
                    "factor": optimize.brentq(miss, 1.5, 6, xtol=1e-10),
                })
    return cases


def straightness():
    """Minimum zone by linear programming (HiGHS)."""
    cases = []
    for n in (3, 5, 9, 20, 60):
        y = [round(100 * i + 30 * wobble(i, 4), 1) for i in range(n)]
        z = [round(0.4 * wobble(i, 5 + n), 3) for i in range(n)]
        a = [[s * 1, s * yi / 1000, -0.5] for s in (-1, 1) for yi in y]
        b = [s * zi for s in (-1, 1) for zi in z]
        best = optimize.linprog([0, 0, 1], A_ub=a, b_ub=b, bounds=[(None, None)] * 3, method="highs")
        cases.append({"y": y, "z": z, "zone": best.fun})
    return cases


def bores():
    """Largest least clearance by sequential quadratic programming (SLSQP), from several starts."""
    cases = []
    for n in (2, 3, 5, 8):
        y = [round(400 * i + 50 * wobble(i, 9), 1) for i in range(n)]
        x = [round(0.15 * wobble(i, 10), 3) for i in range(n)]
        z = [round(0.15 * wobble(i, 11), 3) for i in range(n)]
        bore = [round(20.3 + 0.1 * wobble(i, 12), 3) for i in range(n)]
        q = np.array(y) / max(y)

        def offsets(p):
            dx, dz = np.array(x) - p[0] - p[1] * q, np.array(z) - p[2] - p[3] * q
            return dx, dz, np.sqrt(dx * dx + dz * dz + 1e-30)

        def clearance(p):
            return (np.array(bore) - 20) / 2 - offsets(p)[2]

        def slopes(p):
            dx, dz, r = offsets(p)
            return np.column_stack([dx / r, dx * q / r, dz / r, dz * q / r, -np.ones(n)])

        best = -math.inf
        for start in range(12):
            p0 = [0.05 * wobble(start, k) for k in range(4)]
            p0.append(min(clearance(p0)))
            found = optimize.minimize(
                lambda p: -p[4], p0, method="SLSQP", jac=lambda p: np.array([0.0, 0.0, 0.0, 0.0, -1.0]),
                constraints={"type": "ineq", "fun": lambda p: clearance(p[:4]) - p[4], "jac": slopes},
                options={"ftol": 1e-14, "maxiter": 1000},
            )
            best = max(best, min(clearance(found.x[:4])))
        cases.append({"y": y, "x": x, "z": z, "bore": bore, "shaft": 20.0, "clearance": float(best)})
    return cases


def beams():
    """Natural cubic splines by scipy, straight beyond the ends."""
    cases = []
    for supports in ([0, 1500, 3000], [100, 900, 2100, 2800], [0, 300, 400, 2000, 2600, 3000]):
        lift = [round(wobble(i, 13), 3) for i in range(len(supports))]
        spline = CubicSpline(supports, lift, bc_type="natural")
        first, last = supports[0], supports[-1]
        stations = [first - 150, *np.linspace(first, last, 13).tolist(), last + 250]
        shape = []
        for s in stations:
            end = min(max(s, first), last)
            shape.append(float(spline(end) + (s - end) * spline(end, 1)))
        cases.append({"supports": supports, "lift": lift, "stations": stations, "shape": shape})
    return cases


def answers():
    return {
        "versions": {"numpy": np.__version__, "scipy": scipy.__version__, "mpmath": mpmath.__version__},
        "distributions": distributions(), "generalised": generalised(), "bands": bands(),
        "straightness": straightness(), "bores": bores(), "beams": beams(),
    }


def differences(a, b, where=""):
    if isinstance(a, dict):
        return [d for k in a if k != "versions" for d in differences(a[k], b[k], f"{where}.{k}")]
    if isinstance(a, list):
        if len(a) != len(b):
            return [f"{where}: {len(a)} and {len(b)} entries"]
        return [d for i, (p, q) in enumerate(zip(a, b)) for d in differences(p, q, f"{where}[{i}]")]
    same = a == b if not isinstance(a, float) else abs(a - b) <= 1e-7 * max(1e-3, abs(b))
    return [] if same else [f"{where}: {a} is recorded as {b}"]


def main():
    fresh = answers()
    if "--record" in sys.argv[1:]:
        RECORDED.write_text(json.dumps(fresh, indent=None, separators=(",", ":")).replace("},{", "},\n{") + "\n")
        return 0
    found = differences(fresh, json.loads(RECORDED.read_text()))
    print("\n".join(found) or "all answers as recorded")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
