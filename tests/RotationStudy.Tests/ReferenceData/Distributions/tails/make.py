"""Tails and quantiles of the distributions, in 50 digits, by mpmath. Writes expected.json beside this file.

Quantiles are found by bisection on the log of the value and polished by mpmath's secant iteration, on the smaller tail.
"""
import json, os
import mpmath as mp

mp.mp.dps = 50

def gamma_tail(a, x, upper):
    """Regularised incomplete gamma by series or by quadrature of the density on the log scale."""
    a, x = mp.mpf(a), mp.mpf(x)
    lead = mp.exp(a * mp.log(x) - x - mp.loggamma(a))
    if x < a:                      # lower tail by the power series
        term = s = 1 / a
        n = 1
        while term > s * mp.mpf(10) ** -45:
            term *= x / (a + n); s += term; n += 1
            if n > 400000: return None
        low = lead * s
        return 1 - low if upper else low
    # upper tail by the continued fraction, evaluated from the back
    n = 400 if a < 1000 else 3000 if a < 1e6 else 200000
    f = mp.mpf(0)
    if a < 1e6:
        for i in range(n, 0, -1):
            f = -i * (i - a) / (x + 2 * i + 1 - a + f)
        up = lead / (x + 1 - a + f)
    else:
        up = lead * quad_up(lambda s: a * s - x * mp.expm1(s), 1 / (x - a + mp.sqrt(x)))
    return up if upper else 1 - up

def quad_up(e, scale):
    """Integral of exp(e(s)), e concave and falling from 0, by panels up to exp(-110)."""
    end = scale
    while e(end) > -110: end *= 2
    lo = end / 2
    for _ in range(8):
        m = (lo + end) / 2
        if e(m) > -110: lo = m
        else: end = m
    return mp.quad(lambda s: mp.exp(e(s)), [end * k / 12 for k in range(13)], maxdegree=6)

def beta_lower(a, b, x, y):
    """I_x(a,b) for x at or below the mean, by quadrature on the logit scale, or by the hypergeometric series where that is quick."""
    a, b, x, y = map(mp.mpf, (a, b, x, y))
    lead = mp.exp(a * mp.log(x) + b * mp.log(y) - (mp.loggamma(a) + mp.loggamma(b) - mp.loggamma(a + b)))
    if a < 200:                    # x^a y^b / (a B) * 2F1(a+b, 1; a+1; x), all terms positive
        term = s = 1 / a
        n = 1
        while term > s * mp.mpf(10) ** -45:
            term *= (a + b + n - 1) / (a + n) * x
            s += term; n += 1
            if n > 2000000: return None
        return lead * s
    e = lambda s: -a * s - (a + b) * mp.log1p(x * mp.expm1(-s))
    return lead * quad_up(e, 1 / (a * y - b * x + mp.sqrt((a + b) * x * y)))

def beta_tails(a, b, x, y):
    a, b, x, y = map(mp.mpf, (a, b, x, y))
    if a * y >= b * x:
        low = beta_lower(a, b, x, y); return low, 1 - low
    up = beta_lower(b, a, y, x); return 1 - up, up

def t_two(t, v):
    t, v = mp.mpf(t), mp.mpf(v)
    return beta_tails(mp.mpf(1) / 2, v / 2, t * t / (v + t * t), v / (v + t * t))[1]

def f_tails(f, a, b):
    f, a, b = map(mp.mpf, (f, a, b))
    return beta_tails(a / 2, b / 2, a * f / (a * f + b), b / (a * f + b))

def solve(tail, p, lo, hi, rising):
    """Root of log tail(exp u) = log p on [lo, hi] by bisection and then the secant on the log scale."""
    target = mp.log(mp.mpf(p))
    g = lambda u: mp.log(tail(mp.exp(u))) - target
    lo, hi = mp.mpf(lo), mp.mpf(hi)
    for _ in range(40):
        m = (lo + hi) / 2
        if (g(m) < 0) == rising: lo = m
        else: hi = m
    a, b = lo, hi
    ga, gb = g(a), g(b)
    for _ in range(8):
        if gb == ga: break
        c = b - gb * (b - a) / (gb - ga)
        a, ga, b = b, gb, c
        gb = g(b)
        if abs(b - a) < mp.mpf(10) ** -30: break
    return mp.exp(b)

S = lambda v: mp.nstr(v, 20)
out = {"normal": [], "t": [], "t_quantile": [], "chi": [], "chi_quantile": [], "f": [], "f_quantile": [], "beta": [], "beta_quantile": [],
       "gamma_quantile": [], "binomial": [], "poisson": [], "hypergeometric": [], "log_density": []}

for z in ["0", "1e-8", "0.3", "1.96", "8", "20", "37"]:
    out["normal"].append({"z": z, "upper": S(mp.erfc(mp.mpf(z) / mp.sqrt(2)) / 2)})

for v in ["0.5", "1", "2", "3", "4.7", "10", "30", "100", "999.5", "10000", "1e6", "1e9"]:
    for t in ["1e-8", "0.01", "0.5", "1", "2.1", "5", "12", "37", "1e3", "1e10"]:
        p = t_two(t, v)
        if p is not None and p > mp.mpf("1e-300"): out["t"].append({"t": t, "v": v, "two_sided": S(p)})
    for p in ["1e-300", "1e-100", "1e-20", "1e-12", "1e-6", "0.001", "0.025", "0.2", "0.3", "0.49"]:
        if mp.mpf(v) < 3 and mp.mpf(p) < mp.mpf("1e-50"): continue
        q = mp.mpf(p)
        top = mp.mpf(400) if mp.mpf(v) < 30 else mp.mpf(12)
        x = solve(lambda t: t_two(t, v) / 2, p, -8, top if mp.mpf(p) > mp.mpf("1e-30") or mp.mpf(v) < 30 else (250 if mp.mpf(v) < 200 else 12), False)
        out["t_quantile"].append({"upper": p, "v": v, "t": S(x)})

for k in ["0.5", "1", "2", "3", "7.5", "30", "200", "999", "20000", "1e6", "1e9"]:
    kk = mp.mpf(k)
    sd = mp.sqrt(2 * kk)
    for m in [-6, -2, -0.5, 0, 0.5, 2, 6, 30]:
        x = mp.nstr(kk + m * sd, 15)
        if mp.mpf(x) <= 0: x = mp.nstr(kk * mp.mpf(10) ** m, 15)
        if kk > 1e6 and m < 0: continue   # the series would not end; quadrature covers the upper side
        u = gamma_tail(kk / 2, mp.mpf(x) / 2, True); l = gamma_tail(kk / 2, mp.mpf(x) / 2, False)
        if u is not None and u > mp.mpf("1e-300"): out["chi"].append({"x": x, "k": k, "lower": S(l), "upper": S(u)})
    if kk <= 20000:
        for p in ["1e-300", "1e-10", "0.001", "0.025", "0.4"]:
            if kk < 3 and mp.mpf(p) < mp.mpf("1e-100"): continue
            lowq = solve(lambda x: gamma_tail(kk / 2, x / 2, False), p, -120 / kk - 60 if kk < 30 else mp.log(kk) - 40 / mp.sqrt(kk) * 4, mp.log(kk), True) if not (kk > 100 and mp.mpf(p) < mp.mpf("1e-100")) else None
            upq = solve(lambda x: gamma_tail(kk / 2, x / 2, True), p, mp.log(kk * mp.mpf("0.9") if kk > 10 else kk * mp.mpf("0.05")), mp.log(kk + 60 * mp.sqrt(kk) + 2000), False)
            out["chi_quantile"].append({"p": p, "k": k, "lower": S(lowq) if lowq else None, "upper": S(upq)})

for a, b in [("1", "1"), ("1", "7.3"), ("2", "2"), ("3", "60"), ("12", "4"), ("0.5", "1e9"), ("5", "1e6"), ("40", "1000"), ("1000", "3"), ("5000", "5000"), ("1e6", "30")]:
    for f in ["1e-6", "0.1", "0.9", "1.5", "4", "25", "600", "1e8"]:
        l, u = f_tails(f, a, b)
        if l > mp.mpf("1e-300") and u > mp.mpf("1e-300"): out["f"].append({"f": f, "a": a, "b": b, "lower": S(l), "upper": S(u)})
    for p in ["1e-200", "1e-9", "0.025", "0.3"]:
        small = mp.mpf(p) < mp.mpf("1e-100")
        wide = min(mp.mpf(a), mp.mpf(b)) < 100
        if small and mp.mpf(b) < 3: continue
        up = solve(lambda f: f_tails(f, a, b)[1], p, -3, (400 if small and mp.mpf(b) < 100 else 60 if mp.mpf(b) < 100 else 9) if wide else 2, False)
        lo = None if small else solve(lambda f: f_tails(f, a, b)[0], p, -100 if mp.mpf(a) < 2 else -30 if wide else -2, 1, True)
        out["f_quantile"].append({"p": p, "a": a, "b": b, "lower": S(lo) if lo else None, "upper": S(up)})

for a, b in [("0.5", "0.5"), ("0.01", "0.01"), ("0.001", "1000"), ("0.5", "30"), ("2", "3"), ("400", "0.01"), ("3500", "0.2"), ("1", "99"), ("9", "92")]:
    for x in ["1e-20", "0.001", "0.3", "0.75", "0.999"]:
        l, u = beta_tails(a, b, x, 1 - mp.mpf(x))
        if l is not None and l > mp.mpf("1e-300") and u > mp.mpf("1e-300"): out["beta"].append({"x": x, "a": a, "b": b, "lower": S(l), "upper": S(u)})
for a, b, p in [("0.5", "0.5", "1e-10"), ("0.5", "30", "1e-10"), ("0.01", "0.01", "0.025"), ("0.5", "30", "0.001"), ("2", "3", "1e-12"), ("1", "99", "0.025"), ("9", "92", "0.025"), ("0.001", "1000", "0.5")]:
    q = solve(lambda x: beta_tails(a, b, x, 1 - x)[0], p, -705, mp.log(mp.mpf(a) / (mp.mpf(a) + mp.mpf(b))) + mp.mpf("0.5"), True)
    out["beta_quantile"].append({"p": p, "a": a, "b": b, "x": S(q)})
for a, p in [("0.01", "0.025"), ("0.01", "0.3"), ("0.5", "1e-10"), ("0.5", "1e-100"), ("3", "1e-12"), ("12.5", "0.025")]:
    out["gamma_quantile"].append({"p": p, "a": a, "x": S(solve(lambda x: gamma_tail(a, x, False), p, -900, mp.log(mp.mpf(a)) + 1, True))})

def pmf(k, n, p): return mp.binomial(n, k) * mp.mpf(p) ** k * (1 - mp.mpf(p)) ** (n - k)
for n, p in [(10, "0.3"), (200, "0.01"), (5000, "0.47")]:
    for k in [0, 1, n // 100 + 1, n // 3, n // 2, n - 1]:
        lo = mp.fsum(pmf(i, n, p) for i in range(0, k + 1)); up = mp.fsum(pmf(i, n, p) for i in range(k, n + 1))
        out["binomial"].append({"k": k, "n": n, "p": p, "log": S(mp.log(pmf(k, n, p))), "at_most": S(lo), "at_least": S(up)})
for m in ["0.03", "4.5", "1000"]:
    for k in [0, 1, 7, 30, 900, 1300]:
        f = lambda i: mp.exp(-mp.mpf(m) + i * mp.log(mp.mpf(m)) - mp.loggamma(i + 1))
        lo = mp.fsum(f(i) for i in range(0, k + 1)); up = mp.fsum(f(i) for i in range(k, k + 3000))
        out["poisson"].append({"k": k, "mean": m, "log": S(mp.log(f(k))), "at_most": S(lo), "at_least": S(up)})
for A, B, n in [(8, 12, 9), (500, 700, 300), (3, 2000, 1500)]:
    h = lambda i: mp.binomial(A, i) * mp.binomial(B, n - i) / mp.binomial(A + B, n)
    lo, hi = max(0, n - B), min(A, n)
    for k in sorted({lo, lo + 1, (lo + hi) // 2, n * A // (A + B), hi}):
        out["hypergeometric"].append({"k": k, "marked": A, "unmarked": B, "sample": n, "log": S(mp.log(h(k))),
            "at_most": S(mp.fsum(h(i) for i in range(lo, k + 1))), "at_least": S(mp.fsum(h(i) for i in range(k, hi + 1)))})

for v, t in [("0.5", "3"), ("7", "0"), ("30", "40"), ("1e9", "2.5")]:
    V, T = mp.mpf(v), mp.mpf(t)
    out["log_density"].append({"of": "t", "a": v, "b": "0", "x": t, "log": S(mp.loggamma((V + 1) / 2) - mp.loggamma(V / 2) - mp.log(V * mp.pi) / 2 - (V + 1) / 2 * mp.log1p(T * T / V))})
for a, x in [("0.2", "0.01"), ("5", "3"), ("5", "900"), ("1e9", "1000010000")]:
    A, X = mp.mpf(a), mp.mpf(x)
    out["log_density"].append({"of": "gamma", "a": a, "b": "1", "x": x, "log": S((A - 1) * mp.log(X) - X - mp.loggamma(A))})
for a, b, x in [("0.5", "0.5", "0.2"), ("3", "9", "1e-9"), ("100000", "20", "0.9997")]:
    A, B, X = mp.mpf(a), mp.mpf(b), mp.mpf(x)
    out["log_density"].append({"of": "beta", "a": a, "b": b, "x": x, "log": S((A - 1) * mp.log(X) + (B - 1) * mp.log1p(-X) - mp.loggamma(A) - mp.loggamma(B) + mp.loggamma(A + B))})
for a, b, x in [("3", "17.5", "2"), ("1", "1e6", "300")]:
    A, B, X = mp.mpf(a), mp.mpf(b), mp.mpf(x)
    r = A * X / B
    out["log_density"].append({"of": "f", "a": a, "b": b, "x": x, "log": S(A / 2 * mp.log(r) - (A + B) / 2 * mp.log1p(r) - mp.log(X) - mp.loggamma(A / 2) - mp.loggamma(B / 2) + mp.loggamma((A + B) / 2))})

print({k: len(v) for k, v in out.items()})
json.dump(out, open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "expected.json"), "w"), indent=0)
