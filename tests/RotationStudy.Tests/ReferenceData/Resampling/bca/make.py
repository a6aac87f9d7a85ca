"""Correlation of 15 law schools (Efron 1987): jackknife and BCa by scipy.stats.bootstrap, whose Monte-Carlo error stays."""
import json, os, sys
import numpy as np, scipy
from scipy import stats
lsat = [576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594]
gpa = [3.39, 3.30, 2.81, 3.03, 3.44, 3.07, 3.00, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96]
here = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(here, "data.csv"), "w") as f:
    f.write("lsat,gpa\n" + "".join(f"{a},{b}\n" for a, b in zip(lsat, gpa)))
x, y = np.array(lsat, float), np.array(gpa)
r = np.corrcoef(x, y)[0, 1]
jack = [np.corrcoef(np.delete(x, i), np.delete(y, i))[0, 1] for i in range(15)]
d = np.mean(jack) - np.array(jack)
def corr(a, b, axis=-1):
    a = a - a.mean(axis=axis, keepdims=True); b = b - b.mean(axis=axis, keepdims=True)
    return (a * b).sum(axis=axis) / np.sqrt((a * a).sum(axis=axis) * (b * b).sum(axis=axis))
g = np.random.default_rng(20260)
b = stats.bootstrap((x, y), corr, paired=True, vectorized=True, n_resamples=400000, batch=20000, method="BCa", random_state=g)
p = stats.bootstrap((x, y), corr, paired=True, vectorized=True, n_resamples=400000, batch=20000, method="percentile", random_state=g)
out = {"python": sys.version.split()[0], "numpy": np.__version__, "scipy": scipy.__version__, "correlation": r,
       "jackknife_se": float(np.sqrt(14 / 15 * np.sum((jack - np.mean(jack)) ** 2))), "acceleration": float(np.sum(d ** 3) / 6 / np.sum(d ** 2) ** 1.5),
       "bca": list(b.confidence_interval), "percentile": list(p.confidence_interval), "bootstrap_se": float(b.standard_error)}
json.dump(out, open(os.path.join(here, "expected.json"), "w"), indent=1)
print(out)
