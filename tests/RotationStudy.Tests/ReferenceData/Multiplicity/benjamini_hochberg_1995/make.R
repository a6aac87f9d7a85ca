# Adjusted p values of base R for the 15 p values of Benjamini & Hochberg (1995), sec. 4, and for a family with ties.
p <- c(.0001, .0004, .0019, .0095, .0201, .0278, .0298, .0344, .0459, .3240, .4262, .5719, .6528, .7590, 1)
t <- c(.03, .01, .03, .2, .01, .049, 0, .9)
f <- function(p) list(p = p, holm = p.adjust(p, "holm"), hochberg = p.adjust(p, "hochberg"), bh = p.adjust(p, "BH"))
writeLines(jsonlite::toJSON(list(software = R.version.string, paper = f(p), ties = f(t)), digits = NA, auto_unbox = TRUE, pretty = TRUE), "expected.json")
