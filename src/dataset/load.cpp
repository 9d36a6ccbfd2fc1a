#include <algorithm>
#include <filesystem>

#include "base/hash.hpp"
#include "base/text.hpp"
#include "dataset/embedded.hpp"
#include "dataset/records.hpp"

namespace aeruca {
namespace detail {
namespace {

bool ends_with(std::string_view text, std::string_view ending) {
  return text.size() >= ending.size() && text.substr(text.size() - ending.size()) == ending;
}

struct File {
  std::string name;
  std::string_view text;
};

std::shared_ptr<const Dataset> load_files(const std::vector<File>& files) {
  auto records = std::make_shared<Records>();
  std::uint64_t hash = kHashStart;
  for (const File& file : files) {
    hash = fnv1a(file.text, fnv1a(file.name, hash));
    if (ends_with(file.name, ".bib"))
      read_bibliography(*records, file.name, file.text, 0);
    else
      read_toml(*records, file.name, file.text, 0);
  }
  records->content_hash = hexadecimal(hash);
  return build_dataset(records);
}

template <class Value>
void collect_figures(const Table<Value>& table, std::vector<Figure>& figures) {
  for (const auto& entry : table.entries())
    figures.insert(figures.end(), entry.figures.begin(), entry.figures.end());
}

template <class Value>
std::vector<Value> values(const Table<Value>& table) {
  std::vector<Value> result;
  for (const auto& entry : table.entries()) result.push_back(entry.value);
  return result;
}

// Of a table whose records hold one figure each.
template <class Value>
std::vector<Value> chosen_values(const Table<Value>& table) {
  std::vector<Value> result;
  for (const auto& entry : table.entries())
    if (entry.figures.front().chosen) result.push_back(entry.value);
  return result;
}

}  // namespace

std::shared_ptr<const Dataset> build_dataset(std::shared_ptr<const Records> records) {
  if (records->version.empty())
    throw FileError("dataset.toml", 0, "version",
                    "the data set names no version, accepted is version = \"1.2.3\"");
  check_records(*records);
  auto dataset = std::make_shared<Dataset>();
  dataset->version = records->version;
  dataset->content_hash = records->content_hash;
  reduce_species(*records, *dataset);
  collect_figures(records->reactions, dataset->figures);
  collect_figures(records->energies, dataset->figures);
  collect_figures(records->species, dataset->figures);
  collect_figures(records->sit, dataset->figures);
  collect_figures(records->pitzer, dataset->figures);
  collect_figures(records->mixing, dataset->figures);
  collect_figures(records->salts, dataset->figures);
  collect_figures(records->humidities, dataset->figures);
  collect_figures(records->onset, dataset->figures);
  collect_figures(records->bath_salts, dataset->figures);
  collect_figures(records->others, dataset->figures);
  dataset->sources = values(records->sources);
  dataset->sit = chosen_values(records->sit);
  dataset->pitzer = values(records->pitzer);
  dataset->pitzer_mixing = chosen_values(records->mixing);
  dataset->salts = values(records->salts);
  dataset->humidities = values(records->humidities);
  dataset->onset_bands = values(records->onset);
  dataset->bath_salts = assemble_bath_salts(*records);
  dataset->index_names();
  check_closure(*records, *dataset);
  dataset->records = std::move(records);
  return dataset;
}

}  // namespace detail

std::shared_ptr<const Dataset> default_dataset() {
  static const std::shared_ptr<const Dataset> dataset = [] {
    auto records = std::make_shared<detail::Records>();
    for (const detail::EmbeddedFile& file : detail::embedded_files()) {
      const std::string name(file.name);
      if (detail::ends_with(file.name, ".bib"))
        detail::read_bibliography(*records, name, file.bytes, 0);
      else
        detail::read_packed(*records, name, file.bytes);
    }
    records->content_hash = detail::embedded_hash();
    return detail::build_dataset(records);
  }();
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
  for (const std::string& path : paths) texts.push_back(detail::read_file(path));
  std::vector<detail::File> files;
  for (std::size_t i = 0; i < paths.size(); ++i)
    files.push_back({fs::path(paths[i]).filename().string(), texts[i]});
  return detail::load_files(files);
}

std::shared_ptr<const Dataset> extend_dataset(const Dataset& base, const std::string& file) {
  if (!base.records)
    throw InputError("base", "(made by hand)",
                     "a data set made by default_dataset, load_dataset or extend_dataset");
  auto records = std::make_shared<detail::Records>(*base.records);
  const std::string text = detail::read_file(file);
  records->extensions += 1;
  detail::read_toml(*records, file, text, records->extensions);
  records->content_hash =
      detail::hexadecimal(detail::fnv1a(text, detail::from_hexadecimal(records->content_hash)));
  return detail::build_dataset(records);
}

}  // namespace aeruca
