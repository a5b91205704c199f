/*
 * The rows of passes, bends, flaws and coupons. Limits are common practice: outside "can" lies
 * what cannot be, "usual" is what a bench has. Volts, amps and wire feed have the limits of the
 * variables of the same name.
 */
#include "model/part.h"

#include <math.h>

#include "model/coupon.h"

/* A row takes two or three lines, not one a field. */
/* clang-format off */
#define MEMBER(of, name) .member = #name, .offset = offsetof(struct of, name)

const struct part_row part_pass_rows[] = {
    {.key = "side", MEMBER(pass, side), .kind = PART_SIDE, .brief = "side ",
     .as = {.label = "Side", .help = "The side of the joint this pass went on: 1 or 2."}},
    {.key = "arc", MEMBER(pass, arc_s), .brief = "arc ",
     .as = {.label = "Arc time", .dimension = DIM_TIME, .can = {0.1, 36000}, .usual = {2, 900},
            .help = "Arc-on time by the clock: 35 or 1m20s."}},
    {.key = "length", MEMBER(pass, length_mm), .brief = "length ",
     .as = {.label = "Length", .dimension = DIM_LENGTH, .can = {0.1, 100000}, .usual = {10, 2000},
            .help = "Length of the bead, start to crater."}},
    {.key = "volts", MEMBER(pass, volts),
     .as = {.label = "Volts", .dimension = DIM_VOLTAGE, .can = {5, 60}, .usual = {13, 36},
            .help = "Arc voltage while welding, from the panel or a meter at the feeder."}},
    {.key = "amps", MEMBER(pass, amps),
     .as = {.label = "Amps", .dimension = DIM_CURRENT, .can = {5, 1000}, .usual = {30, 400},
            .help = "Current while welding, from the panel or a clamp meter."}},
    {.key = "feed", MEMBER(pass, feed_mm_per_min), .brief = "wire ",
     .as = {.label = "Wire feed speed", .dimension = DIM_SPEED, .can = {300, 30000},
            .usual = {1000, 18000},
            .help = "Run the wire for 6 s and measure it: inches × 10 are in/min, millimetres × "
                    "10 mm/min."}},
    {.key = "start", MEMBER(pass, start_c), .brief = "start ",
     .as = {.label = "Start temperature", .dimension = DIM_TEMPERATURE, .can = {-60, 1200},
            .usual = {-10, 350},
            .help = "Plate temperature beside the joint just before this pass."}},
    {.key = "pause", MEMBER(pass, pause_s), .brief = "pause ",
     .as = {.label = "Pause before it", .dimension = DIM_TIME, .can = {0, 864000},
            .usual = {0, 7200}, .help = "Since the end of the pass before: 90, 2m30s or 1h."}},
    {.key = NULL},
};

const struct part_row part_bend_rows[] = {
    {.key = "ended", MEMBER(bend, end), .kind = PART_ENDED, .column = "ended",
     .as = {.label = "How it ended",
            .help = "Broke in two; tore and was stopped; or held to the stop. Pieces fly: shield, "
                    "stand out of line."}},
    {.key = "direction", MEMBER(bend, direction), .kind = PART_DIRECTION,
     .as = {.label = "Folded towards",
            .help = "Root opening: the root is pulled apart. Face opening: the bead's face is."}},
    {.key = "before", MEMBER(bend, before_deg),
     .as = {.label = "Included angle before", .dimension = DIM_ANGLE, .can = {0, 360},
            .usual = {20, 180},
            .help = "Between the legs before folding; a straight plate has 180°."}},
    {.key = "after", MEMBER(bend, after_deg),
     .as = {.label = "Included angle after", .dimension = DIM_ANGLE, .can = {0, 360},
            .usual = {0, 180},
            .help = "Between the legs when folding ended. The bend angle is the difference."}},
    {.key = "gap-before", MEMBER(bend, before_gap_mm),
     .as = {.label = "Tip gap before", .dimension = DIM_LENGTH, .can = {0, 10000},
            .usual = {5, 600},
            .help = "Between the tips of the legs, when no angle is measured; say the leg length "
                    "as well."}},
    {.key = "gap-after", MEMBER(bend, after_gap_mm),
     .as = {.label = "Tip gap after", .dimension = DIM_LENGTH, .can = {0, 10000}, .usual = {0, 600},
            .help = "Between the tips of the legs when folding ended."}},
    {.key = "leg", MEMBER(bend, leg_mm),
     .as = {.label = "Length of the folded leg", .dimension = DIM_LENGTH, .can = {0.1, 10000},
            .usual = {20, 400}, .help = "From the joint to the tip; turns tip gaps into angles."}},
    {.key = "former", MEMBER(bend, former_mm),
     .as = {.label = "Former diameter", .dimension = DIM_LENGTH, .can = {0.1, 10000},
            .usual = {4, 200},
            .help = "Of the pin or former it was bent around; empty for a free bend."}},
    {.key = "radius", MEMBER(bend, inside_radius_mm),
     .as = {.label = "Inside radius", .dimension = DIM_LENGTH, .can = {0, 10000},
            .usual = {0.5, 200}, .help = "Measured on the bent coupon, radius gauge."}},
    {.key = "crack", MEMBER(bend, first_crack_deg),
     .as = {.label = "First crack at", .dimension = DIM_ANGLE, .can = {0, 270}, .usual = {0, 180},
            .help = "Bend angle at which a crack could first be seen."}},
    {.key = "load", MEMBER(bend, load_n),
     .as = {.label = "Peak load", .dimension = DIM_FORCE, .can = {0, 1e7}, .usual = {1, 200000},
            .help = "Highest pull on the lever, from a spring scale or gauge."}},
    {.key = "lever", MEMBER(bend, lever_mm),
     .as = {.label = "Lever", .dimension = DIM_LENGTH, .can = {0.1, 10000}, .usual = {20, 3000},
            .help = "From the joint to where the load pulled."}},
    {.key = NULL},
};

const struct part_row part_flaw_rows[] = {
    {.key = "from", MEMBER(flaw, from_mm), .brief = "from ",
     .as = {.label = "From", .dimension = DIM_LENGTH, .can = {0, 100000}, .usual = {0, 2000},
            .help = "Where it begins, along the bead from its start."}},
    {.key = "to", MEMBER(flaw, to_mm), .brief = "to ",
     .as = {.label = "To", .dimension = DIM_LENGTH, .can = {0, 100000}, .usual = {0, 2000},
            .help = "Where it ends, along the bead from its start."}},
    {.key = "number", MEMBER(flaw, iso6520), .kind = PART_ISO6520,
     .as = {.label = "ISO 6520-1 number",
            .help = "4013 is lack of root fusion; a cold start has no number: 4013 or 517 at the "
                    "start."}},
    {.key = "note", MEMBER(flaw, note), .kind = PART_TEXT,
     .as = {.label = "Note", .help = "What else was seen."}},
    {.key = NULL},
};

const struct part_row part_photo_rows[] = {
    {.key = "path", MEMBER(photo, path), .kind = PART_TEXT, .needed = true,
     .as = {.label = "File", .help = "Where the picture lies."}},
    {.key = "sha256", MEMBER(photo, sha256), .kind = PART_TEXT,
     .as = {.label = "SHA-256", .help = "Digest of the picture when it was attached."}},
    {.key = "note", MEMBER(photo, note), .kind = PART_TEXT,
     .as = {.label = "Note", .help = "What it shows."}},
    {.key = NULL},
};

const struct part_row part_coupon_rows[] = {
    {.key = "mark", MEMBER(coupon, mark), .kind = PART_TEXT, .needed = true,
     .as = {.label = "Mark", .help = "The short mark stamped on it."}},
    {.key = "when", MEMBER(coupon, when), .kind = PART_WHEN, .needed = true,
     .as = {.label = "Welded", .help = "2026-03-07 14:05, or the day alone."}},
    {.key = "who", MEMBER(coupon, who), .kind = PART_TEXT,
     .as = {.label = "Logged by", .help = "Who fills in this card."}},
    {.key = NULL},
};

const struct part_row part_face_rows[] = {
    {.key = "face", MEMBER(coupon, bead_mm),
     .as = {.label = "Length of face read", .dimension = DIM_LENGTH, .can = {0.1, 100000},
            .usual = {10, 2000},
            .help = "Length of the broken face that was looked at, along the bead."}},
    {.key = "read", MEMBER(coupon, face_read), .kind = PART_YES, .column = "complete",
     .json = "read",
     .as = {.label = "All flaws listed",
            .help = "yes: the face was read and the flaws below, or none, are all there were."}},
    {.key = NULL},
};

const struct part_row part_note_rows[] = {
    {.key = "note", MEMBER(coupon, note), .kind = PART_LINES,
     .as = {.label = "Note", .help = "Anything worth remembering about this coupon."}},
    {.key = NULL},
};
