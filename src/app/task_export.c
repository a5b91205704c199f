#include "app/task_export.h"

#include "app/task_coupon.h"
#include "base/text.h"
#include "derived/derived.h"
#include "exchange/export.h"
#include "exchange/json.h"

/* Results and counts that are only worked out become values, so that a table carries them. */
static void fill_worked_out(struct coupon_list *coupons, const char *key)
{
    for (size_t i = 0; i < coupons->count; i++) {
        struct coupon *c = &coupons->items[i];

        if (coupon_value(c, key) == NULL)
            coupon_set_number(c, key, coupon_measure(c, key), NULL);
    }
}

static char *as_csv(const struct session *s, struct coupon_list *coupons, bool with_struck,
                    char **remark)
{
    struct text out = {0};

    for (size_t i = 0; i < s->variables.count; i++)
        if (s->variables.items[i].group != GROUP_DERIVED &&
            coupon_works_out(s->variables.items[i].key))
            fill_worked_out(coupons, s->variables.items[i].key);
    *remark = export_csv(&out, coupons, &s->variables, with_struck);
    return text_steal(&out);
}

static char *as_json(const struct session *s, const struct trial *t,
                     const struct coupon_list *coupons, bool with_struck)
{
    struct json *root = export_json(t, coupons, &s->variables, with_struck);
    char *out = json_write(root);

    json_drop(root);
    return out;
}

int task_export(struct session *s, const struct trial *t, enum export_format format,
                bool with_struck, struct exported *out, struct error *e)
{
    struct coupon_list coupons = {0};

    if ((format == EXPORT_CSV ? task_coupon_figures : task_coupons)(s, t, with_struck, &coupons,
                                                                    e) < 0)
        return -1;
    *out = (struct exported){.coupons = coupons.count};
    out->text = format == EXPORT_CSV ? as_csv(s, &coupons, with_struck, &out->remark)
                                     : as_json(s, t, &coupons, with_struck);
    coupon_list_free(&coupons);
    return 0;
}

char *task_export_coupon(const struct session *s, const struct coupon *c)
{
    struct json *root = json_new_object();
    char *text;

    json_put_whole(root, "schema", 1);
    export_coupon_json(json_put_array(root, "coupons"), c, &s->variables);
    text = json_write(root);
    json_drop(root);
    return text;
}
