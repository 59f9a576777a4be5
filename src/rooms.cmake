# What the list files in src/<room>/ and tests/<room>/ are written with.

# ---- how everything of ours is compiled -----------------------------------------------------------

add_library(lidmark_flags INTERFACE)
target_compile_definitions(lidmark_flags INTERFACE _POSIX_C_SOURCE=200809L)
target_include_directories(lidmark_flags INTERFACE ${CMAKE_SOURCE_DIR}/include ${CMAKE_SOURCE_DIR}/src)
target_compile_options(lidmark_flags INTERFACE
    -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion -Wstrict-prototypes
    -Wmissing-prototypes -Wvla -Wundef -Wformat=2 -Wimplicit-fallthrough
    -fno-common -ffp-contract=off)
target_link_libraries(lidmark_flags INTERFACE m)
if(LIDMARK_WERROR)
    target_compile_options(lidmark_flags INTERFACE -Werror)
endif()
if(LIDMARK_SANITIZE)
    set(sanitize -fsanitize=${LIDMARK_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer)
    target_compile_options(lidmark_flags INTERFACE ${sanitize})
    target_link_options(lidmark_flags INTERFACE ${sanitize})
endif()
if(LIDMARK_FUZZ)
    if(NOT CMAKE_C_COMPILER_ID MATCHES "Clang")
        message(FATAL_ERROR "LIDMARK_FUZZ needs clang: CC=clang cmake ...")
    endif()
    target_compile_options(lidmark_flags INTERFACE -fsanitize=fuzzer-no-link)
    target_link_options(lidmark_flags INTERFACE -fsanitize=fuzzer-no-link)
endif()

# Remembers sources for the audit that compares the lists with the tree.
function(lidmark_note_sources)
    foreach(source IN LISTS ARGN)
        cmake_path(ABSOLUTE_PATH source NORMALIZE)
        cmake_path(IS_PREFIX CMAKE_BINARY_DIR "${source}" made_by_build)
        if(NOT made_by_build)
            cmake_path(RELATIVE_PATH source BASE_DIRECTORY ${CMAKE_SOURCE_DIR})
            set_property(GLOBAL APPEND PROPERTY LIDMARK_SOURCES ${source})
        endif()
    endforeach()
endfunction()

# Writes them, one a line, into listed-sources.txt of the build folder.
function(lidmark_write_source_list)
    get_property(sources GLOBAL PROPERTY LIDMARK_SOURCES)
    list(SORT sources)
    list(REMOVE_DUPLICATES sources)
    list(JOIN sources "\n" text)
    file(WRITE ${CMAKE_BINARY_DIR}/listed-sources.txt "${text}\n")
endfunction()

# Links target with packages known to pkg-config by these names.
function(lidmark_use_packages target)
    foreach(package IN LISTS ARGN)
        if(NOT TARGET PkgConfig::${package})
            pkg_check_modules(${package} REQUIRED QUIET IMPORTED_TARGET GLOBAL ${package})
        endif()
        target_link_libraries(${target} PUBLIC PkgConfig::${package})
    endforeach()
endfunction()

# ---- rooms ------------------------------------------------------------------------------------------

# lidmark_room(geom SOURCES predicate.c overlay.c ROOMS base PACKAGES cairo)
# The static library lidmark_geom. ROOMS: rooms it uses. PACKAGES: pkg-config names.
function(lidmark_room room)
    cmake_parse_arguments(PARSE_ARGV 1 arg "" "" "SOURCES;ROOMS;PACKAGES")
    add_library(lidmark_${room} STATIC ${arg_SOURCES})
    lidmark_note_sources(${arg_SOURCES})
    target_link_libraries(lidmark_${room} PUBLIC lidmark_flags)
    foreach(below IN LISTS arg_ROOMS)
        if(NOT TARGET lidmark_${below})
            message(FATAL_ERROR "The room ${room} uses the room ${below}, which is not there")
        endif()
        target_link_libraries(lidmark_${room} PUBLIC lidmark_${below})
    endforeach()
    lidmark_use_packages(lidmark_${room} ${arg_PACKAGES})
endfunction()

# lidmark_embed(catalog.json asset_catalog_json source)
# Puts assets/catalog.json into the program as
#     const unsigned char asset_catalog_json[];  const size_t asset_catalog_json_size;
# and the name of the C file made for that into the variable source, to be listed in SOURCES.
function(lidmark_embed asset symbol variable)
    set(from ${CMAKE_SOURCE_DIR}/assets/${asset})
    set(to ${CMAKE_CURRENT_BINARY_DIR}/${symbol}.c)
    set(script ${CMAKE_SOURCE_DIR}/src/embed.cmake)
    add_custom_command(
        OUTPUT ${to}
        COMMAND ${CMAKE_COMMAND} -D FROM=${from} -D TO=${to} -D SYMBOL=${symbol} -P ${script}
        DEPENDS ${from} ${script}
        COMMENT "Embedding assets/${asset}"
        VERBATIM)
    set(${variable} ${to} PARENT_SCOPE)
endfunction()
