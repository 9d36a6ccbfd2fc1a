#include "cli/case_table.hpp"

#include <filesystem>

#include "aeruca/case_collection.hpp"
#include "aeruca/errors.hpp"
#include "base/file_names.hpp"
#include "base/text.hpp"
#include "casefile/case_inputs.hpp"
#include "cli/progress.hpp"
#include "render/case_collection_report.hpp"

namespace aeruca::cli {
namespace {

namespace fs = std::filesystem;

bool is_same_file(const std::string& one, const std::string& other) {
  std::error_code ignored;
  return fs::equivalent(one, other, ignored);
}

bool is_read_for(const std::string& output, const std::string& path) {
  if (is_same_file(output, path)) return true;
  try {
    const CaseFile file = read_case_file(path);
    for (const InputFile& input : detail::case_inputs(file)) {
      if (is_same_file(output, file.resolve(input.path))) return true;
    }
  } catch (const Error&) {  // its row will say why
  }
  return false;
}

// Before the work, which may take long: a place that cannot be written, and a case or a log that a
// slip of the hand would replace by a table.
void check_output(const std::string& option, const std::string& output,
                  const std::vector<std::string>& paths) {
  if (output.empty()) return;
  const fs::path folder = fs::path(output).parent_path();
  if (fs::path(output).extension() == ".toml")
    throw InputError(option, output, "a file whose name does not end in .toml, as case files do");
  std::error_code ignored;
  if (fs::is_directory(output, ignored) || (!folder.empty() && !fs::is_directory(folder, ignored)))
    throw FileError(output, 0, "", "cannot be written; a writable place is wanted");
  if (!fs::exists(output, ignored)) return;
  for (const std::string& path : paths) {
    if (is_read_for(output, path))
      throw InputError(option, output, "a file that is not read: it would be lost");
  }
}

// A sentence on standard error for whatever ends in another code than 0.
void tell_trouble(const CaseCollection& collection, Context& context) {
  std::size_t bad_logs = 0;
  std::size_t unanswered = 0;
  for (const ObjectCase& object : collection.objects) {
    bad_logs += object.bad_log ? 1 : 0;
    unanswered += object.not_worked_out.empty() ? 0 : 1;
  }
  const std::string of_all = " of " + std::to_string(collection.objects.size());
  if (unanswered > 0) context.exit_code = kNoAnswer;
  if (bad_logs > 0) {
    context.exit_code = kBadInput;
    context.err << "aeruca: " << bad_logs << of_all << " cases have a log that cannot be used\n";
  }
  if (collection.unusable > 0) {
    context.exit_code = kBadInput;
    context.err << "aeruca: " << collection.unusable << of_all
                << " case files could not be used; the table says why\n";
  }
}

}  // namespace

void add_case_table(Command& command, CaseTableRequest& request) {
  command.add_option("--table", request.csv,
                     "write the table of objects to this file (CSV), in place of the one that was "
                     "there");
  command.add_option("--html", request.html,
                     "write the table as one page that needs no other file, in place of the one "
                     "that was there");
  request.threads_option =
      command.add_option("--threads", request.threads,
                         "cases at once, 1 to 256 (default: as many as the machine has "
                         "processors); changes no result");
  request.threads_option->between(1, 256);
}

bool wants_table(const std::vector<std::string>& names, const CaseTableRequest& request) {
  if (!request.csv.empty() || !request.html.empty() || names.size() > 1) return true;
  if (names.empty()) return false;
  std::error_code ignored;
  return fs::is_directory(names.front(), ignored) ||
         (!fs::exists(names.front(), ignored) && detail::is_pattern(names.front()));
}

void write_case_table(const std::vector<std::string>& names, const CaseTableRequest& request,
                      Context& context) {
  const std::vector<std::string> paths = find_case_files(names);
  if (!request.csv.empty() &&
      fs::path(request.csv).lexically_normal() == fs::path(request.html).lexically_normal())
    throw UsageError("--table, --html", "cannot be the same file");
  check_output("--table", request.csv, paths);
  check_output("--html", request.html, paths);
  CaseRun run;
  run.date = request.date;
  run.threads = request.threads;
  run.workbook = context.workbook;
  run.case_workbooks = context.case_workbooks;
  if (context.audience == Audience::person) run.progress = Progress(context.err, "cases");
  const CaseCollection collection = assess_collection(paths, context.dataset(), run);
  std::vector<std::string> written;
  if (!request.csv.empty()) {
    detail::replace_file(request.csv, detail::case_collection_csv(collection));
    written.push_back(request.csv);
  }
  if (!request.html.empty()) {
    detail::replace_file(request.html, detail::case_collection_html(collection));
    written.push_back(request.html);
  }
  context.out << (context.json ? detail::case_collection_json(collection)
                               : detail::case_collection_text(collection, request.width,
                                                              detail::join(written, ", ")));
  tell_trouble(collection, context);
}

}  // namespace aeruca::cli
