#pragma once

/// \file
/// Some finds of a site were tested: how many of all may be active?
///
/// Question answered: of `finds` objects, `tested` were picked at random and `active` of these found
/// active. How many of all are active at least, and at most, each with 95 % confidence; and how many
/// would have to be tested, none of them active, to say that at most a tenth are?
///
///   P(X <= x | K) = sum of hypergeometric terms          X active among the tested, K among all
///   at_most  = largest K with  P(X <= active | K) > 0.05
///   at_least = smallest K with P(X >= active | K) > 0.05                                    (eq 1)
///
/// A bound for objects picked at random. Objects that lay in one wet corner, or that were picked for
/// their looks, are no such sample; that finds are alike is not shown by it.
/// Source: the hypergeometric distribution (any textbook of sampling without replacement).

namespace aeruca {

struct FindsSample {
  int finds = 0, tested = 0, active = 0;  ///< as given
  int at_least = 0;                       ///< active among all, 95 % confidence
  int at_most = 0;
  /// That would have to be tested, none active, until at most a tenth of all are (95 %)
  int tests_for_a_tenth = 0;
};

/// Throws InputError unless 1 <= finds <= 100000, 0 <= tested <= finds, 0 <= active <= tested.
[[nodiscard]] FindsSample finds_sample(int finds, int tested, int active);

}  // namespace aeruca
