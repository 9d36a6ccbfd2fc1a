#include "cli/progress.hpp"

namespace aeruca::cli {

void Progress::operator()(std::size_t done, std::size_t all) {
  const auto now = Clock::now();
  if (now < next_ || done == all) return;
  next_ = now + std::chrono::seconds(5);
  out_ << "aeruca: " << done << " of " << all << ' ' << what_ << '\n' << std::flush;
}

}  // namespace aeruca::cli
