#include <algorithm>
#include <array>
#include <chrono>
#include <ctime>
#include <memory>

#include "aeruca/assessment.hpp"
#include "aeruca/render.hpp"
#include "base/printable.hpp"
#include "cli/case_table.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {
namespace {

struct CaseRequest {
  std::vector<std::string> files;
  std::string new_file;
  std::string schema;
  CaseTableRequest table;
  bool full = false;
};

// The tool may look at the clock; the library never does.
std::string today() {
  const std::time_t now = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
  std::tm parts{};
  localtime_r(&now, &parts);
  std::array<char, 16> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%d", &parts);
  return text.data();
}

void assess_one(const CaseRequest& request, Context& context) {
  CaseFile file = read_case_file(request.files.front(), context.case_workbooks);
  file.store.reading.workbook = context.workbook;
  const CaseAssessment assessment = assess_case(file, context.dataset(), request.table.date);
  if (context.json) {
    context.out << to_json(assessment);
  } else {
    context.out << detail::printable(request.full ? to_text(assessment, request.table.width)
                                                  : front_text(assessment, request.table.width),
                                     true);
  }
  if (!assessment.complete()) context.exit_code = kNoAnswer;
  for (const CaseSection& section : assessment.sections) {
    if (section.status != SectionStatus::bad_input) continue;
    context.exit_code = kBadInput;
    context.err << "aeruca: " << section.warnings.back() << '\n';
  }
}

void run(CaseRequest& request, Context& context) {
  const auto asked = {!request.files.empty(), !request.new_file.empty(), !request.schema.empty()};
  if (std::count(asked.begin(), asked.end(), true) != 1) {
    throw UsageError("case",
                     "needs a case file, a folder or a pattern of them, --new FILE to write a "
                     "template, or --schema NAME to print a JSON Schema");
  }
  const bool table = wants_table(request.files, request.table);
  if (request.full && (request.files.empty() || table || context.json)) {
    throw UsageError("--full",
                     "asks for the whole text of one assessment; --json holds everything, a table "
                     "one line of each");
  }
  if (!table && request.table.threads_option->count() > 0)
    throw UsageError("--threads", "goes with a folder, a pattern or several case files");
  if (request.files.empty() && table)
    throw UsageError("--table, --html", "go with case files, a folder or a pattern of them");
  if (!request.schema.empty()) {
    context.out << (request.schema == "case-file" ? case_file_schema() : assessment_schema());
    return;
  }
  if (!request.new_file.empty()) {
    write_case_template(request.new_file, context.case_workbooks);
    context.out << "wrote " << request.new_file << "; fill it in and run: aeruca case "
                << request.new_file << '\n';
    return;
  }
  if (request.table.date.empty()) request.table.date = today();
  if (table) {
    write_case_table(request.files, request.table, context);
  } else {
    assess_one(request, context);
  }
}

// What stands in Python: this program says so rather than not knowing the word.
void add_of_package(Command& app, const std::string& name, const std::string& help,
                    const std::string& package) {
  Command* command = app.add_subcommand(name, help + " (comes with the Python package)");
  command->ignore_arguments();
  command->callback([name, package] {
    throw UsageError(name,
                     "comes with the Python package, not with this program; install it "
                     "with: pip install \"" +
                         package + "\"");
  });
}

}  // namespace

void add_case(Command& app, Context& context) {
  auto request = std::make_shared<CaseRequest>();
  Command* command =
      app.add_subcommand("case",
                         "assess one object: what is stable, how dry, how long to wash; of "
                         "several, a table by risk");
  command->add_option(
      "files", request->files,
      "case file (TOML, or a workbook .xlsx) with its logs beside it; or several, a folder, with "
      "those "
      "below it, or a pattern such as \"objects/*/case.toml\": a table of objects, the "
      "most at risk first");
  command->add_option(
      "--new", request->new_file,
      "write a commented case file to fill in, a workbook if it is named .xlsx; never "
      "overwrites");
  command
      ->add_option("--schema", request->schema,
                   "print a JSON Schema: of the case file, or of the assessment that --json prints")
      ->one_of({"case-file", "assessment"});
  add_case_table(*command, request->table);
  command->add_option("--date", request->table.date,
                      "date written into the assessment (default: today)");
  command->add_flag("--full", request->full,
                    "after the front sheet, every section with its tables, limits and sources");
  command->add_option("--width", request->table.width, "columns of the text, 60 to 200")
      ->between(60, 200);
  command->footer(
      "Exit code: 0 done, with what is missing said; 1 the case file cannot be used, or a log\n"
      "cannot: then its section says so and the rest is printed; 2 usage; 3 a calculation ended\n"
      "without an answer, or the model does not describe the baths. Of several, each that cannot\n"
      "be used has its row with the reason, and the code is that of the worst.");
  command->callback([request, &context] { run(*request, context); });
  add_of_package(app, "report", "HTML report of a case", "aeruca[report]");
  add_of_package(app, "class", "teacher's sheet of a class experiment; which coins are solid",
                 "aeruca");
  add_of_package(app, "page", "fill in and assess a case in the browser", "aeruca[page]");
}

}  // namespace aeruca::cli
