#pragma once

// What is asked of a box, alone (`aeruca store box`) or beside the record inside it (`aeruca store`).

#include <optional>
#include <string>
#include <vector>

#include "aeruca/review.hpp"
#include "cli/commands.hpp"

namespace aeruca::cli {

struct BoxRequest {
  Enclosure box;
  EnclosureOptions options;
  std::optional<double> volume_m3, outside_rh, temperature_c, inside_c, limit, spread;
  std::string outside, inside, decay, from, moisture;
  double background = kNotGiven;
  LoggerReadOptions read;            ///< of the logger files; with the reader of workbooks
  std::vector<const Option*> asked;  ///< every option of the box
  /// Whether one of them was given.
  [[nodiscard]] bool given() const;
};

/// Alone: volume and start are required, and a logger file inside is an option; beside a record they
/// follow from it.
enum class BoxStands { alone, beside_record };
void add_box_options(Command& command, BoxRequest& request, BoxStands stands);

struct ReviewedBox {
  std::optional<ExchangeFit> fit;
  std::optional<Review> review;  ///< none where the exchange could not be found
};
/// `record` and `store`: of the logger inside, where it is known; the request names it otherwise.
[[nodiscard]] ReviewedBox review_box(const BoxRequest& request, const Dataset& dataset,
                                     const LoggerRecord* record = nullptr,
                                     const StoreAssessment* store = nullptr);

}  // namespace aeruca::cli
