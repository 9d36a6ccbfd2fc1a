#include "base/side_by_side.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

#include "aeruca/errors.hpp"
#include "aeruca/words.hpp"
#include "base/words.hpp"

namespace aeruca::detail {

std::size_t thread_count(int asked, std::size_t jobs) {
  if (asked < 0 || asked > 256) throw InputError("threads", asked, "0 to 256");
  const std::size_t many = asked > 0 ? static_cast<std::size_t>(asked)
                                     : std::max(1U, std::thread::hardware_concurrency());
  return std::min(many, jobs);
}

void side_by_side(std::size_t jobs, int threads, const std::function<void(std::size_t)>& job,
                  const std::function<void()>& between) {
  std::atomic<std::size_t> next{0};
  std::mutex one_at_a_time;
  std::exception_ptr first_problem;
  std::size_t first =
      jobs;  // job of that problem: all before it have begun, so it is always the same
  const auto work = [&](const std::function<void()>& after_each) {
    std::size_t i = 0;
    try {
      for (i = next++; i < jobs; i = next++) {
        job(i);
        if (after_each) after_each();
      }
    } catch (...) {
      next = jobs;  // nobody begins another
      const std::lock_guard<std::mutex> lock(one_at_a_time);
      if (i < first) {
        first = i;
        first_problem = std::current_exception();
      }
    }
  };
  std::vector<std::jthread> workers;
  for (std::size_t t = 1; t < thread_count(threads, jobs); ++t)
    workers.emplace_back([&work, language = words_of_this_thread()] {
      const Speaking as_the_caller(language);
      work({});
    });
  work(between);
  workers.clear();  // waits for them
  if (first_problem) std::rethrow_exception(first_problem);
}

}  // namespace aeruca::detail
