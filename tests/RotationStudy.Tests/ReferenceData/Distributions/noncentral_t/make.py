"""Noncentral t tails by mpmath quadrature in 30 digits, and tolerance factors of 95% limits (quantile / root n)."""
import json, os, mpmath as mp
mp.mp.dps = 30
def cdf(t, v, d):
    t, v, d = map(mp.mpf, (t, v, d))
    def f(s):
        dens = mp.exp(mp.log(2 * v * s) + (v / 2 - 1) * mp.log(v * s * s) - v * s * s / 2 - v / 2 * mp.log(2) - mp.loggamma(v / 2))
        return mp.ncdf(t * s - d) * dens
    top = 1 + 14 / mp.sqrt(2 * v)
    return mp.quad(f, [top * i / 16 for i in range(17)])
out = {"tail": [], "quantile": []}
for v in [3, 16, 84, 400]:
    for d in [0, 1.5, 8]:
        for x in [-0.7, 0.4, 2.0, 9.0]:
            out["tail"].append({"t": str(x), "v": str(v), "delta": str(d), "lower": mp.nstr(cdf(x, v, d), 20)})
for n in [10, 17, 85, 300]:
    z = mp.sqrt(2) * mp.erfinv(mp.mpf("0.95"))
    for p in ["0.025", "0.975"]:
        d = z * mp.sqrt(n)
        q = mp.findroot(lambda t: cdf(t, n - 1, d) - mp.mpf(p), d + (-1 if p == "0.025" else 2) * mp.sqrt(1 + d * d / (2 * n)), solver="secant", tol=1e-30)
        out["quantile"].append({"n": str(n), "p": p, "factor": mp.nstr(q / mp.sqrt(n), 20)})
json.dump(out, open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "expected.json"), "w"), indent=0)
print(out["quantile"])
