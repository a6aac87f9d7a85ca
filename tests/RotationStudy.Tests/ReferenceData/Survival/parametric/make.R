# Parametric hazards on Survival/clustered_delayed/data.csv: Rscript make.R (R 4.2.2, survival 3.5-3).
# Weibull from time zero by survreg; Weibull with delayed entry and the spline model by the general
# optimiser nlm on the likelihood written out here, then twelve Newton steps with its derivatives.
suppressMessages({library(survival); library(jsonlite)})
d <- read.csv("../clustered_delayed/data.csv"); X <- cbind(d$x1, d$x2)
w <- survreg(Surv(exit, event) ~ x1 + x2, d, dist = "weibull", control = survreg.control(rel.tolerance = 1e-14, maxiter = 100))
rob <- survreg(Surv(exit, event) ~ x1 + x2, d, dist = "weibull", cluster = id, control = survreg.control(rel.tolerance = 1e-14, maxiter = 100))
spline <- function(u, k, deriv = FALSE) { r <- diff(range(k)); p <- function(a) { v <- pmax(u - a, 0) / r; if (deriv) 3 * v^2 / r else v^3 }
  B <- if (deriv) cbind(0, rep(1, length(u))) else cbind(1, u)
  for (i in seq_len(length(k) - 2)) { s <- (max(k) - k[i + 1]) / r; B <- cbind(B, p(k[i + 1]) - s * p(min(k)) - (1 - s) * p(max(k))) }; B }
fit <- function(entry, inner) { u <- log(d$exit); k <- quantile(u[d$event == 1], (0:(inner + 1)) / (inner + 1), type = 7, names = FALSE); m <- inner + 2
  Z <- cbind(spline(u, k), X); D <- spline(u, k, TRUE); late <- entry > 0; Z0 <- cbind(spline(log(pmax(entry, 1e-9)), k), X)
  nll <- function(th) { s <- drop(D %*% th[1:m]); if (any(s[d$event == 1] <= 0)) return(1e10)
    eta <- drop(Z %*% th); -(sum((eta + log(pmax(s, 1e-300)) - u)[d$event == 1]) - sum(exp(eta)) + sum(exp(drop(Z0 %*% th))[late])) }
  th <- c(log(sum(d$event) / sum(d$exit - entry)), 1, rep(0, inner), 0, 0); f <- NULL
  for (i in 1:6) { f <- nlm(nll, th, gradtol = 1e-12, steptol = 1e-14, iterlim = 500); th <- f$estimate }
  E <- d$event == 1; DX <- cbind(D, 0, 0)
  for (i in 1:12) { s <- drop(DX %*% th); h <- exp(drop(Z %*% th)); h0 <- exp(drop(Z0 %*% th)) * late
    g <- colSums((Z + DX / s)[E, ]) - colSums(h * Z) + colSums(h0 * Z0)
    H <- -crossprod((DX / s)[E, ]) - crossprod(Z, h * Z) + crossprod(Z0, h0 * Z0); th <- th - drop(solve(H, g)) }
  list(knots = k, theta = th, loglik = -nll(th), se = unname(sqrt(diag(solve(-H))))) }
writeLines(toJSON(list(versions = c(R.version.string, paste("survival", packageVersion("survival"))), cases = list(
  list(id = "weibull", coef = unname(coef(w)), log_scale = log(w$scale), se = unname(sqrt(diag(w$var))), se_robust = unname(sqrt(diag(rob$var))), loglik = w$loglik[2]),
  c(id = "weibull_delayed", fit(d$entry, 0)), c(id = "spline2", fit(rep(0, nrow(d)), 2)), c(id = "spline3_delayed", fit(d$entry, 3)))), digits = NA, auto_unbox = TRUE), "expected.json")
