#include "aeruca/line_numbers.hpp"

#include <algorithm>

namespace aeruca {

long LineNumbers::operator[](std::size_t position) const {
  const auto after =
      std::upper_bound(runs_.begin(), runs_.end(), position,
                       [](std::size_t at, const Run& run) { return at < run.position; });
  const Run& run = *(after - 1);
  return run.line + run.step * static_cast<long>(position - run.position);
}

bool LineNumbers::goes_on(long line) const {
  if (runs_.empty()) return false;
  const Run& run = runs_.back();
  const long step = run.step == 0 ? line - run.line : run.step;
  return (step == 1 || step == -1) &&
         line == run.line + step * static_cast<long>(size_ - run.position);
}

void LineNumbers::add(long first_line, std::size_t count) {
  if (count == 0) return;
  const bool joins = goes_on(first_line) && (count == 1 || first_line > runs_.back().line);
  if (!joins) {
    runs_.push_back({size_, first_line, count == 1 ? 0L : 1L});
  } else if (runs_.back().step == 0) {
    runs_.back().step = first_line - runs_.back().line;
  }
  size_ += count;
}

void LineNumbers::append(const LineNumbers& others, std::size_t from) {
  for (std::size_t k = 0; k < others.runs_.size(); ++k) {
    const Run& run = others.runs_[k];
    const std::size_t end =
        k + 1 < others.runs_.size() ? others.runs_[k + 1].position : others.size_;
    const std::size_t first = std::max(run.position, from);
    if (first >= end) continue;
    if (run.step == 1) {
      add(others[first], end - first);
    } else {
      for (std::size_t i = first; i < end; ++i) add(others[i]);
    }
  }
}

void LineNumbers::truncate(std::size_t count) {
  size_ = std::min(size_, count);
  while (!runs_.empty() && runs_.back().position >= size_) runs_.pop_back();
  if (!runs_.empty() && runs_.back().position + 1 == size_) runs_.back().step = 0;
}

void LineNumbers::reverse() {
  std::reverse(runs_.begin(), runs_.end());
  std::size_t end = size_;
  std::size_t position = 0;
  for (Run& run : runs_) {
    const std::size_t count = end - run.position;
    end = run.position;
    run = {position, run.line + run.step * static_cast<long>(count - 1), -run.step};
    position += count;
  }
}

void LineNumbers::clear() {
  runs_.clear();
  size_ = 0;
}

}  // namespace aeruca
