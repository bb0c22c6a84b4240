/* The program: everything is in command.c. */
#include "command.h"

int main(int count, char **arguments)
{
    return command_run(count, arguments);
}
