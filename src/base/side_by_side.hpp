#pragma once

// Jobs that know nothing of each other, on several threads.

#include <cstddef>
#include <functional>

namespace aeruca::detail {

/// job(i) once for every i below `jobs`, on `threads` threads (1 to 256; 0: as many as the machine
/// has), one of them the caller's, whose language all speak. `between` is called there after each job that it did. What a job
/// or `between` throws ends the work: jobs begun are finished, then it is thrown on. Throws
/// InputError for the number of threads.
void side_by_side(std::size_t jobs, int threads, const std::function<void(std::size_t)>& job,
                  const std::function<void()>& between = {});

}  // namespace aeruca::detail
