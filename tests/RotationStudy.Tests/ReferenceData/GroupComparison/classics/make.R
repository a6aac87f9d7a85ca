#!/usr/bin/env Rscript
# make.R : classical two- and several-group comparisons; data are printed in the tests themselves.
suppressMessages(library(jsonlite))
h <- function(t) list(statistic = unname(t$statistic), df = unname(t$parameter), p = t$p.value, estimate = unname(t$estimate), ci = if (is.null(t$conf.int)) NULL else c(t$conf.int))
s1 <- sleep$extra[1:10]; s2 <- sleep$extra[11:20]
perm <- c(0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46); perm2 <- c(1.15, 0.88, 0.90, 0.74, 1.21)
dep1 <- c(1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30); dep2 <- c(0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29)
muco <- list(c(2.9, 3.0, 2.5, 2.6, 3.2), c(3.8, 2.7, 4.0, 2.4), c(2.8, 3.4, 3.7, 2.2, 2.0))
pg <- split(PlantGrowth$weight, PlantGrowth$group)
job <- matrix(c(1, 2, 1, 0, 3, 3, 6, 1, 10, 10, 14, 9, 6, 7, 12, 11), 4, 4)
twins <- matrix(c(2, 10, 15, 3), 2, byrow = TRUE); tea <- matrix(c(3, 1, 1, 3), 2)
six <- rbind(c(1, 2, 2, 1, 1, 0, 1), c(2, 0, 0, 2, 3, 0, 0), c(0, 1, 1, 1, 2, 7, 3), c(1, 1, 2, 0, 0, 0, 1), c(0, 1, 1, 1, 1, 0, 0))
set.seed(1); tied1 <- rpois(60, 4); tied2 <- rpois(55, 5)
ex <- wilcox.test(tied1, tied2, exact = FALSE, correct = TRUE)
smd_cat <- function(a, b) { p <- (a / sum(a))[-1]; q <- (b / sum(b))[-1]; S <- ((diag(p) - p %o% p) + (diag(q) - q %o% q)) / 2; sqrt(c(t(p - q) %*% solve(S) %*% (p - q))) }
ci <- function(d, n, m) d + c(-1, 1) * qnorm(.975) * sqrt((n + m) / (n * m) + d^2 / (2 * (n + m)))
dc <- (mean(s1) - mean(s2)) / sqrt((var(s1) + var(s2)) / 2); db <- (30 / 80 - 21 / 90) / sqrt((.375 * .625 + 21 / 90 * 69 / 90) / 2); dm <- smd_cat(c(10, 20, 30, 5), c(15, 12, 40, 9))
fisher <- function(m) { t <- fisher.test(m); list(p = t$p.value, odds = unname(t$estimate), ci = c(t$conf.int), greater = fisher.test(m, alternative = "greater")$p.value) }
out <- list(name = "classics", versions = list(R = R.version.string),
  sleep_welch = h(t.test(s1, s2)), sleep_paired = h(t.test(s1, s2, paired = TRUE)), sleep_signed = h(suppressWarnings(wilcox.test(s1, s2, paired = TRUE, exact = FALSE))),
  permeability = h(wilcox.test(perm, perm2, conf.int = TRUE)), depression = h(wilcox.test(dep1, dep2, paired = TRUE, conf.int = TRUE)),
  tied = list(first = tied1, second = tied2, statistic = unname(ex$statistic), p = ex$p.value), mucociliary = h(kruskal.test(muco)), plant_kruskal = h(kruskal.test(pg)),
  plant_anova = with(summary(aov(weight ~ group, PlantGrowth))[[1]], list(F = `F value`[1], p = `Pr(>F)`[1])), plant_welch = h(oneway.test(weight ~ group, PlantGrowth)),
  job_chisq = h(suppressWarnings(chisq.test(job))), twins_yates = h(chisq.test(twins)), twins_plain = h(chisq.test(twins, correct = FALSE)),
  approval_corrected = h(mcnemar.test(matrix(c(794, 86, 150, 570), 2))), approval_plain = h(mcnemar.test(matrix(c(794, 86, 150, 570), 2), correct = FALSE)), approval_exact = h(binom.test(150, 236)),
  twins = fisher(twins), tea = fisher(tea), edge = fisher(matrix(c(0, 5, 7, 4), 2)), big = fisher(matrix(c(310, 240, 205, 330), 2)), job = fisher.test(job)$p.value, six = list(counts = c(t(six)), p = fisher.test(six, workspace = 2e7)$p.value),
  wilson = lapply(list(c(0, 12), c(7, 50), c(49, 50), c(12, 12)), function(v) list(x = v[1], n = v[2], ci = c(suppressWarnings(prop.test(v[1], v[2], correct = FALSE))$conf.int))),
  clopper = lapply(list(c(0, 12), c(7, 50), c(49, 50), c(12, 12)), function(v) list(x = v[1], n = v[2], ci = c(binom.test(v[1], v[2])$conf.int))),
  smd = list(continuous = dc, continuous_ci = ci(dc, 10, 10), binary = db, binary_ci = ci(db, 80, 90), categories = dm, categories_ci = ci(dm, 65, 76)),
  published = list(basis = "recalled, not re-read", sleep_paired_t = -4.0621, permeability_U = 35, depression_V = 40, twins_p = 0.0005367, job_p = 0.7827, approval_chisq = 17.36, six_p = 0.0393, mucociliary_H = 0.77143))
writeLines(toJSON(out, digits = NA, auto_unbox = TRUE, pretty = TRUE, null = "null"), "expected.json")
