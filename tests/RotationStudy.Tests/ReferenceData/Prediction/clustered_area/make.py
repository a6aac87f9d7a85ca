"""Area under the curve with clusters: every pair counted one by one, Obuchowski's variance written out by loops over clusters."""
import json, os, math, sys
import numpy as np
rng = np.random.default_rng(1997)
cl, y, s = [], [], []
for c in range(60):
    u = rng.normal()
    for k in range(rng.integers(1, 4)):
        p = 1 / (1 + math.exp(0.8 - u))
        e = rng.random() < p
        cl.append(c); y.append(int(e)); s.append(round(1.1 * e + 0.8 * u + rng.normal(), 1))
cl, y, s = map(np.array, (cl, y, s))
here = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(here, "data.csv"), "w") as f:
    f.write("cluster,event,score\n" + "".join(f"{a},{b},{c}\n" for a, b, c in zip(cl, y, s)))
X, Y = np.where(y == 1)[0], np.where(y == 0)[0]
psi = lambda a, b: 1.0 if a > b else 0.5 if a == b else 0.0
V10 = {i: sum(psi(s[i], s[j]) for j in Y) / len(Y) for i in X}
V01 = {j: sum(psi(s[i], s[j]) for i in X) / len(X) for j in Y}
A = sum(V10.values()) / len(X)
ids = sorted(set(cl)); I = len(ids)
m = {c: [i for i in X if cl[i] == c] for c in ids}; n = {c: [j for j in Y if cl[j] == c] for c in ids}
I10 = sum(1 for c in ids if m[c]); I01 = sum(1 for c in ids if n[c])
M, N = len(X), len(Y)
S10 = I10 / ((I10 - 1) * M) * sum((sum(V10[i] for i in m[c]) - len(m[c]) * A) ** 2 for c in ids)
S01 = I01 / ((I01 - 1) * N) * sum((sum(V01[j] for j in n[c]) - len(n[c]) * A) ** 2 for c in ids)
S11 = I / (I - 1) * sum((sum(V10[i] for i in m[c]) - len(m[c]) * A) * (sum(V01[j] for j in n[c]) - len(n[c]) * A) for c in ids)
var = S10 / M + S01 / N + 2 * S11 / (M * N)
json.dump({"python": sys.version.split()[0], "numpy": np.__version__, "area": A, "variance": var}, open(os.path.join(here, "expected.json"), "w"), indent=1)
print(A, var, len(y))
