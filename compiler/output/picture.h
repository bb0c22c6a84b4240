/*
 * What every drawing of the book has at its foot: a block with the boat's name, what is shown, and the words
 * that must not be missed. Lengths in mm on an A4 page that lies on its side.
 */
#ifndef GARBOARD_OUTPUT_PICTURE_H
#define GARBOARD_OUTPUT_PICTURE_H

#include "output/book_page.h"
#include "output/svg.h"

/* Where a drawing may stand; below it are legend and block. */
#define PICTURE_TOP 8.0
#define PICTURE_BOTTOM 181.0
#define PICTURE_LEFT 10.0
#define PICTURE_RIGHT 287.0
#define PICTURE_LEGEND_TOP 184.0
#define PICTURE_FOOT 26.0 /* height of legend and block */

/** Where legend and block begin on a page: at its foot, whether it is a whole one or cut off. */
double picture_foot(const Svg *svg);

typedef struct PictureBlock {
    const char *what; /* "direct current, one-line diagram" */
    const char *file; /* "power-dc.svg" */
    const char *next; /* the page that goes on with it; NULL: none does */
    Str remark;       /* how to read it */
    bool scaled;      /* what of it is to scale is said there */
    Str caution;
} PictureBlock;

/** "drawn with engine-size=lean, heat=stove": the options of the open choices that pictures are drawn with; else nothing. */
Str picture_drawn_with(const Book *book);

/** The height that these words need over legend and block, where the block has no room for them; else 0. */
double picture_strip(const Book *book);

/**
 * Draws the block, with the options that the drawing was made with where choices are open; over it, up to PICTURE_BOTTOM or as
 * high as picture_strip says, where they are long.
 */
void picture_block(Svg *svg, const Book *book, const PictureBlock *block);

/** How high a block of that width is with its words; options take two lines where they need them. */
double picture_block_height(const Book *book, const PictureBlock *block, double width_mm);
/** The block in a box of the drawing's own. */
void picture_block_in(Svg *svg, const Book *book, const PictureBlock *block, SvgBox box);

/** Words from a place on, cut to the width; nothing for an empty text. */
void picture_words(Svg *svg, Arena *arena, SvgPoint at, double size_mm, double width_mm, Str text);

/** The room that words have: their size, how wide a line may be, and whether of two lines the last lies at the place, or the first. */
typedef struct PictureFit {
    double size_mm, width_mm;
    bool upwards;
} PictureFit;

/** The same in two lines where one has no room, broken at a hyphen or a blank. Returns how many there are. */
int picture_words_wrapped(Svg *svg, Arena *arena, SvgPoint at, PictureFit fit, Str text);

/** The same, broken behind a comma: names of options stay whole. */
int picture_list(Svg *svg, Arena *arena, SvgPoint at, PictureFit fit, Str text);

/** "water-fresh.svg", "water-fresh-2.svg" ... */
const char *picture_page_name(const Book *book, const char *start, size_t page);

#endif
