#!/usr/bin/env Rscript
# make.R : linear regression with a restricted cubic spline of four knots, test of non-linearity, curve relative to a reference value, interaction.
suppressMessages({library(MASS); library(Hmisc); library(jsonlite)})
d <- birthwt[, c("bwt", "lwt", "age", "smoke")]; write.csv(d, "data.csv", row.names = FALSE)
k <- rcspline.eval(d$lwt, nk = 4, knots.only = TRUE); B <- rcspline.eval(d$lwt, knots = k, inclx = TRUE)
m <- lm(d$bwt ~ B + d$age + d$smoke); m0 <- lm(d$bwt ~ d$lwt + d$age + d$smoke); m1 <- lm(d$bwt ~ d$age + d$smoke)
at <- c(90, 110, 130, 180, 240); L <- rcspline.eval(at, knots = k, inclx = TRUE); R <- rcspline.eval(c(120, 121), knots = k, inclx = TRUE)[1, ]
D <- cbind(0, sweep(L, 2, R), 0, 0); v <- D %*% coef(m); s <- sqrt(diag(D %*% vcov(m) %*% t(D))); q <- qt(.975, m$df.residual)
a <- anova(m0, m); b <- anova(m1, m)
p <- lm(bwt ~ poly(lwt, 3, raw = TRUE) + age, d); i <- lm(bwt ~ lwt * smoke + age, d)
writeLines(toJSON(list(name = "spline_curve", versions = list(R = R.version.string, Hmisc = as.character(packageVersion("Hmisc"))), knots = k, coef = unname(coef(m)),
  nonlinear = list(F = a$F[2], p = a$`Pr(>F)`[2]), association = list(F = b$F[2], p = b$`Pr(>F)`[2]), at = at, value = c(v), se = s, lower = c(v) - q * s, upper = c(v) + q * s,
  cubic_fitted_1to5 = unname(fitted(p)[1:5]), cubic_nonlinear_F = anova(lm(bwt ~ lwt + age, d), p)$F[2], interaction = unname(coef(i)["lwt:smoke"])), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
