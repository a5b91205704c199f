# The censored fit, the normal tails and least squares against GNU R.
#
#   Rscript oracle_engine.R PROBE
#
# pnorm and dnorm for the tails; survival::survreg(dist = "gaussian") for the fit without prior
# (lambda = 0, ca = cb = 0); lm for least squares and for the fit with nothing held. Data: Tobin's
# durable goods (survival::tobin; J. Tobin, Econometrica 26:24, 1958), Hald's cement and the Scottish
# hill races (MASS::cement, MASS::hills), and seeded trials with every kind of result.

suppressMessages({ library(survival); library(MASS) })
probe <- commandArgs(trailingOnly = TRUE)[1]
worst <- list()
failed <- FALSE

check <- function(name, value, reference, tolerance) {
    off <- max(abs(value - reference) / pmax(1, abs(reference)))
    if (!(off <= tolerance)) {
        cat(sprintf("FAILED %s: off by %.3g, allowed %.3g\n", name, off, tolerance))
        failed <<- TRUE
    }
    worst[[name]] <<- max(off, worst[[name]])
}

run <- function(...) strsplit(system2(probe, c(...), stdout = TRUE), " ")
number <- function(lines, name) as.numeric(Filter(function(l) l[1] == name, lines)[[1]][2])
betas <- function(lines)
    sapply(Filter(function(l) l[1] == "beta", lines), function(l) as.numeric(l[3]))

digits <- function(x) sprintf("%.17g", x)
write_table <- function(x, cells) {
    file <- tempfile(fileext = ".csv")
    write.csv(data.frame(lapply(x, digits), y = cells), file, row.names = FALSE, quote = FALSE)
    file
}

# ---- tails ---------------------------------------------------------------------------------------

x <- c(-1e6, -3000, -200, -60, -38.5, -37, -20, -8, -5.001, -4.999, -2, -1e-3, 0, 0.7, 3, 6, 8)
tail <- do.call(rbind, lapply(run("tail", digits(x)), function(l) as.numeric(l[-1])))
check("log cdf", tail[, 2], pnorm(x, log.p = TRUE), 1e-13)
check("log cdf, relative", tail[, 2] / pnorm(x, log.p = TRUE), 1, 1e-13)
# beyond -30 R's difference of two large logs loses digits, so the ratio is held to fewer there
ratio <- exp(dnorm(x, log = TRUE) - pnorm(x, log.p = TRUE))
near <- x > -30
check("ratio", tail[near, 3] / ratio[near], 1, 1e-12)
check("ratio far out", tail[x > -300, 3] / ratio[x > -300], 1, 1e-9)

# ---- least squares -------------------------------------------------------------------------------

least <- function(name, x, y, tolerance) {
    lines <- run("least", write_table(x, digits(y)))
    model <- lm(y ~ ., data.frame(x, y = y))
    check(paste(name, "estimates"), betas(lines), coef(model), tolerance)
    check(paste(name, "deviation"), number(lines, "deviation"), sigma(model), tolerance)
    check(paste(name, "deviation"), number(lines, "deviation"), summary(model)$sigma, tolerance)
}
least("cement", cement[, 1:4], cement$y, 1e-9)
least("hills", hills[, 1:2], hills$time, 1e-11)

# ---- fit -----------------------------------------------------------------------------------------

fit <- function(name, x, low, high, cells, tolerance) {
    lines <- run("fit", write_table(x, cells), "0", "0", "0")
    model <- survreg(Surv(low, high, type = "interval2") ~ ., data.frame(x), dist = "gaussian",
                     control = survreg.control(rel.tolerance = 1e-13, maxiter = 100))
    check(paste(name, "effects"), betas(lines), coef(model), tolerance)
    check(paste(name, "scatter"), number(lines, "scatter"), model$scale, tolerance)
    check(paste(name, "likelihood"), number(lines, "log_posterior"), model$loglik[2], tolerance)
}

with(tobin, fit("tobin", tobin[, c("age", "quant")], ifelse(durable > 0, durable, NA), durable,
                ifelse(durable > 0, digits(durable), "<=0"), 1e-7))

lines <- run("fit", write_table(hills[, 1:2], digits(hills$time)), "0", "0", "0")
model <- lm(time ~ dist + climb, hills)
check("nothing held: effects", betas(lines), coef(model), 1e-9)
check("nothing held: scatter", number(lines, "scatter"), sqrt(mean(resid(model)^2)), 1e-9)
check("nothing held: likelihood", number(lines, "log_posterior"), as.numeric(logLik(model)), 1e-9)

set.seed(20260307)
for (trial in 1:30) {
    n <- sample(c(12, 20, 40, 200), 1)
    x <- data.frame(a = rnorm(n), b = rbinom(n, 1, 0.5), c = runif(n, 5, 9))
    y <- 60 + 20 * x$a + 30 * x$b - 4 * x$c + rnorm(n) * 15
    stop <- quantile(y, runif(1, 0.4, 1))
    floor_at <- quantile(y, runif(1, 0, 0.15))
    low <- high <- y
    cells <- digits(y)
    coarse <- runif(n) < 0.2
    low[coarse] <- floor(y[coarse] / 10) * 10
    high[coarse] <- low[coarse] + 10
    cells[coarse] <- paste0(low[coarse], "..", high[coarse])
    held <- y > stop
    low[held] <- stop
    high[held] <- NA
    cells[held] <- paste0(digits(stop), "+")
    under <- y < floor_at
    low[under] <- NA
    high[under] <- floor_at
    cells[under] <- paste0("<=", digits(floor_at))
    fit("seeded trials", x, low, high, cells, 1e-6)
}

for (name in names(worst))
    cat(sprintf("%-28s off by %.1e at most\n", name, worst[[name]]))
if (failed)
    quit(status = 1)
