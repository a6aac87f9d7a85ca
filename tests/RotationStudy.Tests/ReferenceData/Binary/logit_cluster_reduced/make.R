#!/usr/bin/env Rscript
# make.R cohort-folder : bias-reduced cluster variance (CR2) with Satterthwaite degrees of freedom for a logistic and a Poisson fit of the synthetic cohort,
# written out in full matrices in R 4.2.2 from Pustejovsky & Tipton (J Bus Econ Stat 2018;36:672-683, sections 2.1 and 3): working weights at the estimate, working
# model of independent rows.
suppressMessages({library(data.table); library(jsonlite)})
dir <- commandArgs(TRUE)[1]
P <- fread(file.path(dir, "persons.csv")); V <- fread(file.path(dir, "visits.csv")); E <- fread(file.path(dir, "events.csv"))
P[, female := as.integer(sex == "F")]; P[, fud := pmax(30L, as.integer(floor(follow_years * 365.25)))]
K <- merge(V[visit_no == 1L, .(person_id, knee, av = anteversion_deg, tfa = thigh_foot_angle_deg, lax = laxity_0_9)], P, by = "person_id")
S <- E[event_type == "stabilisation_surgery", .(surg = min(event_day)), by = .(person_id, knee)]
D <- E[event_type == "dislocation", .(nd = .N), by = .(person_id, knee)]
K <- merge(merge(K, S, by = c("person_id", "knee"), all.x = TRUE), D, by = c("person_id", "knee"), all.x = TRUE)
K[is.na(nd), nd := 0L]; K[, any := as.integer(nd > 0)]; K[, pyr := fifelse(is.na(surg), fud, surg) / 365.25]; K <- as.data.frame(K[!is.na(av) & !is.na(tfa)])
ctl <- glm.control(epsilon = 1e-15, maxit = 100)
cr2 <- function(id, f, fam) { m <- glm(f, fam, K, control = ctl); m <- glm(f, fam, K, control = ctl, start = coef(m)); X <- model.matrix(m); mu <- fitted(m); w <- if (fam == "binomial") mu * (1 - mu) else mu
  # Phi = 1/w, D'D = Phi; A = D B^(-1/2) D with B = D (Phi - X M X') D per cluster (their equation for weights that are the inverse of Phi)
  M <- solve(crossprod(X, X * w)); e <- (m$y - mu) / w; n <- nrow(X); p <- ncol(X); g <- split(seq_len(n), K$person_id); R <- diag(n) - X %*% M %*% t(X * w)
  A <- lapply(g, function(i) { D <- diag(1 / sqrt(w[i]), length(i)); B <- D %*% (diag(1 / w[i], length(i)) - X[i, , drop = FALSE] %*% M %*% t(X[i, , drop = FALSE])) %*% D; q <- eigen(B, symmetric = TRUE); D %*% q$vectors %*% diag(1 / sqrt(q$values), length(i)) %*% t(q$vectors) %*% D })
  U <- t(sapply(seq_along(g), function(k) { i <- g[[k]]; c(crossprod(X[i, , drop = FALSE] * w[i], A[[k]] %*% e[i])) })); Vc <- M %*% crossprod(U) %*% M
  df <- sapply(1:p, function(j) { Q <- sapply(seq_along(g), function(k) { i <- g[[k]]; crossprod(R[i, , drop = FALSE], t(A[[k]]) %*% (X[i, , drop = FALSE] * w[i]) %*% M[, j]) / sqrt(w) }); G <- crossprod(Q); sum(diag(G))^2 / sum(G^2) })
  list(id = id, coef = as.list(coef(m)), se = as.list(setNames(sqrt(diag(Vc)), names(coef(m)))), df = df) }
writeLines(toJSON(list(cases = list(cr2("logistic", any ~ av + tfa + lax + age_enrol + female, "binomial"), cr2("poisson", nd ~ av + tfa + lax + age_enrol + female + offset(log(pyr)), "poisson"))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
