/* A boat and her engine, for the examples of the rules of drive. */
#ifndef GARBOARD_RULES_DRIVE_EXAMPLES_H
#define GARBOARD_RULES_DRIVE_EXAMPLES_H

#define HULL                                                                                                \
    "edition 1\n"                                                                                           \
    "boat wren \"Wren\" {\n"                                                                                \
    "  length 10.4 m; waterline 9.6 m; beam 3.4 m; displacement 7400 kg; crew 2; currency EUR; basis iso\n" \
    "}\n"
#define DIESEL(RATED) "engine diesel { fuel diesel; " RATED " }\n"

#endif
