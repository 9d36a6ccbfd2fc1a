# Warnings, sanitizers, speed of building and data embedding: how targets of this project are built.

add_library(aeruca_warnings INTERFACE)
if(CMAKE_CXX_COMPILER_ID MATCHES "GNU|Clang")
  target_compile_options(aeruca_warnings INTERFACE -Wall -Wextra -Wpedantic -Wconversion -Wshadow
    -Wdouble-promotion -Wnon-virtual-dtor -Wold-style-cast
    $<$<BOOL:${AERUCA_DEVELOPER_MODE}>:-Werror>)
endif()
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  # False alarm on std::string + in g++ 12 (GCC bug 105651), gone in 13.
  target_compile_options(aeruca_warnings INTERFACE -Wno-restrict)
endif()
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND NOT CMAKE_DISABLE_PRECOMPILE_HEADERS)
  # Precompiled, the headers of the standard library lose the pragmas that keep false alarms of these kinds
  # in them quiet. `./dev check` compiles without, and with these warnings.
  target_compile_options(aeruca_warnings INTERFACE -Wno-array-bounds -Wno-stringop-overflow -Wno-stringop-overread)
endif()

# Sanitizers ride on the core target, so that tests, module and tool agree.
function(aeruca_sanitize target)
  if(NOT AERUCA_SANITIZE)
    return()
  endif()
  if(AERUCA_SANITIZE MATCHES "address" AND AERUCA_SANITIZE MATCHES "thread|memory")
    message(FATAL_ERROR "AERUCA_SANITIZE=${AERUCA_SANITIZE}: address cannot go with thread or memory")
  endif()
  target_compile_options(${target} PUBLIC $<BUILD_INTERFACE:-fsanitize=${AERUCA_SANITIZE}>
    $<BUILD_INTERFACE:-fno-omit-frame-pointer> $<BUILD_INTERFACE:-fno-sanitize-recover=undefined>)
  target_link_options(${target} PUBLIC $<BUILD_INTERFACE:-fsanitize=${AERUCA_SANITIZE}>)
endfunction()

# Headers of the standard library that most sources include, read by the compiler once for all of one
# kind. A source still includes what it uses: `./dev check` compiles without them.
set(aeruca_standard_headers <algorithm> <array> <cmath> <cstdint> <functional> <map> <memory> <numeric>
  <optional> <set> <span> <sstream> <string> <string_view> <utility> <vector>)

# A compiler cache takes part in that when it is told to.
if(CMAKE_CXX_COMPILER_LAUNCHER MATCHES "(^|/)ccache$")
  set(CMAKE_CXX_COMPILER_LAUNCHER "${CMAKE_COMMAND}" -E env
    CCACHE_SLOPPINESS=pch_defines,time_macros,include_file_mtime,include_file_ctime
    "${CMAKE_CXX_COMPILER_LAUNCHER}")
endif()

# For what waits for people, files or processes and not for its own arithmetic: half of the compiler's
# time.
function(aeruca_built_quickly target)
  if(CMAKE_CXX_COMPILER_ID MATCHES "GNU|Clang")
    target_compile_options(${target} PRIVATE $<$<CONFIG:Release>:-O1>)
  endif()
endfunction()

function(aeruca_part_of_library target)
  target_link_libraries(${target} PRIVATE $<BUILD_INTERFACE:aeruca_sources>)
  set_target_properties(${target} PROPERTIES POSITION_INDEPENDENT_CODE ON CXX_VISIBILITY_PRESET hidden
    VISIBILITY_INLINES_HIDDEN ON CXX_EXTENSIONS OFF)
  aeruca_sanitize(${target})
endfunction()

# data/*.toml and data/sources.bib, and the data set that they make, become byte arrays in the
# library: a mistake in the data stops the build.
function(aeruca_embed_data target)
  set(packer aeruca_embed)
  add_executable(${packer} src/dataset/embed/main.cpp $<TARGET_OBJECTS:aeruca_base>
    $<TARGET_OBJECTS:aeruca_data>)
  target_link_libraries(${packer} PRIVATE aeruca_sources)
  aeruca_sanitize(${packer})
  file(GLOB files CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/data/*.toml" "${PROJECT_SOURCE_DIR}/data/*.bib")
  file(MAKE_DIRECTORY "${PROJECT_BINARY_DIR}/generated")
  set(output "${PROJECT_BINARY_DIR}/generated/embedded_data.cpp")
  add_custom_command(OUTPUT "${output}" COMMAND ${packer} "${output}" ${files}
    DEPENDS ${files} ${packer} COMMENT "Embedding the data set" VERBATIM)
  target_sources(${target} PRIVATE "${output}")
  set_source_files_properties("${output}" PROPERTIES SKIP_PRECOMPILE_HEADERS ON)
endfunction()
