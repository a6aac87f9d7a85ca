# Ridge and lasso logistic regression of the birth-weight data (birthwt of MASS) by glmnet, tolerance tightened.
suppressPackageStartupMessages({library(glmnet); library(MASS)})
d <- birthwt; x <- cbind(age = d$age, lwt = d$lwt, black = d$race == 2, other = d$race == 3, smoke = d$smoke, ptl = d$ptl, ht = d$ht, ui = d$ui)
write.csv(data.frame(low = d$low, x), "data.csv", row.names = FALSE, quote = FALSE)
l <- c(0.1, 0.03, 0.01, 0.001)
one <- function(alpha) { f <- glmnet(x, d$low, family = "binomial", alpha = alpha, lambda = l, thresh = 1e-22, maxit = 1e7); lapply(seq_along(l), function(i) list(strength = l[i], intercept = unname(f$a0[i]), values = as.list(f$beta[, i]))) }
top <- max(abs(crossprod(scale(x) * sqrt(189 / 188), d$low - mean(d$low)))) / 189
writeLines(jsonlite::toJSON(list(software = R.version.string, glmnet = as.character(packageVersion("glmnet")), largest_lasso = top, ridge = one(0), lasso = one(1)), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
