#pragma once

// A store assessment with the comparison with a second logger, if there is one, and a table of many
// stores, as text and as JSON.

#include <optional>
#include <string>

#include "aeruca/collection.hpp"
#include "aeruca/review.hpp"
#include "aeruca/store.hpp"
#include "aeruca/two_loggers.hpp"

namespace aeruca::detail {

/// The box that the store is, where one was described.
struct StoreBox {
  Review review;
  std::optional<ExchangeFit> fit;
};

std::string store_text(const LoggerRecord& record, const StoreAssessment& assessment,
                       const std::optional<TwoLoggers>& two, const std::optional<StoreBox>& box,
                       const Dataset& dataset);
std::string store_json(const LoggerRecord& record, const StoreAssessment& assessment,
                       const std::optional<TwoLoggers>& two, const std::optional<StoreBox>& box,
                       const Dataset& dataset);

/// The objects most at risk; the table holds them all.
std::string collection_text(const Collection& collection, const Dataset& dataset);
std::string collection_json(const Collection& collection, const Dataset& dataset);
/// All objects, a row each.
std::string collection_csv(const Collection& collection);

}  // namespace aeruca::detail
