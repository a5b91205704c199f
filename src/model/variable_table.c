/*
 * The built-in rows. Limits: "least/most" is what cannot be (a slip of the pen, a wrong unit),
 * "usual" what a shop welding 1–25 mm steel by hand mostly has; both are common practice, not taken
 * from a standard. Process numbers: ISO 4063; positions: ISO 6947; joints: AWS A3.0.
 */

#include "model/variable.h"

#include <math.h>

#define NO_LIMIT -INFINITY, INFINITY, -INFINITY, INFINITY

#define CATEGORY(key, label, group, choices, only, help)                                           \
    {                                                                                              \
        key, label, group, ROLE_CAUSE, VARIABLE_CATEGORY, DIM_NUMBER, NULL, NO_LIMIT, choices,     \
            only, 0, NULL, help, false                                                             \
    }
#define NUMBER(key, label, group, dimension, least, most, low, high, help)                         \
    {                                                                                              \
        key, label, group, ROLE_CAUSE, VARIABLE_NUMBER, dimension, NULL, least, most, low, high,   \
            NULL, false, 0, NULL, help, false                                                      \
    }
#define RESULT(key, label, dimension, least, most, low, high, scale, help)                         \
    {                                                                                              \
        key, label, GROUP_RESULT, ROLE_RESULT, VARIABLE_NUMBER, dimension, NULL, least, most, low, \
            high, NULL, false, scale, NULL, help, false                                            \
    }
#define DERIVED(key, label, dimension, from, help)                                                 \
    {                                                                                              \
        key, label, GROUP_DERIVED, ROLE_CAUSE, VARIABLE_NUMBER, dimension, NULL, 0, INFINITY, 0,   \
            INFINITY, NULL, false, 0, from, help, false                                            \
    }

const struct variable variable_table[] = {
    CATEGORY("process", "Process", GROUP_MACHINE,
             "111 stick|114 self-shielded flux-cored|135 MAG solid wire|136 flux-cored with gas|"
             "138 metal-cored with gas|141 TIG",
             false,
             "The welding process by its ISO 4063 number; 135 is solid wire with active gas."),
    CATEGORY("machine", "Machine", GROUP_MACHINE, NULL, false,
             "Which power source: the name or number painted on it."),
    CATEGORY("machine_setting", "Machine setting", GROUP_MACHINE, NULL, false,
             "Knob or program positions as read on the panel, such as B-4 or trim 50."),
    CATEGORY(
        "polarity", "Polarity", GROUP_MACHINE, "DCEP|DCEN|AC", true,
        "DCEP: electrode to plus; self-shielded wire mostly runs DCEN. Look at the terminals."),

    CATEGORY("wire_class", "Wire class", GROUP_WIRE,
             "ER70S-3|ER70S-6|E71T-1C|E71T-1M|E71T-9C|E71T-11|E71T-GS|E70C-6M|G 42 4 M21 3Si1",
             false, "The class printed on the spool or packet."),
    NUMBER("wire_diameter", "Wire diameter", GROUP_WIRE, DIM_LENGTH, 0.3, 10, 0.6, 4.8,
           "As printed on the spool; a caliper on the wire settles doubts."),
    CATEGORY("wire_lot", "Wire lot", GROUP_WIRE, NULL, false,
             "Lot or heat number on the spool label: two spools of one class may differ."),

    CATEGORY("gas", "Gas", GROUP_GAS,
             "none|CO2|Ar 82 CO2 18|Ar 75 CO2 25|Ar 90 CO2 10|Ar 98 O2 2|Ar", false,
             "Shielding gas as on the cylinder; none for self-shielded wire and stick."),
    NUMBER("gas_flow", "Gas flow", GROUP_GAS, DIM_GAS_FLOW, 0, 60, 8, 25,
           "Read with a flow tube on the nozzle; the regulator often shows another figure."),

    CATEGORY("base_metal", "Base metal", GROUP_PLATE, "mild steel|S235|S275|S355|A36", false,
             "Grade of the plate, from its certificate or colour mark; mild steel when not known."),
    NUMBER("thickness", "Thickness", GROUP_PLATE, DIM_LENGTH, 0.2, 300, 1, 25,
           "Of the member that is folded; calipers on the cleaned edge."),
    NUMBER("thickness_2", "Thickness, second member", GROUP_PLATE, DIM_LENGTH, 0.2, 300, 1, 25,
           "Of the other member; calipers on the cleaned edge."),
    CATEGORY("cleaning", "Cleaning", GROUP_PLATE,
             "as rolled|wire brushed|ground bright|acid cleaned", false,
             "How the joint faces were prepared. Mill scale left on hinders fusion."),

    CATEGORY("joint", "Joint", GROUP_JOINT, "tee|lap|butt|corner|edge", false,
             "How the members meet."),
    CATEGORY("position", "Position", GROUP_JOINT, "PA|PB|PC|PD|PE|PF|PG", false,
             "ISO 6947: PA flat, PB horizontal fillet, PC horizontal, PF uphill, PG downhill."),
    CATEGORY("sides", "Sides welded", GROUP_JOINT, "one|both", false,
             "Whether the joint is welded from one side or from both."),
    NUMBER("root_gap", "Root gap", GROUP_JOINT, DIM_LENGTH, 0, 25, 0, 4,
           "The widest opening between the members before welding; feeler gauge or wire of known "
           "size."),
    CATEGORY("fit_up", "Fit-up", GROUP_JOINT, "tight|gap at one end|gap all along|clamped", false,
             "How well the members met when they were tacked."),
    NUMBER("leg", "Leg length", GROUP_JOINT, DIM_LENGTH, 0.5, 50, 2, 15,
           "Of the fillet, on the member that is folded; fillet gauge, middle of the bead."),
    NUMBER("leg_2", "Leg length, second member", GROUP_JOINT, DIM_LENGTH, 0.5, 50, 2, 15,
           "Of the fillet, on the other member; fillet gauge, middle of the bead."),

    NUMBER("preheat", "Preheat", GROUP_HEAT, DIM_TEMPERATURE, -50, 700, -10, 300,
           "Plate temperature beside the joint just before the first arc: contact thermometer or "
           "stick."),
    NUMBER("interpass_limit", "Interpass limit", GROUP_HEAT, DIM_TEMPERATURE, 0, 700, 20, 350,
           "The highest temperature at which the next pass was allowed to start."),
    NUMBER("passes", "Passes", GROUP_HEAT, DIM_COUNT, 1, 100, 1, 12,
           "How many times the gun went along the joint, tacks not counted."),

    NUMBER("travel_speed", "Travel speed", GROUP_TECHNIQUE, DIM_SPEED, 5, 3000, 80, 900,
           "Length of weld over arc-on time, from the arc clock; never guessed."),
    NUMBER("volts", "Volts", GROUP_TECHNIQUE, DIM_VOLTAGE, 5, 60, 13, 36,
           "Arc voltage while welding, from the panel or a meter at the feeder."),
    NUMBER("amps", "Amps", GROUP_TECHNIQUE, DIM_CURRENT, 5, 1000, 30, 400,
           "Current while welding, from the panel or a clamp meter."),
    NUMBER("wire_feed_speed", "Wire feed speed", GROUP_TECHNIQUE, DIM_SPEED, 300, 30000, 1000,
           18000,
           "Run the wire for 6 s and measure it: inches × 10 are in/min, millimetres × 10 mm/min."),
    NUMBER("tip_to_work", "Contact tip to work", GROUP_TECHNIQUE, DIM_LENGTH, 1, 60, 6, 30,
           "From the end of the contact tip to the plate; set with a gauge block before the arc."),
    NUMBER("torch_angle", "Torch angle", GROUP_TECHNIQUE, DIM_ANGLE, 0, 90, 0, 45,
           "Tilt along the direction of travel, away from square to the plate."),
    CATEGORY("travel_direction", "Push or drag", GROUP_TECHNIQUE, "push|drag|square", false,
             "Push: the gun points ahead; drag: it points back at the bead."),
    CATEGORY("bead_start", "Bead start", GROUP_TECHNIQUE,
             "straight off|dwell|back-step|hot start|run-on tab", false,
             "What was done in the first 10 to 25 mm, which are the coldest."),
    CATEGORY("welder", "Welder", GROUP_TECHNIQUE, NULL, false, "Who held the gun."),
    CATEGORY("day", "Day", GROUP_TECHNIQUE, NULL, false,
             "The day or shift it was welded in, so that a change of weather or set-up can show."),

    /* A leg folded flat onto the other is 180°; a protractor on one forced further, or a leg that
     * sprang past it, can read more, so that is asked about and not refused. */
    RESULT("bend_angle", "Bend angle", DIM_ANGLE, 0, 270, 0, 180, 180,
           "Folded from straight (180° less the included angle); 135+ when held to the stop "
           "unbroken."),
    RESULT("fused_share", "Fused share", DIM_SHARE, 0, 100, 0, 100, 100,
           "Length of the broken face that was fused to the root, of the whole bead."),
    RESULT("longest_unfused", "Longest unfused run", DIM_LENGTH, 0, 2000, 0, 300, 0,
           "The longest stretch of the broken face without fusion; steel rule along the bead."),
    RESULT("unfused_at_start", "Unfused at the start", DIM_LENGTH, 0, 2000, 0, 100, 0,
           "From the start of the bead to the first place fused to the root; steel rule."),
    RESULT("peak_moment", "Peak moment", DIM_MOMENT, 0, 100000, 1, 5000, 0,
           "Highest pull times the length of the lever, from a spring scale or gauge."),
    RESULT(
        "first_crack_angle", "First crack angle", DIM_ANGLE, 0, 270, 0, 180, 180,
        "Bend angle at which a crack could first be seen; 135+ when none was seen up to the stop."),

    DERIVED("arc_energy", "Arc energy", DIM_LINE_ENERGY, "volts amps travel_speed",
            "Volts times amps over travel speed (EN 1011-1), before any process factor."),
    DERIVED("heat_input", "Heat input", DIM_LINE_ENERGY, "process volts amps travel_speed",
            "Arc energy times the process factor of EN 1011-1 (0.8 for wire with gas)."),
    DERIVED("t85", "Cooling time 800 to 500 °C", DIM_TIME,
            "process volts amps travel_speed preheat thickness",
            "From heat input, preheat and thickness (EN 1011-2); an index to compare coupons by."),
    DERIVED("throat_ratio", "Throat to thickness", DIM_NUMBER, "leg leg_2 thickness",
            "Throat of the fillet, from its legs, over the thickness of the folded member."),
    DERIVED("leg_ratio", "Leg to thickness", DIM_NUMBER, "leg thickness",
            "Leg of the fillet over the thickness of the folded member."),
};

const size_t variable_table_count = sizeof variable_table / sizeof *variable_table;
