#pragma once

// A folder for the files of one test, so that tests run side by side never meet.

#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <string_view>

namespace aeruca_test {

/// A folder of its own, gone at the end of the test.
class OwnFolder {
 public:
  OwnFolder()
      : path_(std::filesystem::temp_directory_path() /
              ("aeruca-test-" + std::to_string(std::random_device()()) + "-" +
               std::to_string(count_++))) {
    std::filesystem::create_directories(path_);
  }
  ~OwnFolder() { std::filesystem::remove_all(path_); }
  OwnFolder(const OwnFolder&) = delete;
  OwnFolder& operator=(const OwnFolder&) = delete;

  /// Path of a file in it that need not exist.
  [[nodiscard]] std::string file(const std::string& name) const { return (path_ / name).string(); }
  /// Writes a file byte for byte; its path.
  std::string write(const std::string& name, std::string_view text) const {
    std::ofstream(file(name), std::ios::binary) << text;
    return file(name);
  }
  [[nodiscard]] std::string string() const { return path_.string(); }

 private:
  static inline int count_ = 0;
  std::filesystem::path path_;
};

}  // namespace aeruca_test
