/*
 * Reads a YAML file into a document tree with libyaml and does nothing with it: the yardstick that `garboard check` is
 * measured against. The file is read whole first, as garboard does, so that both pay the same for the disk.
 */
#include <stdio.h>
#include <stdlib.h>
#include <yaml.h>

static unsigned char *read_whole(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    unsigned char *text = NULL;
    long size;

    if (file == NULL) {
        return NULL;
    }
    if (fseek(file, 0, SEEK_END) == 0 && (size = ftell(file)) >= 0 && fseek(file, 0, SEEK_SET) == 0) {
        *length = (size_t)size;
        text = malloc(*length + 1);
        if (text != NULL && fread(text, 1, *length, file) != *length) {
            free(text);
            text = NULL;
        }
    }
    fclose(file);
    return text;
}

static int load(const unsigned char *text, size_t length)
{
    yaml_parser_t parser;
    yaml_document_t document;
    int loaded;

    if (!yaml_parser_initialize(&parser)) {
        return 0;
    }
    yaml_parser_set_input_string(&parser, text, length);
    loaded = yaml_parser_load(&parser, &document);
    if (loaded) {
        loaded = yaml_document_get_root_node(&document) != NULL;
        yaml_document_delete(&document);
    } else {
        fprintf(stderr, "yaml_load: line %zu: %s\n", parser.problem_mark.line + 1, parser.problem);
    }
    yaml_parser_delete(&parser);
    return loaded;
}

int main(int argc, char **argv)
{
    size_t length = 0;
    unsigned char *text = argc == 2 ? read_whole(argv[1], &length) : NULL;
    int loaded;

    if (text == NULL) {
        fputs("usage: yaml_load FILE\n", stderr);
        return 2;
    }
    loaded = load(text, length);
    free(text);
    return loaded ? 0 : 1;
}
