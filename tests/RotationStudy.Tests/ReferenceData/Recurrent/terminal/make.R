# Made-up histories of recurrent events with a terminal event; Ghosh and Lin's regression by the R package mets.
# Rscript make.R, in this folder: writes data.csv and expected.json.
suppressMessages(library(mets))
set.seed(20021)
units <- 90
rows <- list()
for (i in 1:units) {
  x1 <- round(rnorm(1), 2)
  x2 <- rbinom(1, 1, 0.5)
  frailty <- rgamma(1, 2, 2)
  censoring <- runif(1, 1, 5)
  death <- rexp(1, 0.18 * exp(0.4 * x2))
  end <- round(min(censoring, death), 4)
  status <- ifelse(death < censoring, 2, 0)
  time <- 0
  from <- 0
  repeat {
    time <- time + rexp(1, 0.5 * frailty * exp(0.4 * x1 - 0.3 * x2))
    if (time >= end) break
    at <- round(time, 4)
    if (at <= from || at >= end) next
    rows[[length(rows) + 1]] <- data.frame(unit = i, start = from, stop = at, status = 1, x1 = x1, x2 = x2)
    from <- at
  }
  rows[[length(rows) + 1]] <- data.frame(unit = i, start = from, stop = end, status = status, x1 = x1, x2 = x2)
}
data <- do.call(rbind, rows)
write.csv(data, "data.csv", row.names = FALSE, quote = FALSE)
fit <- recreg(Event(start, stop, status) ~ x1 + x2 + cluster(unit), data = data, cause = 1, death.code = 2, cens.code = 0)
number <- function(v) paste0("[", paste(sprintf("%.15g", v), collapse = ", "), "]")
cumhaz <- fit$cumhaz
last <- nrow(cumhaz)
half <- last %/% 2
writeLines(c("{",
  sprintf('  "software": "R %s, mets %s",', getRversion(), packageVersion("mets")),
  '  "cases": {',
  sprintf('    "coef": %s,', number(coef(fit))),
  sprintf('    "se": %s,', number(fit$se.coef)),
  sprintf('    "information": %s,', number(-fit$hessian)),
  sprintf('    "mean_time": %s,', number(cumhaz[c(half, last), 1])),
  sprintf('    "mean": %s', number(cumhaz[c(half, last), 2])),
  "  }", "}"), "expected.json")
