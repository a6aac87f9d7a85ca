#!/usr/bin/env Rscript
# make.R : cluster-robust and heteroskedasticity-robust covariances of a linear, a weighted linear and a logistic fit on invented data.
suppressMessages({library(clubSandwich); library(sandwich); library(jsonlite)})
set.seed(4071)
size <- rep(1:5, times = c(4, 6, 5, 4, 3)); g <- rep(seq_along(size), size); n <- length(g)
u <- rnorm(length(size))[g]
d <- data.frame(cluster = g, rater = sample(1:6, n, TRUE), x = round(rnorm(n) + 0.5 * u, 3), z = rep(rbinom(length(size), 1, .4), size), t = round(runif(n, 0, 3), 2))
d$y <- round(2 + 0.7 * d$x - 0.4 * d$z + u + rnorm(n), 3); d$b <- rbinom(n, 1, plogis(-0.3 + 0.8 * d$x - 0.5 * d$z + 0.6 * u)); d$w <- round(runif(n, 0.2, 3), 2)
write.csv(d, "data.csv", row.names = FALSE)
se <- function(v) unname(sqrt(diag(v)))
C <- rbind(c(0, 1, 0, 0), c(0, 0, 1, 0), c(0, 0, 0, 1))
one <- function(id, m, ...) {
  v <- function(t) vcovCR(m, d$cluster, t, ...)
  cr2 <- v("CR2"); ct <- coef_test(m, cr2, test = "Satterthwaite"); h <- Wald_test(m, constraints = C, vcov = cr2, test = "HTZ")
  two <- function(f) lapply(list(HC0 = "HC0", CR1 = "HC1"), f)
  list(id = id, coef = unname(coef(m)), weights = unname(weights(m, "working")), cr = lapply(c(CR0 = "CR0", CR1ClustersOnly = "CR1", CR1 = "CR1S", CR2 = "CR2", CR3 = "CR3"), function(t) se(v(t))),
    cr2_df = ct[, grep("^df", colnames(ct))[1]], htz = list(F = h$Fstat, df1 = h$df_num, df2 = h$df_denom, p = h$p_val),
    hc = lapply(c(HC0 = "HC0", HC1 = "HC1", HC2 = "HC2", HC3 = "HC3"), function(t) se(vcovHC(m, type = t))),
    twoway_CR0 = se(vcovCL(m, ~ cluster + rater, type = "HC0", cadjust = FALSE, multi0 = FALSE, fix = TRUE)),
    twoway_CR1ClustersOnly = se(vcovCL(m, ~ cluster + rater, type = "HC0", cadjust = TRUE, multi0 = FALSE, fix = TRUE)), leverage = unname(hatvalues(m)))
}
ctl <- glm.control(epsilon = 1e-15, maxit = 100)
logit <- glm(b ~ x + z + t, binomial, d, control = ctl)
logit <- glm(b ~ x + z + t, binomial, d, control = ctl, start = coef(logit))   # so that the stored working weights are those at the optimum
r <- list(one("ols", lm(y ~ x + z + t, d)), one("wls_target_inverse_weights", lm(y ~ x + z + t, d, weights = w), target = 1 / d$w), one("logit", logit))
writeLines(toJSON(list(name = "cluster_robust", versions = list(R = R.version.string, clubSandwich = as.character(packageVersion("clubSandwich")), sandwich = as.character(packageVersion("sandwich"))), cases = r), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
