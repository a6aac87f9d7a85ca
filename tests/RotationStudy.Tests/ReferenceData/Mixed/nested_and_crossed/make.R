# Rscript make.R: reference values for nested and crossed random terms; R 4.2.2, lme4 1.1.31, lmerTest 3.1.3, pbkrtest 0.5.2.
# Run in this folder; writes data.csv and expected.json here, in ../pastes and in ../penicillin.
suppressMessages({library(lme4); library(lmerTest); library(pbkrtest); library(jsonlite)})
ctl <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10, maxfun = 1e6), calc.derivs = FALSE)
write.csv(Pastes[, c("strength", "batch", "sample")], "../pastes/data.csv", row.names = FALSE, quote = FALSE)
write.csv(Penicillin, "../penicillin/data.csv", row.names = FALSE, quote = FALSE)
# An unbalanced cohort of our own making: units in persons in sites, crossed by raters, random slope by person.
set.seed(20260)
sites <- 6; per <- 8
P <- data.frame(person = 1:(sites * per), site = rep(1:sites, each = per), age = round(rnorm(sites * per, 15, 2), 1))
D <- merge(P, expand.grid(person = P$person, unit = c("L", "R"), time = c(0, 0.5, 1, 2)))
D <- D[runif(nrow(D)) < 0.7, ]
D <- D[order(D$site, D$person, D$unit, D$time), ]
D$rater <- sample(c("r1", "r2", "r3", "r4"), nrow(D), TRUE)
u <- rnorm(nrow(P), 0, 2); v <- rnorm(nrow(P), 0, 1); s <- rnorm(sites, 0, 1.5); r <- c(r1 = -1, r2 = 0.4, r3 = 0.9, r4 = -0.2)
k <- rnorm(2 * nrow(P), 0, 1)
D$y <- round(20 + 0.5 * D$time + 0.3 * (D$age - 15) + s[D$site] + u[D$person] + (v[D$person] + 0.3 * u[D$person]) * D$time +
  k[2 * D$person - (D$unit == "L")] + r[D$rater] + rnorm(nrow(D)), 3)
D$unitid <- paste0(D$person, D$unit)
write.csv(D[, c("y", "time", "age", "site", "person", "unitid", "rater")], "data.csv", row.names = FALSE, quote = FALSE)
for (n in c("site", "person", "unitid", "rater")) D[[n]] <- factor(D[[n]], levels = unique(D[[n]]))
describe <- function(m, df = TRUE) {
  vc <- as.data.frame(VarCorr(m)); s <- if (df) coef(summary(m, ddf = "Satterthwaite")) else NULL
  out <- list(n = nobs(m), logLik = c(logLik(m)), fixef = as.list(fixef(m)), se = as.list(sqrt(diag(as.matrix(vcov(m))))),
    vc_group = vc$grp, vc_var1 = vc$var1, vc_var2 = vc$var2, vc_vcov = vc$vcov)
  if (df) { out$satterthwaite_df <- unname(s[, "df"]); k <- coef(summary(m, ddf = "Kenward-Roger")); out$kr_df <- unname(k[, "df"]); out$kr_se <- unname(k[, "Std. Error"]) }
  out }
ranefs <- function(m, g) { r <- ranef(m, condVar = TRUE)[[g]]; p <- attr(r, "postVar"); list(group = rownames(r), value = as.list(r), sd = apply(p, 3, function(v) sqrt(diag(as.matrix(v))))) }
A <- list()
m <- lmer(strength ~ 1 + (1 | batch) + (1 | sample), Pastes, control = ctl); A$pastes_reml <- describe(m); A$pastes_reml$batch <- ranefs(m, "batch"); A$pastes_reml$sample <- ranefs(m, "sample")
m <- lmer(strength ~ 1 + (1 | batch) + (1 | sample), Pastes, REML = FALSE, control = ctl); A$pastes_ml <- describe(m, FALSE)
pr <- confint(m, method = "profile", oldNames = FALSE, level = 0.95); A$pastes_ml$profile <- list(term = rownames(pr), lower = pr[, 1], upper = pr[, 2])
m <- lmer(diameter ~ 1 + (1 | plate) + (1 | sample), Penicillin, control = ctl); A$penicillin_reml <- describe(m); A$penicillin_reml$plate <- ranefs(m, "plate"); A$penicillin_reml$sample <- ranefs(m, "sample")
m <- lmer(diameter ~ 1 + (1 | plate) + (1 | sample), Penicillin, REML = FALSE, control = ctl); A$penicillin_ml <- describe(m, FALSE)
pr <- confint(m, method = "profile", oldNames = FALSE); A$penicillin_ml$profile <- list(term = rownames(pr), lower = pr[, 1], upper = pr[, 2])
f <- y ~ time + age + (1 + time | person) + (1 | unitid) + (1 | site) + (1 | rater)
m <- lmer(f, D, control = ctl); A$unbalanced_reml <- describe(m); A$unbalanced_reml$rater <- ranefs(m, "rater"); A$unbalanced_reml$person <- ranefs(m, "person"); A$unbalanced_reml$unit <- ranefs(m, "unitid")
L <- rbind(c(0, 1, 0), c(0, 0, 1)); s <- contestMD(m, L, ddf = "Satterthwaite"); k <- contestMD(m, L, ddf = "Kenward-Roger")
A$unbalanced_reml$satterthwaite_F <- c(s[["F value"]], s$NumDF, s$DenDF, s[["Pr(>F)"]]); A$unbalanced_reml$kr_F <- c(k[["F value"]], k$NumDF, k$DenDF, k[["Pr(>F)"]])
A$unbalanced_reml$fitted_head <- unname(head(fitted(m), 10))
m <- lmer(f, D, REML = FALSE, control = ctl); A$unbalanced_ml <- describe(m, FALSE)
m0 <- lmer(y ~ time + (1 + time | person) + (1 | unitid) + (1 | site) + (1 | rater), D, REML = FALSE, control = ctl); a <- anova(m0, m); A$lrt_age <- list(chisq = a$Chisq[2], p = a[["Pr(>Chisq)"]][2])
m <- lmer(y ~ time + age + (1 | person) + (1 | rater), D, control = ctl); A$two_crossed_reml <- describe(m)
data(sleepstudy); m <- lmer(Reaction ~ Days + (Days | Subject), sleepstudy, REML = FALSE, control = ctl); pr <- confint(m, method = "profile", oldNames = FALSE); A$sleepstudy_ml_profile <- list(term = rownames(pr), lower = pr[, 1], upper = pr[, 2])
keep <- function(pattern, folder) writeLines(toJSON(A[grepl(pattern, names(A))], digits = NA, auto_unbox = TRUE, pretty = TRUE), file.path(folder, "expected.json"))
keep("^pastes", "../pastes"); keep("^penicillin", "../penicillin"); keep("^(unbalanced|lrt|two|sleep)", ".")
