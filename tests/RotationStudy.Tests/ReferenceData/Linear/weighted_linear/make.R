#!/usr/bin/env Rscript
# make.R : weighted linear regression with two zero weights on invented data; fit statistics, tests, predictions, influence, variance inflation.
suppressMessages(library(jsonlite))
set.seed(882)
n <- 40; d <- data.frame(age = round(runif(n, 10, 24), 1), mass = 0, group = sample(c("a", "b", "c"), n, TRUE))
d$mass <- round(20 + 2 * d$age + rnorm(n, 0, 5), 1); d$w <- round(runif(n, .1, 4), 2); d$w[c(7, 31)] <- 0
d$y <- round(10 + 0.8 * d$age - 0.1 * d$mass + 2 * (d$group == "b") + rnorm(n, 0, 2), 2)
write.csv(d, "data.csv", row.names = FALSE)
m <- lm(y ~ age + mass + I(group == "b") + I(group == "c"), d, weights = w); s <- summary(m)
p <- predict(m, data.frame(age = c(12, 20), mass = c(40, 70), group = c("a", "c"), w = 1), interval = "confidence", se.fit = TRUE)
q <- predict(m, data.frame(age = c(12, 20), mass = c(40, 70), group = c("a", "c"), w = 1), interval = "prediction", weights = 1)
V <- vcov(m)[-1, -1]; R <- cov2cor(V); gv <- function(i) det(R[i, i, drop = FALSE]) * det(R[-i, -i, drop = FALSE]) / det(R)
used <- d$w > 0; X <- model.matrix(m)[, -1]
vif1 <- sapply(1:4, function(j) 1 / (1 - summary(lm(X[, j] ~ X[, -j], weights = d$w))$r.squared))
a0 <- lm(y ~ age + mass, d, weights = w); an <- anova(a0, m); c0 <- anova(lm(y ~ 1, d, weights = w), m)
writeLines(toJSON(list(name = "weighted_linear", versions = list(R = R.version.string), coef = unname(coef(m)), se = unname(s$coefficients[, 2]), p = unname(s$coefficients[, 4]), sigma = s$sigma, r2 = s$r.squared,
  adj_r2 = s$adj.r.squared, logLik = c(logLik(m)), df = m$df.residual, leverage = unname(hatvalues(m)), dfbeta = unname(dfbeta(m)), cook = unname(cooks.distance(m)),
  group_F = list(F = an$F[2], p = an$`Pr(>F)`[2]), overall_F = list(F = c0$F[2], p = c0$`Pr(>F)`[2]), mean = unname(p$fit), se_mean = unname(p$se.fit), new = unname(q),
  no_intercept_r2 = summary(lm(y ~ 0 + age + mass, d, weights = w))$r.squared, vif = vif1, gvif_group = gv(3:4)), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
