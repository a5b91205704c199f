#include "run.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "exchange/columns.h"
#include "exchange/mapping.h"

static struct variable_list known;
static struct import import;

static void set_up(void)
{
    variable_list_init(&known);
}

static void tear_down(void)
{
    variable_list_free(&known);
}

static int try_import(const char *csv, const char *result, struct error *e)
{
    struct import_options options = {UNITS_METRIC, &result, result != NULL};
    struct csv_table table;
    int failed;

    ck_assert_int_eq(csv_table_parse(csv, strlen(csv), &table, e), 0);
    failed = import_table(&table, &known, &options, &import, e);
    csv_table_free(&table);
    return failed;
}

static void take(const char *csv, const char *result)
{
    struct error e = {0};

    ck_assert_msg(try_import(csv, result, &e) == 0, "%s", e.text);
}

static const struct value *value_of(const char *mark, const char *key)
{
    const struct coupon *c = NULL;

    for (size_t i = 0; i < import.coupons.count; i++)
        if (text_same(import.coupons.items[i].mark, mark))
            c = &import.coupons.items[i];
    ck_assert_msg(c != NULL, "no coupon %s", mark);
    return coupon_value(c, key);
}

static void ck_number(const char *mark, const char *key, double number)
{
    const struct value *value = value_of(mark, key);

    ck_assert_msg(value != NULL && value->kind == VARIABLE_NUMBER, "%s of %s", key, mark);
    ck_assert_int_eq(value->measure.kind, MEASURE_EXACT);
    ck_assert_double_eq_tol(value->measure.low, number, 1e-12 * fabs(number));
}

static void ck_category(const char *mark, const char *key, const char *text)
{
    const struct value *value = value_of(mark, key);

    ck_assert_msg(value != NULL && value->kind == VARIABLE_CATEGORY, "%s of %s", key, mark);
    ck_assert_str_eq(value->text, text);
}

/* Rejects and notes as one text, for comparing. */
static char *said(void)
{
    struct text out = {0};

    for (size_t i = 0; i < import.reject_count; i++)
        text_addf(&out, "line %zu, %s: %s\n", import.rejects[i].line,
                  import.rejects[i].column == NULL ? "row" : import.rejects[i].column,
                  import.rejects[i].reason);
    for (size_t i = 0; i < import.note_count; i++)
        text_addf(&out, "note: %s\n", import.notes[i].text);
    return text_steal(&out);
}

static void ck_said(const char *want)
{
    char *seen = said();

    ck_assert_str_eq(seen, want);
    free(seen);
}

START_TEST(columns_find_their_variables)
{
    take("mark,Wire Diameter (in),thickness,preheat (°F),sides,bend_angle,who,note,when\n"
         "01,.045,5/16 in,212,BOTH,135+,first bench,\"ground, twice\",2026-03-07T14:05:00+01:00\n"
         "02,0.9 mm,5,,one,40..60,,,2026-03-08\n",
         NULL);
    ck_said("");
    ck_assert_uint_eq(import.coupons.count, 2);
    ck_number("01", "wire_diameter", .045 * 25.4);
    ck_number("02", "wire_diameter", .9);
    ck_number("01", "thickness", 5 * 25.4 / 16);
    ck_assert_str_eq(value_of("01", "thickness")->text, "5/16 in");
    ck_number("02", "thickness", 5);
    ck_number("01", "preheat", 100);
    ck_assert_ptr_null(value_of("02", "preheat"));
    ck_category("01", "sides", "both");
    ck_assert(measure_same(value_of("01", "bend_angle")->measure, measure_at_least(135)));
    ck_assert(measure_same(value_of("02", "bend_angle")->measure, measure_between(40, 60)));
    ck_assert_str_eq(import.coupons.items[0].who, "first bench");
    ck_assert_str_eq(import.coupons.items[0].note, "ground, twice");
    ck_assert_int_eq(import.coupons.items[0].when.utc_ms, 1772888700000);
    ck_assert_int_eq(import.coupons.items[0].when.offset_minutes, 60);
    ck_assert_int_eq(import.coupons.items[1].when.utc_ms, 1772928000000);
    ck_assert_ptr_null(import.coupons.items[1].who);
    ck_assert_uint_eq(import.own_from, import.variables.count);
    import_free(&import);
}
END_TEST

/* A name may be words in one table and measured numbers in another; each table is taken as it is.
 */
START_TEST(an_own_variable_may_be_of_the_other_kind_in_another_table)
{
    take("mark,x,lot,bend_angle\na,1,A12,20\nb,2,B3,30\n", NULL);
    ck_assert_int_eq(variable_find(&import.variables, "x")->kind, VARIABLE_NUMBER);
    variable_list_free(&known);
    known = import.variables;
    memset(&import.variables, 0, sizeof import.variables);
    import_free(&import);

    take("mark,x,lot,bend_angle\na,hot,1.5,20\nb,cold,2.25,30\n", NULL);
    ck_said("note: column 'x': 'x' is a number elsewhere in this book; the words of this table "
            "count as categories\n"
            "note: column 'lot': 'lot' is a category elsewhere in this book; the numbers of this "
            "table count as numbers\n");
    ck_category("a", "x", "hot");
    ck_number("b", "lot", 2.25);
    import_free(&import);

    take("mark,lot,bend_angle\na,12,20\nb,13,30\n", NULL);
    ck_category("a", "lot", "12"); /* whole numbers are names, as on spools */
    import_free(&import);
}
END_TEST

START_TEST(other_columns_become_own_variables)
{
    const struct variable *v;

    take("mark,paint left on,hammer blows,gap between legs (in),hardness (HV),strength\n"
         "a,yes,3,0.5,250,40\n"
         "b,no,,25.4 mm,260+,45+\n",
         "strength");
    ck_said("note: column 'paint left on' is a new variable 'paint_left_on': category, cause\n"
            "note: column 'hammer blows' is a new variable 'hammer_blows': number, cause\n"
            "note: column 'gap between legs (in)' is a new variable 'gap_between_legs': number "
            "(in), cause\n"
            "note: column 'hardness (HV)' is a new variable 'hardness_hv': category, cause\n"
            "note: column 'hardness (HV)' holds values such as 135+, which only a result can be; "
            "if it is one, say --result 'hardness'\n"
            "note: column 'strength' is a new variable 'strength': number, result\n");
    for (size_t i = 0; i < import.note_count; i++) /* all but the hint at --result */
        ck_assert(import.notes[i].makes == (strstr(import.notes[i].text, "new variable") != NULL));
    ck_number("a", "gap_between_legs", 0.5);
    ck_number("b", "gap_between_legs", 1);
    ck_category("b", "hardness_hv", "260+");
    ck_assert(measure_same(value_of("b", "strength")->measure, measure_at_least(45)));
    v = variable_find(&import.variables, "gap_between_legs");
    ck_assert_int_eq(v->dimension, DIM_NUMBER);
    ck_assert_str_eq(v->unit, "in");
    ck_assert_int_eq(v->group, GROUP_OTHER);
    ck_assert_str_eq(v->label, "gap between legs");
    v = variable_find(&import.variables, "strength");
    ck_assert(v->role == ROLE_RESULT && v->group == GROUP_RESULT && v->own);
    ck_assert_uint_eq(import.variables.count - import.own_from, 5);
    import_free(&import);

    take("mark,hardness (HV)\na,250\nb,260+\n", "hardness");
    v = variable_find(&import.variables, "hardness");
    ck_assert_str_eq(v->unit, "HV");
    ck_number("a", "hardness", 250);
    import_free(&import);
}
END_TEST

START_TEST(decimal_commas_between_semicolons)
{
    take("\xef\xbb\xbfmark;thickness;preheat;gap\r\n1;0,9;20;1,5\r\n2;3;21,5;1\r\n", NULL);
    ck_number("1", "thickness", 0.9);
    ck_number("2", "preheat", 21.5);
    ck_number("1", "gap", 1.5);
    import_free(&import);
}
END_TEST

START_TEST(a_number_that_may_be_thousands_is_asked_about)
{
    take("mark,wire_feed_speed\n1,\"7,500\"\n2,7500\n3,\"7,5\"\n", NULL);
    ck_assert_uint_eq(import.rows_rejected, 2);
    ck_assert_str_eq(import.rejects[0].reason,
                     "'7,500' may mean thousands or decimals; write it without a mark between "
                     "thousands, or the decimals with a point");
    import_free(&import);
    take("mark;wire_feed_speed;volts\n1;7.500;17,5\n2;7500;18\n", NULL);
    ck_assert_uint_eq(import.reject_count, 1);
    ck_assert_uint_eq(import.rejects[0].line, 2);
    import_free(&import);
    take("mark;volts;torn;gap\n1;17,5;0.125;0,250\n", NULL); /* no thousand begins with 0 */
    ck_number("1", "torn", 0.125);
    ck_number("1", "gap", 0.25);
    import_free(&import);
}
END_TEST

/* One cell under a number in a file with points, and the same with decimal commas. */
static const struct {
    const char *cell;
    bool doubtful;
} thousands[] = {
    {"1,000", true},  {"12,345", true},    {"123,456", true},  {"-1,000", true},
    {"+1,000", true}, {"1,000,000", true}, {"1,000 mm", true}, {"1234,567", false},
    {"0,125", false}, {"1,0000", false},   {"1,00", false},    {"1,000,00", false},
    {",500", false},  {"1000", false},     {"1.000", false},
};

START_TEST(three_digits_behind_the_other_mark_are_doubtful)
{
    char *cell = mem_copy(thousands[_i].cell);

    ck_assert_int_eq(number_is_doubtful(cell, false), thousands[_i].doubtful);
    for (char *c = cell; *c != '\0'; c++)
        *c = *c == ',' ? '.' : *c == '.' ? ',' : *c;
    ck_assert_int_eq(number_is_doubtful(cell, true), thousands[_i].doubtful);
    free(cell);
}
END_TEST

/* Each text of a coupon at its longest, and one byte longer. */
static const struct {
    const char *column;
    int longest;
    const char *says;
} texts[] = {
    {"mark", 32, "takes one line of at most 32 characters"},
    {"who", 200, "takes one line of at most 200 characters"},
    {"note", 4000, "longer than 4000 characters"},
    {"struck", 200, "takes one line of at most 200 characters"},
};

START_TEST(texts_have_a_longest)
{
    char line[4096];
    bool lines = strcmp(texts[_i].column, "note") == 0;
    struct text csv = {0};

    memset(line, 'x', sizeof line);
    text_addf(&csv, "%s,volts\n%.*s,20\n%.*s,20\n\"a\nb\",20\n", texts[_i].column,
              texts[_i].longest, line, texts[_i].longest + 1, line);
    take(text_str(&csv), NULL);
    ck_assert_uint_eq(import.reject_count, lines ? 1 : 2);
    ck_assert_uint_eq(import.rejects[0].line, 3);
    ck_assert_str_eq(import.rejects[0].column, texts[_i].column);
    ck_assert_str_eq(import.rejects[0].reason, texts[_i].says);
    ck_assert_uint_eq(import.coupons.count, lines ? 2 : 1);
    import_free(&import);
    text_free(&csv);
}
END_TEST

/* A character of two bytes is one, as in the book. */
START_TEST(characters_are_counted_not_bytes)
{
    struct text mark = {0}, csv = {0};

    for (int i = 0; i < MARK_LONGEST; i++)
        text_add(&mark, "é");
    text_addf(&csv, "mark,volts\n%s,20\n%sé,20\n", text_str(&mark), text_str(&mark));
    take(text_str(&csv), NULL);
    ck_assert_uint_eq(import.coupons.count, 1);
    ck_assert_str_eq(import.coupons.items[0].mark, text_str(&mark));
    ck_assert_uint_eq(import.reject_count, 1);
    import_free(&import);
    text_free(&mark);
    text_free(&csv);
}
END_TEST

START_TEST(names_and_columns_have_a_most)
{
    static const int names[] = {100, 101}, columns[] = {1000, 1001};
    char line[128];

    memset(line, 'x', sizeof line);
    for (int i = 0; i < 2; i++) {
        struct text csv = {0};
        struct error e = {0};

        text_addf(&csv, "mark,%.*s\n1,2\n", names[i], line);
        ck_assert_int_eq(try_import(text_str(&csv), NULL, &e), -i);
        if (i == 1)
            ck_assert_str_eq(e.text, "column 2: a name takes one line of at most 100 letters");
        import_free(&import);
        text_free(&csv);
        for (int c = 0; c < columns[i]; c++)
            text_addf(&csv, "%sc%d", c > 0 ? "," : "", c);
        text_add(&csv, "\n1");
        for (int c = 1; c < columns[i]; c++)
            text_add(&csv, ",");
        ck_assert_int_eq(try_import(text_str(&csv), NULL, &e), -i);
        if (i == 1)
            ck_assert_str_eq(e.text, "1001 columns; at most 1000 can be read");
        import_free(&import);
        text_free(&csv);
    }
}
END_TEST

START_TEST(times_as_spreadsheets_write_them)
{
    take("when,bend_angle\n2026-03-07 14:05,90\n2026-03-07T14:05:30,90\n2026-03-07 14:05:30Z,9\n"
         "2026-03-07 14:05 h,90\n2026-03-07 25:05,90\n\n2026-03-07,90\n",
         NULL);
    ck_said("line 5, when: '2026-03-07 14:05 h' is not a date; write 2026-03-07 or 2026-03-07 "
            "14:05\n"
            "line 6, when: '2026-03-07 25:05' is not a date; write 2026-03-07 or 2026-03-07 "
            "14:05\n");
    ck_assert_int_eq(import.coupons.items[0].when.utc_ms, 1772892300000);
    ck_assert_int_eq(import.coupons.items[1].when.utc_ms, 1772892330000);
    ck_assert_int_eq(import.coupons.items[2].when.utc_ms, 1772892330000);
    ck_assert_int_eq(import.coupons.items[0].when.offset_minutes, 0);
    ck_assert_uint_eq(import.lines[2], 4); /* each coupon knows its line */
    ck_assert_uint_eq(import.lines[3], 8);
    import_free(&import);
}
END_TEST

START_TEST(a_cause_and_a_result_of_one_name)
{
    static const struct variable strength = {.key = "strength", .label = "Strength"},
                                 grit = {.key = "grit", .label = "Grit", .kind = VARIABLE_CATEGORY};
    const struct variable *v;

    variable_add(&known, &strength, NULL);
    variable_add(&known, &grit, NULL);
    take("mark,Strength (MPa),Grit\n1,300+,36\n2,280,60\n", "Strength");
    ck_said("note: column 'Strength (MPa)' is a new variable 'strength_result': number (MPa), "
            "result\n"
            "note: column 'Grit': 'grit' is a category in this book, so its numbers count as "
            "names; under another name they count as numbers\n");
    ck_assert_ptr_null(value_of("1", "strength"));
    ck_number("2", "strength_result", 280);
    ck_category("1", "grit", "36");
    v = variable_find_result(&import.variables, "Strength (MPa)");
    ck_assert_str_eq(v->key, "strength_result");
    variable_add(&known, v, NULL);
    import_free(&import);
    take("mark,strength\n1,300\n", "strength"); /* the next file finds it again */
    ck_said("");
    ck_number("1", "strength_result", 300);
    import_free(&import);
}
END_TEST

START_TEST(bad_rows_are_listed_and_the_others_kept)
{
    take("mark,thickness,volts,polarity,bend_angle,when\n"
         "1,3,20,DCEP,90,\n"
         "2,-3,400,up,held,soon\n"
         "3,3,20\n"
         "4,3,20,DCEP,90,,7\n"
         "5,3,20,DCEP,90,,\n"
         "1,3,20,DCEP,90,\n"
         "7,abc,12 mm,dcen,300,\n"
         "8,3,40,DCEN,10,\n"
         "9,3,45,DCEN,10,\n",
         NULL);
    ck_said(
        "line 3, thickness: -3 mm cannot be, it must be 0.2 mm to 300 mm, mostly 1 mm to 25 mm\n"
        "line 3, volts: 400 V cannot be, it must be 5 V to 60 V, mostly 13 V to 36 V\n"
        "line 3, polarity: 'up' is not among DCEP, DCEN, AC\n"
        "line 3, bend_angle: 'held' is not an angle; write it like 90 or 90°\n"
        "line 3, when: 'soon' is not a date; write 2026-03-07 or 2026-03-07 14:05\n"
        "line 4, row: 3 cells where the first row names 6 columns; leave cells empty, but keep the "
        "separators\n"
        "line 5, row: 7 cells where the first row names 6 columns; leave cells empty, but keep the "
        "separators\n"
        "line 7, mark: the mark '1' is in line 2 already\n"
        "line 8, thickness: 'abc' is not a length; write it like 3 mm, 5/16 in or 11 ga\n"
        "line 8, volts: '12 mm' is a length; a voltage is wanted, in V, mV or kV\n"
        "line 8, bend_angle: 300° cannot be, it must be 0° to 270°, mostly 0° to 180°\n"
        "note: column 'volts': 2 unusual values, the first in line 9: Volts: 40 V is unusual, "
        "mostly it is 13 V to 36 V\n");
    ck_assert_uint_eq(import.rows_rejected, 5);
    ck_assert_uint_eq(import.coupons.count, 4);
    ck_assert_str_eq(import.coupons.items[1].mark, "5");
    import_free(&import);
}
END_TEST

START_TEST(words_under_a_number_say_how_to_go_on)
{
    take("mark,preheat\n1,yes\n2,no\n3,\n", NULL);
    ck_said("line 2, preheat: 'yes' is not a temperature; write it like 150 °C or 300F; no cell of "
            "this column can be read so: under another name it becomes a variable of your own\n"
            "line 3, preheat: 'no' is not a temperature; write it like 150 °C or 300F; no cell of "
            "this column can be read so: under another name it becomes a variable of your own\n");
    ck_assert_uint_eq(import.coupons.count, 1);
    import_free(&import);
}
END_TEST

START_TEST(names_stay_names)
{
    take("mark,wire_lot,plate no (category),plate count\n1,12,7,7\n2,013,8,8\n", NULL);
    ck_category("1", "wire_lot", "12");
    ck_category("2", "wire_lot", "013");
    ck_category("1", "plate_no", "7");
    ck_number("1", "plate_count", 7);
    import_free(&import);
}
END_TEST

START_TEST(marks_may_be_missing_and_columns_left_out)
{
    take("trial,id,thickness,heat_input,empty one,\nx,y,3,0.9,,\nx,y,5,1.1,,\n", NULL);
    ck_said("note: column 'heat_input' is left out: Heat input is computed; under another name it "
            "becomes a variable of your own\n"
            "note: column 'empty one' is empty and left out\n");
    ck_assert_uint_eq(import.coupons.count, 2);
    ck_assert_ptr_null(import.coupons.items[0].mark);
    ck_assert_uint_eq(import.coupons.items[0].value_count, 1);
    ck_assert_int_eq(import.coupons.items[0].when.utc_ms, 0);
    import_free(&import);
}
END_TEST

START_TEST(a_first_column_without_a_name_holds_the_marks)
{
    take("\"\",\"thickness\"\n\"a\",3\n\"b\",5\n", NULL);
    ck_number("b", "thickness", 5);
    ck_said("note: column 1 has no name and is taken as the mark\n");
    import_free(&import);
}
END_TEST

START_TEST(names_beyond_ascii_still_get_a_key)
{
    take("mark,厚さ,Höhe,Volts!,厚さ (奥)\n1,3,4,5,6\n", NULL);
    ck_number("1", "column_2", 3);
    ck_number("1", "h_he", 4);
    ck_number("1", "volts_2", 5);
    ck_number("1", "column_5", 6);
    ck_assert_str_eq(variable_find(&import.variables, "column_2")->label, "厚さ");
    import_free(&import);
}
END_TEST

/* A name that is a key of up to 63 letters stays; any other leaves room for a number behind 43. */
START_TEST(long_names_are_cut_to_keys)
{
    char line[65], csv[512];

    memset(line, 'x', sizeof line);
    snprintf(csv, sizeof csv, "mark,%.63s,%.64s,%.64sy\n1,2,3,4\n", line, line, line);
    take(csv, NULL);
    ck_assert_uint_eq(import.variables.count - import.own_from, 3);
    snprintf(csv, sizeof csv, "%.63s", line);
    ck_number("1", csv, 2);
    snprintf(csv, sizeof csv, "%.43s", line);
    ck_number("1", csv, 3);
    snprintf(csv, sizeof csv, "%.43s_2", line);
    ck_number("1", csv, 4);
    import_free(&import);
}
END_TEST

START_TEST(what_is_no_unit_is_part_of_the_name_where_names_need_it)
{
    take("mark,gap (left),gap (right),blows (each),Gas (second cylinder)\n1,2,3,4,Ar\n", NULL);
    ck_number("1", "gap_left", 2);
    ck_number("1", "gap_right", 3);
    ck_number("1", "blows", 4);
    ck_assert_str_eq(variable_find(&import.variables, "blows")->unit, "each");
    ck_category("1", "gas_second_cylinder", "Ar");
    import_free(&import);
    /* the two of one name may be all the table has */
    take("gap (left),gap (right)\n2,3\n", NULL);
    ck_assert_ptr_nonnull(variable_find(&import.variables, "gap_left"));
    ck_assert_ptr_nonnull(variable_find(&import.variables, "gap_right"));
    import_free(&import);
}
END_TEST

START_TEST(the_books_own_variables_are_known)
{
    struct variable own = {.key = "paint",
                           .label = "Paint left on",
                           .kind = VARIABLE_CATEGORY,
                           .group = GROUP_OTHER,
                           .choices = "yes|no",
                           .choices_only = true};
    struct error e = {0};

    ck_assert_int_eq(variable_add(&known, &own, &e), 0);
    take("mark,PAINT LEFT ON\n1,Yes\n2,perhaps\n", NULL);
    ck_category("1", "paint", "yes");
    ck_assert_uint_eq(import.rows_rejected, 1);
    ck_assert_uint_eq(import.own_from, import.variables.count);
    ck_assert_uint_eq(import.own_from, variable_table_count + 1);
    import_free(&import);
}
END_TEST

static const struct {
    const char *csv, *result, *says;
} unusable[] = {
    {"mark,thickness\n", NULL, "there is a row of names but no row of values"},
    {"thickness,Thickness (in)\n1,2\n", NULL,
     "columns 1 ('thickness') and 2 ('Thickness (in)') mean the same; take one out or rename it"},
    {"my own,My-Own\n1,2\n", NULL,
     "columns 1 ('my own') and 2 ('My-Own') mean the same; take one out or rename it"},
    {"mark,Mark\n1,2\n", NULL,
     "columns 1 ('mark') and 2 ('Mark') mean the same; take one out or rename it"},
    {"mark,thickness (furlong)\n1,2\n", NULL,
     "column 2: 'thickness (furlong)' has a unit that is not known for a length; use mm, cm, m, "
     "µm, "
     "in, ft or mil"},
    {"mark,volts (mm)\n1,2\n", NULL,
     "column 2: 'volts (mm)' is a length; a voltage is wanted, in V, mV or kV"},
    {"mark,passes (mm)\n1,2\n", NULL,
     "column 2: 'passes (mm)' should be a whole number, without a unit"},
    {"mark,thickness (category)\n1,2\n", NULL,
     "column 2 ('thickness (category)'): Thickness is a number, not a category"},
    {"mark,\n1,2\n", NULL, "column 2 has no name in the first row; name it or take it out"},
    {",mark\n1,2\n", NULL, "column 1 has no name in the first row; name it or take it out"},
    {"mark,x\n1,2\n", "strength", "there is no column 'strength' to be a result"},
    {"mark,volts\n1,20\n", "volts",
     "column 'volts' cannot be a result: Volts is a cause; give the column another name"},
    {"mark|bend_angle\n1|20\n", NULL,
     "only one column, 'mark|bend_angle'; a comma, a semicolon or a tab goes between columns"},
};

START_TEST(files_that_cannot_be_used_at_all)
{
    struct error e = {0};

    ck_assert_int_lt(try_import(unusable[_i].csv, unusable[_i].result, &e), 0);
    ck_assert_str_eq(e.text, unusable[_i].says);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert(import.coupons.items == NULL && import.variables.items == NULL &&
              import.notes == NULL);
}
END_TEST

START_TEST(many_rows_with_many_twins)
{
    struct text csv = {0};

    text_add(&csv, "mark,volts\n");
    for (int i = 0; i < 20000; i++)
        text_addf(&csv, "%c%d,20\n", i % 2 ? 'b' : 'B', i / 2 % 5000 * 2 + i % 2);
    take(text_str(&csv), NULL);
    ck_assert_uint_eq(import.coupons.count, 10000);
    ck_assert_uint_eq(import.rows_rejected, 10000);
    text_free(&csv);
    import_free(&import);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("exchange/mapping");
    TCase *t = tcase_create("mapping");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, columns_find_their_variables);
    tcase_add_test(t, other_columns_become_own_variables);
    tcase_add_test(t, an_own_variable_may_be_of_the_other_kind_in_another_table);
    tcase_add_test(t, decimal_commas_between_semicolons);
    tcase_add_test(t, a_number_that_may_be_thousands_is_asked_about);
    tcase_add_loop_test(t, three_digits_behind_the_other_mark_are_doubtful, 0,
                        sizeof thousands / sizeof *thousands);
    tcase_add_loop_test(t, texts_have_a_longest, 0, sizeof texts / sizeof *texts);
    tcase_add_test(t, characters_are_counted_not_bytes);
    tcase_add_test(t, names_and_columns_have_a_most);
    tcase_add_test(t, times_as_spreadsheets_write_them);
    tcase_add_test(t, a_cause_and_a_result_of_one_name);
    tcase_add_test(t, bad_rows_are_listed_and_the_others_kept);
    tcase_add_test(t, words_under_a_number_say_how_to_go_on);
    tcase_add_test(t, names_stay_names);
    tcase_add_test(t, marks_may_be_missing_and_columns_left_out);
    tcase_add_test(t, a_first_column_without_a_name_holds_the_marks);
    tcase_add_test(t, names_beyond_ascii_still_get_a_key);
    tcase_add_test(t, long_names_are_cut_to_keys);
    tcase_add_test(t, what_is_no_unit_is_part_of_the_name_where_names_need_it);
    tcase_add_test(t, the_books_own_variables_are_known);
    tcase_add_loop_test(t, files_that_cannot_be_used_at_all, 0, sizeof unusable / sizeof *unusable);
    tcase_add_test(t, many_rows_with_many_twins);
    tcase_set_timeout(t, 60);
    suite_add_tcase(s, t);
    return s;
}
