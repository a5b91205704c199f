# Two sides compared by coldlap's own code (probe_compare) and by GNU R: complete enumeration with
# combn, survival::survdiff and survfit, t.test, and the density of the difference by brute-force
# integration over level, difference and scatter.
#   Rscript compare_oracle.R PROBE
suppressMessages(library(survival))
probe <- commandArgs(TRUE)[1]
set.seed(20260301)
worst <- c(chance = 0, chi_square = 0, steps = 0, t = 0, interval = 0)
note <- function(what, off) worst[what] <<- max(worst[what], off)

ask <- function(a, b) {
    lines <- system2(probe, c(a, "/", b), stdout = TRUE)
    words <- strsplit(lines, " ")
    one <- lengths(words) == 2
    figures <- setNames(lapply(words[one], function(w) as.numeric(w[2])),
                        vapply(words[one], `[`, "", 1))
    figures$steps <- lapply(c(a = "a", b = "b"), function(side) {
        of <- Filter(function(w) w[1] == "step" && w[2] == side, words)
        matrix(as.numeric(unlist(lapply(of, `[`, 3:6))), ncol = 4, byrow = TRUE)
    })
    figures
}
word <- function(y, held) paste0(format(y, digits = 17, trim = TRUE), ifelse(held, "+", ""))

# Gehan's scores, straight from the definition: the held one of two equal angles went further.
gehan <- function(y, held) {
    beats <- function(i, j) (!held[j]) && (y[i] > y[j] || (held[i] && y[i] == y[j]))
    sapply(seq_along(y), function(i) sum(sapply(seq_along(y), function(j)
        beats(i, j) - beats(j, i))))
}
enumerate <- function(s, n_a) {
    sums <- colSums(matrix(s[combn(length(s), n_a)], nrow = n_a)) - n_a * mean(s)
    seen <- sum(s[seq_len(n_a)]) - n_a * mean(s)
    mean(abs(sums) >= abs(seen) - 1e-9)
}

# 5 and 95 % points of the difference, given that there is one: the posterior of (level, difference,
# log h) on a grid. The prior is h^ca exp(-cb h^2) over (gamma, log h), so over
# (beta, log h), with gamma = beta h in two places, h^(ca + 2) exp(-cb h^2).
integrate_difference <- function(y, held, side) {
    unit <- 180 / 6
    z <- (y - mean(y)) / unit
    x <- ifelse(side == "b", 0.5, -0.5)
    h <- exp(seq(log(0.15), log(30), length.out = 60))
    level <- seq(-5, 6, length.out = 111)
    d <- seq(-7, 7, length.out = 281)
    g <- expand.grid(level = level, d = d)
    density <- 0
    for (one in h) {
        lp <- log(one) * (1 + 2) - 0.25 * one^2 - g$d^2 * one^2 / 8
        for (i in seq_along(z)) {
            m <- (g$level + x[i] * g$d) * one
            lp <- lp + if (held[i]) pnorm(m - one * z[i], log.p = TRUE)
                       else log(one) + dnorm(one * z[i] - m, log = TRUE)
        }
        density <- density + rowsum(exp(lp), rep(seq_along(d), each = length(level)))[, 1]
    }
    cumulated <- cumsum(density) / sum(density)
    approx(cumulated, d + diff(d)[1] / 2, c(0.05, 0.95), ties = "ordered")$y * unit
}

for (trial in 1:40) {
    n <- sample(2:7, 2, replace = TRUE)
    y <- round(rnorm(sum(n), rep(c(70, 70 + sample(c(0, 40), 1)), n), 25))
    stop <- if (trial %% 2) 90 else 1000
    held <- y >= stop
    y <- pmin(pmax(y, 0), stop)
    side <- rep(c("a", "b"), n)
    if (sum(!held) == 0) next
    c_says <- ask(word(y[side == "a"], held[side == "a"]), word(y[side == "b"], held[side == "b"]))
    s <- if (any(held)) gehan(y, held) else y
    note("chance", abs(c_says$chance - enumerate(s, n[1])))
    if (length(unique(y[!held])) > 1 || any(held)) {
        d <- try(survdiff(Surv(y, !held) ~ side), silent = TRUE)
        if (!inherits(d, "try-error") && is.finite(c_says$chi_square))
            note("chi_square", abs(c_says$chi_square - d$chisq) / max(1, d$chisq))
    }
    for (one in c("a", "b")) {
        k <- summary(survfit(Surv(y[side == one], !held[side == one]) ~ 1, conf.int = 0.9,
                             conf.type = "log-log"))
        mine <- c_says$steps[[one]]
        stopifnot(nrow(mine) == length(k$time))
        if (nrow(mine)) {
            note("steps", max(abs(mine[, 1] - k$time), abs(mine[, 2] - k$surv)))
            inside <- k$surv > 1e-9
            if (any(inside))
                note("steps", max(abs(mine[inside, 3] - k$lower[inside]),
                                  abs(mine[inside, 4] - k$upper[inside])))
        }
    }
    if (!any(held) && sd(y) > 0) {
        t <- t.test(y[side == "b"], y[side == "a"], var.equal = TRUE, conf.level = 0.9)
        note("t", max(abs(c(c_says$plain_low, c_says$plain_high) - t$conf.int)))
    }
    if (trial <= 12 && sum(n) >= 4 && is.finite(c_says$low)) {
        q <- integrate_difference(y, held, side)
        note("interval", max(abs(c(c_says$low, c_says$high) - q)))
    }
}

# MASS gehan: 16.79 on 1 degree of freedom, as survdiff prints it.
g <- MASS::gehan
control <- g$treat == "control"
c_says <- ask(word(g$time[control], g$cens[control] == 0), word(g$time[!control], g$cens[!control] == 0))
d <- survdiff(Surv(time, cens) ~ treat, data = g)
note("chi_square", abs(c_says$chi_square - d$chisq))
stopifnot(abs(c_says$chi_square - 16.79) < 0.005)

allowed <- c(chance = 1e-12, chi_square = 1e-9, steps = 1e-9, t = 1e-9, interval = 3)
cat(sprintf("%-10s worst %.3g, allowed %.3g\n", names(worst), worst, allowed), sep = "")
if (any(worst > allowed)) quit(status = 1)
