/*
 * The built-in rows. Limits: outside "can" lies what cannot be (a slip of the pen, a wrong
 * unit), "usual" is what a shop welding 1–25 mm steel by hand mostly has; both are common practice,
 * not taken from a standard. Process numbers: ISO 4063; positions: ISO 6947; joints: AWS A3.0.
 */

#include "model/variable.h"

#include <math.h>

#include "model/variable_key.h"

/* A row takes two or three lines, not one a field. */
/* clang-format off */
const struct variable variable_table[] = {
    {.key = KEY_PROCESS, .label = "Process", .group = GROUP_MACHINE, .kind = VARIABLE_CATEGORY,
     .choices = "111 stick|114 self-shielded flux-cored|135 MAG solid wire|136 flux-cored with "
         "gas|138 metal-cored with gas|141 TIG",
     .help = "The welding process by its ISO 4063 number; 135 is solid wire with active gas."},
    {.key = "machine", .label = "Machine", .group = GROUP_MACHINE, .kind = VARIABLE_CATEGORY,
     .help = "Which power source: the name or number painted on it."},
    {.key = "machine_setting", .label = "Machine setting", .group = GROUP_MACHINE,
     .kind = VARIABLE_CATEGORY,
     .help = "Knob or program positions as read on the panel, such as B-4 or trim 50."},
    {.key = "polarity", .label = "Polarity", .group = GROUP_MACHINE, .kind = VARIABLE_CATEGORY,
     .choices = "DCEP|DCEN|AC", .choices_only = true,
     .help = "DCEP: electrode to plus; self-shielded wire mostly runs DCEN. Look at the "
         "terminals."},

    {.key = KEY_WIRE_CLASS, .label = "Wire class", .group = GROUP_WIRE, .kind = VARIABLE_CATEGORY,
     .choices = "ER70S-3|ER70S-6|E71T-1C|E71T-1M|E71T-9C|E71T-11|E71T-GS|E70C-6M|G 42 4 M21 3Si1",
     .help = "The class printed on the spool or packet."},
    {.key = KEY_WIRE_DIAMETER, .label = "Wire diameter", .group = GROUP_WIRE,
     .dimension = DIM_LENGTH, .can = {0.3, 10}, .usual = {0.6, 4.8},
     .help = "As printed on the spool; a caliper on the wire settles doubts."},
    {.key = "wire_lot", .label = "Wire lot", .group = GROUP_WIRE, .kind = VARIABLE_CATEGORY,
     .help = "Lot or heat number on the spool label: two spools of one class may differ."},

    {.key = "gas", .label = "Gas", .group = GROUP_GAS, .kind = VARIABLE_CATEGORY,
     .choices = "none|CO2|Ar 82 CO2 18|Ar 75 CO2 25|Ar 90 CO2 10|Ar 98 O2 2|Ar",
     .help = "Shielding gas as on the cylinder; none for self-shielded wire and stick."},
    {.key = "gas_flow", .label = "Gas flow", .group = GROUP_GAS, .dimension = DIM_GAS_FLOW,
     .can = {0, 60}, .usual = {8, 25},
     .help = "Read with a flow tube on the nozzle; the regulator often shows another figure."},

    {.key = KEY_BASE_METAL, .label = "Base metal", .group = GROUP_PLATE, .kind = VARIABLE_CATEGORY,
     .choices = "mild steel|S235|S275|S355|A36",
     .help = "Grade of the plate, from its certificate or colour mark; mild steel when not known."},
    {.key = KEY_THICKNESS, .label = "Thickness", .group = GROUP_PLATE, .dimension = DIM_LENGTH,
     .can = {0.2, 300}, .usual = {1, 25},
     .help = "Of the member that is folded; calipers on the cleaned edge."},
    {.key = "thickness_2", .label = "Thickness, second member", .group = GROUP_PLATE,
     .dimension = DIM_LENGTH, .can = {0.2, 300}, .usual = {1, 25},
     .help = "Of the other member; calipers on the cleaned edge."},
    {.key = "cleaning", .label = "Cleaning", .group = GROUP_PLATE, .kind = VARIABLE_CATEGORY,
     .choices = "as rolled|wire brushed|ground bright|acid cleaned",
     .help = "How the joint faces were prepared; mill scale hinders fusion. Wear glasses; take coatings off."},

    {.key = KEY_JOINT, .label = "Joint", .group = GROUP_JOINT, .kind = VARIABLE_CATEGORY,
     .choices = "tee|lap|butt|corner|edge", .help = "How the members meet."},
    {.key = "position", .label = "Position", .group = GROUP_JOINT, .kind = VARIABLE_CATEGORY,
     .choices = "PA|PB|PC|PD|PE|PF|PG",
     .help = "ISO 6947: PA flat, PB horizontal fillet, PC horizontal, PF uphill, PG downhill."},
    {.key = KEY_SIDES, .label = "Sides welded", .group = GROUP_JOINT, .kind = VARIABLE_CATEGORY,
     .choices = "one|both", .help = "Whether the joint is welded from one side or from both."},
    {.key = "root_gap", .label = "Root gap", .group = GROUP_JOINT, .dimension = DIM_LENGTH,
     .can = {0, 25}, .usual = {0, 4},
     .help = "The widest opening between the members before welding; feeler gauge or wire of "
         "known size."},
    {.key = "fit_up", .label = "Fit-up", .group = GROUP_JOINT, .kind = VARIABLE_CATEGORY,
     .choices = "tight|gap at one end|gap all along|clamped",
     .help = "How well the members met when they were tacked."},
    {.key = KEY_LEG, .label = "Leg length", .group = GROUP_JOINT, .dimension = DIM_LENGTH,
     .can = {0.5, 50}, .usual = {2, 15},
     .help = "Of the fillet, on the member that is folded; fillet gauge, middle of the bead."},
    {.key = KEY_LEG_2, .label = "Leg length, second member", .group = GROUP_JOINT,
     .dimension = DIM_LENGTH, .can = {0.5, 50}, .usual = {2, 15},
     .help = "Of the fillet, on the other member; fillet gauge, middle of the bead."},

    {.key = KEY_PREHEAT, .label = "Preheat", .group = GROUP_HEAT, .dimension = DIM_TEMPERATURE,
     .can = {-50, 700}, .usual = {-10, 300},
     .help = "Plate beside the joint just before the first arc: thermometer or stick. Never heat a coating."},
    {.key = "interpass_limit", .label = "Interpass limit", .group = GROUP_HEAT,
     .dimension = DIM_TEMPERATURE, .can = {0, 700}, .usual = {20, 350},
     .help = "The highest temperature at which the next pass was allowed to start."},
    {.key = KEY_PASSES, .label = "Passes", .group = GROUP_HEAT, .dimension = DIM_COUNT,
     .can = {1, 100}, .usual = {1, 12},
     .help = "How many times the gun went along the joint, tacks not counted."},

    {.key = KEY_TRAVEL_SPEED, .label = "Travel speed", .group = GROUP_TECHNIQUE,
     .dimension = DIM_SPEED, .can = {5, 3000}, .usual = {80, 900},
     .help = "Length of weld over arc-on time, from the arc clock; never guessed."},
    {.key = KEY_VOLTS, .label = "Volts", .group = GROUP_TECHNIQUE, .dimension = DIM_VOLTAGE,
     .can = {5, 60}, .usual = {13, 36},
     .help = "Arc voltage while welding, from the panel or a meter at the feeder."},
    {.key = KEY_AMPS, .label = "Amps", .group = GROUP_TECHNIQUE, .dimension = DIM_CURRENT,
     .can = {5, 1000}, .usual = {30, 400},
     .help = "Current while welding, from the panel or a clamp meter."},
    {.key = KEY_WIRE_FEED_SPEED, .label = "Wire feed speed", .group = GROUP_TECHNIQUE,
     .dimension = DIM_SPEED, .can = {300, 30000}, .usual = {1000, 18000},
     .help = "Run the wire for 6 s and measure it: inches × 10 are in/min, millimetres × 10 "
         "mm/min."},
    {.key = "tip_to_work", .label = "Contact tip to work", .group = GROUP_TECHNIQUE,
     .dimension = DIM_LENGTH, .can = {1, 60}, .usual = {6, 30},
     .help = "From the end of the contact tip to the plate; set with a gauge block before the "
         "arc."},
    {.key = "torch_angle", .label = "Torch angle", .group = GROUP_TECHNIQUE,
     .dimension = DIM_ANGLE, .can = {0, 90}, .usual = {0, 45},
     .help = "Tilt along the direction of travel, away from square to the plate."},
    {.key = "travel_direction", .label = "Push or drag", .group = GROUP_TECHNIQUE,
     .kind = VARIABLE_CATEGORY, .choices = "push|drag|square",
     .help = "Push: the gun points ahead; drag: it points back at the bead."},
    {.key = "bead_start", .label = "Bead start", .group = GROUP_TECHNIQUE,
     .kind = VARIABLE_CATEGORY, .choices = "straight off|dwell|back-step|hot start|run-on tab",
     .help = "What was done in the first 10 to 25 mm, which are the coldest."},
    {.key = KEY_WELDER, .label = "Welder", .group = GROUP_TECHNIQUE, .kind = VARIABLE_CATEGORY,
     .help = "Who held the gun."},
    {.key = KEY_DAY, .label = "Day", .group = GROUP_TECHNIQUE, .kind = VARIABLE_CATEGORY,
     .help = "The day or shift it was welded in, so that a change of weather or set-up can show."},

    /* A leg folded flat onto the other is 180°; a protractor on one forced further, or a leg that
     * sprang past it, can read more, so that is asked about and not refused. */
    {.key = KEY_BEND_ANGLE, .label = "Bend angle", .group = GROUP_RESULT, .role = ROLE_RESULT,
     .dimension = DIM_ANGLE, .can = {0, 270}, .usual = {0, 180}, .scale = 180,
     .help = "Folded from straight (180° less the included angle); 135+ when held to the stop "
         "unbroken."},
    {.key = KEY_FUSED_SHARE, .label = "Fused share", .group = GROUP_RESULT, .role = ROLE_RESULT,
     .dimension = DIM_SHARE, .can = {0, 100}, .usual = {0, 100}, .scale = 100,
     .help = "Length of the broken face that was fused to the root, of the whole bead."},
    {.key = KEY_LONGEST_UNFUSED, .label = "Longest unfused run", .group = GROUP_RESULT,
     .role = ROLE_RESULT, .dimension = DIM_LENGTH, .can = {0, 2000}, .usual = {0, 300},
     .help = "The longest stretch of the broken face without fusion; steel rule along the bead."},
    {.key = KEY_UNFUSED_AT_START, .label = "Unfused at the start", .group = GROUP_RESULT,
     .role = ROLE_RESULT, .dimension = DIM_LENGTH, .can = {0, 2000}, .usual = {0, 100},
     .help = "From the start of the bead to the first place fused to the root; steel rule."},
    {.key = KEY_PEAK_MOMENT, .label = "Peak moment", .group = GROUP_RESULT, .role = ROLE_RESULT,
     .dimension = DIM_MOMENT, .can = {0, 100000}, .usual = {1, 5000},
     .help = "Highest pull times the length of the lever, from a spring scale or gauge."},
    {.key = KEY_FIRST_CRACK_ANGLE, .label = "First crack angle", .group = GROUP_RESULT,
     .role = ROLE_RESULT, .dimension = DIM_ANGLE, .can = {0, 270}, .usual = {0, 180},
     .scale = 180,
     .help = "Bend angle at which a crack could first be seen; 135+ when none was seen up to the "
         "stop."},

    {.key = KEY_ARC_ENERGY, .label = "Arc energy", .group = GROUP_DERIVED,
     .dimension = DIM_LINE_ENERGY, .can = {0, INFINITY},
     .from = {KEY_VOLTS, KEY_AMPS, KEY_TRAVEL_SPEED},
     .help = "Volts times amps over travel speed (EN 1011-1), before any process factor."},
    {.key = KEY_HEAT_INPUT, .label = "Heat input", .group = GROUP_DERIVED,
     .dimension = DIM_LINE_ENERGY, .can = {0, INFINITY},
     .from = {KEY_PROCESS, KEY_VOLTS, KEY_AMPS, KEY_TRAVEL_SPEED},
     .help = "Arc energy times the process factor of EN 1011-1 (0.8 for wire with gas)."},
    {.key = KEY_T85, .label = "Cooling time 800 to 500 °C", .group = GROUP_DERIVED,
     .dimension = DIM_TIME, .can = {0, INFINITY},
     .from = {KEY_PROCESS, KEY_VOLTS, KEY_AMPS, KEY_TRAVEL_SPEED, KEY_PREHEAT, KEY_THICKNESS},
     .help = "From heat input, preheat and thickness (EN 1011-2); an index to compare coupons by."},
    {.key = KEY_THROAT_RATIO, .label = "Throat to thickness", .group = GROUP_DERIVED,
     .dimension = DIM_NUMBER, .can = {0, INFINITY}, .from = {KEY_LEG, KEY_LEG_2, KEY_THICKNESS},
     .help = "Throat of the fillet, from its legs, over the thickness of the folded member."},
    {.key = KEY_LEG_RATIO, .label = "Leg to thickness", .group = GROUP_DERIVED,
     .dimension = DIM_NUMBER, .can = {0, INFINITY}, .from = {KEY_LEG, KEY_THICKNESS},
     .help = "Leg of the fillet over the thickness of the folded member."},
};
/* clang-format on */

const size_t variable_table_count = sizeof variable_table / sizeof *variable_table;
