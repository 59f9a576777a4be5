#include "support/comma_locale.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static bool make_locale(void)
{
    FILE *source = fopen("comma_source", "w");
    if (source == NULL)
        return false;
    fprintf(source, "LC_NUMERIC\ndecimal_point \"<U002C>\"\nthousands_sep \"<U002E>\"\n");
    fprintf(source, "grouping 3;3\nEND LC_NUMERIC\n");
    fclose(source);
    /* It warns about what the locale leaves out, so its answer says nothing. */
    return system("localedef -c --no-archive -i ./comma_source -f ANSI_X3.4-1968 ./comma_made "
                  ">localedef.log 2>&1") != -1;
}

bool comma_locale_set(void)
{
    char folder[4096], text[8];
    if (getcwd(folder, sizeof folder) == NULL || !make_locale())
        return false;
    setenv("LOCPATH", folder, 1);
    if (setlocale(LC_NUMERIC, "comma_made") == NULL)
        return false;
    snprintf(text, sizeof text, "%.1f", 1.5);
    return strcmp(text, "1,5") == 0;
}

void comma_locale_end(void)
{
    setlocale(LC_NUMERIC, "C");
    unsetenv("LOCPATH");
}
