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

# Every data/*.toml, parsed and packed, and data/sources.bib become byte arrays in the library. The
# tool that packs them is made of the few sources that read a file.
function(aeruca_embed_data target)
  set(packer aeruca_embed)
  add_executable(${packer} src/dataset/embed/main.cpp src/dataset/toml_document.cpp
    src/dataset/document.cpp src/base/toml_text.cpp src/base/errors.cpp src/base/hash.cpp
    src/base/text.cpp src/base/printable.cpp)
  target_include_directories(${packer} PRIVATE include src)
  target_include_directories(${packer} SYSTEM PRIVATE ${TOMLPLUSPLUS_INCLUDE_DIR})
  target_compile_features(${packer} PRIVATE cxx_std_20)
  target_compile_definitions(${packer} PRIVATE TOML_HEADER_ONLY=1)
  target_link_libraries(${packer} PRIVATE aeruca_warnings)
  file(GLOB files CONFIGURE_DEPENDS "${PROJECT_SOURCE_DIR}/data/*.toml" "${PROJECT_SOURCE_DIR}/data/*.bib")
  file(MAKE_DIRECTORY "${PROJECT_BINARY_DIR}/generated")
  set(output "${PROJECT_BINARY_DIR}/generated/embedded_data.cpp")
  add_custom_command(OUTPUT "${output}" COMMAND ${packer} "${output}" ${files}
    DEPENDS ${files} ${packer} COMMENT "Embedding the data set" VERBATIM)
  target_sources(${target} PRIVATE "${output}")
endfunction()
