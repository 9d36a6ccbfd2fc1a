#pragma once

/// \file
/// The line of its file that each reading came from. Lines follow each other nearly everywhere, so
/// that a few runs stand for a million of them.

#include <cstddef>
#include <vector>

namespace aeruca {

class LineNumbers {
 public:
  [[nodiscard]] std::size_t size() const { return size_; }
  /// Line of the reading at a position, from 1.
  [[nodiscard]] long operator[](std::size_t position) const;

  /// `count` readings on lines that follow each other.
  void add(long first_line, std::size_t count = 1);
  /// The readings of others from a position on.
  void append(const LineNumbers& others, std::size_t from);
  /// Keeps the first `count` readings (not more than there are).
  void truncate(std::size_t count);
  /// The order of all readings turned round.
  void reverse();
  void clear();

 private:
  struct Run {
    std::size_t position;
    long line;
    long step;  // 1 or -1; 0: a single reading so far
  };
  [[nodiscard]] bool goes_on(long line) const;

  std::vector<Run> runs_;
  std::size_t size_ = 0;
};

}  // namespace aeruca
