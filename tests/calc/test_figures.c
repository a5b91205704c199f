/* Every figure of every kind: key, unit, value and ±, in the answer and in its JSON. The values
 * were worked out apart from the program, by the formulas in the headers of src/weld [calc]; the ±
 * are for regression. */
#include "run.h"

#include <jansson.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "calc/json.h"
#include "line.h"

enum { MOST = CALC_OUTPUTS };

static const struct {
    const char *line;      /* kind and arguments, divided by bars */
    const char *word, *is; /* an outcome in words; NULL: none */
    size_t notes;
    struct {
        const char *key, *unit;
        double value, error;
    } figures[MOST]; /* in order; up to a NULL key */
} cases[] = {
    /* clang-format off */
    {"heat|volts=20|amps=160|length=60|time=12|process=135", NULL, NULL, 3, {
        {"arc_energy_kj_per_mm", "kJ/mm", 0.64, 0.0237079},
        {"arc_energy_kj_per_in", "kJ/in", 16.256, 0.602182},
        {"heat_input_kj_per_mm", "kJ/mm", 0.512, 0.0189663},
        {"heat_input_kj_per_in", "kJ/in", 13.0048, 0.481745},
        {"heat_input_aws_kj_per_mm", "kJ/mm", 0.64, 0.0237079},
        {"heat_input_aws_kj_per_in", "kJ/in", 16.256, 0.602182}, {"efficiency_k", "", 0.8, NAN},
        {"travel_speed_mm_per_min", "mm/min", 300, 5.59141},
        {"travel_speed_in_per_min", "in/min", 11.81102362, 0.220134},
        {"pass_energy_kj", "kJ", 38.4, 1.38601},
    }},
    {"heat|power=3.2|speed=300|k=0.75", NULL, NULL, 3, {
        {"arc_energy_kj_per_mm", "kJ/mm", 0.64, NAN},
        {"arc_energy_kj_per_in", "kJ/in", 16.256, NAN},
        {"heat_input_kj_per_mm", "kJ/mm", 0.48, NAN},
        {"heat_input_kj_per_in", "kJ/in", 12.192, NAN},
        {"heat_input_aws_kj_per_mm", "kJ/mm", 0.64, NAN},
        {"heat_input_aws_kj_per_in", "kJ/in", 16.256, NAN}, {"efficiency_k", "", 0.75, NAN},
        {"travel_speed_mm_per_min", "mm/min", 300, NAN},
        {"travel_speed_in_per_min", "in/min", 11.81102362, NAN},
    }},
    {"heat|energy=40|length=100|process=TIG", NULL, NULL, 3, {
        {"arc_energy_kj_per_mm", "kJ/mm", 0.4, 0.00200005},
        {"arc_energy_kj_per_in", "kJ/in", 10.16, 0.0508013},
        {"heat_input_kj_per_mm", "kJ/mm", 0.24, 0.00120003},
        {"heat_input_kj_per_in", "kJ/in", 6.096, 0.0304808},
        {"heat_input_aws_kj_per_mm", "kJ/mm", 0.4, 0.00200005},
        {"heat_input_aws_kj_per_in", "kJ/in", 10.16, 0.0508013}, {"efficiency_k", "", 0.6, NAN},
        {"pass_energy_kj", "kJ", 40, NAN},
    }},
    {"cooling|heat_input=0.8|preheat=60|thickness=6|joint=tee", "regime", "thin", 3, {
        {"t85_s", "s", 13.43681318, 0.751966}, {"t85_low_s", "s", 10.79743916, 0.604258},
        {"t85_high_s", "s", 16.0761872, 0.899673}, {"t85_thick_s", "s", 3.160687961, 0.0899082},
        {"t85_thin_s", "s", 13.43681318, 0.751966}, {"transition_mm", "mm", 13.53168772, 0.111436},
        {"transition_in", "in", 0.5327436109, 0.00438724},
        {"transition_joint_mm", "mm", 12.37110744, 0.101878},
        {"transition_joint_in", "in", 0.4870514742, 0.00401096}, {"f2", "", 0.56, NAN},
        {"f3", "", 0.67, NAN},
    }},
    {"cooling|heat_input=0.8|preheat=60|thickness=6|joint=corner", "regime", "thin", 3, {
        {"t85_s", "s", 18.83553276, 1.05409}, {"t85_low_s", "s", 16.0761872, 0.899673},
        {"t85_high_s", "s", 21.59487833, 1.20852}, {"t85_thick_s", "s", 3.160687961, 0.0899082},
        {"t85_thin_s", "s", 18.83553276, 1.05409}, {"transition_mm", "mm", 13.53168772, 0.111436},
        {"transition_in", "in", 0.5327436109, 0.00438724},
        {"transition_joint_mm", "mm", 14.64702402, 0.120621},
        {"transition_joint_in", "in", 0.5766544888, 0.00474886}, {"f2", "", 0.785, NAN},
        {"f3", "", 0.67, NAN},
    }},
    {"cooling|heat_input=0.8|preheat=60|thickness=6|joint=butt", "regime", "thin", 2, {
        {"t85_s", "s", 21.59487833, 1.20852}, {"t85_thick_s", "s", 4.245700246, 0.120772},
        {"t85_thin_s", "s", 21.59487833, 1.20852}, {"transition_mm", "mm", 13.53168772, 0.111436},
        {"transition_in", "in", 0.5327436109, 0.00438724},
        {"transition_joint_mm", "mm", 13.53168772, 0.111436},
        {"transition_joint_in", "in", 0.5327436109, 0.00438724}, {"f2", "", 0.9, NAN},
        {"f3", "", 0.9, NAN},
    }},
    {"cooling|heat_input=0.8|preheat=60|thickness=6|joint=plate", "regime", "thin", 2, {
        {"t85_s", "s", 23.99430925, 1.3428}, {"t85_thick_s", "s", 4.717444717, 0.134191},
        {"t85_thin_s", "s", 23.99430925, 1.3428}, {"transition_mm", "mm", 13.53168772, 0.111436},
        {"transition_in", "in", 0.5327436109, 0.00438724}, {"f2", "", 1, NAN}, {"f3", "", 1, NAN},
    }},
    {"cooling|heat_input=2|thickness=60|f2=0.8|f3=0.7", "regime", "thick", 2, {
        {"t85_s", "s", 7.403846154, 0.193179}, {"t85_thick_s", "s", 7.403846154, 0.193179},
        {"t85_thin_s", "s", 1.010094784, 0.0418177}, {"transition_mm", "mm", 20.73039839, 0.157095},
        {"transition_in", "in", 0.8161574168, 0.00618483},
        {"transition_joint_mm", "mm", 22.16172807, 0.167941},
        {"transition_joint_in", "in", 0.8725089792, 0.00661186}, {"f2", "", 0.8, NAN},
        {"f3", "", 0.7, NAN},
    }},
    {"carbon|C=.18|Mn=1.2|Si=.3|Cr=.1|Mo=.05|V=.02|Ni=.15|Cu=.2|B=.0005", NULL, NULL, 1, {
        {"ce_iiw", "mass %", 0.4373333333, NAN}, {"cet", "mass %", 0.32375, NAN},
        {"pcm", "mass %", 0.2753333333, NAN},
    }},
    {"preheat|cet=.36|thickness=25|hydrogen=5|heat_input=1.2", NULL, NULL, 1, {
        {"preheat_c", "°C", 114.453992, 0.285163}, {"preheat_f", "°F", 238.0171855, 0.513293},
    }},
    {"fillet|leg1=5|leg2=7|thickness=6|length=60", NULL, NULL, 3, {
        {"throat_mm", "mm", 4.068667356, 0.287169}, {"throat_in", "in", 0.1601837542, 0.0113059},
        {"area_mm2", "mm²", 17.5, 2.15058}, {"area_in2", "in²", 0.02712505425, 0.00333341},
        {"mass_kg_per_m", "kg/m", 0.1370847281, 0.0168464},
        {"mass_lb_per_ft", "lb/ft", 0.09211668423, 0.0113203}, {"leg1_mm", "mm", 5, 0.5},
        {"leg1_in", "in", 0.1968503937, 0.019685}, {"leg2_mm", "mm", 7, 0.5},
        {"leg2_in", "in", 0.2755905512, 0.019685},
        {"throat_to_thickness", "", 0.678111226, 0.0491786},
        {"weld_mass_kg", "kg", 0.008225083685, 0.0010131},
        {"weld_mass_lb", "lb", 0.01813320556, 0.00223351},
    }},
    {"fillet|throat=4", NULL, NULL, 3, {
        {"throat_mm", "mm", 4, 0.5}, {"throat_in", "in", 0.157480315, 0.019685},
        {"area_mm2", "mm²", 16, 4}, {"area_in2", "in²", 0.0248000496, 0.00620001},
        {"mass_kg_per_m", "kg/m", 0.1253346085, 0.0313337},
        {"mass_lb_per_ft", "lb/ft", 0.08422096844, 0.0210552},
        {"leg1_mm", "mm", 5.656854249, 0.707107}, {"leg1_in", "in", 0.2227107972, 0.0278388},
        {"leg2_mm", "mm", 5.656854249, 0.707107}, {"leg2_in", "in", 0.2227107972, 0.0278388},
    }},
    {"fillet|leg=6", NULL, NULL, 3, {
        {"throat_mm", "mm", 4.242640687, 0.353553}, {"throat_in", "in", 0.1670330979, 0.0139194},
        {"area_mm2", "mm²", 18, 3}, {"area_in2", "in²", 0.0279000558, 0.00465001},
        {"mass_kg_per_m", "kg/m", 0.1410014346, 0.0235002},
        {"mass_lb_per_ft", "lb/ft", 0.0947485895, 0.0157914}, {"leg1_mm", "mm", 6, 0.5},
        {"leg1_in", "in", 0.2362204724, 0.019685}, {"leg2_mm", "mm", 6, 0.5},
        {"leg2_in", "in", 0.2362204724, 0.019685},
    }},
    {"hinge|thickness=6|unfused=0.5|yield=235|weld_strength=500|ratio=1.2|leg=4", "governs", "weld", 2, {
        {"weld_to_plate", "", 0.3204239288, 0.16888}, {"plate_moment_n_mm_per_mm", "N", 2115, 70.5},
        {"plate_moment_lbf_in_per_in", "lbf", 475.4709147, 15.849},
        {"weld_moment_n_mm_per_mm", "N", 677.6966094, 356.466},
        {"weld_moment_lbf_in_per_in", "lbf", 152.3522585, 80.1368},
        {"throat_mm", "mm", 2.828427125, 0.353553}, {"throat_in", "in", 0.1113553986, 0.0139194},
        {"throat_fused_mm", "mm", 2.328427125, 0.612372},
        {"throat_fused_in", "in", 0.09167035924, 0.0241092},
        {"throat_needed_mm", "mm", 5.005996005, 0.505609},
        {"throat_needed_in", "in", 0.1970864569, 0.0199058},
        {"leg_needed_mm", "mm", 7.079547444, 0.715038},
        {"leg_needed_in", "in", 0.2787223403, 0.0281511},
        {"weld_strength_needed_mpa", "MPa", 1872.519329, 1067.73},
        {"weld_strength_needed_ksi", "ksi", 271.5859673, 154.861},
    }},
    {"hinge|thickness=6|unfused=0.5|yield=235|weld_strength=500|ratio=1.2|throat=3|sides=2", "governs", "plate", 2, {
        {"weld_to_plate", "", 3.246241541, 1.12909}, {"plate_moment_n_mm_per_mm", "N", 2115, 70.5},
        {"plate_moment_lbf_in_per_in", "lbf", 475.4709147, 15.849},
        {"weld_moment_n_mm_per_mm", "N", 6865.800859, 2385.52},
        {"weld_moment_lbf_in_per_in", "lbf", 1543.493435, 536.287}, {"throat_mm", "mm", 3, 0.5},
        {"throat_in", "in", 0.1181102362, 0.019685}, {"throat_fused_mm", "mm", 2.5, 0.707107},
        {"throat_fused_in", "in", 0.09842519685, 0.0278388},
        {"throat_needed_mm", "mm", 1.563205146, 0.500314},
        {"throat_needed_in", "in", 0.06154350967, 0.0196974},
        {"leg_needed_mm", "mm", 2.210705918, 0.707551},
        {"leg_needed_in", "in", 0.08703566605, 0.0278563},
        {"weld_strength_needed_mpa", "MPa", 184.8291301, 67.0941},
        {"weld_strength_needed_ksi", "ksi", 26.80719889, 9.73118},
    }},
    {"hinge|thickness=6|unfused=0.5|yield=235|weld_strength=500|ratio=1.2|leg1=4|leg2=5|opening=face", "governs", "plate", 2, {
        {"weld_to_plate", "", 3.038089448, 0.74714}, {"plate_moment_n_mm_per_mm", "N", 2115, 70.5},
        {"plate_moment_lbf_in_per_in", "lbf", 475.4709147, 15.849},
        {"weld_moment_n_mm_per_mm", "N", 6425.559183, 1578.25},
        {"weld_moment_lbf_in_per_in", "lbf", 1444.523169, 354.805},
        {"throat_mm", "mm", 3.123475238, 0.268418}, {"throat_in", "in", 0.1229714661, 0.0105676},
        {"throat_fused_mm", "mm", 2.623475238, 0.567493},
        {"throat_fused_in", "in", 0.1032864267, 0.0223422},
        {"throat_needed_mm", "mm", 1.622215698, 0.50035},
        {"throat_needed_in", "in", 0.06386675978, 0.0196988},
        {"leg_needed_mm", "mm", 2.294159442, 0.707601},
        {"leg_needed_in", "in", 0.09032123786, 0.0278583},
        {"weld_strength_needed_mpa", "MPa", 197.4925394, 50.2397},
        {"weld_strength_needed_ksi", "ksi", 28.64387113, 7.28666},
    }},
    {"hinge|coupons=broke 6 4 0.5; held 4 6", NULL, NULL, 1, {
        {"weld_strength_at_least_mpa", "MPa", 180, NAN},
        {"weld_strength_at_least_ksi", "ksi", 26.10679279, NAN},
        {"weld_strength_at_most_mpa", "MPa", 4276.514963, NAN},
        {"weld_strength_at_most_ksi", "ksi", 620.2560556, NAN},
    }},
    {"bend|before=90|gap=110|leg=60|thickness=6|former=24|yield=250", NULL, NULL, 2, {
        {"bend_angle_deg", "°", 42.88707138, 2.69064}, {"included_before_deg", "°", 90, 1},
        {"included_after_deg", "°", 132.8870714, 2.49791},
        {"included_angle_deg", "°", 132.8870714, 2.49791}, {"outer_strain_pct", "%", 20, 0.274877},
        {"inside_radius_mm", "mm", 12, 0.05}, {"inside_radius_in", "in", 0.4724409449, 0.0019685},
        {"springback_ratio", "", 0.9926829849, 0.000125734},
        {"radius_after_mm", "mm", 12.08845138, 0.0507615},
        {"radius_after_in", "in", 0.4759232827, 0.00199849},
    }},
    {"bend|gap_before=100|gap=40|leg=60|thickness=6|radius=9|gauge_before=25|gauge_after=30", NULL, NULL, 2, {
        {"bend_angle_deg", "°", 73.94293921, 1.48942},
        {"included_before_deg", "°", 112.8853805, 1.67943},
        {"included_after_deg", "°", 38.94244127, 0.608668},
        {"included_angle_deg", "°", 38.94244127, 0.608668}, {"outer_strain_pct", "%", 25, 1.08927},
        {"inside_radius_mm", "mm", 9, 0.5}, {"inside_radius_in", "in", 0.3543307087, 0.019685},
        {"free_bend_elongation_pct", "%", 20, 0.624826},
    }},
    {"bend|after=30", NULL, NULL, 4, {
        {"bend_angle_deg", "°", 150, 1}, {"included_before_deg", "°", 180, NAN},
        {"included_after_deg", "°", 30, 1}, {"included_angle_deg", "°", 30, 1},
    }},
    {"wire|diameter=1.2|feed=5|efficiency=0.95|speed=300|bead=60", NULL, NULL, 2, {
        {"deposition_kg_per_h", "kg/h", 2.524923705, NAN},
        {"deposition_lb_per_h", "lb/h", 5.566503919, NAN},
        {"melted_kg_per_h", "kg/h", 2.657814426, NAN},
        {"melted_lb_per_h", "lb/h", 5.859477809, NAN}, {"bead_area_mm2", "mm²", 17.90707813, NAN},
        {"bead_area_in2", "in²", 0.02775602661, NAN},
        {"bead_mass_kg_per_m", "kg/m", 0.1402735392, NAN},
        {"bead_mass_lb_per_ft", "lb/ft", 0.09425946636, NAN},
        {"equal_leg_mm", "mm", 5.984492982, NAN}, {"equal_leg_in", "in", 0.2356099599, NAN},
        {"feed_m_per_min", "m/min", 5, NAN}, {"feed_in_per_min", "in/min", 196.8503937, NAN},
        {"efficiency_pct", "%", 95, NAN}, {"wire_mass_g_per_m", "g/m", 8.859381421, NAN},
        {"wire_mass_lb_per_ft", "lb/ft", 0.005953229454, NAN},
        {"wire_m_per_kg", "m/kg", 112.8746977, NAN}, {"wire_in_per_lb", "in/lb", 2015.712664, NAN},
        {"coupon_wire_m", "m", 1, 0.00833333}, {"coupon_wire_in", "in", 39.37007874, 0.328084},
        {"coupon_wire_kg", "kg", 0.008859381421, 7.38282e-05},
        {"coupon_wire_lb", "lb", 0.0195315927, 0.000162763},
    }},
    {"wire|kind=cored|grams_per_metre=7|run_out=1500|time=10|speed=350|arc_time=20", NULL, NULL, 3, {
        {"deposition_kg_per_h", "kg/h", 3.2508, 0.065051},
        {"deposition_lb_per_h", "lb/h", 7.166787219, 0.143413},
        {"melted_kg_per_h", "kg/h", 3.78, 0.0756407},
        {"melted_lb_per_h", "lb/h", 8.333473511, 0.166759},
        {"bead_area_mm2", "mm²", 19.76150107, 0.395443},
        {"bead_area_in2", "in²", 0.03063038791, 0.000612938},
        {"bead_mass_kg_per_m", "kg/m", 0.1548, 0.00309767},
        {"bead_mass_lb_per_ft", "lb/ft", 0.1040207974, 0.00208154},
        {"equal_leg_mm", "mm", 6.28673223, 0.0628918},
        {"equal_leg_in", "in", 0.2475091429, 0.00247605}, {"feed_m_per_min", "m/min", 9, 0.180097},
        {"feed_in_per_min", "in/min", 354.3307087, 7.09043}, {"efficiency_pct", "%", 86, NAN},
        {"wire_mass_g_per_m", "g/m", 7, NAN}, {"wire_mass_lb_per_ft", "lb/ft", 0.004703782826, NAN},
        {"wire_m_per_kg", "m/kg", 142.8571429, NAN}, {"wire_in_per_lb", "in/lb", 2551.138189, NAN},
        {"coupon_wire_m", "m", 3, 0.067111}, {"coupon_wire_in", "in", 118.1102362, 2.64216},
        {"coupon_wire_kg", "kg", 0.021, 0.000469777},
        {"coupon_wire_lb", "lb", 0.04629707506, 0.00103568},
    }},
    {"wire|diameter=1|table=2: 4 ± 0.1; 4: 8 +- 0.2; 6: 11|dial=3|process=138", NULL, NULL, 3, {
        {"deposition_kg_per_h", "kg/h", 2.104103088, 0.0588115},
        {"deposition_lb_per_h", "lb/h", 4.638753266, 0.129657},
        {"melted_kg_per_h", "kg/h", 2.214845355, 0.0619068},
        {"melted_lb_per_h", "lb/h", 4.882898174, 0.136481},
        {"feed_m_per_min", "m/min", 6, 0.167705},
        {"feed_in_per_min", "in/min", 236.2204724, 6.60256}, {"efficiency_pct", "%", 95, NAN},
        {"wire_mass_g_per_m", "g/m", 6.152348209, NAN},
        {"wire_mass_lb_per_ft", "lb/ft", 0.004134187121, NAN},
        {"wire_m_per_kg", "m/kg", 162.5395647, NAN}, {"wire_in_per_lb", "in/lb", 2902.626236, NAN},
    }},
    {"duty|rated=40%|rated_amps=200|amps=150|log=0:00-4:00; 5:00-8:00", "within", "yes", 2, {
        {"duty_pct", "%", 71.11111111, 2.84672}, {"duty_allowed_pct", "%", 71.11111111, 2.84672},
        {"full_duty_current_a", "A", 126.4911064, NAN},
        {"arc_min_per_10_min", "min", 7.111111111, 0.284672}, {"duty_used_pct", "%", 70, NAN},
        {"duty_last_pct", "%", 70, NAN}, {"arc_time_s", "s", 420, NAN},
    }},
    {"duty|rated=0.25|rated_amps=200|amps=80", NULL, NULL, 1, {
        {"duty_pct", "%", 100, NAN}, {"duty_allowed_pct", "%", 100, NAN},
        {"full_duty_current_a", "A", 100, NAN}, {"arc_min_per_10_min", "min", 10, NAN},
    }},
    {"duty|log=240/120; 100/500; 60", NULL, NULL, 0, {
        {"duty_pct", "%", 56.66666667, NAN}, {"duty_used_pct", "%", 56.66666667, NAN},
        {"duty_last_pct", "%", 16.66666667, NAN}, {"arc_time_s", "s", 400, NAN},
    }},
    {"stock|coupons=25|members=2|piece=80|kerf=2|bar=1000|ends=30|width=60|thickness=6", NULL, NULL, 0, {
        {"pieces_per_bar_count", "", 11, NAN}, {"bars_count", "", 5, NAN},
        {"stock_mm", "mm", 4090, NAN}, {"stock_in", "in", 161.023622, NAN},
        {"left_mm", "mm", 478, NAN}, {"left_in", "in", 18.81889764, NAN},
        {"stock_mass_kg", "kg", 11.28011477, NAN}, {"stock_mass_lb", "lb", 24.86839619, NAN},
    }},
    /* clang-format on */
};

static void assert_near(double found, double wanted, double share, const char *key)
{
    if (isnan(wanted))
        ck_assert_msg(isnan(found), "%s: %.12g", key, found);
    else
        ck_assert_msg(fabs(found - wanted) <= share * fmax(fabs(wanted), 1e-3),
                      "%s: %.12g, not %.12g", key, found, wanted);
}

/* A number, or null for NAN. */
static double number_of(const json_t *object, const char *key)
{
    const json_t *x = json_object_get(object, key);

    ck_assert_msg(json_is_number(x) || json_is_null(x), "%s", key);
    return json_is_null(x) ? NAN : json_number_value(x);
}

static const char *text_of(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));

    ck_assert_msg(text != NULL, "%s", key);
    return text;
}

START_TEST(figures)
{
    struct calc_answer a;
    struct error e;
    size_t i;

    ck_assert_msg(run(cases[_i].line, UNITS_METRIC, &a, &e) == 0, "%s", e.text);
    for (i = 0; cases[_i].figures[i].key != NULL; i++) {
        const struct calc_figure *f = &a.figures[i];

        ck_assert_uint_lt(i, a.figure_count);
        ck_assert_str_eq(f->key, cases[_i].figures[i].key);
        ck_assert_str_eq(f->unit, cases[_i].figures[i].unit);
        assert_near(f->value, cases[_i].figures[i].value, 1e-9, f->key);
        assert_near(f->error, cases[_i].figures[i].error, 1e-5, f->key);
        ck_assert(!f->outside);
    }
    ck_assert_uint_eq(a.figure_count, i);
    ck_assert_uint_eq(a.note_count, cases[_i].notes);
    ck_assert((cases[_i].word != NULL) == (a.word_count > 0));
    if (a.word_count > 0) {
        ck_assert_str_eq(a.words[0].key, cases[_i].word);
        ck_assert_str_eq(a.words[0].text, cases[_i].is);
    }
    calc_answer_free(&a);
}
END_TEST

static void assert_json_figure(const json_t *root, const json_t *row, const struct calc_figure *f)
{
    ck_assert_str_eq(text_of(row, "key"), f->key);
    ck_assert_str_eq(text_of(row, "label"), f->label);
    ck_assert_str_eq(text_of(row, "unit"), f->unit);
    ck_assert_str_eq(text_of(row, "shown"), f->shown);
    ck_assert_str_eq(text_of(row, "formula"), f->formula);
    ck_assert_str_eq(text_of(row, "source"), f->source);
    ck_assert(json_is_true(json_object_get(row, "outside_range")) == f->outside);
    ck_assert(json_is_null(json_object_get(row, "why")) == (f->why == NULL));
    assert_near(number_of(row, "value"), f->value, 0, f->key);
    assert_near(number_of(row, "uncertainty"), f->error, 0, f->key);
    assert_near(number_of(root, f->key), f->value, 0, f->key);
}

static void assert_json_input(const json_t *row, const struct calc_input *x)
{
    ck_assert_str_eq(text_of(row, "key"), x->key);
    ck_assert_str_eq(text_of(row, "unit"), x->unit);
    ck_assert_str_eq(text_of(row, "text"), x->text);
    ck_assert(json_is_true(json_object_get(row, "given")) == x->given);
    assert_near(number_of(row, "value"), x->value, 0, x->key);
    assert_near(number_of(row, "uncertainty"), x->error, 0, x->key);
}

START_TEST(json)
{
    struct calc_answer a;
    struct error e;
    json_error_t where;
    json_t *root, *rows, *inputs, *notes;
    char *text;

    ck_assert_msg(run(cases[_i].line, UNITS_METRIC, &a, &e) == 0, "%s", e.text);
    text = calc_json(&a);
    root = json_loads(text, 0, &where);
    ck_assert_msg(root != NULL, "%s", where.text);
    ck_assert_int_eq(json_integer_value(json_object_get(root, "schema")), 1);
    ck_assert_str_eq(text_of(root, "kind"), a.kind->name);
    ck_assert_str_eq(text_of(root, "range"), a.kind->range);
    ck_assert(json_is_false(json_object_get(root, "outside_range")));
    ck_assert(json_is_string(json_object_get(root, "caution")) == a.kind->permission);
    rows = json_object_get(root, "figures");
    inputs = json_object_get(root, "inputs");
    notes = json_object_get(root, "notes");
    ck_assert_uint_eq(json_array_size(rows), a.figure_count);
    ck_assert_uint_eq(json_array_size(inputs), a.input_count);
    ck_assert_uint_eq(json_array_size(notes), a.note_count);
    for (size_t i = 0; i < a.figure_count; i++)
        assert_json_figure(root, json_array_get(rows, i), &a.figures[i]);
    for (size_t i = 0; i < a.input_count; i++)
        assert_json_input(json_array_get(inputs, i), &a.inputs[i]);
    for (size_t i = 0; i < a.note_count; i++)
        ck_assert_str_eq(json_string_value(json_array_get(notes, i)), a.notes[i]);
    for (size_t i = 0; i < a.word_count; i++)
        ck_assert_str_eq(text_of(root, a.words[i].key), a.words[i].text);
    free(text);
    json_decref(root);
    calc_answer_free(&a);
}
END_TEST

/* The cases above leave no figure of any kind out. */
START_TEST(no_figure_is_left_out)
{
    const struct calc_kind *k;

    for (size_t i = 0; (k = calc_kind_at(i)) != NULL; i++)
        for (size_t j = 0; k->outputs[j].key != NULL; j++) {
            size_t found = 0, length = strlen(k->name);

            for (size_t c = 0; c < sizeof cases / sizeof *cases; c++)
                for (size_t f = 0; cases[c].figures[f].key != NULL; f++)
                    found += strncmp(cases[c].line, k->name, length) == 0 &&
                             cases[c].line[length] == '|' &&
                             strcmp(cases[c].figures[f].key, k->outputs[j].key) == 0;
            ck_assert_msg(found > 0, "%s: %s", k->name, k->outputs[j].key);
        }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("calc/figures");
    TCase *t = tcase_create("figures");

    tcase_add_loop_test(t, figures, 0, (int)(sizeof cases / sizeof *cases));
    tcase_add_loop_test(t, json, 0, (int)(sizeof cases / sizeof *cases));
    tcase_add_test(t, no_figure_is_left_out);
    suite_add_tcase(s, t);
    return s;
}
