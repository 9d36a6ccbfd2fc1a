#include "aeruca/finds_sample.hpp"

#include <boost/math/distributions/hypergeometric.hpp>
#include <string>

#include "aeruca/errors.hpp"

namespace aeruca {
namespace {

constexpr double kLeft = 0.05;  // beyond each bound

unsigned whole(int count) {
  return static_cast<unsigned>(count);
}

// That at most so many of the tested are active when `truly` of all are.
double at_most_seen(int seen, int finds, int tested, int truly) {
  if (seen < 0) return 0;
  if (seen >= tested || seen >= truly) return 1;
  if (tested - seen > finds - truly) return 0;  // more of the tested must be active
  const boost::math::hypergeometric_distribution<> active(whole(truly), whole(tested),
                                                          whole(finds));
  return boost::math::cdf(active, whole(seen));
}

// The last of first ... last for which `holds`, which holds up to some number and then no more;
// first - 1 where it never does.
template <class Holds>
int last_that(int first, int last, Holds holds) {
  int low = first - 1;
  while (low < last) {
    const int middle = low + (last - low + 1) / 2;
    if (holds(middle))
      low = middle;
    else
      last = middle - 1;
  }
  return low;
}

void check(int finds, int tested, int active) {
  constexpr int kMost = 100000;
  if (finds < 1 || finds > kMost) throw InputError("finds", finds, "1 to 100000");
  if (tested < 0 || tested > finds)
    throw InputError("tested", tested, "0 to the " + std::to_string(finds) + " finds");
  if (active < 0 || active > tested)
    throw InputError("active", active, "0 to the " + std::to_string(tested) + " tested");
}

}  // namespace

FindsSample finds_sample(int finds, int tested, int active) {
  check(finds, tested, active);
  FindsSample sample{finds, tested, active, 0, 0, 0};
  const int possible = finds - (tested - active);  // the others were seen not to be
  sample.at_most = last_that(active, possible, [&](int truly) {
    return at_most_seen(active, finds, tested, truly) > kLeft;
  });
  sample.at_least = 1 + last_that(active, possible, [&](int truly) {
                      return !(1 - at_most_seen(active - 1, finds, tested, truly) > kLeft);
                    });
  const int tenth = finds / 10;
  sample.tests_for_a_tenth = 1 + last_that(0, finds, [&](int tests) {
                               return at_most_seen(0, finds, tests, tenth + 1) > kLeft;
                             });
  return sample;
}

}  // namespace aeruca
