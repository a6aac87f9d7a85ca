# Modes of the proportional-odds and logistic regressions with the pseudo-rows of White, Daniel & Royston (2010), by ordinal::clm and glm with weights.
suppressPackageStartupMessages(library(ordinal)); set.seed(2010); n <- 120
x1 <- round(rnorm(n), 3); x2 <- rbinom(n, 1, .4); e <- .8 * x1 - .6 * x2 + rlogis(n); y <- findInterval(e, c(-1, .3, 1.5)); z <- as.integer(x1 + .2 * x2 > .4)
write.csv(data.frame(x1, x2, y, z), "data.csv", row.names = FALSE)
pseudo <- function(y) { K <- sort(unique(y)); X <- scale(cbind(x1, x2), scale = FALSE); s <- apply(X, 2, sd); w <- 2 + length(K) - 1
  A <- do.call(rbind, lapply(1:2, function(j) do.call(rbind, lapply(K, function(k) { m <- matrix(0, 2, 2); m[, j] <- c(s[j], -s[j]); data.frame(a = m[, 1], b = m[, 2], y = k) }))))
  list(d = rbind(data.frame(a = X[, 1], b = X[, 2], y = y), A), w = c(rep(1, n), rep(w / nrow(A), nrow(A)))) }
py <- pseudo(y); wy <- py$w; m <- clm(factor(y) ~ a + b, data = py$d, weights = wy, control = clm.control(gradTol = 1e-11)); v <- vcov(m)
pz <- pseudo(z); wz <- pz$w; g <- suppressWarnings(glm(y ~ a + b, binomial, pz$d, weights = wz, control = glm.control(epsilon = 1e-15, maxit = 100)))
writeLines(jsonlite::toJSON(list(software = R.version.string, ordinal = as.character(packageVersion("ordinal")), thresholds = unname(m$alpha), slopes = unname(m$beta), se = unname(sqrt(diag(v))),
  logistic = unname(coef(g)), logistic_se = unname(sqrt(diag(vcov(g))))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
