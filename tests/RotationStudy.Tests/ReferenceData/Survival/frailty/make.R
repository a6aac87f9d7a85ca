# Gamma frailty on the bladder tumours of survival::bladder2, at held variances and at the maximum of the integrated likelihood.
# Rscript make.R, in this folder: writes expected.json. The package's own search stops at a relative 1e-5; here the root of the
# derivative is found, the derivative by central differences with Richardson's extrapolation.
library(survival)
b2 <- bladder2[bladder2$start < bladder2$stop, ]
control <- coxph.control(eps = 1e-14, toler.chol = 1e-15, iter.max = 500)
held <- function(theta) coxph(Surv(start, stop, event) ~ rx + size + number + frailty(id, "gamma", theta = theta), b2, control = control)
integrated <- function(theta) held(theta)$history[[1]]$c.loglik
slope <- function(theta) {
  d <- function(h) (integrated(theta + h) - integrated(theta - h)) / (2 * h)
  (4 * d(0.005) - d(0.01)) / 3
}
best <- uniroot(slope, c(0.5, 2.5), tol = 1e-10)$root
number <- function(v) paste0("[", paste(sprintf("%.15g", v), collapse = ", "), "]")
case <- function(theta) {
  f <- held(theta)
  sprintf('{ "theta": %.15g, "coef": %s, "integrated": %.15g, "frailty": %s }', theta, number(coef(f)), f$history[[1]]$c.loglik, number(exp(f$frail[1:5])))
}
writeLines(c("{",
  sprintf('  "software": "R %s, survival %s",', getRversion(), packageVersion("survival")),
  sprintf('  "cases": [\n    %s,\n    %s,\n    %s\n  ],', case(0.25), case(2), case(best)),
  sprintf('  "none": %.15g', coxph(Surv(start, stop, event) ~ rx + size + number, b2, control = control)$loglik[2]),
  "}"), "expected.json")
