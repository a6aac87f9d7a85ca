#!/usr/bin/env Rscript
# make.R : conditional logistic regression by survival::clogit, exact likelihood: 1:2 sets (Trichopoulos et al. 1976, datasets::infert),
# large m:n sets made of Binary/birthwt by race, and a 1:1 example.
suppressMessages({library(survival); library(jsonlite)})
d <- infert; d <- data.frame(set = d$stratum, case = d$case, spontaneous = d$spontaneous, induced = d$induced); write.csv(d, "data.csv", row.names = FALSE, quote = FALSE)
cc <- coxph.control(eps = 1e-14, toler.chol = 1e-15, iter.max = 60)
out <- function(id, m) list(id = id, coef = as.list(coef(m)), se = as.list(sqrt(diag(vcov(m)))), loglik = m$loglik, score = m$score)
m <- clogit(case ~ spontaneous + induced + strata(set), d, control = cc)
b <- read.csv("../birthwt/data.csv"); mb <- clogit(low ~ age + lwt + smoke + ht + strata(race), b, control = cc)
writeLines(toJSON(list(cases = list(out("infert", m), out("birthwt_by_race", mb))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
