// A tool of the build: aeruca_embed OUTPUT FILE... parses the files of data/ and writes them as
// C++.

#include <fstream>
#include <iostream>
#include <iterator>

#include "aeruca/errors.hpp"
#include "base/hash.hpp"
#include "dataset/document.hpp"

namespace {

std::string read(const std::string& path) {
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw aeruca::FileError(path, 0, "", "cannot be read");
  return {std::istreambuf_iterator<char>(stream), {}};
}

void write_array(std::ostream& out, int number, const std::string& bytes) {
  out << "constexpr unsigned char kFile" << number << "[] = {";
  for (const char byte : bytes) out << int{static_cast<unsigned char>(byte)} << ',';
  out << "0};\n";
}

void embed(std::ostream& out, const std::vector<std::string>& paths) {
  std::uint64_t hash = aeruca::detail::kHashStart;
  std::string list;
  out << "// Made from data/ at build time.\n#include \"dataset/embedded.hpp\"\n\n"
      << "namespace aeruca::detail {\nnamespace {\n";
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const std::string name = paths[i].substr(paths[i].find_last_of('/') + 1);
    const std::string text = read(paths[i]);
    hash = aeruca::detail::fnv1a(text, aeruca::detail::fnv1a(name, hash));
    const bool is_toml = name.ends_with(".toml");
    write_array(out, static_cast<int>(i),
                is_toml ? pack(aeruca::detail::parse_toml_document(paths[i], text)) : text);
    const std::string array = "kFile" + std::to_string(i);
    list += "      EmbeddedFile{\"" + name + "\", {reinterpret_cast<const char*>(" + array +
            "), sizeof(" + array + ") - 1}},\n";
  }
  out << "}  // namespace\n\nstd::vector<EmbeddedFile> embedded_files() {\n  return {\n"
      << list << "  };\n}\n\nstd::string_view embedded_hash() {\n  return \""
      << aeruca::detail::hexadecimal(hash) << "\";\n}\n}  // namespace aeruca::detail\n";
}

}  // namespace

int main(int count, char** arguments) {
  try {
    if (count < 3) throw aeruca::Error("usage: aeruca_embed OUTPUT FILE...");
    std::ofstream out(arguments[1], std::ios::binary);
    embed(out, {arguments + 2, arguments + count});
    out.close();
    if (!out) throw aeruca::FileError(arguments[1], 0, "", "cannot be written");
  } catch (const std::exception& problem) {
    std::cerr << problem.what() << '\n';
    return 1;
  }
  return 0;
}
