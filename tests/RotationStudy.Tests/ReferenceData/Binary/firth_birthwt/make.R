#!/usr/bin/env Rscript
# make.R : Firth's penalised likelihood on rows 1-30 and 131-160 of Binary/birthwt, by general-purpose optimisation of the penalised log-likelihood
# (stats::nlm, then Newton steps on a numerical Hessian), profile bounds by stats::uniroot: no scoring formula is shared with the code under test.
suppressMessages(library(jsonlite))
d <- read.csv("../birthwt/data.csv"); d <- d[c(1:30, 131:160), ]; X <- cbind(1, d$age / 10, d$lwt / 100, d$ht, d$ui); y <- d$low
pl <- function(b) { e <- drop(X %*% b); w <- dlogis(e); sum(y * e - ifelse(e > 0, e + log1p(exp(-e)), log1p(exp(e)))) + .5 * c(determinant(crossprod(X, X * w))$modulus) }
num <- function(f, b, h = 1e-4) { p <- length(b); g <- numeric(p); H <- matrix(0, p, p); E <- diag(p) * h
  for (i in 1:p) { g[i] <- (8 * (f(b + E[i, ]) - f(b - E[i, ])) - (f(b + 2 * E[i, ]) - f(b - 2 * E[i, ]))) / (12 * h); for (j in 1:p) H[i, j] <- (f(b + E[i, ] + E[j, ]) - f(b + E[i, ] - E[j, ]) - f(b - E[i, ] + E[j, ]) + f(b - E[i, ] - E[j, ])) / (4 * h^2) }; list(g = g, H = H) }
mx <- function(f, b) { b <- nlm(function(z) -f(z), b, gradtol = 1e-10, steptol = 1e-12, iterlim = 500)$estimate; for (i in 1:6) { n <- num(f, b, 1e-3); b <- b - solve(n$H, n$g) }; b }
b <- mx(pl, rep(0, 5)); top <- pl(b); I <- crossprod(X, X * dlogis(drop(X %*% b))); se <- sqrt(diag(solve(I)))
prof <- function(j, v) { f <- function(z) { bb <- numeric(5); bb[j] <- v; bb[-j] <- z; pl(bb) }; z <- mx(f, b[-j]); f(z) }
q <- qchisq(.95, 1); lo <- up <- p <- numeric(5)
for (j in 1:5) { g <- function(v) 2 * (top - prof(j, v)) - q; lo[j] <- uniroot(g, b[j] - c(6, 1) * se[j], extendInt = "downX", tol = 1e-11)$root; up[j] <- uniroot(g, b[j] + c(1, 6) * se[j], extendInt = "upX", tol = 1e-11)$root; p[j] <- pchisq(2 * (top - prof(j, 0)), 1, lower.tail = FALSE) }
f0 <- function(z) pl(c(z, 0, 0, 0, 0)); null <- f0(mx(f0, 0))
writeLines(toJSON(list(cases = list(list(id = "firth", coef = b, se = se, lower = lo, upper = up, p = p, penalised_loglik = top, penalised_lr = 2 * (top - null)))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
