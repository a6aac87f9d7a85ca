#!/usr/bin/env Rscript
# make.R : deviances of the 44 fractional polynomials of age, (a) proportional hazards in the German Breast Cancer Study Group data, adjusted; (b) linear regression.
suppressMessages({library(survival); library(jsonlite)})
g <- gbsg; d <- data.frame(time = g$rfstime, status = g$status, age = g$age, hormon = g$hormon, grade23 = as.integer(g$grade >= 2), enodes = exp(-0.12 * g$nodes), pgr = g$pgr)
write.csv(d, "data.csv", row.names = FALSE)
P <- c(-2, -1, -.5, 0, .5, 1, 2, 3)
pw <- function(z, p) if (p == 0) log(z) else z^p
fp <- function(z, p) if (length(p) == 1) cbind(pw(z, p)) else if (p[1] == p[2]) cbind(pw(z, p[1]), pw(z, p[1]) * log(z)) else cbind(pw(z, p[1]), pw(z, p[2]))
all <- c(lapply(P, c), unlist(lapply(1:8, function(i) lapply(i:8, function(j) c(P[i], P[j]))), recursive = FALSE))
z <- d$age / 50; o <- cbind(d$hormon, d$grade23, d$enodes, sqrt((d$pgr + 1) / 1000))
cc <- coxph.control(eps = 1e-12, iter.max = 50)
dev <- function(X) { X <- cbind(X, o); -2 * coxph(Surv(d$time, d$status) ~ X, ties = "efron", control = cc)$loglik[2] }
lin <- function(X) -2 * c(logLik(if (is.null(X)) lm(log(pgr + 1) ~ 1, d) else lm(log(pgr + 1) ~ X, d)))
w <- lapply(all, function(p) dev(fp(z, p))); l <- lapply(all, function(p) lin(fp(z, p)))
best <- function(v, k) { i <- which(lengths(all) == k); i <- i[which.min(unlist(v)[i])]; list(powers = I(all[[i]]), deviance = v[[i]]) }
out <- function(v, none) list(null = none, linear = v[[which(P == 1)]], first = best(v, 1), second = best(v, 2))
b <- coxph(Surv(time, status) ~ I((age / 50)^-2) + I((age / 50)^-.5) + o, d, ties = "efron", control = cc)
writeLines(toJSON(list(name = "fractional_polynomials", versions = list(R = R.version.string, survival = as.character(packageVersion("survival"))), cox = out(w, dev(NULL)), linear = out(l, lin(NULL)),
  published = list(basis = "recalled, not re-read: Sauerbrei W, Royston P. J R Stat Soc A 1999;162:71-94, GBSG model III: age powers -2, -0.5", powers = c(-2, -.5)), coef_age = unname(coef(b)[1:2])), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
