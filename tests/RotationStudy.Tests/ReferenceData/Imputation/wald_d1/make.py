"""Pooled Wald test D1 of Li, Raghunathan & Rubin (1991), written out with numpy for invented estimates from 5 and 3 imputations."""
import json, os, sys
import numpy as np, scipy
from scipy import stats
rng = np.random.default_rng(1991)
out = {"python": sys.version.split()[0], "numpy": np.__version__, "scipy": scipy.__version__, "cases": []}
for m, k in [(5, 3), (3, 2), (20, 2)]:
    A = rng.normal(size=(k, k)); base = A @ A.T + np.eye(k)
    U = [base * rng.uniform(.8, 1.2) for _ in range(m)]
    Q = [np.array([2.0, -1.0, 0.5])[:k] + rng.normal(0, .6, k) for _ in range(m)]
    qb, ub = np.mean(Q, 0), np.mean(U, 0); B = np.cov(np.array(Q).T)
    r = (1 + 1 / m) * np.trace(B @ np.linalg.inv(ub)) / k
    D = qb @ np.linalg.inv(ub) @ qb / (k * (1 + r)); t = k * (m - 1)
    df = 4 + (t - 4) * (1 + (1 - 2 / t) / r) ** 2 if t > 4 else t * (1 + 1 / k) * (1 + 1 / r) ** 2 / 2
    out["cases"].append({"m": m, "k": k, "U": [u.ravel().tolist() for u in U], "Q": [q.tolist() for q in Q], "D1": D, "df": df, "p": stats.f.sf(D, k, df)})
json.dump(out, open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "expected.json"), "w"), indent=0)
print([(c["D1"], c["df"], c["p"]) for c in out["cases"]])
