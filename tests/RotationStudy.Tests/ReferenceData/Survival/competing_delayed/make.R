# Synthetic rows in clusters with delayed entry, ties and two causes: Rscript make.R (R 4.2.2, survival 3.5-3, cmprsk 2.2-11).
suppressMessages({library(survival); library(cmprsk); library(jsonlite)})
RNGkind("Mersenne-Twister", "Inversion", "Rejection"); set.seed(907)
id <- rep(1:60, times = sample(1:2, 60, TRUE)); n <- length(id); u <- rnorm(60)[id]
d <- data.frame(id = id, x1 = round(rnorm(n), 2), x2 = rbinom(n, 1, .5)); d$arm <- c("p", "q")[1 + (id %% 2)]
d$entry <- sample(c(0, 0, 0, 1, 2, 4), n, TRUE)
t <- d$entry + .5 + rexp(n, exp(-2.2 + .4 * d$x1 + .4 * u)); k <- 1 + rbinom(n, 1, .35); c <- d$entry + 1 + runif(n, 0, 14)
d$exit <- ceiling(pmin(t, c)); d$cause <- ifelse(t <= c, k, 0)
write.csv(d, "data.csv", row.names = FALSE, quote = FALSE)
f <- factor(d$cause, 0:2, c("none", "one", "two"))
aj <- function(s) list(time = s$time, n_risk = s$n.risk[, 1], pstate = s$pstate, se = s$std.err)
d$row <- seq_len(n); a1 <- survfit(Surv(entry, exit, f) ~ 1, d, id = row); tm <- a1$time; r <- resid(a1, times = tm, type = "pstate")
by <- sapply(seq_along(tm), function(i) sqrt(colSums(rowsum(r[, i, ], d$id)^2))); a0 <- survfit(Surv(exit, f) ~ 1, d)
ci <- cuminc(d$exit, d$cause, d$arm); tp <- timepoints(ci, c(3, 6, 9))
fg <- crr(d$exit, d$cause, as.matrix(d[, c("x1", "x2")]), gtol = 1e-12)
pr <- predict(fg, cbind(1, 1))
writeLines(toJSON(list(versions = c(R.version.string, paste("survival", packageVersion("survival")), paste("cmprsk", packageVersion("cmprsk"))), cases = list(
  c(id = "aj_delayed_cluster", aj(a1)[1:3], list(se = t(by))), c(id = "aj_delayed", aj(a1)), c(id = "aj_from_zero", aj(a0)),
  list(id = "cuminc_arm", times = c(3, 6, 9), rows = rownames(tp$est), est = unname(tp$est), var = unname(tp$var), gray = unname(ci$Tests[, 1])),
  list(id = "finegray", coef = as.list(unname(fg$coef)), se = sqrt(diag(fg$var)), se_inverse_info = sqrt(diag(fg$invinf)), loglik = fg$loglik, loglik_null = fg$loglik.null, predict_time = unname(pr[, 1]), predict = unname(pr[, 2])))),
  digits = NA, auto_unbox = TRUE, na = "string"), "expected.json")
