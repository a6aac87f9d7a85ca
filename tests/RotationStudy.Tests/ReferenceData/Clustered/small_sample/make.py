"""Small-sample sandwich variances: run in this folder; statsmodels 0.13.5 (GEE, cov_type robust, naive, bias_reduced).

The first 20 persons of Counts/epilepsy, ../../Mixed/orthodont dichotomised at 24 mm, and orthodont itself.
bias_reduced is Mancl & DeRouen (2001). Scale and pairs are divided by n - p there.
"""
import json
import warnings
import numpy as np
import pandas as pd
import statsmodels
import statsmodels.api as sm
warnings.simplefilter("ignore")
out = {"statsmodels": statsmodels.__version__}


def describe(y, x, groups, family, cov, offset=None):
    model = sm.GEE(y, x, groups=groups, family=family, cov_struct=cov, offset=offset)
    fit = model.fit(maxiter=500, ctol=1e-12, scale="X2")
    bias = model.fit(maxiter=500, ctol=1e-12, scale="X2", cov_type="bias_reduced")
    qic = fit.qic(scale=fit.scale)
    return {"coef": list(fit.params), "se_robust": list(fit.bse), "se_naive": list(np.sqrt(np.diag(fit.cov_naive))),
            "se_mancl_derouen": list(bias.bse), "scale": fit.scale, "alpha": float(np.asarray(fit.cov_struct.dep_params)), "qic": list(map(float, qic))}


epil = pd.read_csv("../../Counts/epilepsy/data.csv")
epil = epil[epil.subject <= 20]
x = np.column_stack([np.ones(len(epil)), epil.lbase, epil.V4])
out["epilepsy20_poisson"] = describe(epil.y.values, x, epil.subject.values, sm.families.Poisson(), sm.cov_struct.Exchangeable())
orth = pd.read_csv("../../Mixed/orthodont/data.csv")
x = np.column_stack([np.ones(len(orth)), orth.age - 11, orth.Sex == "Male"]).astype(float)
out["orthodont_gaussian"] = describe(orth.distance.values, x, orth.Subject.values, sm.families.Gaussian(), sm.cov_struct.Exchangeable())
out["orthodont_binomial"] = describe((orth.distance.values > 24).astype(float), x, orth.Subject.values, sm.families.Binomial(), sm.cov_struct.Exchangeable())
with open("expected.json", "w") as f:
    json.dump(out, f, indent=2)
