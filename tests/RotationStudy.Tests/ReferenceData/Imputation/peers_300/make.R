# The analysis of the synthetic cohort of 300 persons: logistic regression after 400 imputations by mice (predictive mean
# matching, 5 iterations). Argument: folder of the cohort. Writes data.csv (one row per knee) and expected.json.
suppressPackageStartupMessages({ library(data.table); library(mice) }); dir <- commandArgs(TRUE)[1]
P <- fread(file.path(dir, "persons.csv")); V <- fread(file.path(dir, "visits.csv")); E <- fread(file.path(dir, "events.csv"))
P[, female := as.integer(sex == "F")]
B <- V[visit_no == 1L, .(person_id, knee, av = anteversion_deg, tfa = thigh_foot_angle_deg, lax = laxity_0_9, quad = quad_glide, pain = pain_0_10, out = outcome_0_100)]
K <- merge(B, P, by = "person_id"); setorder(K, person_id, knee); D <- E[event_type == "dislocation", .(nd = .N), by = .(person_id, knee)]
K <- merge(K, D, by = c("person_id", "knee"), all.x = TRUE); setorder(K, person_id, knee); K[is.na(nd), nd := 0L]; K[, any := as.integer(nd > 0)]
d <- as.data.frame(K)[, c("any", "av", "tfa", "lax", "quad", "pain", "out", "age_enrol", "female")]
write.csv(d, "data.csv", row.names = FALSE, quote = FALSE)
i <- mice(d, m = 400, maxit = 5, printFlag = FALSE, seed = 1); p <- pool(with(i, glm(any ~ av + tfa + lax + age_enrol + female, binomial))); q <- p$pooled
writeLines(jsonlite::toJSON(list(software = R.version.string, mice = as.character(packageVersion("mice")), m = 400, term = as.character(q$term), estimate = q$estimate, within = q$ubar, between = q$b, missing = as.list(colSums(is.na(d)))), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
