#include <cmath>
#include <filesystem>
#include <limits>

#include "aeruca/errors.hpp"
#include "base/capitals.hpp"
#include "base/text.hpp"
#include "catch.hpp"
#include "own_folder.hpp"

using namespace aeruca;

TEST_CASE("capitals have their accents, and other signs stay") {
  CHECK(detail::capitals("h\u00f6chstens 2 \u00f7 \u03c0") == "H\u00d6CHSTENS 2 \u00f7 \u03c0");
  CHECK(detail::capitals("na\u00efve") == "NA\u00cfVE");
  CHECK(detail::capitals("gro\u00df") == "GRO\u00df");
}

TEST_CASE("numbers are read with a point or a comma and nothing else") {
  CHECK(detail::parse_number(" 3.25 ") == 3.25);
  CHECK(detail::parse_number("3,25", true) == 3.25);
  CHECK(detail::parse_number("+1e-3") == 1e-3);
  CHECK_FALSE(detail::parse_number("+-3"));
  CHECK_FALSE(detail::parse_number("3,25"));
  CHECK_FALSE(detail::parse_number("1.234,5", true));
  CHECK_FALSE(detail::parse_number("nan"));
  CHECK_FALSE(detail::parse_number("inf"));
  CHECK_FALSE(detail::parse_number("12 %"));
  CHECK_FALSE(detail::parse_number(""));
}

TEST_CASE("the nearest name is found whatever the case and none is forced") {
  const std::vector<std::string> names{"nantokite", "cuprite", "tenorite"};
  CHECK(detail::nearest_name("Nantokit", names) == "nantokite");
  CHECK(detail::nearest_name("xyz", names).empty());
  CHECK(detail::nearest_name("coprata", names) == "cuprite");  // three letters others: 3 apart
}

TEST_CASE("a name that holds what was typed, or is held in it, comes before one of like spelling") {
  const std::vector<std::string> salts{"sodium carbonate", "sodium sesquicarbonate",
                                       "sodium bicarbonate"};
  CHECK(detail::nearest_name("sesquicarbonate", salts) == "sodium sesquicarbonate");
  CHECK(detail::nearest_name("Bicarbonate", salts) == "sodium bicarbonate");
  CHECK(detail::nearest_name("carbonate", salts) == "sodium carbonate");
  CHECK(detail::nearest_name("washing sodium carbonate", salts) == "sodium carbonate");
  const std::vector<std::string> short_names{"temperature", "pH"};
  CHECK(detail::nearest_name("phx", short_names) == "pH");  // two letters: by distance alone
}

TEST_CASE("messages name parameter, value and what is accepted") {
  CHECK(std::string(InputError("temperature_c", 80.0, "0 to 50 degrees C").what()) ==
        "temperature_c = 80: accepted is 0 to 50 degrees C");
  CHECK(std::string(FileError("log.csv", 7, "RH", "'wet' is no number").what()) ==
        "log.csv, line 7, RH: 'wet' is no number");
  CHECK(std::string(UnknownName("species", "CuO2", "CuO").what()) ==
        "no species named 'CuO2'; nearest is 'CuO'");
}

TEST_CASE("a new file is written whole, and never over another") {
  const aeruca_test::OwnFolder folder;
  const std::string path = folder.file("new.txt");
  const std::string link = folder.file("link.txt");
  detail::create_file(path, "whole");
  CHECK(detail::read_file(path) == "whole");
  CHECK_THROWS_AS(detail::create_file(path, "other"), FileError);
  CHECK(detail::read_file(path) == "whole");
  std::filesystem::remove(path);
  std::filesystem::create_symlink(path, link);  // a link to nothing stands there all the same
  CHECK_THROWS_AS(detail::create_file(link, "other"), FileError);
  CHECK_FALSE(std::filesystem::exists(path));
  CHECK_THROWS_AS(detail::create_file("/no/such/place/x", "text"), FileError);
}

std::string refused_to_read(const std::string& path) {
  try {
    static_cast<void>(detail::read_file(path));
  } catch (const FileError& problem) {
    return problem.what();
  }
  return "read";
}

TEST_CASE("what is no readable file is refused in a sentence") {
  CHECK(refused_to_read("/no/such/file") ==
        "/no/such/file: cannot be opened; a readable file is wanted");
  CHECK(refused_to_read("") == "file name '': cannot be opened; a readable file is wanted");
  CHECK(refused_to_read("/tmp") == "/tmp: is a directory; a file is wanted");
  CHECK(refused_to_read("/dev/zero") == "/dev/zero: is a pipe or a device; a file is wanted");
  if (std::filesystem::exists("/proc/self/mem"))  // opens, and its first byte cannot be read
    CHECK(refused_to_read("/proc/self/mem") ==
          "/proc/self/mem: cannot be read to its end; a readable file is wanted");
  const aeruca_test::OwnFolder folder;
  const std::string wide = folder.write("wide.txt", std::string_view("\xFF\xFE[\0", 4));
  CHECK(refused_to_read(wide) == wide + ": the file is UTF-16; save it as UTF-8");
}
