#!/usr/bin/env python3
"""make.py : conditional odds ratios and exact intervals by scipy, whose roots are tighter than those of make.R; prints expected_odds.json."""
import json, scipy
from scipy.stats.contingency import odds_ratio
tables = {"twins": [[2, 10], [15, 3]], "tea": [[3, 1], [1, 3]], "edge": [[0, 7], [5, 4]], "big": [[310, 205], [240, 330]]}
out = {"versions": {"scipy": scipy.__version__}}
for name, table in tables.items():
    fit = odds_ratio(table, kind="conditional")
    ci = fit.confidence_interval(0.95)
    out[name] = {"odds": fit.statistic, "lower": ci.low, "upper": ci.high}
print(json.dumps(out, indent=2))
