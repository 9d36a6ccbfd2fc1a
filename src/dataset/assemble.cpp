// From records to the data set: checked, reduced, with every figure in one list.

#include "aeruca/errors.hpp"
#include "dataset/records.hpp"

namespace aeruca::detail {
namespace {

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
  collect_figures(records->minerals, dataset->figures);
  collect_figures(records->others, dataset->figures);
  dataset->sources = values(records->sources);
  dataset->sit = chosen_values(records->sit);
  dataset->pitzer = values(records->pitzer);
  dataset->pitzer_mixing = chosen_values(records->mixing);
  dataset->salts = values(records->salts);
  dataset->humidities = values(records->humidities);
  dataset->onset_bands = values(records->onset);
  dataset->bath_salts = assemble_bath_salts(*records);
  dataset->field_tests = values(records->field_tests);
  dataset->minerals = assemble_minerals(*records, dataset->figures);
  dataset->index_names();
  check_closure(*records, *dataset);
  dataset->records = std::move(records);
  return dataset;
}

}  // namespace aeruca::detail
