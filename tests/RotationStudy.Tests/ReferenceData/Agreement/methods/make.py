"""Method comparison and agreement coefficients, each computed here from its definition in another way than in the library."""
import itertools, json, math, os, sys
import numpy as np, scipy
from scipy import optimize, stats
import statsmodels
from statsmodels.stats.inter_rater import fleiss_kappa
here = os.path.dirname(os.path.abspath(__file__))
rng = np.random.default_rng(1979)
n = 40
truth = rng.gamma(6, 4, n)
x = np.round(truth + rng.normal(0, 1.5, n), 1)
y = np.round(1.2 + 1.05 * truth + rng.normal(0, 2, n), 1)
subject = np.repeat(np.arange(12), [2, 3, 4, 3, 2, 5, 4, 3, 2, 4, 5, 3])
assert len(subject) == n
with open(os.path.join(here, "data.csv"), "w") as f:
    f.write("x,y,subject\n" + "".join(f"{a},{b},{c}\n" for a, b, c in zip(x, y, subject)))

# Deming: the angle that minimises the weighted sum of squared distances, found numerically on a fine scale.
def deming(x, y, ratio):
    mx, my = x.mean(), y.mean()
    f = lambda b: float(np.sum((y - my - b * (x - mx)) ** 2) / (ratio + b * b))
    b = optimize.brentq(lambda b: (lambda h: (f(b + h) - f(b - h)) / (2 * h))(1e-5), 0.5, 2, xtol=1e-15)
    import mpmath as mp
    mp.mp.dps = 40
    X, Y = [mp.mpf(str(v)) for v in x], [mp.mpf(str(v)) for v in y]
    MX, MY = mp.fsum(X) / len(X), mp.fsum(Y) / len(Y)
    g = lambda b: mp.fsum((q - MY - b * (p - MX)) ** 2 for p, q in zip(X, Y)) / (ratio + b * b)
    b = mp.findroot(lambda b: mp.diff(g, b), mp.mpf(b))
    return float(MY - b * MX), float(b)
def jack(fun):
    v = np.array([fun(np.delete(x, i), np.delete(y, i)) for i in range(n)])
    return np.sqrt((n - 1) / n * ((v - v.mean(0)) ** 2).sum(0))
out = {"python": sys.version.split()[0], "numpy": np.__version__, "scipy": scipy.__version__, "statsmodels": statsmodels.__version__}
for ratio in (1, 2.5):
    out[f"deming_{ratio}"] = {"line": deming(x, y, ratio), "se": jack(lambda a, b: deming(a, b, ratio)).tolist()}

# Passing-Bablok: exact rational slopes.
from fractions import Fraction as F
X, Y = [F(str(v)) for v in x], [F(str(v)) for v in y]
s = []
for i, j in itertools.combinations(range(n), 2):
    if X[i] == X[j]:
        if Y[i] != Y[j]: s.append(F(10) ** 9)
    else:
        v = (Y[i] - Y[j]) / (X[i] - X[j])
        if v != -1: s.append(v)
s.sort()
N, K = len(s), sum(v < -1 for v in s)
b = s[(N + 1) // 2 - 1 + K] if N % 2 else (s[N // 2 - 1 + K] + s[N // 2 + K]) / 2
C = stats.norm.ppf(.975) * math.sqrt(n * (n - 1) * (2 * n + 5) / 18)
M1 = round((N - C) / 2); M2 = N - M1 + 1
lo, hi = s[M1 - 1 + K], s[M2 - 1 + K]
med = lambda b: float(np.median([float(q - b * p) for p, q in zip(X, Y)]))
out["passing_bablok"] = {"slope": float(b), "slope_ci": [float(lo), float(hi)], "intercept": med(b), "intercept_ci": [med(hi), med(lo)], "pairs": N, "below_minus_one": K}

# Lin: from moments, with divisor n.
cov = np.cov(x, y, ddof=0)
rc = 2 * cov[0, 1] / (cov[0, 0] + cov[1, 1] + (x.mean() - y.mean()) ** 2)
r = np.corrcoef(x, y)[0, 1]
u = (x.mean() - y.mean()) / (cov[0, 0] * cov[1, 1]) ** .25
var = ((1 - r * r) * rc ** 2 / ((1 - rc ** 2) * r * r) + 2 * rc ** 3 * (1 - rc) * u * u / (r * (1 - rc ** 2) ** 2) - rc ** 4 * u ** 4 / (2 * r * r * (1 - rc ** 2) ** 2)) / (n - 2)
out["lin"] = {"value": rc, "ci": [math.tanh(math.atanh(rc) - stats.norm.ppf(.975) * math.sqrt(var)), math.tanh(math.atanh(rc) + stats.norm.ppf(.975) * math.sqrt(var))]}

# Proportional limits by polyfit.
d, m = x - y, (x + y) / 2
b1, b0 = np.polyfit(m, d, 1); c1, c0 = np.polyfit(m, np.abs(d - b0 - b1 * m), 1)
out["proportional"] = {"bias": [b0, b1], "spread": [c0, c1], "slope_se": stats.linregress(m, d).stderr}

# Repeated pairs: subject means and pooled within, harmonic mean of the numbers.
groups = [d[subject == g] for g in range(12)]
means = np.array([g.mean() for g in groups]); mh = 12 / sum(1 / len(g) for g in groups)
within = sum(((g - g.mean()) ** 2).sum() for g in groups) / (n - 12)
out["repeated"] = {"bias": means.mean(), "sd": math.sqrt(means.var(ddof=1) + (1 - 1 / mh) * within)}

# Several raters: table of a worked example in common use; statsmodels for Fleiss, a jackknife-free linearisation by numerical derivative for the errors.
table = np.array([[0,0,0,0,14],[0,2,6,4,2],[0,0,3,5,6],[0,3,9,2,0],[2,2,8,1,1],[7,7,0,0,0],[3,2,6,3,0],[2,5,3,2,2],[6,5,2,1,0],[0,2,2,3,7]])
# 12 units, 4 raters with gaps, as used by Krippendorff and by Gwet (2014); rater rows, 0 for not rated.
units = np.array([[1,2,3,3,2,1,4,1,2,0,0,0],[1,2,3,3,2,2,4,1,2,5,0,3],[0,3,3,3,2,3,4,2,2,5,1,0],[1,2,3,3,2,4,4,1,2,5,1,0]])
gaps = np.array([[int((units[:, i] == c).sum()) for c in range(1, 6)] for i in range(12)])
def coefficient(T, W, kind, weight):
    r = T.sum(1); two = r >= 2; w = weight / weight.sum()
    pa_i = np.array([(t * (W @ t - 1)).sum() / (a * (a - 1)) if a >= 2 else 0 for t, a in zip(T, r)])
    pa = (w * pa_i * two).sum() / (w * two).sum()
    pi = (w[:, None] * T / r[:, None]).sum(0)
    k = len(pi)
    pe = pi @ W @ pi if kind == "fleiss" else W.sum() / (k * (k - 1)) * (pi * (1 - pi)).sum()
    return (pa - pe) / (1 - pe)
def with_error(T, W, kind):
    T = T.astype(float); n = len(T); one = np.ones(n)
    # influence of each subject by the derivative in its weight (central difference), first order: the linearised variance
    h = 1e-5; infl = []
    for i in range(n):
        e = np.zeros(n); e[i] = h
        infl.append((coefficient(T, W, kind, one + e) - coefficient(T, W, kind, one - e)) / (2 * h) * n)
    return [coefficient(T, W, kind, one), math.sqrt(sum(v * v for v in infl) / (n - 1) / n)]
def published(T, W, kind):
    """Gwet's (2014) formula, in which the number of subjects rated twice varies too."""
    r = T.sum(1); two = r >= 2; n = len(T); k = T.shape[1]
    pa_i = np.array([(t * (W @ t - 1)).sum() / (a * (a - 1)) if a >= 2 else 0 for t, a in zip(T, r)])
    pa = pa_i.sum() / two.sum(); pi = (T / r[:, None]).mean(0)
    pe = pi @ W @ pi if kind == "fleiss" else W.sum() / (k * (k - 1)) * (pi * (1 - pi)).sum()
    pe_i = (T / r[:, None]) @ (W @ pi) if kind == "fleiss" else W.sum() / (k * (k - 1)) * ((T / r[:, None]) * (1 - pi)).sum(1)
    v = (pa - pe) / (1 - pe)
    own = np.where(two, n / two.sum() * (pa_i - pe) / (1 - pe), 0) - 2 * (1 - v) * (pe_i - pe) / (1 - pe)
    return [v, math.sqrt(((own - v) ** 2).sum() / (n - 1) / n)]
quad = lambda k: np.array([[1 - (i - j) ** 2 / (k - 1) ** 2 for j in range(k)] for i in range(k)])
out["fleiss_statsmodels"] = fleiss_kappa(table)
out["fleiss"] = with_error(table, np.eye(5), "fleiss")
out["ac1"] = with_error(table, np.eye(5), "gwet")
out["ac2"] = with_error(table, quad(5), "gwet")
out["gaps_ac1"] = published(gaps, np.eye(5), "gwet")
out["gaps_ac2"] = published(gaps, quad(5), "gwet")
out["gaps_fleiss"] = published(gaps, np.eye(5), "fleiss")
out["table"], out["gaps"] = table.tolist(), gaps.tolist()
json.dump(out, open(os.path.join(here, "expected.json"), "w"), indent=1)
print(json.dumps(out)[:1800])
