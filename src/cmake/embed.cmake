# cmake -DFILES=a|b -DOUTPUT=x.cpp -P embed.cmake : files as byte arrays behind detail::embedded_files().
string(REPLACE "|" ";" FILES "${FILES}")
set(arrays "")
set(table "")
set(number 0)
foreach(path IN LISTS FILES)
  get_filename_component(name "${path}" NAME)
  file(READ "${path}" hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  string(APPEND arrays "constexpr unsigned char kFile${number}[] = {${bytes}0};\n")
  string(APPEND table "      EmbeddedFile{\"${name}\", {reinterpret_cast<const char*>(kFile${number}), sizeof(kFile${number}) - 1}},\n")
  math(EXPR number "${number} + 1")
endforeach()
file(WRITE "${OUTPUT}.new" "// Made from data/ at build time.
#include \"dataset/embedded.hpp\"

namespace aeruca::detail {
namespace {
${arrays}}  // namespace

std::vector<EmbeddedFile> embedded_files() {
  return {
${table}  };
}
}  // namespace aeruca::detail
")
file(RENAME "${OUTPUT}.new" "${OUTPUT}")
