#!/usr/bin/env Rscript
# make.R : Brant's Wald test on Ordinal/housing (rows repeated by frequency), written out in matrix form in R 4.2.2 from the paper; cluster sandwich of the
# proportional-odds model by ordinal::clm with the scores taken by numerical differentiation of its log-likelihood per row.
suppressMessages({library(jsonlite); library(ordinal)})
d <- read.csv("../housing/data.csv"); d <- d[rep(seq_len(nrow(d)), d$Freq), ]; s <- match(d$Sat, c("Low", "Medium", "High"))
X <- cbind(InflMedium = d$Infl == "Medium", InflHigh = d$Infl == "High", TypeApartment = d$Type == "Apartment", TypeAtrium = d$Type == "Atrium", TypeTerrace = d$Type == "Terrace", ContHigh = d$Cont == "High") * 1
Z <- cbind(1, X); ctl <- glm.control(epsilon = 1e-15, maxit = 100); K <- 3; p <- ncol(X)
f <- lapply(1:(K - 1), function(k) { g <- glm.fit(Z, s > k, family = binomial(), control = ctl); glm.fit(Z, s > k, family = binomial(), control = ctl, start = g$coefficients) })
P <- sapply(f, function(g) plogis(drop(Z %*% g$coefficients))); B <- lapply(1:(K - 1), function(k) solve(crossprod(Z, Z * (P[, k] * (1 - P[, k])))))
V <- matrix(0, (K - 1) * p, (K - 1) * p); for (j in 1:(K - 1)) for (l in j:(K - 1)) { v <- (B[[j]] %*% crossprod(Z, Z * (P[, l] * (1 - P[, j]))) %*% B[[l]])[-1, -1]; V[(j - 1) * p + 1:p, (l - 1) * p + 1:p] <- v; V[(l - 1) * p + 1:p, (j - 1) * p + 1:p] <- t(v) }
b <- unlist(lapply(f, function(g) g$coefficients[-1])); D <- cbind(-diag(p), diag(p))
all <- c(t(D %*% b) %*% solve(D %*% V %*% t(D)) %*% (D %*% b)); each <- sapply(1:p, function(j) { e <- D[j, , drop = FALSE]; c(e %*% b)^2 / c(e %*% V %*% t(e)) })
# cluster sandwich: clusters are the 24 cells of influence, type and contact
th <- function(q) { t <- q[1:2]; e <- drop(X %*% q[-(1:2)]); up <- c(t, Inf)[s]; lo <- c(-Inf, t)[s]; log(plogis(up - e) - plogis(lo - e)) }
m <- clm(factor(s) ~ X, control = clm.control(gradTol = 1e-12)); q <- coef(m); h <- 1e-4; S <- sapply(seq_along(q), function(j) { e <- numeric(length(q)); e[j] <- h; (8 * (th(q + e) - th(q - e)) - (th(q + 2 * e) - th(q - 2 * e))) / (12 * h) })
cell <- interaction(d$Infl, d$Type, d$Cont); SC <- rowsum(S, cell); CR0 <- vcov(m) %*% crossprod(SC) %*% vcov(m)
writeLines(toJSON(list(cases = list(list(id = "brant", overall = all, each = as.list(setNames(each, colnames(X)))), list(id = "cluster", se_CR0 = sqrt(diag(unname(CR0)))))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
