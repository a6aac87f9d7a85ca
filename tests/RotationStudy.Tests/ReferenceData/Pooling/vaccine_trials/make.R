# Thirteen trials of a tuberculosis vaccine: log relative risks pooled by metafor, its iteration tightened.
suppressPackageStartupMessages(library(metafor))
d <- escalc(measure = "RR", ai = tpos, bi = tneg, ci = cpos, di = cneg, data = dat.bcg)
write.csv(data.frame(trial = d$trial, estimate = sprintf("%.17g", d$yi), variance = sprintf("%.17g", d$vi)), "data.csv", row.names = FALSE, quote = FALSE)
tight <- list(threshold = 1e-14, maxiter = 10000); fine <- list(tol = 1e-14)
one <- function(rows, method, test) {
  m <- rma(yi, vi, data = d[rows, ], method = method, test = test, control = if (method == "REML") tight else list())
  p <- predict(m); k <- confint(m, control = fine)$random
  list(mean = c(m$beta), se = m$se, lower = m$ci.lb, upper = m$ci.ub, p = m$pval, tau2 = m$tau2, tau2_lower = k[1, 2], tau2_upper = k[1, 3],
       i2 = m$I2, i2_lower = k[3, 2], i2_upper = k[3, 3], q = m$QE, q_p = m$QEp, prediction_lower = p$pi.lb, prediction_upper = p$pi.ub)
}
all <- 1:13; f <- rma(yi, vi, data = d, method = "FE")
writeLines(jsonlite::toJSON(list(software = R.version.string, metafor = as.character(packageVersion("metafor")),
  reml_adjusted = one(all, "REML", "knha"), reml_plain = one(all, "REML", "z"), dl_plain = one(all, "DL", "z"), dl_adjusted = one(all, "DL", "knha"),
  three_adjusted = one(1:3, "REML", "knha"), common = list(mean = c(f$beta), se = f$se),
  without = lapply(all, function(i) one(all[-i], "REML", "knha"))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
