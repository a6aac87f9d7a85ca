# Synthetic rows in clusters of one to three, with delayed entry, ties, strata and weights: Rscript make.R (R 4.2.2, survival 3.5-3).
suppressMessages({library(survival); library(jsonlite)})
RNGkind("Mersenne-Twister", "Inversion", "Rejection"); set.seed(4071)
id <- rep(1:40, times = sample(1:3, 40, TRUE)); n <- length(id); u <- rnorm(40)[id]
d <- data.frame(id = id, x1 = round(rnorm(n), 2), x2 = rbinom(n, 1, .5), site = sample(c("a", "b"), n, TRUE), weight = sample(c(.5, 1, 2), n, TRUE))
d$arm <- c("p", "q", "r")[1 + (id %% 3)]
d$entry <- sample(c(0, 0, 0, 1, 2, 3, 5), n, TRUE)
t <- d$entry + 1 + rexp(n, exp(-2.3 + .5 * d$x1 + .4 * d$x2 + .5 * u)); c <- d$entry + 1 + runif(n, 0, 15)
d$exit <- ceiling(pmin(t, c)); d$event <- as.integer(t <= c)
write.csv(d, "data.csv", row.names = FALSE, quote = FALSE)
cc <- coxph.control(eps = 1e-14, toler.chol = 1e-15, iter.max = 60)
curve <- function(s) list(time = s$time, n_risk = s$n.risk, n_event = s$n.event, surv = s$surv, se = s$std.err * if (isTRUE(s$logse)) s$surv else 1, lower = s$lower, upper = s$upper)
fit <- function(m) list(coef = as.list(coef(m)), se = sqrt(diag(if (is.null(m$naive.var)) m$var else m$naive.var)), se_robust = if (is.null(m$naive.var)) NULL else sqrt(diag(m$var)), loglik = m$loglik, score = m$score)
res <- function(m) list(martingale = unname(residuals(m)), deviance = unname(residuals(m, "deviance")), score_resid = unname(residuals(m, "score")), dfbeta = unname(residuals(m, "dfbeta")), dfbeta_id = unname(residuals(m, "dfbeta", collapse = d$id)), schoenfeld = unname(as.matrix(residuals(m, "schoenfeld"))), scaled = unname(as.matrix(residuals(m, "scaledsch"))))
base <- function(m) { b <- basehaz(m, centered = FALSE); list(time = b$time, hazard = b$hazard, strata = as.character(b$strata)) }
new <- data.frame(x1 = c(0, 1), x2 = c(0, 1))
pred <- function(m) { s <- survfit(m, newdata = new, conf.type = "log-log"); list(time = s$time, surv = s$surv, se_cumhaz = s$std.err, lower = s$lower, upper = s$upper, cumhaz = s$cumhaz) }
e <- coxph(Surv(entry, exit, event) ~ x1 + x2, d, control = cc); b <- coxph(Surv(entry, exit, event) ~ x1 + x2, d, ties = "breslow", control = cc)
es <- coxph(Surv(entry, exit, event) ~ x1 + x2 + strata(site), d, cluster = id, control = cc); bw <- coxph(Surv(entry, exit, event) ~ x1 + x2, d, ties = "breslow", weights = weight, cluster = id, control = cc)
ew <- coxph(Surv(entry, exit, event) ~ x1 + x2, d, weights = weight, cluster = id, control = cc); ec <- coxph(Surv(entry, exit, event) ~ x1 + x2, d, cluster = id, control = cc)
ex <- coxph(Surv(exit, event) ~ x1 + x2 + strata(site), d, ties = "exact", control = cc)
xd <- coxph(Surv(entry, exit, event) ~ x1 + x2, d, ties = "exact", control = cc)
km1 <- survfit(Surv(entry, exit, event) ~ 1, d, cluster = id, conf.type = "plain"); km2 <- survfit(Surv(exit, event) ~ arm, d, cluster = id, conf.type = "log-log")
lr <- function(rho, f) { s <- survdiff(f, d, rho = rho); list(chisq = s$chisq, obs = s$obs, exp = s$exp) }
q <- quantile(survfit(Surv(exit, event) ~ arm, d, conf.type = "log"), c(.25, .5))
rm1 <- summary(survfit(Surv(exit, event) ~ arm, d), rmean = 10)$table
zph <- function(m, t) unname(cox.zph(m, t)$table)
writeLines(toJSON(list(versions = c(R.version.string, paste("survival", packageVersion("survival"))), cases = list(
  c(id = "km_delayed_cluster", curve(km1)), c(id = "km_arm_cluster", curve(km2), list(strata = names(km2$strata), size = unname(km2$strata))),
  list(id = "quantiles_arm", q = unname(q$quantile), lower = unname(q$lower), upper = unname(q$upper)),
  list(id = "rmst10_arm", rmean = unname(rm1[, grep("rmean", colnames(rm1))[1]]), se = unname(rm1[, grep("se\\(rmean", colnames(rm1))[1]])),
  c(id = "logrank_arm", lr(0, Surv(exit, event) ~ arm)), c(id = "logrank_arm_strata", lr(0, Surv(exit, event) ~ arm + strata(site))), c(id = "fh_rho1_arm", lr(1, Surv(exit, event) ~ arm)), c(id = "fh_rho_half_arm_strata", lr(.5, Surv(exit, event) ~ arm + strata(site))),
  c(id = "cox_efron", fit(e), res(e), list(zph_km = zph(e, "km"), zph_identity = zph(e, "identity"), zph_log = zph(e, "log"), zph_rank = zph(e, "rank"), base = base(e), pred = pred(e))),
  c(id = "cox_breslow", fit(b), res(b), list(zph_km = zph(b, "km"), base = base(b), pred = pred(b))),
  c(id = "cox_efron_cluster", fit(ec), list(pred = pred(ec))), c(id = "cox_efron_strata_cluster", fit(es), res(es), list(zph_km = zph(es, "km"), zph_identity = zph(es, "identity"), base = base(es))),
  c(id = "cox_breslow_weights_cluster", fit(bw), res(bw), list(base = base(bw))), c(id = "cox_efron_weights_cluster", fit(ew), res(ew), list(base = base(ew))), c(id = "cox_exact_strata", fit(ex)), c(id = "cox_exact_delayed", fit(xd)))),
  digits = NA, auto_unbox = TRUE, pretty = FALSE, na = "string", null = "null"), "expected.json")
