#include "aeruca/collection.hpp"

#include <algorithm>
#include <filesystem>
#include <random>

#include "aeruca/errors.hpp"
#include "aeruca/logger_files.hpp"
#include "base/file_names.hpp"
#include "base/text.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;
using aeruca_test::OwnFolder;

TEST_CASE("names stand for files, folders and patterns, each file once") {
  const OwnFolder folder;
  const std::string a = folder.write("a1.csv", "x");
  const std::string b = folder.write("b1.csv", "x");
  folder.write("b1.txt", "x");
  std::filesystem::create_directories(folder.file("room/deep"));
  const std::string c = folder.write("room/deep/c1.csv", "x");
  const std::string odd = folder.write("odd[1].csv", "x");
  using Files = std::vector<std::string>;
  CHECK(find_logger_files({folder.file("*1.csv"), a}) == Files{a, b});
  CHECK(find_logger_files({folder.file("[!a]1.csv")}) == Files{b});
  CHECK(find_logger_files({folder.file("**/*1.csv")}) == Files{a, b, c});
  CHECK(find_logger_files({folder.file("*/*/*.csv")}) == Files{c});
  CHECK(find_logger_files({odd}) == Files{odd});
  std::filesystem::create_directories(folder.file("shelf [2]"));
  const std::string within = folder.write("shelf [2]/d.csv", "x");
  CHECK(find_logger_files({folder.file("shelf [2]/*.csv")}) == Files{within});
  CHECK(find_logger_files({folder.string()}).size() == 4);
  CHECK_THROWS_WITH(find_logger_files({folder.file("z*")}),
                    aeruca::test::contains("fits no file; accepted is a pattern such as"));
  std::filesystem::create_directories(folder.file("empty"));
  CHECK_THROWS_WITH(find_logger_files({folder.file("empty")}),
                    aeruca::test::contains("holds no file"));
  CHECK_THROWS_AS(find_logger_files({}), InputError);
}

TEST_CASE("a pattern fits a name by its letters") {
  using detail::fits;
  CHECK(fits("log-7.csv", "log-?.csv"));
  CHECK(fits("log-7.csv", "*"));
  CHECK(fits("log-7.csv", "l*g*.c*v"));
  CHECK(fits("läg.csv", "l?g.csv"));
  CHECK(fits("b.csv", "[a-c].csv"));
  CHECK(fits("].csv", "[]].csv"));
  CHECK(fits("[.csv", "[.csv"));
  CHECK_FALSE(fits("b.csv", "[!a-c].csv"));
  CHECK_FALSE(fits("log-77.csv", "log-?.csv"));
  CHECK_FALSE(fits("log.csv.bak", "*.csv"));
  CHECK_FALSE(fits(".csv", "*"));
  CHECK(fits(".csv", ".*"));
  CHECK_FALSE(fits("", "?"));
  CHECK(fits("aaaaaaaaaaaaaaaaaaaaaaaaaaab", "a*a*a*a*b"));
}

TEST_CASE("a file is replaced whole, and nothing is left beside it") {
  const OwnFolder folder;
  const std::string path = folder.write("out.csv", "old");
  detail::replace_file(path, "new");
  CHECK(detail::read_file(path) == "new");
  CHECK_THROWS_AS(detail::replace_file(folder.file("no/out.csv"), "x"), FileError);
  CHECK_THROWS_AS(detail::replace_file(folder.string(), "x"), FileError);
  CHECK(detail::files_in(folder.string()).size() == 1);
}

TEST_CASE("objects stand by risk, whatever the order they come in") {
  const auto object = [](const std::string& file, double dormant, double active, double share,
                         double by) {
    ObjectRisk row;
    row.file = file;
    row.probability_dormant = dormant;
    row.probability_active = active;
    row.share_too_humid = share;
    row.too_humid_by_rh_percent = by;
    row.verdict = dormant < 0.5 ? Verdict::active : Verdict::dormant;
    return row;
  };
  ObjectRisk bad;
  bad.file = "bad";
  bad.problem = "no logger file";
  ObjectRisk few;
  few.file = "few";
  std::vector<ObjectRisk> rows{bad,
                               few,
                               object("dry", 1, 0, 0, -9),
                               object("between", 0, 0.2, 1, 2),
                               object("wet", 0, 1, 0.4, 9),
                               object("wetter", 0, 1, 0.9, 9),
                               object("worst", 0, 1, 0.9, 12)};
  std::mt19937 random(7);
  for (int k = 0; k < 20; ++k) {
    std::shuffle(rows.begin(), rows.end(), random);
    const Collection collection = ranked(rows, onset_curve(42));
    std::string order;
    for (const ObjectRisk& one : collection.objects) order += one.file + " ";
    CHECK(order == "worst wetter wet between dry few bad ");
    CHECK(collection.objects[4].rank == 5);
    CHECK_FALSE(collection.objects[5].rank.has_value());
    CHECK(collection.active == 4);
    CHECK(collection.dormant == 1);
    CHECK(collection.not_known == 1);
    CHECK(collection.unusable == 1);
  }
}
