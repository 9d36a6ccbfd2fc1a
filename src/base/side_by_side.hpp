#pragma once

// Jobs that know nothing of each other, on several threads.

#include <cstddef>
#include <exception>
#include <functional>
#include <optional>
#include <string>

namespace aeruca::detail {

/// Threads for so many jobs: as many as asked (1 to 256; 0: as many as the machine has), no more than
/// jobs. Throws InputError.
std::size_t thread_count(int asked, std::size_t jobs);

/// job(i) once for every i below `jobs`, on `threads` threads (1 to 256; 0: as many as the machine
/// has), one of them the caller's, whose language all speak. `between` is called there after each
/// job that it did. What a job or `between` throws ends the work: jobs begun are finished, then that
/// of the first in order is thrown on. Throws InputError for the number of threads.
void side_by_side(std::size_t jobs, int threads, const std::function<void(std::size_t)>& job,
                  const std::function<void()>& between = {});

/// The answer of one job, or what is wrong in a sentence: no job may take the others down.
template <class Answer, class Work>
void answer_or_problem(std::optional<Answer>& answer, std::string& problem, Work&& work) {
  try {
    answer = work();
  } catch (const std::exception& refused) {
    problem = refused.what();
  }
}

}  // namespace aeruca::detail
