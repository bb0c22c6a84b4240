/* See towards.h. */
#include "figures/towards.h"

#include <math.h>

/* One side of nought, from its end that lies nearer to it. */
static void write_part(Buf *to, const Figures *figures, const Figure *figure, double near, double far, const char *word, bool against)
{
    Figure part = *figure;
    part.low = near + 0.0; /* no minus before nought */
    part.high = far + 0.0;
    if (figure->partial && against) {
        part.partial = false;
        buf_text(to, "at most ");
    }
    figure_write(to, figures, &part);
    if (word[0] != '\0' && far > 0.0) {
        buf_format(to, " %s", word);
    }
}

void figure_write_towards(Buf *to, const Figures *figures, const Figure *figure, const Directions *words)
{
    bool known = figure != NULL && figure->state == STATE_KNOWN && !figure->none;
    if (!known) {
        figure_write(to, figures, figure);
    } else if (figure->low >= 0.0) {
        write_part(to, figures, figure, figure->low, figure->high, words->along_is_said ? "" : words->along, false);
    } else if (figure->high <= 0.0) {
        write_part(to, figures, figure, -figure->high, -figure->low, words->against, true);
    } else if (isinf(figure->low) || isinf(figure->high)) {
        figure_write(to, figures, figure);
        buf_format(to, " %s", words->along);
    } else {
        buf_text(to, "from ");
        write_part(to, figures, figure, -figure->low, -figure->low, words->against, true);
        buf_text(to, " to ");
        write_part(to, figures, figure, figure->high, figure->high, words->along, false);
    }
}
