/*
 * Welding positions by two names [mem]: ISO 6947 (PA … PG) and AWS A3.0 (1 … 4, F fillet, G
 * groove).
 *
 *   PA flat 1F 1G · PB horizontal fillet 2F · PC horizontal groove 2G · PD overhead fillet 4F ·
 *   PE overhead groove 4G · PF upward 3F-up 3G-up · PG downward 3F-down 3G-down
 *
 * 3F and 3G alone name no direction, so they find no row: say up or down.
 */
#ifndef WELD_POSITION_H
#define WELD_POSITION_H

#include <stddef.h>

struct weld_position {
    const char *iso;   /* "PB" */
    const char *aws;   /* names of AWS, spaces between: "2F" */
    const char *label; /* "horizontal, fillet" */
};

const struct weld_position *position_at(size_t i);           /* NULL behind the last */
const struct weld_position *position_find(const char *name); /* either name; NULL when neither */

#endif
