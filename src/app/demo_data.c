#include "app/demo_data.h"

#define SPOOL_A "spool A"
#define SPOOL_B "spool B"
#define MIX "Ar 82 CO2 18"
#define DRY "CO2"

/* Tables, one line a coupon. */
/* clang-format off */
static const struct demo_value lap_common[] = {
    {"process", "135"},          {"wire_class", "ER70S-6"},  {"wire_diameter", "1mm"},
    {"polarity", "DCEP"},        {"gas_flow", "14 l/min"},   {"base_metal", "S235"},
    {"thickness", "4mm"},        {"thickness_2", "4mm"},     {"joint", "lap"},
    {"position", "PB"},          {"sides", "one"},           {"root_gap", "0mm"},
    {"fit_up", "clamped"},       {"leg", "4.5mm"},             {"cleaning", "ground bright"},
    {"volts", "18V"},          {"wire_feed_speed", "5 m/min"}, {"bead_start", "straight off"},
    {NULL, NULL},
};

static const struct demo_value tee_common[] = {
    {"process", "135"},       {"wire_class", "ER70S-6"}, {"wire_diameter", "1mm"},
    {"polarity", "DCEP"},     {"gas_flow", "14 l/min"},  {"base_metal", "S235"},
    {"thickness", "6mm"},     {"thickness_2", "6mm"},    {"joint", "tee"},
    {"position", "PB"},       {"root_gap", "0mm"},       {"fit_up", "tight"},
    {"leg", "6mm"},           {"volts", "20.5V"},          {"tip_to_work", "14mm"},
    {"travel_direction", "push"}, {NULL, NULL},
};

static const char *const lap_columns[] = {"gas", "wire_lot", "travel_direction", "tip_to_work",
                                          NULL};
static const char *const tee_columns[] = {"sides",    "wire_feed_speed", "cleaning", "bead_start",
                                          "wire_lot", "gas",             NULL};

static const char *const lap_levels[] = {
    "gas",         MIX,    DRY,    NULL, "wire_lot",         SPOOL_A, SPOOL_B, NULL,
    "tip_to_work", "12mm", "18mm", NULL, "travel_direction", "push",  "drag",  NULL,
    NULL,
};
static const char *const tee_levels[] = {
    "sides",      "one",          "both",  NULL, "wire_feed_speed", "7 m/min",   "8.5 m/min",
    NULL,         "cleaning",     "as rolled", "ground bright", NULL,
    "bead_start", "straight off", "dwell", NULL, "wire_lot",        SPOOL_A,     SPOOL_B,
    NULL,         "gas",          MIX,     DRY,  NULL,              NULL,
};

const struct demo_trial demo_trials[] = {
    {"bench lap", "Do gas, spool or the way the gun is held matter on 4 mm lap joints?",
     "INVENTED for the demo: nobody welded these coupons.", 135, 180, lap_levels, lap_common,
     lap_columns},
    {"bench tee", "What makes the bench feet fold instead of break?",
     "INVENTED for the demo: nobody welded these coupons. When the new spool was hung, the cylinder "
     "ran out on the same day, so spool and gas always changed together.",
     90, 90, tee_levels, tee_common, tee_columns},
};
const size_t demo_trial_count = sizeof demo_trials / sizeof *demo_trials;

const struct demo_coupon demo_coupons[] = {
    {0, "01", "2026-01-24T09:12:00+01:00", {MIX, SPOOL_A, "push", "12mm"}, {{12, 130}},
     "broke", 69, 139, {{0, 12, 4013}, {41, 45, 2011}}, NULL},
    {0, "02", "2026-01-24T09:25:00+01:00", {MIX, SPOOL_A, "drag", "18mm"}, {{13, 122}},
     "held", 45, 148, {{0, 0, 0}}, NULL},
    {0, "03", "2026-01-24T09:41:00+01:00", {MIX, SPOOL_B, "push", "18mm"}, {{13, 123}},
     "tore", 58, 144, {{0, 9, 4013}}, "tore at the start of the bead, the rest held"},
    {0, "04", "2026-01-24T09:55:00+01:00", {DRY, SPOOL_A, "push", "18mm"}, {{12, 121}},
     "broke", 76, 135, {{0, 14, 4013}, {52, 55, 2011}}, NULL},
    {0, "05", "2026-01-24T10:20:00+01:00", {DRY, SPOOL_B, "drag", "18mm"}, {{12, 120}},
     "tore", 53, 146, {{0, 8, 4013}}, NULL},
    {0, "06", "2026-01-24T10:33:00+01:00", {DRY, SPOOL_B, "push", "12mm"}, {{13, 129}},
     "held", 45, 149, {{0, 0, 0}}, NULL},
    {0, "07", "2026-01-24T10:47:00+01:00", {DRY, SPOOL_A, "drag", "12mm"}, {{13, 128}},
     "broke", 64, 140, {{0, 11, 4013}}, NULL},
    {0, "08", "2026-01-24T11:02:00+01:00", {MIX, SPOOL_B, "drag", "12mm"}, {{12, 131}},
     "held", 45, 149, {{0, 0, 0}}, NULL},

    {1, "09", "2026-02-07T09:05:00+01:00",
     {"one", "7 m/min", "as rolled", "straight off", SPOOL_A, MIX}, {{12, 166}},
     "broke", 122, 213, {{0, 24, 4013}, {33, 43, 4013}}, NULL},
    {1, "10", "2026-02-07T09:20:00+01:00",
     {"one", "7 m/min", "ground bright", "straight off", SPOOL_A, MIX}, {{12, 165}, {11, 167}},
     "broke", 107, 189, {{0, 30, 4013}}, "bright root line over half the bead"},
    {1, "11", "2026-02-07T09:38:00+01:00",
     {"one", "8.5 m/min", "as rolled", "straight off", SPOOL_A, MIX}, {{13, 191}},
     "broke", 139, 268, {{0, 21, 4013}}, NULL},
    {1, "12", "2026-02-07T09:57:00+01:00",
     {"both", "7 m/min", "as rolled", "straight off", SPOOL_A, MIX}, {{12, 164}, {13, 166}},
     "tore", 166, 330, {{0, 16, 4013}}, "tore from the start of the first side"},
    {1, "13", "2026-02-07T10:15:00+01:00",
     {"both", "7 m/min", "ground bright", "dwell", SPOOL_A, MIX}, {{11, 165}, {12, 167}},
     "broke", 161, 327, {{0, 12, 4013}}, NULL},
    {1, "14", "2026-02-07T10:40:00+01:00",
     {"both", "8.5 m/min", "as rolled", "dwell", SPOOL_A, MIX}, {{12, 190}, {12, 192}},
     "tore", 175, 343, {{2, 8, 4013}}, NULL},
    {1, "15", "2026-02-07T10:58:00+01:00",
     {"one", "8.5 m/min", "ground bright", "dwell", SPOOL_A, MIX}, {{11, 189}, {12, 190}},
     "broke", 137, 274, {{0, 12, 4013}}, NULL},
    {1, "16", "2026-02-07T11:16:00+01:00",
     {"both", "8.5 m/min", "ground bright", "straight off", SPOOL_A, MIX}, {{13, 190}, {12, 191}},
     "held", 180, 347, {{0, 0, 0}}, NULL},
    {1, "17", "2026-02-14T09:10:00+01:00",
     {"one", "7 m/min", "as rolled", "dwell", SPOOL_B, DRY}, {{11, 163}},
     "broke", 119, 202, {{0, 33, 4013}}, NULL},
    {1, "18", "2026-02-14T09:27:00+01:00",
     {"one", "8.5 m/min", "as rolled", "dwell", SPOOL_B, DRY}, {{12, 188}, {12, 189}},
     "broke", 135, 278, {{0, 6, 4013}, {38, 42, 2011}}, "a few pores, gas nozzle was dirty"},
    {1, "19", "2026-02-14T09:45:00+01:00",
     {"both", "8.5 m/min", "ground bright", "straight off", SPOOL_B, DRY}, {{11, 189}, {12, 188}},
     "held", 180, 346, {{0, 0, 0}}, NULL},
    {1, "20", "2026-02-14T10:04:00+01:00",
     {"both", "7 m/min", "ground bright", "straight off", SPOOL_B, DRY}, {{12, 164}, {13, 163}},
     "broke", 160, 323, {{0, 16, 4013}}, NULL},
    {1, "21", "2026-02-14T10:22:00+01:00",
     {"one", "7 m/min", "ground bright", "dwell", SPOOL_B, DRY}, {{13, 164}},
     "broke", 110, 193, {{0, 18, 4013}, {40, 51, 4013}}, NULL},
    {1, "22", "2026-02-14T10:41:00+01:00",
     {"both", "7 m/min", "as rolled", "dwell", SPOOL_B, DRY}, {{11, 165}, {12, 164}},
     "broke", 160, 325, {{0, 13, 4013}}, NULL},
    {1, "23", "2026-02-14T10:59:00+01:00",
     {"one", "8.5 m/min", "ground bright", "straight off", SPOOL_B, DRY}, {{12, 187}},
     "broke", 138, 265, {{0, 15, 4013}}, NULL},
    {1, "24", "2026-02-14T11:20:00+01:00",
     {"both", "8.5 m/min", "as rolled", "dwell", SPOOL_A, MIX}, {{12, 191}, {12, 190}},
     "held", 180, 348, {{0, 0, 0}}, "the same again as 14, with what was left of the old spool and gas"},
};
/* clang-format on */
const size_t demo_coupon_count = sizeof demo_coupons / sizeof *demo_coupons;
