#include "tui/screen/keys.h"

#include "page/cautions.h"
#include "tui/screen/page.h"

static void add_row(struct block *table, const struct key_row *key)
{
    size_t row = page_table_row(table, NULL);

    page_table_cell(table, row, 0, "%s", key->key);
    page_table_cell(table, row, 1, "%s", key->summary);
}

void screen_keys(struct ui *ui, enum key_context context)
{
    struct page page = {0};
    const struct key_row *row;
    struct block *table;

    page_add(&page, BLOCK_TITLE, "What the keys do here");
    table = page_add_table(&page);
    page_table_column(table, "key", false, 0);
    page_table_column(table, "what it does", false, 0);
    for (size_t i = 0; (row = key_row_at(i)) != NULL; i++)
        if ((row->contexts & (int)context) != 0 && row->summary != NULL)
            add_row(table, row);
    cautions_add_all(&page);
    screen_page(ui, "Keys", &page, NULL);
}
