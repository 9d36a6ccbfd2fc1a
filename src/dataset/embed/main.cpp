// A tool of the build: aeruca_embed OUTPUT FILE... writes the files of data/ and the data set that
// they make, checked and reduced, as C++.

#include <fstream>
#include <iostream>
#include <iterator>

#include "dataset/packed_dataset.hpp"
#include "dataset/read_files.hpp"

namespace {

std::string read(const std::string& path) {
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw aeruca::FileError(path, 0, "", "cannot be read");
  return {std::istreambuf_iterator<char>(stream), {}};
}

void write_array(std::ostream& out, const std::string& name, std::string_view bytes) {
  out << "constexpr unsigned char " << name << "[] = {";
  for (const char byte : bytes) out << int{static_cast<unsigned char>(byte)} << ',';
  out << "0};\n";
}

// The view of an array, without the 0 at its end.
std::string view(const std::string& array) {
  return "{reinterpret_cast<const char*>(" + array + "), sizeof(" + array + ") - 1}";
}

void embed(std::ostream& out, const std::vector<std::string>& paths) {
  std::vector<std::string> texts;
  texts.reserve(paths.size());
  for (const std::string& path : paths) texts.push_back(read(path));
  std::vector<aeruca::detail::NamedText> files;
  files.reserve(paths.size());
  for (std::size_t i = 0; i < paths.size(); ++i)
    files.push_back({paths[i].substr(paths[i].find_last_of('/') + 1), texts[i]});
  const auto dataset = aeruca::detail::build_dataset(aeruca::detail::read_files(files));

  out << "// Made from data/ at build time.\n#include \"dataset/embedded.hpp\"\n\n"
      << "namespace aeruca::detail {\nnamespace {\n";
  std::string list;
  for (std::size_t i = 0; i < files.size(); ++i) {
    const std::string array = "kFile" + std::to_string(i);
    write_array(out, array, files[i].text);
    list += "      NamedText{\"" + files[i].name + "\", " + view(array) + "},\n";
  }
  write_array(out, "kDataset", aeruca::detail::pack(*dataset));
  out << "}  // namespace\n\nstd::vector<NamedText> embedded_files() {\n  return {\n"
      << list << "  };\n}\n\nstd::string_view embedded_dataset() {\n  return " << view("kDataset")
      << ";\n}\n\nstd::string_view embedded_hash() {\n  return \"" << dataset->content_hash
      << "\";\n}\n}  // namespace aeruca::detail\n";
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
