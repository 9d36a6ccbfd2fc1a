#include <algorithm>
#include <array>
#include <chrono>
#include <ctime>
#include <memory>

#include "aeruca/assessment.hpp"
#include "aeruca/render.hpp"
#include "base/printable.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {
namespace {

struct CaseRequest {
  std::string file;
  std::string new_file;
  std::string schema;
  std::string date;
  int width = 88;
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

void run(const CaseRequest& request, Context& context) {
  const auto asked = {!request.file.empty(), !request.new_file.empty(), !request.schema.empty()};
  if (std::count(asked.begin(), asked.end(), true) != 1) {
    throw UsageError("case",
                     "needs one case file, --new FILE to write a template, or --schema "
                     "NAME to print a JSON Schema");
  }
  if (request.full && (request.file.empty() || context.json)) {
    throw UsageError("--full",
                     "asks for the whole text of an assessment; --json holds everything, "
                     "--new and --schema have no text");
  }
  if (!request.schema.empty()) {
    context.out << (request.schema == "case-file" ? case_file_schema() : assessment_schema());
    return;
  }
  if (!request.new_file.empty()) {
    write_case_template(request.new_file);
    context.out << "wrote " << request.new_file << "; fill it in and run: aeruca case "
                << request.new_file << '\n';
    return;
  }
  CaseFile file = read_case_file(request.file);
  file.store.reading.workbook = context.workbook;
  const CaseAssessment assessment =
      assess_case(file, context.dataset(), request.date.empty() ? today() : request.date);
  if (context.json) {
    context.out << to_json(assessment);
  } else {
    context.out << detail::printable(
        request.full ? to_text(assessment, request.width) : front_text(assessment, request.width),
        true);
  }
  if (!assessment.complete()) context.exit_code = kNoAnswer;
  for (const CaseSection& section : assessment.sections) {
    if (section.status != SectionStatus::bad_input) continue;
    context.exit_code = kBadInput;
    context.err << "aeruca: " << section.warnings.back() << '\n';
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
      app.add_subcommand("case", "assess one object: what is stable, how dry, how long to wash");
  command->add_option("file", request->file, "case file (TOML) with its logs beside it");
  command->add_option("--new", request->new_file,
                      "write a commented case file to fill in; never overwrites");
  command
      ->add_option("--schema", request->schema,
                   "print a JSON Schema: of the case file, or of the assessment that --json prints")
      ->one_of({"case-file", "assessment"});
  command->add_option("--date", request->date, "date written into the assessment (default: today)");
  command->add_flag("--full", request->full,
                    "after the front sheet, every section with its tables, limits and sources");
  command->add_option("--width", request->width, "columns of the text, 60 to 200")
      ->between(60, 200);
  command->footer(
      "Exit code: 0 done, with what is missing said; 1 the case file cannot be used, or a log\n"
      "cannot: then its section says so and the rest is printed; 2 usage; 3 a calculation ended\n"
      "without an answer, or the model does not describe the baths.");
  command->callback([request, &context] { run(*request, context); });
  add_of_package(app, "report", "HTML report of a case", "aeruca[report]");
  add_of_package(app, "class", "teacher's sheet of a class experiment; which coins are solid",
                 "aeruca");
}

}  // namespace aeruca::cli
