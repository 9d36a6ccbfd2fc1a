#include <algorithm>
#include <filesystem>

#include "base/hash.hpp"
#include "base/text.hpp"
#include "dataset/embedded.hpp"
#include "dataset/packed_dataset.hpp"
#include "dataset/read_files.hpp"

namespace aeruca {
namespace detail {

std::shared_ptr<const Records> records_of(const Dataset& dataset) {
  if (dataset.records) return dataset.records;
  if (dataset.content_hash != embedded_hash())
    throw InputError("base", "(made by hand)",
                     "a data set made by default_dataset, load_dataset or extend_dataset");
  static const std::shared_ptr<const Records> records = read_files(embedded_files());
  return records;
}

}  // namespace detail

std::shared_ptr<const Dataset> default_dataset() {
  // Never taken down: that would take longer than the rest of a program's end.
  static const auto& dataset =
      *new std::shared_ptr<const Dataset>(detail::unpack_dataset(detail::embedded_dataset()));
  return dataset;
}

std::shared_ptr<const Dataset> load_dataset(const std::string& directory) {
  namespace fs = std::filesystem;
  std::error_code problem;
  std::vector<std::string> paths;
  for (fs::directory_iterator at(directory, problem), end; !problem && at != end;
       at.increment(problem)) {
    const std::string extension = at->path().extension().string();
    if (extension == ".toml" || extension == ".bib") paths.push_back(at->path().string());
  }
  if (problem)
    throw FileError(directory, 0, "", "cannot be read as a directory: " + problem.message());
  if (paths.empty())
    throw FileError(directory, 0, "",
                    "holds no data files, accepted is a directory with *.toml and sources.bib");
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> texts;
  texts.reserve(paths.size());
  for (const std::string& path : paths) texts.push_back(detail::read_file(path));
  std::vector<detail::NamedText> files;
  files.reserve(paths.size());
  for (std::size_t i = 0; i < paths.size(); ++i)
    files.push_back({fs::path(paths[i]).filename().string(), texts[i]});
  return detail::build_dataset(detail::read_files(files));
}

std::shared_ptr<const Dataset> extend_dataset(const Dataset& base, const std::string& file) {
  auto records = std::make_shared<detail::Records>(*detail::records_of(base));
  const std::string text = detail::read_file(file);
  records->extensions += 1;
  detail::read_toml(*records, file, text, records->extensions);
  records->content_hash =
      detail::hexadecimal(detail::fnv1a(text, detail::from_hexadecimal(records->content_hash)));
  return detail::build_dataset(records);
}

}  // namespace aeruca
