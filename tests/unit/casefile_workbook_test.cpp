#include <filesystem>
#include <fstream>

#include "aeruca/assessment.hpp"
#include "base/text.hpp"
#include "casefile/case_workbook.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;
using aeruca::test::contains;

namespace {

// Stands in for what reads workbooks: the same case whatever the file.
CaseWorkbooks reader_of(CaseInWorkbook said) {
  return {[said](const std::string&) { return said; }, [](const std::string&) { return "bytes"; }};
}

template <class Work>
std::string refusal_of(const Work& work) {
  try {
    work();
  } catch (const FileError& problem) {
    return problem.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("a case in a workbook is the case file that its reader makes of it") {
  const aeruca_test::OwnFolder folder;
  const std::string path = folder.file("bowl.xlsx");
  std::ofstream(path) << "anything";
  const CaseFile file = read_case_file(path, reader_of({"[object]\nmass_g = 62.4", "", {}}));
  CHECK(file.path == path);
  CHECK(file.object.mass_g == 62.4);
  CHECK(file.content_hash != parse_case_file("[object]\nmass_g = 62.4", path).content_hash);
  CHECK_FALSE(file.bath.given);
}

TEST_CASE("what is wrong in a workbook is said of its cell") {
  const aeruca_test::OwnFolder folder;
  const std::string path = folder.file("bowl.xlsx");
  std::ofstream(path) << "anything";
  const auto refusal = [&](const std::string& text) {
    return refusal_of([&] {
      static_cast<void>(read_case_file(
          path, reader_of({text, "", {{"object.mass_g", "sheet 'object', cell B10"}}})));
    });
  };
  CHECK_THAT(refusal("\n[object]\nmass_g = -3"),
             contains("bowl.xlsx, sheet 'object', cell B10: -3 is out of range; accepted is"));
  CHECK_THAT(refusal("\n[object]\nname = 3"), contains("bowl.xlsx, object.name: 3 is no text"));
}

TEST_CASE("baths in a workbook are read from its text, faults by their cells") {
  CaseFile file;
  file.path = "bowl.xlsx";
  file.bath.log_text = "start,end,volume_l,chloride_mg_per_l\n2026-01-01,2026-01-08,1,10\n";
  CHECK(detail::bath_log_of(file).baths.size() == 1);
  file.bath.log_text += "2026-01-08,2026-01-15,two,10\n2026-01-15,2026-01-22,1,much\n";
  file.bath.log_text += "2026-01-22,2026-01-29,1\n";
  file.cells = {
      {"bath.log[3].volume_l", "cell E3"}, {"bath.log[5]", "row 5"}, {"bath.log", "baths"}};
  CHECK_THAT(
      refusal_of([&] { static_cast<void>(detail::bath_log_of(file)); }),
      contains("bowl.xlsx, cell E3: 'two' is no number; baths: 'much' is no number; row 5: 3"));
}

TEST_CASE("workbooks of other kinds, and those nobody reads, are refused") {
  const aeruca_test::OwnFolder folder;
  const auto refusal = [&](const std::string& name, const std::string& content) {
    std::ofstream(folder.file(name), std::ios::binary) << content;
    return refusal_of([&] { static_cast<void>(read_case_file(folder.file(name))); });
  };
  CHECK_THAT(refusal("a.xlsx", "x"), contains("which this program neither reads nor writes"));
  CHECK_THAT(refusal("a.toml", "PK\x03\x04"), contains("neither reads nor writes"));
  CHECK_THAT(refusal("a.ODS", "x"), contains("is a workbook of another kind (.ods)"));
  CHECK_THAT(refusal("b.toml", "\xD0\xCF\x11\xE0"), contains("is a workbook of another kind"));
  CHECK(refusal("c.toml", "[object]\n") == "accepted");
}

TEST_CASE("a new workbook is never written over another, nor over one that is open") {
  const aeruca_test::OwnFolder folder;
  const CaseWorkbooks workbooks = reader_of({});
  const std::string path = folder.file("bowl.xlsx");
  const auto refusal = [&] { return refusal_of([&] { write_case_template(path, workbooks); }); };
  std::ofstream(folder.file("~$bowl.xlsx")) << "";
  CHECK_THAT(refusal(), contains("is open in another program, for '~$bowl.xlsx' lies beside it"));
  std::filesystem::remove(folder.file("~$bowl.xlsx"));
  CHECK(refusal() == "accepted");
  CHECK(detail::read_file(path) == "bytes");
  CHECK_THAT(refusal(), contains("exists already and is never overwritten"));
  CHECK_THAT(refusal_of([&] { write_case_template(folder.file("b.xls"), workbooks); }),
             contains("is a workbook of another kind"));
  CHECK_THAT(refusal_of([&] { write_case_template(folder.file("b.xlsx")); }),
             contains("neither reads nor writes"));
}
