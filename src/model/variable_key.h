/*
 * Keys of the built-in variables that the program itself asks for by name. The rows of
 * variable_table use them too, so that each is written once.
 */
#ifndef MODEL_VARIABLE_KEY_H
#define MODEL_VARIABLE_KEY_H

#define KEY_PROCESS "process"
#define KEY_WIRE_CLASS "wire_class"
#define KEY_WIRE_DIAMETER "wire_diameter"
#define KEY_BASE_METAL "base_metal"
#define KEY_THICKNESS "thickness"
#define KEY_JOINT "joint"
#define KEY_SIDES "sides"
#define KEY_LEG "leg"
#define KEY_LEG_2 "leg_2"
#define KEY_PREHEAT "preheat"
#define KEY_PASSES "passes"
#define KEY_TRAVEL_SPEED "travel_speed"
#define KEY_VOLTS "volts"
#define KEY_AMPS "amps"
#define KEY_WIRE_FEED_SPEED "wire_feed_speed"
#define KEY_WELDER "welder"
#define KEY_DAY "day"
#define KEY_BEND_ANGLE "bend_angle"
#define KEY_FUSED_SHARE "fused_share"
#define KEY_LONGEST_UNFUSED "longest_unfused"
#define KEY_UNFUSED_AT_START "unfused_at_start"
#define KEY_PEAK_MOMENT "peak_moment"
#define KEY_FIRST_CRACK_ANGLE "first_crack_angle"
#define KEY_ARC_ENERGY "arc_energy"
#define KEY_HEAT_INPUT "heat_input"
#define KEY_T85 "t85"
#define KEY_THROAT_RATIO "throat_ratio"
#define KEY_LEG_RATIO "leg_ratio"

#endif
