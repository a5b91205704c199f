#include "app/task_book.h"

#include <string.h>

#include "app/task_coupon.h"
#include "base/digest.h"

static void say(void *ctx, const char *line)
{
    page_add(ctx, BLOCK_ITEM, "%s", line);
}

static void check_photo(const struct coupon *c, const struct photo *photo, struct page *p)
{
    char digest[DIGEST_SIZE];
    struct error e;

    if (digest_file(photo->path, digest, &e) < 0)
        page_add(p, BLOCK_ITEM, "coupon %s: photograph %s", c->mark, e.text);
    else if (photo->sha256 != NULL && strcmp(digest, photo->sha256) != 0)
        page_add(p, BLOCK_ITEM, "coupon %s: photograph %s is not the one that was attached",
                 c->mark, photo->path);
}

static int check_photos(struct session *s, struct page *p, struct error *e)
{
    struct coupon_list all;

    if (task_coupons(s, NULL, true, &all, e) < 0)
        return -1;
    for (size_t i = 0; i < all.count; i++)
        for (size_t j = 0; j < all.items[i].photo_count; j++)
            check_photo(&all.items[i], &all.items[i].photos[j], p);
    coupon_list_free(&all);
    return 0;
}

int task_book_check(struct session *s, struct page *p, struct error *e)
{
    struct error found = {0};
    size_t before = p->count;
    int rc = book_check(s->book, say, p, &found);

    if (rc < 0 && p->count == before) { /* no faults, it could not be read */
        if (e != NULL)
            *e = found;
        return -1;
    }
    if (check_photos(s, p, e) < 0)
        return -1;
    return (int)(p->count - before);
}

int task_book_backup(struct session *s, const char *to, struct error *e)
{
    return book_backup(s->book, to, e);
}
