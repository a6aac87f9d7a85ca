# Calibration intercept and slope by glm, cluster-robust variance with factors G/(G-1) and (n-1)/(n-k) by sandwich.
suppressPackageStartupMessages(library(sandwich)); set.seed(2016)
id <- rep(1:80, each = 2); u <- rep(rnorm(80), each = 2); l <- round(rnorm(160), 3); y <- rbinom(160, 1, plogis(.3 + .7 * l + .6 * u)); p <- plogis(l)
write.csv(data.frame(cluster = id, event = y, risk = sprintf("%.17g", p)), "data.csv", row.names = FALSE, quote = FALSE)
ct <- glm.control(epsilon = 1e-15, maxit = 100); a <- glm(y ~ 1, binomial, offset = l, control = ct); b <- glm(y ~ l, binomial, control = ct)
v <- function(m) sqrt(diag(vcovCL(m, id, type = "HC1", cadjust = TRUE)))
writeLines(jsonlite::toJSON(list(software = R.version.string, sandwich = as.character(packageVersion("sandwich")), intercept = unname(coef(a)), intercept_se = unname(v(a)), slope = unname(coef(b)[2]), slope_se = unname(v(b)[2]), brier = mean((y - p)^2)), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
