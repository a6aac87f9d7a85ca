"""xoshiro256** and SplitMix64 written again from their published definitions; prints the first outputs as text."""
import json, os
M = (1 << 64) - 1
rot = lambda x, k: ((x << k) | (x >> (64 - k))) & M

def xoshiro(state, n):
    s = list(state); out = []
    for _ in range(n):
        out.append(rot(s[1] * 5 & M, 7) * 9 & M)
        t = s[1] << 17 & M
        s[2] ^= s[0]; s[3] ^= s[1]; s[1] ^= s[2]; s[0] ^= s[3]; s[2] ^= t; s[3] = rot(s[3], 45)
    return out

def mix(z):
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9 & M
    z = (z ^ z >> 27) * 0x94D049BB133111EB & M
    return z ^ z >> 31

def splitmix(seed, n):
    out = []
    for _ in range(n):
        seed = seed + 0x9E3779B97F4A7C15 & M
        out.append(mix(seed))
    return out

def named(seed, name, index):
    h = 0xCBF29CE484222325
    for b in name.encode(): h = (h ^ b) * 0x100000001B3 & M
    g = 0x9E3779B97F4A7C15
    key = mix(mix(seed + g & M) ^ h)
    key = mix(key + g * index & M)
    return xoshiro(splitmix(key, 4), 5)

out = {"xoshiro_1234": [str(v) for v in xoshiro([1, 2, 3, 4], 10)], "splitmix_1234567": [str(v) for v in splitmix(1234567, 5)],
       "named_20260_bootstrap_7": [str(v) for v in named(20260, "bootstrap", 7)]}
json.dump(out, open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "expected.json"), "w"), indent=1)
print(out)
