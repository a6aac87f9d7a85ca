# Run in this folder: profile-likelihood interval of the random intercept's standard deviation; R 4.2.2, lme4 1.1.31.
suppressMessages({library(lme4); library(jsonlite)})
d <- read.csv("../epilepsy/data.csv"); d$tr <- as.integer(d$trt == "progabide")
f <- function(pts) glmer(y ~ lbase * tr + lage + V4 + (1 | subject), d, poisson, nAGQ = pts, control = glmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-9, maxfun = 1e5), tolPwrss = 1e-12))
m <- f(10)
dev <- update(m, devFunOnly = TRUE)
par <- unlist(getME(m, c("theta", "fixef")))
best <- dev(par)
safe <- function(p) tryCatch(dev(p), error = function(e) 1e6)
rise <- function(s) { b <- par[-1]; for (i in 1:3) b <- nlminb(b, function(b) safe(c(s, b)), scale = 1 / pmax(abs(par[-1]), 0.05), control = list(rel.tol = 1e-15, x.tol = 1e-12, eval.max = 5000, iter.max = 2000))$par; sqrt(max(0, safe(c(s, b)) - best)) - sqrt(qchisq(0.95, 1)) }
lower <- uniroot(rise, c(par[1] * 0.6, par[1] * 0.98), tol = 1e-7)$root
upper <- uniroot(rise, c(par[1] * 1.02, par[1] * 1.5), tol = 1e-7)$root
writeLines(toJSON(list(sd = unname(par[1]), sd_lower = lower, sd_upper = upper), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
