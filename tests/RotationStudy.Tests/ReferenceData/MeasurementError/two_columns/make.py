"""Regression calibration of two columns with error, by another route than the program's.

The corrected coefficients are found as b* times the inverse of the calibration matrix of Rosner, Spiegelman and Willett
(1990); the delta method uses a Jacobian by central differences in every fitted quantity, and moments summed by cluster.
"""
import csv
import json

import numpy as np
import statsmodels
import statsmodels.api as sm

rng = np.random.default_rng(20260)
n = 80
cluster = np.repeat(np.arange(40), 2)
shared = np.repeat(rng.normal(size=40), 2)
x1 = shared + rng.normal(size=n)
x2 = 0.5 * x1 + rng.normal(size=n)
z = 0.4 * x1 + rng.normal(size=n)
w1 = np.round(x1 + rng.normal(scale=0.6, size=n), 4)
w2 = np.round(x2 + rng.normal(scale=0.5, size=n), 4)
z = np.round(z, 4)
y = np.round(1 + 0.8 * x1 - 0.5 * x2 + 0.3 * z + rng.normal(size=n), 4)
u = np.array([0.36, 0.25, 0.0])
df = np.array([39.0, 25.0, np.inf])
X = np.column_stack([w1, w2, z])
fit = sm.OLS(y, sm.add_constant(X)).fit()
b = fit.params[1:]
V = fit.cov_params()[1:, 1:]
C = X - X.mean(axis=0)
S = C.T @ C / (n - 1)
pairs = [(i, j) for i in range(3) for j in range(i, 3)]


def corrected(theta):
    bb = theta[:3]
    M = np.zeros((3, 3))
    for k, (i, j) in enumerate(pairs):
        M[i, j] = M[j, i] = theta[3 + k]
    uu = np.append(theta[9:11], 0.0)
    gamma = np.linalg.inv(M) @ (M - np.diag(uu))  # rows: fitted on true; b* = gamma b
    return np.linalg.solve(gamma, bb)


theta = np.concatenate([b, [S[p] for p in pairs], u[:2]])
J = np.zeros((3, theta.size))
for k in range(theta.size):
    h = 1e-5
    up, down = theta.copy(), theta.copy()
    up[k] += h
    down[k] -= h
    J[:, k] = (corrected(up) - corrected(down)) / (2 * h)
O = np.zeros((theta.size, theta.size))
O[:3, :3] = V
G = 40
psi = np.zeros((G, 6))
for i in range(n):
    psi[cluster[i]] += np.array([C[i, p] * C[i, q] - S[p, q] for p, q in pairs]) / (n - 1)
O[3:9, 3:9] = psi.T @ psi * G / (G - 1)
O[9, 9] = 2 * u[0] ** 2 / df[0]
O[10, 10] = 2 * u[1] ** 2 / df[1]
cov = J @ O @ J.T
with open("data.csv", "w", newline="") as f:
    out = csv.writer(f, lineterminator="\n")
    out.writerow(["cluster", "w1", "w2", "z", "y"])
    for row in zip(cluster, w1, w2, z, y):
        out.writerow([int(row[0])] + [float(v) for v in row[1:]])
json.dump({
    "source": "simulated; make.py",
    "software": f"numpy {np.__version__}, statsmodels {statsmodels.__version__}",
    "fitted": b.tolist(), "corrected": corrected(theta).tolist(), "se": np.sqrt(np.diag(cov)).tolist(),
    "covariance12": cov[0, 1],
}, open("expected.json", "w"), indent=2)
