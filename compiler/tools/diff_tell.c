/* See diff_tell.h. */
#include "tools/diff_tell.h"

Str tell_plain(Teller *teller, const char *text)
{
    Buf buf;
    buf_init(&buf, teller->arena);
    snippet_plain(&buf, str_from(text));
    return buf_str(&buf);
}

void tell_entry(Teller *teller, int indent, int column, const char *word, const char *text)
{
    page_entry(&teller->page, indent, column, tell_plain(teller, word), tell_plain(teller, text));
}

void tell_heading(Teller *teller, const char *text)
{
    page_blank(&teller->page);
    page_heading(&teller->page, str_from(text));
}

const char *tell_plural(uint32_t count)
{
    return count == 1 ? "" : "s";
}
