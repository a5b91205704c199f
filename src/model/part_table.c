/*
 * The rows of passes, bends, flaws and coupons. Limits are common practice: "least/most" is what
 * cannot be, "usual" what a bench has. Volts, amps and wire feed have the limits of the variables
 * of the same name.
 */
#include "model/part.h"

#include <math.h>

#include "model/coupon.h"

/* clang-format off */
#define NUMBER(of, member, key, brief, label, dimension, least, most, low, high, help)                  \
    {PART_NUMBER, offsetof(struct of, member), key, false, brief,                                       \
     {#member, label, GROUP_OTHER, ROLE_CAUSE, VARIABLE_NUMBER, dimension, NULL, least, most, low, \
      high, NULL, false, 0, NULL, help, false}}
#define OTHER(kind, of, member, key, needed, brief, label, help)                                        \
    {kind, offsetof(struct of, member), key, needed, brief,                                             \
     {#member, label, GROUP_OTHER, ROLE_CAUSE, VARIABLE_CATEGORY, DIM_NUMBER, NULL, -INFINITY,     \
      INFINITY, -INFINITY, INFINITY, NULL, false, 0, NULL, help, false}}
#define END {.as = {.label = NULL}}
/* clang-format on */

const struct part_row part_pass_rows[] = {
    OTHER(PART_SIDE, pass, side, "side", false, "side ", "Side",
          "The side of the joint this pass went on: 1 or 2."),
    NUMBER(pass, arc_s, "arc", "arc ", "Arc time", DIM_TIME, 0.1, 36000, 2, 900,
           "Arc-on time by the clock: 35 or 1m20s."),
    NUMBER(pass, length_mm, "length", "length ", "Length", DIM_LENGTH, 0.1, 100000, 10, 2000,
           "Length of the bead, start to crater."),
    NUMBER(pass, volts, "volts", "", "Volts", DIM_VOLTAGE, 5, 60, 13, 36,
           "Arc voltage while welding, from the panel or a meter at the feeder."),
    NUMBER(pass, amps, "amps", "", "Amps", DIM_CURRENT, 5, 1000, 30, 400,
           "Current while welding, from the panel or a clamp meter."),
    NUMBER(pass, feed_mm_per_min, "feed", "wire ", "Wire feed speed", DIM_SPEED, 300, 30000, 1000,
           18000,
           "Run the wire for 6 s and measure it: inches × 10 are in/min, millimetres × 10 mm/min."),
    NUMBER(pass, start_c, "start", "start ", "Start temperature", DIM_TEMPERATURE, -60, 1200, -10,
           350, "Plate temperature beside the joint just before this pass."),
    NUMBER(pass, pause_s, "pause", "pause ", "Pause before it", DIM_TIME, 0, 864000, 0, 7200,
           "Since the end of the pass before: 90, 2m30s or 1h."),
    END,
};

const struct part_row part_bend_rows[] = {
    OTHER(PART_ENDED, bend, end, "ended", false, "", "How it ended",
          "Broke in two; tore, so folding was stopped at a tear; or held to the stop unbroken."),
    OTHER(PART_DIRECTION, bend, direction, "direction", false, "", "Folded towards",
          "Root opening: the root is pulled apart. Face opening: the bead's face is."),
    NUMBER(bend, before_deg, "before", "", "Included angle before", DIM_ANGLE, 0, 360, 20, 180,
           "Between the legs before folding; a straight plate has 180°."),
    NUMBER(bend, after_deg, "after", "", "Included angle after", DIM_ANGLE, 0, 360, 0, 180,
           "Between the legs when folding ended. The bend angle is the difference."),
    NUMBER(bend, before_gap_mm, "gap-before", "", "Tip gap before", DIM_LENGTH, 0, 10000, 5, 600,
           "Between the tips of the legs, when no angle is measured; say the leg length as well."),
    NUMBER(bend, after_gap_mm, "gap-after", "", "Tip gap after", DIM_LENGTH, 0, 10000, 0, 600,
           "Between the tips of the legs when folding ended."),
    NUMBER(bend, leg_mm, "leg", "", "Length of the folded leg", DIM_LENGTH, 0.1, 10000, 20, 400,
           "From the joint to the tip; turns tip gaps into angles."),
    NUMBER(bend, former_mm, "former", "", "Former diameter", DIM_LENGTH, 0.1, 10000, 4, 200,
           "Of the pin or former it was bent around; empty for a free bend."),
    NUMBER(bend, inside_radius_mm, "radius", "", "Inside radius", DIM_LENGTH, 0, 10000, 0.5, 200,
           "Measured on the bent coupon, radius gauge."),
    NUMBER(bend, first_crack_deg, "crack", "", "First crack at", DIM_ANGLE, 0, 270, 0, 180,
           "Bend angle at which a crack could first be seen."),
    NUMBER(bend, load_n, "load", "", "Peak load", DIM_FORCE, 0, 1e7, 1, 200000,
           "Highest pull on the lever, from a spring scale or gauge."),
    NUMBER(bend, lever_mm, "lever", "", "Lever", DIM_LENGTH, 0.1, 10000, 20, 3000,
           "From the joint to where the load pulled."),
    END,
};

const struct part_row part_flaw_rows[] = {
    NUMBER(flaw, from_mm, "from", "from ", "From", DIM_LENGTH, 0, 100000, 0, 2000,
           "Where it begins, along the bead from its start."),
    NUMBER(flaw, to_mm, "to", "to ", "To", DIM_LENGTH, 0, 100000, 0, 2000,
           "Where it ends, along the bead from its start."),
    OTHER(PART_FLAW, flaw, iso6520, "number", false, "", "ISO 6520-1 number",
          "4013 is lack of root fusion; a cold start has no number: 4013 or 517 at the start."),
    OTHER(PART_TEXT, flaw, note, "note", false, "", "Note", "What else was seen."),
    END,
};

const struct part_row part_coupon_rows[] = {
    OTHER(PART_TEXT, coupon, mark, "mark", true, "", "Mark", "The short mark stamped on it."),
    OTHER(PART_WHEN, coupon, when, "when", true, "", "Welded",
          "2026-03-07 14:05, or the day alone."),
    OTHER(PART_TEXT, coupon, who, "who", false, "", "Logged by", "Who fills in this card."),
    END,
};

const struct part_row part_face_rows[] = {
    NUMBER(coupon, bead_mm, "face", "", "Length of face read", DIM_LENGTH, 0.1, 100000, 10, 2000,
           "Length of the broken face that was looked at, along the bead."),
    OTHER(PART_YES, coupon, face_read, "read", false, "", "All flaws listed",
          "yes: the face was read and the flaws below, or none, are all there were."),
    END,
};

const struct part_row part_note_rows[] = {
    OTHER(PART_LINES, coupon, note, "note", false, "", "Note",
          "Anything worth remembering about this coupon."),
    END,
};
