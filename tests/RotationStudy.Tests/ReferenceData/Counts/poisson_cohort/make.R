#!/usr/bin/env Rscript
# make.R cohort-folder : Poisson rates of the synthetic cohort with sandwich variances taken at the converged weights.
# A fit's stored weights lag one iteration behind its coefficients (relative error up to 1.5e-8 in the standard errors of
# Peers/tight_300.json); a second fit started from the first one's coefficients removes the lag.
suppressMessages({library(data.table); library(sandwich); library(jsonlite)})
dir <- commandArgs(TRUE)[1]
P <- fread(file.path(dir, "persons.csv")); V <- fread(file.path(dir, "visits.csv")); E <- fread(file.path(dir, "events.csv"))
P[, female := as.integer(sex == "F")]; P[, fud := pmax(30L, as.integer(floor(follow_years * 365.25)))]
K <- merge(V[visit_no == 1L, .(person_id, knee, av = anteversion_deg, tfa = thigh_foot_angle_deg, lax = laxity_0_9)], P, by = "person_id")
S <- E[event_type == "stabilisation_surgery", .(surg = min(event_day)), by = .(person_id, knee)]
D <- E[event_type == "dislocation", .(nd = .N), by = .(person_id, knee)]
K <- merge(merge(K, S, by = c("person_id", "knee"), all.x = TRUE), D, by = c("person_id", "knee"), all.x = TRUE)
K[is.na(nd), nd := 0L]; K[, pyr := fifelse(is.na(surg), fud, surg) / 365.25]; K <- as.data.frame(K[!is.na(av) & !is.na(tfa)])
ctl <- glm.control(epsilon = 1e-14, maxit = 100); f <- nd ~ av + tfa + lax + age_enrol + female + offset(log(pyr))
m <- glm(f, poisson, K, control = ctl); m <- glm(f, poisson, K, control = ctl, start = coef(m))
mu <- fitted(m); y <- K$nd; X <- model.matrix(m); A <- crossprod(X, mu); h <- mu * rowSums((X %*% solve(crossprod(X, X * mu))) * X)
# Dean (1992) P_B with the leverage adjustment and van den Broek (1995), written out from the papers.
dean <- sum((y - mu)^2 - y + h * mu) / sqrt(2 * sum(mu^2)); zi <- sum((y == 0) * exp(mu) - 1)^2 / (sum(exp(mu) - 1) - c(t(A) %*% solve(crossprod(X, X * mu)) %*% A))
l <- function(v) as.list(v); se <- function(v) as.list(sqrt(diag(v)))
writeLines(toJSON(list(cases = list(list(id = "poisson_rate", coef = l(coef(m)), se_model = se(vcov(m)),
  se_CR0 = se(vcovCL(m, cluster = K$person_id, type = "HC0", cadjust = FALSE)), logLik = c(logLik(m)), dean = dean, zero_inflation = zi))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
