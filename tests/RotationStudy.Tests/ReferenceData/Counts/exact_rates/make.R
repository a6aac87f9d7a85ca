#!/usr/bin/env Rscript
# make.R : exact Poisson intervals by stats::poisson.test (R 4.2.2).
suppressMessages(library(jsonlite))
r <- lapply(list(c(0, 10), c(1, 25.5), c(7, 100), c(137, 24.19893)), function(v) { t <- poisson.test(v[1], v[2]); list(events = v[1], exposure = v[2], lower = t$conf.int[1], upper = t$conf.int[2]) })
q <- lapply(list(c(11, 800, 23, 3000), c(0, 50, 4, 60), c(4, 60, 0, 50), c(15, 19017, 41, 28010)), function(v) { t <- poisson.test(v[c(1, 3)], v[c(2, 4)]); list(events = v[c(1, 3)], exposures = v[c(2, 4)], ratio = if (is.finite(t$estimate)) t$estimate[[1]] else "Inf", lower = t$conf.int[1], upper = if (is.finite(t$conf.int[2])) t$conf.int[2] else "Inf",
  p_greater = poisson.test(v[c(1, 3)], v[c(2, 4)], alternative = "greater")$p.value, p_less = poisson.test(v[c(1, 3)], v[c(2, 4)], alternative = "less")$p.value) })
writeLines(toJSON(list(cases = list(list(id = "rates", rates = r), list(id = "ratios", ratios = q))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
