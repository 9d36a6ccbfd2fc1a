# Warnings, sanitizers and data embedding: how targets of this project are built.

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

# Every data/*.toml and data/sources.bib becomes a byte array in the library.
function(aeruca_embed_data target)
  file(GLOB files CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/data/*.toml" "${PROJECT_SOURCE_DIR}/data/*.bib")
  set(output "${PROJECT_BINARY_DIR}/generated/embedded_data.cpp")
  string(REPLACE ";" "|" joined "${files}")
  add_custom_command(OUTPUT "${output}"
    COMMAND ${CMAKE_COMMAND} "-DFILES=${joined}" "-DOUTPUT=${output}"
      -P "${PROJECT_SOURCE_DIR}/src/cmake/embed.cmake"
    DEPENDS ${files} "${PROJECT_SOURCE_DIR}/src/cmake/embed.cmake"
    COMMENT "Embedding the data set" VERBATIM)
  target_sources(${target} PRIVATE "${output}")
endfunction()
