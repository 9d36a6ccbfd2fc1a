#pragma once

// How far long work is, told now and again.

#include <chrono>
#include <cstddef>
#include <ostream>
#include <string>

namespace aeruca::cli {

/// Speaks up when the work takes longer than two seconds, and then every five.
class Progress {
 public:
  /// `what` is counted: "files".
  Progress(std::ostream& out, std::string what) : out_(out), what_(std::move(what)) {}

  void operator()(std::size_t done, std::size_t all);

 private:
  using Clock = std::chrono::steady_clock;
  std::ostream& out_;
  std::string what_;
  Clock::time_point next_ = Clock::now() + std::chrono::seconds(2);
};

}  // namespace aeruca::cli
