# Turns the file FROM into the C source TO with the bytes as SYMBOL[] and their count as SYMBOL_size.
file(READ ${FROM} bytes HEX)
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
string(REPEAT "0x[0-9a-f][0-9a-f]," 16 row)
string(REGEX REPLACE "(${row})" "\\1\n" bytes "${bytes}")
cmake_path(GET FROM FILENAME name)
file(WRITE ${TO} "/* Made from assets/${name} by src/embed.cmake; not to be edited. */
#include <stddef.h>
extern const unsigned char ${SYMBOL}[];
extern const size_t ${SYMBOL}_size;
const unsigned char ${SYMBOL}[] = {
${bytes}
};
const size_t ${SYMBOL}_size = sizeof ${SYMBOL};
")
