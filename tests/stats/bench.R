# Speed of the ranking beside GNU R doing the same fits in the same run: survival::survreg on the same
# coupons, once with all variables and once over every subset of them. Only ratios are meant to be
# read; nothing is asserted.
#
#   Rscript bench.R BENCH        (meson compile -C BUILD bench)

suppressMessages(library(survival))
bench <- commandArgs(trailingOnly = TRUE)[1]

make <- function(n, k, numbers) {
    x <- sapply(seq_len(k), function(j) if (j <= numbers) runif(n) else rbinom(n, 1, 0.5))
    y <- 60 + 45 * x[, 1] + 30 * x[, k] + rnorm(n) * 15
    stop <- quantile(y, 0.6)
    list(x = as.data.frame(x), y = pmin(y, stop), broke = y <= stop)
}

ours <- function(d) {
    file <- tempfile(fileext = ".csv")
    cells <- paste0(sprintf("%.10g", d$y), ifelse(d$broke, "", "+"))
    write.csv(data.frame(d$x, y = cells), file, row.names = FALSE, quote = FALSE)
    lines <- strsplit(system2(bench, c(file, "180"), stdout = TRUE), " ")
    setNames(as.numeric(sapply(lines, `[`, 2)), sapply(lines, `[`, 1))
}

seconds <- function(expression) system.time(expression)[["elapsed"]]

full <- function(d) survreg(Surv(y, broke) ~ ., data.frame(d$x, y = d$y, broke = d$broke),
                            dist = "gaussian")

# The fits alone, without formulas: the design is handed to R's own fitting routine.
every_subset <- function(d) {
    x <- cbind(1, as.matrix(d$x))
    y <- cbind(d$y, as.numeric(d$broke))
    k <- ncol(d$x)
    control <- survreg.control()
    for (subset in 0:(2^k - 1)) {
        columns <- c(1, 1 + which(bitwAnd(subset, 2^(0:(k - 1))) > 0))
        survreg.fit(x[, columns, drop = FALSE], y, weights = rep(1, nrow(x)),
                    offset = rep(0, nrow(x)), init = NULL, controlvals = control,
                    dist = survreg.distributions$gaussian, scale = 0, nstrat = 1, strata = 0,
                    parms = NULL)
    }
}

line <- function(what, here, there)
    cat(sprintf("%-52s %9.4f s  R %9.4f s  %7.1f times\n", what, here, there, there / here))

set.seed(1)
for (case in list(c(60, 12, 4), c(16, 5, 2))) {
    d <- make(case[1], case[2], case[3])
    here <- ours(d)
    what <- sprintf("%d coupons, %d variables", case[1], case[2])
    rounds <- 20
    line(paste0(what, ": one fit"), here[["full_fit"]],
         seconds(for (i in seq_len(rounds)) full(d)) / rounds)
    line(sprintf("%s: all %d subsets", what, 2^case[2]), here[["average"]],
         seconds(every_subset(d)))
    cat(sprintf("%-52s %9.4f s\n", paste0(what, ": ranking"), here[["rank"]]))
    cat(sprintf("%-52s %9.4f s\n", paste0(what, ": ranking with intervals"),
                here[["rank_with_intervals"]]))
}
for (numbers in c(0, 6)) {
    d <- make(1e5, 12, numbers)
    here <- ours(d)
    what <- sprintf("100000 coupons, 12 variables (%d numbers)", numbers)
    line(paste0(what, ": one fit"), here[["full_fit"]], seconds(full(d)))
    cat(sprintf("%-52s %9.4f s  (%d rows packed)\n", paste0(what, ": all subsets"),
                here[["average"]], as.integer(here[["cells"]])))
    cat(sprintf("%-52s %9.4f s\n", paste0(what, ": ranking"), here[["rank_with_intervals"]]))
}
