/* One coupon as JSON, and the copy of the whole book. */
#include "app/tasks.h"
#include "exchange/export.h"
#include "exchange/json.h"

char *coupon_json(const struct session *s, const struct coupon *c)
{
    struct json *root = json_new_object();
    char *text;

    json_put_whole(root, "schema", 1);
    export_coupon_json(json_put_array(root, "coupons"), c, &s->variables);
    text = json_write(root);
    json_drop(root);
    return text;
}

int task_backup(struct session *s, const char *to, struct error *e)
{
    return book_backup(s->book, to, e);
}
