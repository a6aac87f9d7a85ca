#!/usr/bin/env Rscript
# make.R : log-binomial regression and standardised risks on Binary/birthwt (R 4.2.2 stats, sandwich).
suppressMessages({library(jsonlite); library(sandwich)})
d <- read.csv("../birthwt/data.csv"); ctl <- glm.control(epsilon = 1e-15, maxit = 200)
l <- function(v) as.list(v); se <- function(v) as.list(sqrt(diag(v)))
m <- glm(low ~ smoke + ht, binomial("log"), d, control = ctl, start = c(log(mean(d$low)), 0, 0)); for (i in 1:20) m <- glm(low ~ smoke + ht, binomial("log"), d, control = ctl, start = coef(m)) # scoring is linear here: weights lag the coefficients
g <- glm(low ~ smoke + age + lwt + ht, binomial, d, control = ctl); g <- glm(low ~ smoke + age + lwt + ht, binomial, d, control = ctl, start = coef(g))
X1 <- X0 <- model.matrix(g); X1[, "smoke"] <- 1; X0[, "smoke"] <- 0
p1 <- plogis(drop(X1 %*% coef(g))); p0 <- plogis(drop(X0 %*% coef(g))); G1 <- colMeans(X1 * p1 * (1 - p1)); G0 <- colMeans(X0 * p0 * (1 - p0))
dl <- function(V) list(risk1 = mean(p1), risk0 = mean(p0), difference = mean(p1) - mean(p0), log_ratio = log(mean(p1) / mean(p0)),
  se_difference = sqrt(drop((G1 - G0) %*% V %*% (G1 - G0))), se_log_ratio = sqrt(drop((G1 / mean(p1) - G0 / mean(p0)) %*% V %*% (G1 / mean(p1) - G0 / mean(p0)))))
writeLines(toJSON(list(cases = list(
  list(id = "log_binomial", coef = l(coef(m)), se_model = se(vcov(m)), logLik = c(logLik(m))),
  c(list(id = "standardised"), dl(vcov(g))),
  c(list(id = "standardised_hc0"), dl(vcovHC(g, type = "HC0"))))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
