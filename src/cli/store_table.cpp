#include "cli/store_table.hpp"

#include <filesystem>

#include "aeruca/collection.hpp"
#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"
#include "base/text.hpp"
#include "cli/progress.hpp"
#include "render/store_report.hpp"

namespace aeruca::cli {
namespace {

namespace fs = std::filesystem;

// A table in the folder that is read would be taken for a logger file the next time.
void refuse_among_inputs(const std::string& table, const std::vector<std::string>& names) {
  std::error_code ignored;
  const fs::path folder = fs::path(table).parent_path();
  for (const std::string& name : names) {
    if (fs::is_directory(name, ignored) &&
        fs::equivalent(name, folder.empty() ? fs::path(".") : folder, ignored)) {
      throw InputError("--table", table, "a file outside the folder that is read");
    }
  }
  for (const std::string& file : find_logger_files(names)) {
    if (fs::equivalent(file, table, ignored))
      throw InputError("--table", table, "a file that is not read: it would be lost");
  }
}

}  // namespace

void write_store_table(const std::string& table, const std::vector<std::string>& names,
                       const LoggerReadOptions& read, const StoreOptions& judge, Context& context) {
  refuse_among_inputs(table, names);
  Progress progress(context.err, "files");
  const Collection collection = judge_collection(
      names, read, judge, 0, [&](std::size_t done, std::size_t all) { progress(done, all); });
  detail::replace_file(table, detail::collection_csv(collection));
  const auto dataset = context.dataset();
  context.out << (context.json ? detail::collection_json(collection, *dataset)
                               : detail::collection_text(collection, *dataset));
  if (collection.unusable == 0) return;
  context.err << "aeruca: " << collection.unusable << " of " << collection.objects.size()
              << " files could not be used; " << table << " says why\n";
  context.exit_code = kBadInput;
}

}  // namespace aeruca::cli
