#!/usr/bin/env Rscript
# make.R : tests of over-dispersion for the Poisson fit of Counts/epilepsy, written out in matrix form in R 4.2.2 from the papers named
# in SOURCE.md; the auxiliary regressions by stats::lm.
suppressMessages(library(jsonlite))
d <- read.csv("../epilepsy/data.csv"); d$tr <- as.integer(d$trt == "progabide"); ctl <- glm.control(epsilon = 1e-15, maxit = 100)
f <- y ~ lbase * tr + lage + V4; m <- glm(f, poisson, d, control = ctl); m <- glm(f, poisson, d, control = ctl, start = coef(m))
mu <- fitted(m); y <- d$y; X <- model.matrix(m); z <- ((y - mu)^2 - y) / mu
a2 <- summary(lm(z ~ 0 + mu))$coefficients; a1 <- summary(lm(z ~ 1))$coefficients
H <- sqrt(mu) * X %*% solve(crossprod(X, X * mu)) %*% t(X * sqrt(mu)); h <- diag(H)
dean <- sum((y - mu)^2 - y + h * mu) / sqrt(2 * sum(mu^2))
writeLines(toJSON(list(cases = list(list(id = "epilepsy", alpha_quadratic = a2[1, 1], se_quadratic = a2[1, 2], alpha_linear = a1[1, 1], se_linear = a1[1, 2], dean = dean))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
