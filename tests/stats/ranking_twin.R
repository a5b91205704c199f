# The ranking a second time, in GNU R, written from its description and not from the C code:
# optim() finds each maximum, optimHess() the curvature.
#
#   Rscript ranking_twin.R TABLE.csv [RESULT [RANGE]]     ranks a wide coupon table, prints JSON
#   Rscript ranking_twin.R --against PROBE [TRIALS]       makes trials, compares with the C code
#                                                         (PROBE: the executable of probe.c)
#
# Table: one row a coupon; a column `mark` is ignored; result cells 40, 135+ or >=135, <20, 50..70,
# empty. A column is a number when every filled cell is one, else a category.

TAU <- 2
CA <- 1
CB <- 1 / 4

# ---- results -------------------------------------------------------------------------------------

read_results <- function(words) {
    words <- trimws(ifelse(is.na(words), "", words))
    low <- high <- rep(NA_real_, length(words))
    for (i in seq_along(words)) {
        w <- words[i]
        v <- as.numeric(strsplit(gsub("[^0-9.eE-]", "", gsub("\\.\\.", " ", w)), " ")[[1]][1])
        if (w == "") next
        if (grepl("..", w, fixed = TRUE)) {
            ends <- as.numeric(strsplit(w, "..", fixed = TRUE)[[1]])
            low[i] <- ends[1]; high[i] <- ends[2]
        } else if (grepl("\\+$|^>", w)) { low[i] <- v; high[i] <- Inf
        } else if (grepl("^<", w)) { low[i] <- -Inf; high[i] <- v
        } else { low[i] <- high[i] <- v }
    }
    data.frame(low, high)
}

point <- function(y) ifelse(is.finite(y$low) & is.finite(y$high), (y$low + y$high) / 2,
                            ifelse(is.finite(y$low), y$low, y$high))

# ---- coding --------------------------------------------------------------------------------------

# Orthonormal contrasts: any orthonormal basis of the contrasts gives the same ranking, because the
# prior is the same in every direction; this one comes from a QR and is no Helmert matrix.
contrasts_of <- function(levels) {
    q <- qr.Q(qr(cbind(1, diag(levels)[, -1, drop = FALSE])))
    q[, -1, drop = FALSE]
}

block <- function(v) {
    if (is.numeric(v)) {
        ends <- range(v)
        return(list(x = matrix((v - mean(ends)) / diff(ends)), lambda = 1 / TAU^2))
    }
    v <- factor(v)
    levels <- nlevels(v)
    if (levels == 2)
        return(list(x = matrix(as.integer(v) - 1.5), lambda = 1 / TAU^2,
                    at = matrix(c(-0.5, 0.5)), levels = levels(v)))
    at <- contrasts_of(levels)
    list(x = at[as.integer(v), , drop = FALSE], lambda = rep(2 / TAU^2, levels - 1), at = at,
         levels = levels(v))
}

# ---- one subset ----------------------------------------------------------------------------------

log_between <- function(l, u) { # log(pnorm(u) - pnorm(l)), from the side where it is exact
    flip <- l > 0
    a <- pnorm(ifelse(flip, -l, u), log.p = TRUE)
    b <- pnorm(ifelse(flip, -u, l), log.p = TRUE)
    a + log1p(-exp(b - a))
}

# Log posterior and its gradient in (gamma, log h).
posterior <- function(x, y, lambda) {
    exact <- y$low == y$high
    up <- is.infinite(y$high)
    down <- is.infinite(y$low)
    mid <- !exact & !up & !down
    p <- ncol(x)
    value <- function(t) {
        eta <- drop(x %*% t[1:p]); h <- exp(t[p + 1])
        sum(log(h) + dnorm(h * y$low[exact] - eta[exact], log = TRUE)) +
            sum(pnorm(eta[up] - h * y$low[up], log.p = TRUE)) +
            sum(pnorm(h * y$high[down] - eta[down], log.p = TRUE)) +
            sum(log_between(h * y$low[mid] - eta[mid], h * y$high[mid] - eta[mid])) +
            CA * log(h) - CB * h^2 - sum(lambda * t[1:p]^2) / 2
    }
    ratio <- function(z) exp(dnorm(z, log = TRUE) - pnorm(z, log.p = TRUE))
    slope <- function(t) {
        eta <- drop(x %*% t[1:p]); h <- exp(t[p + 1])
        d_eta <- d_h <- numeric(nrow(x))
        r <- h * y$low[exact] - eta[exact]
        d_eta[exact] <- r; d_h[exact] <- 1 / h - r * y$low[exact]
        m <- ratio(eta[up] - h * y$low[up])
        d_eta[up] <- m; d_h[up] <- -m * y$low[up]
        m <- ratio(h * y$high[down] - eta[down])
        d_eta[down] <- -m; d_h[down] <- m * y$high[down]
        l <- h * y$low[mid] - eta[mid]; u <- h * y$high[mid] - eta[mid]
        g <- log_between(l, u)
        fl <- exp(dnorm(l, log = TRUE) - g); fu <- exp(dnorm(u, log = TRUE) - g)
        d_eta[mid] <- fl - fu; d_h[mid] <- fu * y$high[mid] - fl * y$low[mid]
        c(drop(crossprod(x, d_eta)) - lambda * t[1:p],
          (sum(d_h) + CA / h - 2 * CB * h) * h)
    }
    list(value = value, slope = slope)
}

fit_subset <- function(x, y, lambda, start) {
    f <- posterior(x, y, lambda)
    p <- ncol(x)
    curvature <- function(t)
        optimHess(t, f$value, f$slope, control = list(fnscale = -1, ndeps = rep(1e-4, p + 1)))
    t <- optim(start, f$value, f$slope, method = "BFGS",
               control = list(fnscale = -1, reltol = 1e-9, maxit = 1000))$par
    hessian <- curvature(t)
    while (max(abs(f$slope(t))) > 1e-7) {
        t <- t - solve(hessian, f$slope(t))
        hessian <- curvature(t)
    }
    evidence <- f$value(t) + (p + 1) / 2 * log(2 * pi) -
        determinant(-hessian)$modulus[1] / 2 + sum(log(lambda[lambda > 0]) - log(2 * pi)) / 2
    list(gamma = t[1:p], h = exp(t[p + 1]), evidence = evidence)
}

# ---- ranking -------------------------------------------------------------------------------------

expected <- function(y, mu, sigma) { # mean of the result given what was seen
    l <- (y$low - mu) / sigma; u <- (y$high - mu) / sigma
    open <- y$low < y$high
    out <- y$low
    l <- l[open]; u <- u[open]
    g <- ifelse(l == -Inf, pnorm(u, log.p = TRUE), ifelse(u == Inf, pnorm(-l, log.p = TRUE),
                log_between(pmax(l, -40), pmin(u, 40))))
    out[open] <- mu[open] + sigma * (exp(dnorm(l, log = TRUE) - g) - exp(dnorm(u, log = TRUE) - g))
    out
}

shapley <- function(x, groups, y) { # part of R^2 of each group
    k <- length(groups)
    r2 <- vapply(0:(2^k - 1), function(m) {
        inside <- which(bitwAnd(m, 2^(0:(k - 1))) > 0)
        if (!length(inside)) return(0)
        1 - sum(qr.resid(qr(x[, c(1, unlist(groups[inside]))]), y)^2) / sum((y - mean(y))^2)
    }, 0)
    vapply(seq_len(k), function(j) {
        others <- setdiff(seq_len(k), j)
        sum(vapply(0:(2^length(others) - 1), function(m) {
            inside <- others[bitwAnd(m, 2^(seq_along(others) - 1)) > 0]
            s <- length(inside)
            at <- sum(2^(inside - 1))
            factorial(s) * factorial(k - s - 1) / factorial(k) * (r2[at + 2^(j - 1) + 1] - r2[at + 1])
        }, 0))
    }, 0)
}

# Smallest sets of variables whose columns, with the constant, are linearly dependent.
tied_sets <- function(x, groups) {
    k <- length(groups)
    found <- list()
    for (size in seq_len(k)[-1]) for (set in utils::combn(k, size, simplify = FALSE)) {
        if (any(vapply(found, function(f) all(f %in% set), NA))) next
        columns <- scale(x[, unlist(groups[set])], scale = FALSE)
        columns <- sweep(columns, 2, sqrt(colSums(columns^2)), "/")
        if (qr(columns, tol = 1e-9)$rank < ncol(columns)) found <- c(found, list(set))
    }
    found
}

# 5 and 95 % points of the effect of a single-column variable, given that it matters: at each b the
# coefficient is held at b and everything else fitted.
interval <- function(x, y, lambda, groups, subsets, fits, log_weight, j) {
    column <- groups[[j]]
    holding <- which(vapply(subsets, function(s) j %in% s, NA))
    top <- max(log_weight[holding])
    holding <- holding[log_weight[holding] > top + log(0.005)]
    beta <- vapply(fits[holding], function(f) f$full[column] / f$h, 0)
    middle <- sum(beta * exp(log_weight[holding] - top)) / sum(exp(log_weight[holding] - top))
    density <- function(b) log(sum(vapply(holding, function(m) {
        columns <- setdiff(c(1, unlist(groups[subsets[[m]]])), column)
        moved <- y
        moved$low <- y$low - b * x[, column]; moved$high <- y$high - b * x[, column]
        f <- posterior(x[, columns, drop = FALSE], moved, lambda[columns])
        # one h more for d gamma = h d b, and the prior of gamma = b h
        value <- function(t) f$value(t) + t[length(t)] - lambda[column] * (b * exp(t[length(t)]))^2 / 2
        start <- c(fits[[m]]$full[columns], log(fits[[m]]$h))
        o <- optim(start, value, method = "BFGS", control = list(fnscale = -1, reltol = 1e-13))
        h <- optimHess(o$par, value, control = list(fnscale = -1, ndeps = rep(1e-3, length(start))))
        p <- length(columns)
        exp(o$value + (p + 1) / 2 * log(2 * pi) - determinant(-h)$modulus[1] / 2 +
            sum(log(lambda[setdiff(columns, 1)]) - log(2 * pi)) / 2 +
            (log(lambda[column]) - log(2 * pi)) / 2 +
            log_weight[m] - fits[[m]]$evidence - top)
    }, 0)))
    b <- middle + seq(-4, 4, by = 0.1)
    d <- vapply(b, density, 0)
    cumulated <- cumsum(exp(d - max(d))) / sum(exp(d - max(d)))
    approx(cumulated, b + 0.05, c(0.05, 0.95), ties = "ordered")$y
}

rank_table <- function(table, result, size, intervals = character()) {
    y <- read_results(table[[result]])
    causes <- setdiff(names(table), c(result, "mark"))
    known <- !is.na(y$low)
    changes <- function(rows) Filter(function(v)
        length(unique(table[[v]][rows & !is.na(table[[v]])])) > 1, causes)
    causes <- changes(known)
    used <- known & complete.cases(table[causes])
    causes <- changes(used)
    used <- known & complete.cases(table[causes])
    y <- y[used, ]
    centre <- mean(point(y))
    unit <- (if (size > 0) size else diff(range(point(y)))) / 6
    y <- (y - centre) / unit

    blocks <- lapply(table[used, causes, drop = FALSE], block)
    x <- cbind(1, do.call(cbind, lapply(blocks, `[[`, "x")))
    lambda <- c(0, unlist(lapply(blocks, `[[`, "lambda")))
    ends <- 1 + cumsum(vapply(blocks, function(b) ncol(b$x), 0L))
    groups <- Map(seq, ends - vapply(blocks, function(b) ncol(b$x), 0L) + 1, ends)
    k <- length(groups)

    subsets <- lapply(0:(2^k - 1), function(m) which(bitwAnd(m, 2^(0:(k - 1))) > 0))
    fits <- lapply(subsets, function(s) {
        columns <- c(1, unlist(groups[s]))
        fit <- fit_subset(x[, columns, drop = FALSE], y, lambda[columns],
                          c(rep(0, length(columns)), 0))
        fit$full <- replace(numeric(ncol(x)), columns, fit$gamma)
        fit
    })
    log_weight <- vapply(fits, `[[`, 0, "evidence") -
        log(k + 1) - lchoose(k, lengths(subsets))
    weight <- exp(log_weight - max(log_weight)); weight <- weight / sum(weight)

    full <- fits[[2^k]]
    mu <- drop(x %*% full$full) / full$h
    share <- shapley(x, groups, expected(y, mu, 1 / full$h))
    variables <- lapply(seq_len(k), function(j) {
        inside <- vapply(subsets, function(s) j %in% s, NA)
        beta <- colSums(weight[inside] * t(vapply(fits[inside], function(f)
            f$full[groups[[j]]] / f$h, numeric(length(groups[[j]]))) |>
                matrix(nrow = length(groups[[j]])))) / sum(weight[inside])
        at <- blocks[[j]]$at
        level <- if (is.null(at)) NULL else setNames(unit * drop(at %*% beta), blocks[[j]]$levels)
        out <- list(key = causes[j], chance = sum(weight[inside]), share = share[j], level = level,
                    effect = if (is.null(level)) unit * beta else max(level) - min(level))
        if (causes[j] %in% intervals && length(groups[[j]]) == 1)
            out$interval <- unit * interval(x, y, lambda, groups, subsets, fits, log_weight, j)
        out
    })
    set_ups <- nrow(unique(x))
    list(used = sum(used), variables = variables, unit = unit,
         ties = if (set_ups >= ncol(x)) lapply(tied_sets(x, groups), function(s) causes[s]))
}

print_json <- function(r) {
    number <- function(v) format(v, digits = 10)
    cat(sprintf('{"used":%d,"variables":[\n%s],\n"tied":[%s]}\n', r$used,
        paste(vapply(r$variables, function(v) sprintf(
            '{"key":"%s","chance":%s,"effect":%s,"low":%s,"high":%s,"share":%s}', v$key,
            number(v$chance), number(v$effect),
            if (is.null(v$interval)) "null" else number(v$interval[1]),
            if (is.null(v$interval)) "null" else number(v$interval[2]), number(v$share)), ""),
            collapse = ",\n"),
        paste(vapply(r$ties, function(t) sprintf("[%s]", paste0('"', t, '"', collapse = ",")), ""),
              collapse = ",")))
}

# ---- trials to compare on ------------------------------------------------------------------------

# Held values, categories of two to four levels, numbers, missing cells, ties, results that are only
# at most or between. Sizes and kinds go round so that every feature meets every other.
make_trial <- function(i) {
    set.seed(1000 + i)
    n <- c(9, 12, 16, 20, 24)[i %% 5 + 1]
    k <- 3 + i %% 3
    table <- data.frame(row.names = seq_len(n))
    for (j in seq_len(k)) table[[letters[j]]] <- switch((i + j) %% 4 + 1,
        sample(c(3, 5), n, TRUE), round(runif(n, 16, 24), 1),
        paste0("l", sample(2, n, TRUE)), paste0("l", sample(if (n > 12) 4 else 3, n, TRUE)))
    if (i %% 3 == 0) table$b <- if (is.numeric(table$a)) 10 - 2 * table$a else
        paste0("t", table$a)
    code <- function(v) if (is.numeric(v)) (v - min(v)) / max(1e-9, diff(range(v))) else
        as.integer(factor(v)) %% 2
    if (i %% 5 == 4) { # two of them tell the third, no pair does
        table$a <- sample(0:1, n, TRUE); table$b <- sample(0:1, n, TRUE)
        table$c <- table$a + table$b
    }
    y <- 80 + c(0, 45, 60)[i %% 3 + 1] * code(table$a) - 30 * code(table$c) + rnorm(n, 0, c(8, 18, 25)[i %% 3 + 1])
    y <- round(pmax(y, 0))
    words <- as.character(y)
    stop <- c(180, 120, 100)[i %% 3 + 1]
    words[y >= stop] <- paste0(stop, "+")
    if (i %% 4 == 1) words[which(y < 40)] <- "<=40"
    if (i %% 4 == 3) { w <- which(y > 40 & y < 60); words[w] <- "40..60" }
    if (i %% 5 == 2) words[2] <- ""
    if (i %% 2 == 0 && n > 9) table[sample(n, 1), sample(k, 1)] <- NA
    cbind(result = words, table)
}

# What the C code says: probe.c, "rank TABLE RANGE", the result in the last column.
ask <- function(probe, table, size) {
    file <- tempfile(fileext = ".csv")
    on.exit(unlink(file))
    write.csv(cbind(mark = seq_len(nrow(table)), table[c(2:ncol(table), 1)]), file, quote = FALSE,
              na = "", row.names = FALSE)
    lines <- strsplit(system2(probe, c("rank", file, size), stdout = TRUE), " ")
    of <- function(kind) Filter(function(l) l[1] == kind, lines)
    list(used = as.integer(of("used")[[1]][2]),
         variables = lapply(of("variable"), function(l) {
             levels <- sort(unique(as.character(table[[l[2]]])), method = "radix")
             list(key = l[2], ends = levels[as.integer(l[4:5]) + 1], effect = as.numeric(l[6]),
                  interval = as.numeric(l[7:8]), chance = as.numeric(l[9]),
                  share = as.numeric(l[10]))
         }),
         # tie SHARE CHANCE : NAME NAME … : MARK MARK …
         ties = lapply(of("tie"), function(l) l[5:(which(l == ":")[2] - 1)]))
}

same_sets <- function(a, b) setequal(vapply(a, function(s) paste(sort(s), collapse = " "), ""),
                                     vapply(b, function(s) paste(sort(s), collapse = " "), ""))

compare_trial <- function(i, probe) {
    table <- make_trial(i)
    size <- if (i %% 7 == 0) 0 else 180
    mine <- rank_table(table, "result", size, if (i %% 12 == 1) names(table)[-1])
    theirs <- ask(probe, table, size)
    range <- 6 * mine$unit
    off <- c(chance = 0, effect = 0, share = 0, interval = 0)
    stopifnot(theirs$used == mine$used, length(theirs$variables) == length(mine$variables))
    for (theirs_v in theirs$variables) {
        v <- Find(function(v) v$key == theirs_v$key, mine$variables)
        effect <- if (is.null(v$level)) v$effect else
            v$level[[theirs_v$ends[2]]] - v$level[[theirs_v$ends[1]]]
        off <- pmax(off, c(abs(theirs_v$chance - v$chance), abs(theirs_v$effect - effect) / range,
                           abs(theirs_v$share - v$share),
                           # where the grid has all of the density in view
                           if (!is.null(v$interval) && v$chance > 0.5 && is.null(v$level))
                               max(abs(theirs_v$interval - v$interval)) / range else 0))
        if (!is.null(v$level)) # the pair named is the widest there is
            off["effect"] <- max(off["effect"], (v$effect - abs(effect)) / range)
    }
    ties <- if (is.null(mine$ties)) NA else same_sets(mine$ties, theirs$ties)
    cat(sprintf("trial %2d: %2d coupons, %d variables, chance off %.1e, effect off %.1e %%, share %.1e, interval %.2f %%, ties %s\n",
        i, mine$used, length(mine$variables), off["chance"], 100 * off["effect"], off["share"],
        100 * off["interval"],
        if (is.na(ties)) "not asked (too few set-ups)" else if (ties) paste("same:", length(mine$ties)) else "DIFFER"))
    list(off = off, ties = ties, tied = length(mine$ties))
}

arguments <- commandArgs(TRUE)
if (arguments[1] == "--against") {
    trials <- if (length(arguments) > 2) as.integer(arguments[3]) else 30
    all <- lapply(seq_len(trials), compare_trial, probe = arguments[2])
    worst <- do.call(pmax, lapply(all, `[[`, "off"))
    ties <- vapply(all, `[[`, NA, "ties")
    allowed <- c(chance = 1e-4, effect = 1e-4, share = 1e-4, interval = 0.01)
    cat(sprintf("%-9s worst %.2g, allowed %g\n", names(worst), worst, allowed), sep = "")
    cat(sprintf("ties: %d of %d the same (%d sets)\n", sum(ties, na.rm = TRUE), sum(!is.na(ties)),
                sum(vapply(all, `[[`, 0L, "tied"))))
    if (any(worst > allowed) || !all(ties, na.rm = TRUE)) quit(status = 1)
} else {
    table <- read.csv(arguments[1], check.names = FALSE, colClasses = "character", na.strings = "")
    result <- if (length(arguments) > 1) arguments[2] else "bend_angle"
    size <- if (length(arguments) > 2) as.numeric(arguments[3]) else
        if (result == "bend_angle") 180 else 0
    causes <- setdiff(names(table), c(result, "mark"))
    table[causes] <- lapply(table[causes], function(v) type.convert(v, as.is = TRUE))
    print_json(rank_table(table, result, size, causes))
}
