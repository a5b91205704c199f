#include "tui/screen/keys.h"

#include "page/cautions.h"
#include "tui/screen/page.h"

void screen_keys(struct ui *ui, enum key_context context)
{
    struct page page = {0};
    const struct key_row *row;
    struct block *table;

    page_add(&page, BLOCK_TITLE, "What the keys do here");
    table = PAGE_TABLE(&page, {.title = "key"}, {.title = "what it does"});
    for (size_t i = 0; (row = key_row_at(i)) != NULL; i++)
        if ((row->contexts & (int)context) != 0 && row->summary != NULL)
            PAGE_ROW(table, NULL, row->key, row->summary);
    cautions_add_all(&page);
    screen_page(ui, "Keys", &page, NULL);
}
